// What a test came to: the record, the model, what is proposed for site.yaml and what it would change. One place for words and numbers, so that terminal, page and book say the same. Must never propose on a model
// that does not fit.
using System.Globalization;
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Tuning;

/// <summary>A value for site.yaml.</summary>
/// <param name="Path">Its path.</param>
/// <param name="Before">As it holds now, as people read it.</param>
/// <param name="After">As it is written into the file.</param>
/// <param name="Why">Why.</param>
public sealed record TunedValue(string Path, string Before, string After, string Why);

/// <summary>The outcome of a test.</summary>
/// <param name="What">Id of the loop or room.</param>
/// <param name="Samples">What was set and measured.</param>
/// <param name="Model">The model; null: none fits.</param>
/// <param name="Values">Proposals; empty: what holds is as good.</param>
public sealed record Tuned(string What, IReadOnlyList<TestSample> Samples, ProcessModel? Model, IReadOnlyList<TunedValue> Values)
{
    /// <summary>A model that leaves more than this over is no model (project choice).</summary>
    public const double WorstErrorShare = 0.12;

    /// <summary>True for a loop.</summary>
    public bool IsLoop { get; init; }

    /// <summary>What is told besides, a line each.</summary>
    public IReadOnlyList<string> Lines { get; init; } = [];

    /// <summary>The loop's answer to a kelvin of disturbance as it is and as proposed; null where there is none.</summary>
    public LoopAnswer? Before { get; init; }

    public LoopAnswer? After { get; init; }

    /// <summary>What a relay found; null: it was a step.</summary>
    public RelayFound? Relay { get; init; }

    /// <summary>Works a loop's record out.</summary>
    public static Tuned OfLoop(House house, int index, TestedLoop record)
    {
        ArgumentNullException.ThrowIfNull(house);
        ArgumentNullException.ThrowIfNull(record);
        var loop = house.Loops[index];
        var ideal = Math.Abs(record.DifferenceK) / 100;
        var model = record.Relay is { } swing ? RelayModel.FirstOrder(ideal, swing.UltimateGain, swing.PeriodS) : StepFit.Fit(record.Samples, integrates: false);
        List<string> lines = [string.Create(CultureInfo.InvariantCulture, $"source and return differ by {Math.Abs(record.DifferenceK):0.0} K; an exact valve moves the water by {ideal:0.000} K a percent")];
        if (record.Relay is { } found)
            lines.Add(string.Create(CultureInfo.InvariantCulture, $"relay of ±{record.StepPercent:0.#} %: period {found.PeriodS:0} s, ultimate gain {found.UltimateGain:0.0} %/K, swing ±{found.Amplitude:0.00} K, {found.Swings} periods agree"));
        if (model is not { } fits || !(fits.ErrorShare <= WorstErrorShare || double.IsNaN(fits.ErrorShare)))
            return new Tuned(loop.Id, record.Samples, model, []) { IsLoop = true, Relay = record.Relay, Lines = [.. lines, NoModel(model)] };
        lines.Add(Words(fits, "K a %"));
        var now = MixingGains.Of(house.Settings);
        List<TunedValue> values = [];
        var proposed = MixingRule.Propose(fits, Math.Abs(record.DifferenceK), out var why);
        if (proposed is null)
            lines.Add(why);
        else
            Gains(house, index, now, proposed.Value, values, lines);
        Lag(loop, fits, record, values, lines);
        var other = proposed is { } after ? new MixingGains(values.Any(v => v.Path == "sequence.mixing_gain") ? after.PercentPerK : now.PercentPerK, values.Any(v => v.Path == "sequence.mixing_integral") ? after.PercentPerKS : now.PercentPerKS) : now;
        LoopAnswer Play(MixingGains gains) => MixingRule.Answer(fits, gains, Math.Abs(record.DifferenceK), loop.StrokeS, house.Settings.MixingDeadBandPercent, Math.Max(600, 12 * fits.DeadS));
        return new Tuned(loop.Id, record.Samples, model, values) { IsLoop = true, Relay = record.Relay, Lines = lines, Before = Play(now), After = Play(other) };
    }

    /// <summary>Works a room's record out.</summary>
    public static Tuned OfRoom(House house, int index, TestedRoom record)
    {
        ArgumentNullException.ThrowIfNull(house);
        ArgumentNullException.ThrowIfNull(record);
        var room = house.Rooms[index];
        // Walls hold the air up after a while: then the beginning of a first order counts, not an integrator.
        var (falls, bends) = (StepFit.Fit(record.Samples, integrates: true), StepFit.Fit(record.Samples, integrates: false));
        var model = bends is { LagS: > 60 } && !(falls?.ErrorShare <= bends.Value.ErrorShare) ? bends : falls;
        if (model is not { } fits || !(fits.ErrorShare <= WorstErrorShare) || fits.Gain == 0 || fits.Gain > 0 != record.Heats)
            return new Tuned(room.Id, record.Samples, model, []) { Lines = [NoModel(model)] };
        var slope = Math.Abs(fits.Integrates ? fits.Gain : fits.Gain / fits.LagS);
        var capacity = 1 / (1000 * slope);
        var (low, high) = (RoomSettings.Parameters.First(one => one.Key == "air_capacity").Lowest, RoomSettings.Parameters.First(one => one.Key == "air_capacity").Highest);
        List<string> lines = [string.Create(CultureInfo.InvariantCulture, $"the air moves by {3600 * slope * 100:0.00} K an hour for each 100 W of the coil as typed in, {(fits.Integrates ? fits.DeadS + fits.LagS : fits.DeadS):0} s late: it holds {capacity:0} kJ/K"), Words(fits, fits.Integrates ? "K/s a W" : "K a W")];
        List<TunedValue> values = [];
        var now = room.Settings.AirCapacityKJPerK;
        if (!fits.Integrates)
            lines.Add("walls and furniture took the step up within the test: air_capacity is meant for air that goes on falling, so it is told and not proposed; the controller measures it in its pull-downs (room-data)");
        else if (capacity >= low && capacity <= high && Math.Abs(capacity - now) > 0.15 * now)
            values.Add(new TunedValue($"rooms.{room.Id}.air_capacity", Quantities.Show(now, Quantity.HeatCapacity, house.Units), string.Create(CultureInfo.InvariantCulture, $"{Math.Round(capacity / 10) * 10:0} kJ/K"),
                "the gain of the room's demand goes by it: too large swings, too small is slow"));
        else
            lines.Add("within 15 % of what holds: nothing is proposed");
        return new Tuned(room.Id, record.Samples, model, values) { Lines = lines };
    }

    /// <summary>The result for the book of the checkout.</summary>
    public CheckEntry Entry(string who, DateTime utc)
    {
        Dictionary<string, double> figures = [];
        if (Model is { } model)
            (figures["gain"], figures["dead_s"], figures["lag_s"], figures["error_share"]) = (model.Gain, model.DeadS, model.LagS, model.ErrorShare);
        if (Relay is { } relay)
            (figures["period_s"], figures["ultimate_gain"]) = (relay.PeriodS, relay.UltimateGain);
        var found = Values.Count == 0 ? "nothing to change" : string.Join("; ", Values.Select(value => $"{value.Path}: {value.After} (now {value.Before})"));
        return new CheckEntry("tune", $"tune/{What}", "a model that fits, and gains by it", $"{string.Join("; ", Lines)}; {found}", Model is null || Model is { ErrorShare: > WorstErrorShare } ? Verdict.Skip : Verdict.Told, who, utc)
        {
            Values = figures,
            Proposals = Values.ToDictionary(value => value.Path, value => value.After),
            Why = Model is null ? "no model fits" : "",
        };
    }

    /// <summary>Gains hold for every mixed loop of the house: where there are several they are only lowered, to what the slowest of them bears.</summary>
    private static void Gains(House house, int index, MixingGains now, MixingGains after, List<TunedValue> values, List<string> lines)
    {
        var others = house.Loops.Where((loop, i) => i != index && loop.Mixing >= 0).Select(loop => loop.Id).ToArray();
        Add("sequence.mixing_integral", now.PercentPerKS, after.PercentPerKS, "integral that just does not overshoot with this dead time");
        Add("sequence.mixing_gain", now.PercentPerK, after.PercentPerK, "in proportion to the lag of the water");

        void Add(string path, double was, double will, string why)
        {
            if (Math.Abs(will - was) <= 0.15 * Math.Max(was, 1e-3))
                return;
            if (others.Length > 0 && will > was)
                lines.Add(string.Create(CultureInfo.InvariantCulture, $"{path} could be {will:0.###} for this loop; it holds for {string.Join(", ", others)} too, so it is not raised"));
            else
                values.Add(new TunedValue(path, was.ToString("0.###", CultureInfo.InvariantCulture), will.ToString("0.###", CultureInfo.InvariantCulture), why));
        }
    }

    /// <summary>The lag is only raised: the surfaces lie behind the sensor, and the guard acts by it. Not by a test with most of the loop shut: the way takes longer then than it was designed for.</summary>
    private static void Lag(Loop loop, in ProcessModel model, TestedLoop record, List<TunedValue> values, List<string> lines)
    {
        var moved = Math.Abs(record.Samples[^1].Input - record.Samples[0].Input) / 100 * loop.StrokeS;
        var way = Math.Round(MixingRule.WayS(model, moved) / 5) * 5;
        if (!(way > 1.15 * loop.Settings.LagS && way <= 600))
            return;
        if (record.OpenShare < 0.5)
            lines.Add(string.Create(CultureInfo.InvariantCulture, $"the water took {way:0} s to the supply sensor with {100 * record.OpenShare:0} % of the loop's surfaces open; lag ({loop.Settings.LagS:0} s) is judged with half of them open or more"));
        else
            values.Add(new TunedValue($"loops.{loop.Id}.lag", string.Create(CultureInfo.InvariantCulture, $"{loop.Settings.LagS:0} s"), string.Create(CultureInfo.InvariantCulture, $"{way:0} s"), "the water takes that long to the supply sensor"));
    }

    private static string NoModel(ProcessModel? model) => model is { } bad
        ? string.Create(CultureInfo.InvariantCulture, $"no model fits: the best leaves {100 * bad.ErrorShare:0} % of the response over (allowed {100 * WorstErrorShare:0} %); something else moved meanwhile: try again in a calmer hour")
        : "nothing came of the step: nothing to fit";

    private static string Words(in ProcessModel model, string unit) => string.Create(CultureInfo.InvariantCulture,
        $"model: {Math.Abs(model.Gain):G3} {unit}, dead time {model.DeadS:0} s, lag {model.LagS:0} s{(double.IsNaN(model.ErrorShare) ? "" : FormattableString.Invariant($", {100 * model.ErrorShare:0.0} % left over"))}");
}

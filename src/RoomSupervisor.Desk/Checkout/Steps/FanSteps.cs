// The fan of a coil: at which voltage it starts and stops, how fast it turns there, and how loud it is at the ear at three speeds. Must never make sound data out of the background.
using System.Globalization;
using RoomSupervisor.Desk.Checkout.Fits;
using RoomSupervisor.Physics;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using Coil = RoomSupervisor.Sequence.Coil;

namespace RoomSupervisor.Desk.Checkout.Steps;

/// <summary>Steps of fans.</summary>
internal static class FanSteps
{
    public const string Start = "fan-start", Sound = "fan-sound";

    /// <summary>Coarse and fine step of the search, V, where it begins and ends, and how long a fan may take to start or stop, s.</summary>
    private const double CoarseV = 0.5, FineV = 0.1, LowestV = 0.4, HighestV = 6, SettlesS = 10, StopsS = 60;

    /// <summary>Level that a bedroom bears at night, dB(A): WHO, Guidelines for Community Noise (1999), 30 dB LAeq indoors; from memory.</summary>
    public const double NightDb = 30;

    /// <summary>Start voltage from rest, rising; then down to where it stops.</summary>
    public static Outcome FindStart(StepContext context, Coil coil)
    {
        Stop(context, coil);
        if (Rises(context, coil, LowestV, HighestV, CoarseV) is var coarse && double.IsNaN(coarse))
            return Outcome.Fail($"does not turn up to {context.Show(HighestV, Quantity.Voltage)}", "no supply, signal wire, or rotor");
        Stop(context, coil);
        var start = Rises(context, coil, Math.Max(LowestV, coarse - CoarseV + FineV), coarse + CoarseV, FineV);
        if (double.IsNaN(start))
            return Outcome.Fail($"turned at {context.Show(coarse, Quantity.Voltage)}, and the second time not", "it starts only now and then: bearing, dust, or supply");
        context.Wait(2 * SettlesS);
        var speed = context.AskNumber(Deed.Speed, context.OutputId(coil.Fan), string.Create(CultureInfo.InvariantCulture, $"It has just started at {start:0.0} V. Its speed there by a tachometer, in % of full speed (unknown: leave it empty)?"), Quantity.Percent);
        var hold = start;
        for (var volts = start - FineV; volts >= LowestV && At(context, coil, volts); volts -= FineV)
            hold = volts;
        return Judge(context, coil, start, hold, speed);
    }

    private static Outcome Judge(StepContext context, Coil coil, double start, double hold, double speed)
    {
        var said = coil.Kind.StartVoltageV;
        var found = string.Create(CultureInfo.InvariantCulture, $"starts at {start:0.0} V, turns down to {hold:0.0} V{(double.IsFinite(speed) ? $", {speed:0} % of full speed where it starts" : "")}; site.yaml says {said:0.0} V and {coil.StartSpeedPercent:0} %");
        var wrongSpeed = double.IsFinite(speed) && Math.Abs(speed - coil.StartSpeedPercent) > 5;
        var outcome = start > said + FineV + 1e-6 ? Outcome.Fail(found, string.Create(CultureInfo.InvariantCulture, $"it does not start at what site.yaml gives it: write start_voltage: {start:0.0} V"))
            : wrongSpeed ? Outcome.Fail(found, string.Create(CultureInfo.InvariantCulture, $"write start_speed: {speed:0} %"))
            : Outcome.Pass(found);
        Dictionary<string, string> proposals = [];
        if (Others(context.House, coil) is { Length: > 0 } others)
        {
            if (outcome.Verdict == Verdict.Fail)
                outcome = outcome with { Why = $"{outcome.Why}, in a kind of its own: its kind is that of {others} too" };
        }
        else if (Math.Abs(start - said) > FineV + 1e-6)
            proposals[SitePaths.CoilKind(coil, "start_voltage")] = SitePaths.Value(start, Quantity.Voltage, 1);
        if (wrongSpeed && Others(context.House, coil).Length == 0)
            proposals[SitePaths.CoilKind(coil, "start_speed")] = SitePaths.Value(speed, Quantity.Percent, 0);
        return outcome with { Values = new Dictionary<string, double> { ["start_v"] = start, ["hold_v"] = hold, ["speed_percent"] = speed }, Proposals = proposals };
    }

    private static double Rises(StepContext context, Coil coil, double fromV, double toV, double stepV)
    {
        for (var volts = fromV; volts <= toV + 1e-9; volts += stepV)
        {
            if (At(context, coil, volts))
                return volts;
        }
        return double.NaN;
    }

    /// <summary>Whether it turns at a voltage. The hand value is in percent, by the line of site.yaml, carried on below its start.</summary>
    private static bool At(StepContext context, Coil coil, double volts)
    {
        var line = coil.Kind.Line;
        var percent = line.StartPercent + (volts - line.StartVoltageV) / (line.FullVoltageV - line.StartVoltageV) * (100 - line.StartPercent);
        if (percent is <= 0 or > 100)
            return false;
        context.MustSet(coil.Fan, percent, 60, below: true);
        var real = context.Plant.Output(coil.Fan).Volts;
        if (double.IsNaN(real))
            throw new SkipStepException("its wire carries no volts that can be told");
        context.Wait(SettlesS);
        return OutputSteps.Turns(context, coil, string.Create(CultureInfo.InvariantCulture, $"{context.OutputId(coil.Fan)} gets {real:0.00} V. Does the fan turn?"));
    }

    private static void Stop(StepContext context, Coil coil)
    {
        context.MustSet(coil.Fan, 0, 120);
        context.Wait(2 * SettlesS);
        if (!context.Until(() => !OutputSteps.Turns(context, coil, $"{context.OutputId(coil.Fan)} is set to 0 %. Does the fan still turn?"), StopsS, out _, SettlesS))
            throw new SkipStepException("it does not stop at 0 %");
    }

    /// <summary>Levels at the ear at three speeds, the background taken off; sound data, and a cap with its price.</summary>
    public static Outcome FindSound(StepContext context, Coil coil)
    {
        var id = context.OutputId(coil.Fan);
        context.MustSet(coil.Fan, 0, 600);
        context.Wait(30);
        var background = context.Once("background", () => context.AskNumber(Deed.Listen, id, $"All quiet, {id} stands: level at the usual seat or pillow, in dB(A)?", Quantity.Level));
        if (double.IsNaN(background))
            throw new SkipStepException("no sound level meter");
        List<(double, double)> levels = [];
        foreach (var speed in Speeds(coil))
        {
            var level = context.Once(string.Create(CultureInfo.InvariantCulture, $"level at {speed:0} %"), () =>
            {
                context.MustSet(coil.Fan, speed, 600);
                context.Wait(30);
                return context.AskNumber(Deed.Listen, id, string.Create(CultureInfo.InvariantCulture, $"{id} turns with {speed:0} %: level at the same place, in dB(A)?"), Quantity.Level);
            });
            if (double.IsFinite(level))
                levels.Add((speed, level));
        }
        if (!FanLevels.TryMake(levels, background, out var found))
            return new Outcome(Verdict.Told, string.Create(CultureInfo.InvariantCulture, $"not heard over the background of {background:0} dB(A)"), "measure when it is quieter, or be glad");
        return Judge(context, coil, background, levels, found);
    }

    /// <summary>Other coils of the same kind, by name; "": none.</summary>
    private static string Others(House house, Coil coil) => string.Join(", ", house.Coils.Where(other => other.Id != coil.Id && ReferenceEquals(other.Kind, house.Coils.First(one => one.Id == coil.Id).Kind)).Select(other => other.Id));

    private static IEnumerable<double> Speeds(Coil coil)
        => coil.Kind.StepsPercent.Count > 0 ? coil.Kind.StepsPercent.Reverse() : coil.StartSpeedPercent >= 100 ? [100] : [100, 70, Math.Max(45, coil.StartSpeedPercent)];

    private static Outcome Judge(StepContext context, Coil coil, double background, List<(double Percent, double Db)> levels, in FanLevels found)
    {
        var said = coil.Kind.SoundLevelDb;
        var words = string.Create(CultureInfo.InvariantCulture, $"{found.FullDb:0} dB(A) at the ear at full speed, from {found.Counted} level(s) within {found.OffDb:0.0} dB of the fan law, background {background:0} dB(A) taken off; site.yaml says {(double.IsNaN(said) ? "nothing" : $"{said:0} dB")}. {Cap(context.House, coil, found.FullDb)}");
        var isOwn = Others(context.House, coil).Length == 0;   // a level at one seat says nothing of another coil of the kind
        var isNew = isOwn && double.IsNaN(said) || (isOwn && Math.Abs(found.FullDb - said) > 1.5);
        var outcome = found.OffDb > 3 ? Outcome.Fail(words, "the levels do not follow the fan law: something rattles, or somebody talked: measure again")
            : double.IsFinite(said) && Math.Abs(found.FullDb - said) > 3 ? Outcome.Fail(words, string.Create(CultureInfo.InvariantCulture, $"limits in dB go by site.yaml's figure: write sound: at: 100 %, level: {found.FullDb:0} dB")) : Outcome.Pass(words);
        Dictionary<string, double> values = new() { ["full_db"] = found.FullDb, ["off_db"] = found.OffDb, ["background_db"] = background };
        foreach (var (percent, db) in levels)
            values[string.Create(CultureInfo.InvariantCulture, $"db_at_{percent:0}")] = db;
        return outcome with
        {
            Values = values,
            Proposals = isNew ? new Dictionary<string, string> { [SitePaths.CoilKind(coil, "sound/at")] = "100 %", [SitePaths.CoilKind(coil, "sound/level")] = SitePaths.Value(found.FullDb, Quantity.Level, 0) } : new Dictionary<string, string>(),
        };
    }

    /// <summary>The speed that keeps the strictest wish of its rooms, or the night's, and what it costs.</summary>
    internal static string Cap(House house, Coil coil, double fullDb)
    {
        var wished = coil.Rooms.Select(room => house.Rooms[room].Household.NoiseAtMostDb).Where(double.IsFinite).DefaultIfEmpty(double.NaN).Min();
        var target = double.IsNaN(wished) ? NightDb : wished;
        if (!FanSound.TrySpeedForLevel(fullDb, target, out var speed, out _))
            return "";
        var whose = double.IsNaN(wished) ? "for a quiet night" : "that the household asks for";
        if (coil.Kind.StepsPercent.Count > 0)
            speed = coil.Kind.StepsPercent.Where(step => step <= speed).DefaultIfEmpty(0).Max();
        if (speed < coil.StartSpeedPercent)
            return string.Create(CultureInfo.InvariantCulture, $"Even at its slowest it is louder than the {target:0} dB(A) {whose}: fan_at_most 0 % in those hours, or a quieter coil");
        var (full, slow) = (Recovery.Minutes(house, coil.Room, 100), Recovery.Minutes(house, coil.Room, speed));
        var price = double.IsFinite(full) && double.IsFinite(slow) ? string.Create(CultureInfo.InvariantCulture, $"; its price: after a door stood open about {slow:0} min instead of {full:0} (an estimate)") : "";
        return string.Create(CultureInfo.InvariantCulture, $"Proposed cap: {Math.Floor(speed):0} % keeps the {target:0} dB(A) {whose}{price}");
    }
}

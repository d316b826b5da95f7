// Looks at what a scan left behind and puts what has moved into the ring of the trends. Runs in the loop: must never allocate, wait or make text.
using RoomSupervisor.Records;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Recording;

/// <summary>Every reading and command of a house, and what the sequence made of them.</summary>
public sealed class TrendTap
{
    /// <summary>A concentration of carbon dioxide moves by so much before it is news, ppm.</summary>
    private const double CarbonDioxideBand = 25;

    private readonly double[] bands, jumps, everyS, values, putAtS;
    private readonly bool[] creeps, stops;
    /// <summary>Causes worth keeping as what would have bound next: those that have words for it.</summary>
    private static readonly bool[] SaysNext = [.. Enum.GetValues<Cause>().Select(cause => CauseWords.Of(cause).Next.Length > 0)];

    private readonly Cause[] causes, nexts;
    private DateTime utc;
    private double nowS;
    private int at;

    public TrendTap(House house)
    {
        Series = SeriesOf(house);
        bands = [.. Series.Select(series => series.DeadBand)];
        jumps = [.. Series.Select(series => series.DeadBand * TrendRule.Jump(series.Quantity))];
        everyS = [.. Series.Select(series => TrendRule.CreepsEveryS(series.Quantity))];
        creeps = [.. Series.Select(series => series.States.Length == 0 && series.Quantity != Quantity.Switch)];
        stops = [.. Series.Select(series => series.Quantity is Quantity.Percent or Quantity.Power)];
        values = new double[bands.Length];
        causes = new Cause[bands.Length];
        nexts = new Cause[bands.Length];
        putAtS = new double[bands.Length];
        Array.Fill(putAtS, double.NegativeInfinity);
        // What all of them put at once, three times over: a Records thread that sleeps for an hour loses nothing.
        Ring = new TrendRing(Math.Max(4096, 3 * bands.Length));
    }

    /// <summary>What is followed: inputs, outputs, then rooms, loops and sources.</summary>
    public IReadOnlyList<TrendSeries> Series { get; }

    public TrendRing Ring { get; }

    /// <summary>What is followed of a house, for who reads it back.</summary>
    public static IReadOnlyList<TrendSeries> SeriesOf(House house) => [
        .. house.InputTable.All.Select(Of), .. house.OutputTable.All.Select(Of), .. house.Rooms.SelectMany(room => Of(room.Id)),
        .. house.Loops.SelectMany(loop => OfLoop(loop.Id)), .. house.Sources.SelectMany(source => OfSource(source.Id))];

    /// <summary>Takes a scan's result.</summary>
    public void Look(OutputImage image, DateTime scanUtc, double scanS)
    {
        (utc, nowS, at) = (scanUtc, scanS, 0);
        foreach (ref readonly var reading in image.Readings.AsSpan())
            Value(reading.Exists ? reading.Value : double.NaN, new Reason(reading.Cause));
        foreach (ref readonly var command in image.Commands.AsSpan())
            Value(command.Value, command.Binding, SaysNext[(int)command.RunnerUp.Cause] ? command.RunnerUp : default);
        foreach (ref readonly var room in image.Rooms.AsSpan())
            Room(room);
        foreach (ref readonly var loop in image.Loops.AsSpan())
        {
            Value((byte)loop.Guard, default);
            Value(loop.SetPointC, default);
            Value(loop.LowestSafeSupplyC, default);
        }
        foreach (ref readonly var source in image.Sources.AsSpan())
        {
            Value(source.Calling ? 1 : 0, source.Reason);
            Value((byte)source.Mode, default);
        }
    }

    private void Room(in RoomStatus room)
    {
        Value((byte)room.Stage, default);
        Value((byte)room.Moisture, default);
        Value((byte)room.Guard, default);
        Value(room.AirTemperatureC, default);
        Value(room.WantedC, default);
        Value(room.DewPointC, default);
        Value(room.DewPointWorstC, default);
        Value(room.DemandW, default);
    }

    private void Value(double value, in Reason reason, in Reason next = default)
    {
        var i = at++;
        var before = values[i];
        var isSame = (double.IsNaN(value) ? double.IsNaN(before) : Math.Abs(value - before) < bands[i]) && reason.Cause == causes[i] && next.Cause == nexts[i];
        if (isSame && nowS - putAtS[i] < TrendRule.AtLeastEveryS)
            return;
        if (!isSame && creeps[i] && !IsNews(i, value, reason.Cause))
            return;
        // What finds no room in the ring is offered again with the next scan.
        if (!Ring.Put(new TrendSample(utc, i, value, reason) { Next = next }))
            return;
        (values[i], causes[i], nexts[i], putAtS[i]) = (value, reason.Cause, next.Cause, nowS);
    }

    /// <summary>Whether a figure that has moved is worth a sample already: at once where it came, went, started or stopped; else not before its time.</summary>
    private bool IsNews(int i, double value, Cause cause)
    {
        var (before, passedS) = (values[i], nowS - putAtS[i]);
        if (passedS >= everyS[i] || double.IsNaN(value) != double.IsNaN(before) || (stops[i] && value > 0 != before > 0))
            return true;
        return passedS >= everyS[i] / 2 && (cause != causes[i] || Math.Abs(value - before) >= jumps[i]);
    }

    private static TrendSeries Of(Point point) => point.Id.EndsWith(".co2", StringComparison.Ordinal)
        ? new TrendSeries(point.Id, point.Quantity) { DeadBand = CarbonDioxideBand }
        : new TrendSeries(point.Id, point.Quantity);

    private static TrendSeries[] Of(string room) =>
    [
        new(room + ".stage", Quantity.Number, States<Stage>(stage => Names.Of(stage))), new(room + ".moisture", Quantity.Number, States<Moisture>(moisture => Names.Of(moisture))),
        new(room + ".guard", Quantity.Number, States<GuardLevel>(level => Names.Of(level))), new(room + ".air", Quantity.Temperature), new(room + ".wanted", Quantity.Temperature),
        new(room + ".dew_point", Quantity.Temperature), new(room + ".dew_point_worst", Quantity.Temperature), new(room + ".demand", Quantity.Power),
    ];

    private static TrendSeries[] OfLoop(string loop) =>
        [new(loop + ".guard", Quantity.Number, States<GuardLevel>(level => Names.Of(level))), new(loop + ".set_point", Quantity.Temperature), new(loop + ".lowest_safe_supply", Quantity.Temperature)];

    private static TrendSeries[] OfSource(string source) =>
        [new(source + ".calling", Quantity.Switch), new(source + ".mode", Quantity.Number, States<SourceMode>(mode => Names.Of(mode)))];

    private static string States<T>(Func<T, string> name)
        where T : struct, Enum => string.Join(',', Enum.GetValues<T>().Select(name));
}

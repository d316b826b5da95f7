// The circuits of a site as they are balanced: length, design flow, port, setting, found. From the site's own keys; what nobody wrote is reckoned and marked so. Must never show an estimate as if somebody had measured it.
using System.Globalization;
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Physics;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Desk.WaterWork;

/// <summary>A line of the table.</summary>
/// <param name="Loop">Id of its loop.</param>
/// <param name="Name">Room and surface, with its number where it has several.</param>
/// <param name="Port">On the manifold; 0: not said.</param>
/// <param name="LengthM">Pipe, m.</param>
/// <param name="LengthIsReckoned">True where it comes from area and spacing.</param>
/// <param name="Circuit">What is balanced.</param>
/// <param name="Setting">What is reckoned for it.</param>
/// <param name="DesignLPerMin">Wanted flow.</param>
/// <param name="FoundLPerMin">Found flow; NaN: not yet.</param>
/// <param name="FoundKv">Flow coefficient that was set when it was found.</param>
/// <param name="Next">What to turn next.</param>
public sealed record CircuitLine(
    string Loop, string Name, int Port, double LengthM, bool LengthIsReckoned, BalanceCircuit Circuit, BalanceSetting Setting, double DesignLPerMin, double FoundLPerMin, double FoundKv, BalanceNext Next);

/// <summary>The table of a loop.</summary>
/// <param name="Loop">Id of the loop.</param>
/// <param name="Lines">Its circuits, by port.</param>
/// <param name="ManifoldPa">Pressure the manifold needs with these settings, Pa.</param>
/// <param name="MeanC">Water that was reckoned with, °C.</param>
public sealed record CircuitTable(string Loop, IReadOnlyList<CircuitLine> Lines, double ManifoldPa, double MeanC)
{
    /// <summary>Flow coefficient of a manifold's valve fully open where nobody says otherwise, m³/h (common practice, no published source).</summary>
    public const double UsualKvs = 1.1;

    /// <summary>Way to the manifold and back where only area and spacing are known, m, and bends and manifold as a share of the pipe (common practice, no published source).</summary>
    private const double WayM = 10, LocalShare = 0.2;

    /// <summary>Longest circuit that is laid, m (common practice, no published source: longer ones lose too much pressure).</summary>
    private const double LongestM = 100;

    /// <summary>Difference between supply and return the flow is designed for, K: cooled panels 3, slabs and heating 5 (common practice, no published source).</summary>
    private const double PanelK = 3, SlabK = 5;

    /// <summary>Kind of its entries in the book.</summary>
    public const string Kind = "balance";

    /// <summary>Id of a circuit's entry in the book.</summary>
    public static string IdOf(string name) => $"{Kind}/{name}";

    /// <summary>Tables of all loops with surfaces.</summary>
    /// <param name="house">The house.</param>
    /// <param name="book">Book with found flows; null: none.</param>
    /// <param name="kvs">Flow coefficient of the valves fully open, m³/h.</param>
    public static IReadOnlyList<CircuitTable> All(House house, CheckoutBook? book, double kvs = UsualKvs)
    {
        ArgumentNullException.ThrowIfNull(house);
        return [.. house.Loops.Where(loop => loop.Circuits.Length > 0).Select(loop => Of(house, loop, book, kvs))];
    }

    private static CircuitTable Of(House house, Loop loop, CheckoutBook? book, double kvs)
    {
        var meanC = loop.Cools ? loop.ColdestC + 2 : loop.Settings.HeatingWarmestC(loop.Serves) - 5;
        if (!Water.TryProperties(meanC, out var water, out var why))
            throw new ArgumentException(why.ToString(), nameof(house));
        List<(Circuit Surface, string Name, int Port, BalanceCircuit Circuit)> all = [];
        foreach (var surface in loop.Circuits.Select(i => house.Circuits[i]))
        {
            var s = surface.Settings;
            var count = CountOf(s);
            for (var i = 0; i < count; i++)
            {
                var name = count == 1 ? surface.Id : string.Create(CultureInfo.InvariantCulture, $"{surface.Id}-{i + 1}");
                all.Add((surface, name, s.Port > 0 ? s.Port + i : 0, new BalanceCircuit(name, new Branch(LengthOf(s), s.PipeBoreM, LocalShare, 0), DesignKgPerS(loop, surface, water) / count, kvs)));
            }
        }
        var circuits = all.Select(one => one.Circuit).ToArray();
        var (settings, manifold) = Balancing.Reckon(circuits, water);
        var litres = 60 * 1000 / water.DensityKgPerM3;
        var found = circuits.Select(circuit => book?.Latest(IdOf(circuit.Name))?.Values.GetValueOrDefault("found_l_per_min", double.NaN) ?? double.NaN).ToArray();
        var set = circuits.Select((circuit, i) => book?.Latest(IdOf(circuit.Name))?.Values.GetValueOrDefault("kv", settings[i].Kv) ?? settings[i].Kv).ToArray();
        var next = Balancing.Next(circuits, set, [.. found.Select(flow => flow / litres)], water);
        return new CircuitTable(loop.Id,
            [.. all.Select((one, i) => new CircuitLine(loop.Id, one.Name, one.Port, LengthOf(one.Surface.Settings), double.IsNaN(one.Surface.Settings.PipeLengthM) || one.Surface.Settings.PipeCircuits == 0, one.Circuit, settings[i], one.Circuit.DesignKgPerS * litres, found[i], set[i], next[i]))
                .OrderBy(line => line.Port == 0 ? int.MaxValue : line.Port)],
            manifold, meanC);
    }

    /// <summary>A found flow for the book.</summary>
    /// <param name="line">Its circuit.</param>
    /// <param name="lPerMin">Found, l/min.</param>
    /// <param name="kv">Flow coefficient that was set, m³/h; NaN: what the table says.</param>
    /// <param name="who">Who measured.</param>
    /// <param name="utc">When.</param>
    public static CheckEntry Entry(CircuitLine line, double lPerMin, double kv, string who, DateTime utc)
    {
        ArgumentNullException.ThrowIfNull(line);
        var set = double.IsNaN(kv) ? line.FoundKv : kv;
        var off = lPerMin / line.DesignLPerMin - 1;
        return new CheckEntry(Kind, IdOf(line.Name), string.Create(CultureInfo.InvariantCulture, $"{line.DesignLPerMin:0.00} l/min ± {100 * Balancing.Tolerance:0} %"),
            string.Create(CultureInfo.InvariantCulture, $"{lPerMin:0.00} l/min at {100 * set / line.Circuit.Kvs:0} % open"), Math.Abs(off) <= Balancing.Tolerance ? Verdict.Pass : Verdict.Fail, who, utc)
        {
            Values = new Dictionary<string, double> { ["found_l_per_min"] = lPerMin, ["design_l_per_min"] = line.DesignLPerMin, ["kv"] = set },
            Why = Math.Abs(off) <= Balancing.Tolerance ? "" : string.Create(CultureInfo.InvariantCulture, $"{100 * off:+0;-0} % off: see balance for what to turn next"),
        };
    }

    private static double LengthOf(SurfaceSettings s) => double.IsNaN(s.PipeLengthM) ? s.AreaM2 / s.PipeSpacingM / CountOf(s) + WayM : s.PipeLengthM;

    /// <summary>As written, else as many as keep each under the usual length.</summary>
    private static int CountOf(SurfaceSettings s) => s.PipeCircuits > 0 ? s.PipeCircuits
        : double.IsNaN(s.PipeLengthM) ? Math.Max(1, (int)Math.Ceiling(s.AreaM2 / s.PipeSpacingM / (LongestM - WayM)))
        : Math.Max(1, (int)Math.Round(s.AreaM2 / s.PipeSpacingM / Math.Max(1, s.PipeLengthM - WayM)));

    /// <summary>The larger of what cooling and heating at their rated difference need.</summary>
    private static double DesignKgPerS(Loop loop, Circuit surface, in LiquidProperties water)
    {
        var (kind, most) = (surface.Kind, 0.0);
        if (loop.Cools)
            most = kind.OutputWPerM2 / (kind.IsSlab ? SlabK : PanelK);
        if (loop.Heats)
            most = Math.Max(most, (double.IsNaN(kind.HeatingOutputWPerM2) ? kind.OutputWPerM2 : kind.HeatingOutputWPerM2) / SlabK);
        return most * surface.Settings.AreaM2 / (1000 * water.SpecificHeatKJPerKgK);
    }
}

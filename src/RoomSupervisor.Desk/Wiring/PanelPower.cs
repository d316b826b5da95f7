// What a panel's extra-low-voltage supply must give: written figures where there are any, else usual ones that are shown as assumed. Must never pass an assumption off as known.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Wiring;

/// <summary>Panel power.</summary>
public static class PanelPower
{
    /// <summary>What is kept in hand, as a share of the sum (project choice).</summary>
    public const double InHandShare = 0.3;

    /// <summary>Where the assumed figures come from.</summary>
    public const string Assumed = "assumed: common practice, no published source";

    /// <summary>What actuators on one relay are called: wax ones for the most part.</summary>
    internal const string Thermal = "actuators on one relay, 24 V, warm";

    /// <summary>Usual figures, W (common practice, no published source): board with its storage; module with its logic; chip; relay coil; actuators of 24 V while they move.</summary>
    private const double BoardW = 8, ModuleW = 3, SensorW = 0.5, ChipW = 0.1, RelayW = 0.5, ModulatingW = 2.5, ThermalW = 2, ThreePointW = 3;

    /// <summary>A wax actuator takes this much more while it is cold (common practice, no published source).</summary>
    public const double ThermalInrushTimes = 3;

    /// <summary>Every line of every panel.</summary>
    public static IReadOnlyList<PowerLine> Of(IReadOnlyList<WiredDevice> devices, IReadOnlyList<ScheduleRow> rows)
    {
        ArgumentNullException.ThrowIfNull(devices);
        ArgumentNullException.ThrowIfNull(rows);
        List<PowerLine> lines = [];
        var first = PanelOfBoard(devices);
        lines.Add(new PowerLine(first, "controller board", 1, BoardW, Assumed) { IsAssumed = true });
        // A sensor on a bus cable is fed over it: without a panel of its own it counts where the board does.
        lines.AddRange(devices.Where(device => !IsTheBoard(device)).Select(device => OfDevice(device, device.IsSensor && device.Settings.Mounting.Panel.Length == 0 ? first : device.Panel)));
        foreach (var panel in devices.Select(device => device.Panel).Distinct())
            lines.AddRange(Loads(panel, [.. rows.Where(row => row.IsOutput && row.Device.Panel == panel)]));
        return lines;
    }

    /// <summary>The panel the board is taken to stand in: that of the first device that is no sensor.</summary>
    internal static string PanelOfBoard(IReadOnlyList<WiredDevice> devices) => devices.FirstOrDefault(device => !device.IsSensor)?.Panel ?? SiteWires.ThePanel;

    /// <summary>What a panel's supply must give, W: the sum and something in hand, or the sum while every wax actuator is cold, whichever is more.</summary>
    public static double NeededW(IEnumerable<PowerLine> ofOnePanel)
    {
        PowerLine[] lines = [.. ofOnePanel];
        return Math.Max(lines.Sum(line => line.TotalW) * (1 + InHandShare), ColdW(lines));
    }

    /// <summary>What a panel takes while all its wax actuators are cold and open at once, as on the first cold morning, W.</summary>
    public static double ColdW(IEnumerable<PowerLine> ofOnePanel) => ofOnePanel.Sum(line => line.TotalW * (line.What == Thermal ? ThermalInrushTimes : 1));

    private static bool IsTheBoard(WiredDevice device) => BusCables.KindOf(device.Settings) == BusKind.None;

    private static PowerLine OfDevice(WiredDevice device, string panel)
    {
        var written = device.Settings.Mounting.PowerW;
        var usual = device.IsSensor ? SensorW : BusCables.KindOf(device.Settings) == BusKind.WireBus ? ChipW : ModuleW;
        return new PowerLine(panel, $"{device.Name} ({device.Driver.Name})", 1, double.IsNaN(written) ? usual : written, double.IsNaN(written) ? Assumed : "site.yaml") { IsAssumed = double.IsNaN(written) };
    }

    private static IEnumerable<PowerLine> Loads(string panel, IReadOnlyList<ScheduleRow> rows)
    {
        var valves = rows.Where(row => row.Kind.Letters is "TV").ToList();
        (string What, int Count, double EachW)[] loads =
        [
            ("relay coils", rows.Sum(row => row.Terminals.Count(terminal => terminal.Kind == TerminalKind.Relay)), RelayW),
            ("actuators on a control voltage, 24 V", valves.Count(row => row.Terminals[0].Kind is TerminalKind.Voltage or TerminalKind.Pulse or TerminalKind.Value), ModulatingW),
            (Thermal, valves.Where(row => row.Terminals[0].Kind == TerminalKind.Relay && !IsThreePoint(row)).Sum(row => row.Terminals.Count), ThermalW),
            ("three-point actuators, 24 V", valves.Count(IsThreePoint), ThreePointW),
        ];
        return loads.Where(load => load.Count > 0).Select(load => new PowerLine(panel, load.What, load.Count, load.EachW, Assumed) { IsAssumed = true });
    }

    /// <summary>True for a drive with a relay to open and one to shut.</summary>
    internal static bool IsThreePoint(ScheduleRow row) => row.Terminals.Count == 2 && row.Cables.Count == 1 && row.Terminals[0].Kind == TerminalKind.Relay && row.Kind.Letters == "TV";
}

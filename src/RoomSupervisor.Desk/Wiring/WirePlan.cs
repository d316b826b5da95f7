// Everything an installer must know to wire a site: points with their terminals, cables, devices by panel. Pure data; made by SiteWires from the site as read.
using RoomSupervisor.Desk.Describe;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Wiring;

/// <summary>What a terminal is, for counting.</summary>
public enum TerminalKind : byte
{
    /// <summary>A measured value: a register, an analogue input, a channel of a chip.</summary>
    Measured,

    /// <summary>A contact that is read.</summary>
    Contact,

    /// <summary>A control voltage, 0–10 V or 2–10 V.</summary>
    Voltage,

    /// <summary>A relay or switched output.</summary>
    Relay,

    /// <summary>A pulse-width output.</summary>
    Pulse,

    /// <summary>A value that is written as a register, such as a set point.</summary>
    Value,
}

/// <summary>One terminal of a device that carries a point, or a part of it.</summary>
/// <param name="Channel">Name of the channel in the site file.</param>
/// <param name="Place">Terminal or register in the device's own words.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Signal">What goes over it.</param>
public sealed record Terminal(string Channel, string Place, TerminalKind Kind, string Signal);

/// <summary>One point of the schedule.</summary>
/// <param name="Id">Id of the point.</param>
/// <param name="Kind">What it is.</param>
/// <param name="IsOutput">Output or input.</param>
/// <param name="Device">Device that carries it.</param>
/// <param name="Terminals">Its terminals: one, or one for each relay or actuator.</param>
/// <param name="Cables">Labels of its cables: one, or one for each actuator; that of the device's own bus cable where the device is the sensor.</param>
/// <param name="Safe">What an output does when it is safe, and when the board dies; empty for an input.</param>
/// <param name="Note">What else matters; may be empty.</param>
public sealed record ScheduleRow(
    string Id, PointKind Kind, bool IsOutput, WiredDevice Device, IReadOnlyList<Terminal> Terminals, IReadOnlyList<string> Cables, string Safe, string Note)
{
    /// <summary>What an output does when the board dies, by itself or because its module lets go; empty for an input.</summary>
    public string Dies { get; init; } = "";

    /// <summary>True for a relay that is drawn while its output is off.</summary>
    public bool IsInverted { get; init; }

    /// <summary>True for an output that the controller leaves on in frost.</summary>
    public bool StaysOnInFrost { get; init; }

    /// <summary>What goes over its terminals, each said once.</summary>
    public string Signal => string.Join("; ", Terminals.Select(terminal => terminal.Signal).Distinct());
}

/// <summary>A device as it is wired.</summary>
/// <param name="Settings">As read.</param>
/// <param name="Driver">Its driver.</param>
/// <param name="Panel">Panel it stands in, or the words for where it hangs.</param>
/// <param name="Address">Where it is on its bus.</param>
/// <param name="Cable">Label of its bus cable.</param>
public sealed record WiredDevice(DeviceSettings Settings, DriverDeclaration Driver, string Panel, string Address, string Cable)
{
    public string Name => Settings.Name;

    /// <summary>True for a device that is a sensor itself and hangs where it measures: only its bus cable goes there.</summary>
    public bool IsSensor { get; init; }

    /// <summary>True for a device whose outputs stay as they are when nobody writes them any more.</summary>
    public bool KeepsOutputs => double.IsNaN(OwnTimeOutS) && (Driver.KeepsOutputs || Driver.OwnTimeOutKey is not null);

    /// <summary>Time after which it drops its outputs by itself, s; NaN: it does not, or nobody said so.</summary>
    public double OwnTimeOutS => Driver.OwnTimeOutKey is { } key && Settings.Settings.Has(key) ? Settings.Settings.Number(key) : double.NaN;
}

/// <summary>One cable.</summary>
/// <param name="Label">What stands on both its ends.</param>
/// <param name="From">Device, or board, it begins at.</param>
/// <param name="Panel">Panel it begins in.</param>
/// <param name="To">What it goes to.</param>
/// <param name="Type">What kind of cable is usual for it.</param>
/// <param name="Cores">Cores it needs at least, protective earth and screen not counted; 0: by the kind of bus.</param>
/// <param name="Points">Ids of the points it carries.</param>
public sealed record CableRun(string Label, string From, string Panel, string To, string Type, int Cores, IReadOnlyList<string> Points);

/// <summary>A protection that acts without the controller.</summary>
/// <param name="What">What it is.</param>
/// <param name="Where">Loop, surface, coil or pump that it protects.</param>
/// <param name="Need">Whether this site needs it, and why.</param>
/// <param name="State">What the site file knows of it.</param>
/// <param name="HowTo">How it is wired and proved.</param>
public sealed record HardWired(string What, string Where, string Need, string State, string HowTo)
{
    /// <summary>True where the site needs one and its file knows of none.</summary>
    public bool IsMissing { get; init; }
}

/// <summary>One line of a panel's power.</summary>
/// <param name="Panel">Panel that supplies it.</param>
/// <param name="What">What takes it.</param>
/// <param name="Count">How many.</param>
/// <param name="EachW">Each takes, W.</param>
/// <param name="Source">Where the figure comes from.</param>
public sealed record PowerLine(string Panel, string What, int Count, double EachW, string Source)
{
    /// <summary>All of them, W.</summary>
    public double TotalW => Count * EachW;

    /// <summary>True for a figure that nobody wrote.</summary>
    public bool IsAssumed { get; init; }
}

/// <summary>The whole.</summary>
/// <param name="Site">Name of the site.</param>
/// <param name="Rows">Every wired point, once.</param>
/// <param name="Devices">Every device.</param>
/// <param name="Cables">Every cable.</param>
/// <param name="Protections">Hard-wired protections.</param>
/// <param name="Power">Panel power.</param>
/// <param name="Warnings">What of this site must be changed, completed or confirmed.</param>
/// <param name="Advice">What holds for the wiring of any such panel.</param>
public sealed record WirePlan(
    string Site, IReadOnlyList<ScheduleRow> Rows, IReadOnlyList<WiredDevice> Devices, IReadOnlyList<CableRun> Cables, IReadOnlyList<HardWired> Protections,
    IReadOnlyList<PowerLine> Power, IReadOnlyList<string> Warnings, IReadOnlyList<string> Advice)
{
    /// <summary>Terminals of a kind, on one device or, without one, on all.</summary>
    public int Count(TerminalKind kind, string? device = null)
        => Rows.Where(row => device is null || row.Device.Name == device).Sum(row => row.Terminals.Count(terminal => terminal.Kind == kind));

    /// <summary>Panels in the order of their devices.</summary>
    public IReadOnlyList<string> Panels => [.. Devices.Select(device => device.Panel).Distinct()];
}

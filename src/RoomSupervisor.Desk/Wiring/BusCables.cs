// Bus cables: which devices share a line, what stands on their labels, where a device is on its bus. Must never open a bus.
using System.Globalization;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Wiring;

/// <summary>Kinds of bus a device may hang on.</summary>
internal enum BusKind : byte
{
    None, Network, Serial, WireBus, OneWire,
}

/// <summary>Labels of bus cables.</summary>
internal sealed class BusCables
{
    private readonly Dictionary<string, string> labels = new(StringComparer.Ordinal);

    public BusCables(IReadOnlyList<DeviceSettings> devices, IReadOnlyList<DriverDeclaration> drivers)
    {
        var lines = new Dictionary<BusKind, List<string>>();
        var seen = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var device in devices)
        {
            var kind = KindOf(device);
            if (kind == BusKind.None)
                continue;
            var line = LineOf(device, drivers.First(driver => driver.Name == device.Driver));
            var known = lines.TryGetValue(kind, out var some) ? some : lines[kind] = [];
            if (!known.Contains(line))
                known.Add(line);
            var number = known.IndexOf(line) + 1;
            seen[line] = seen.GetValueOrDefault(line) + 1;
            labels[device.Name] = kind == BusKind.Network
                ? string.Create(CultureInfo.InvariantCulture, $"N{number}") : string.Create(CultureInfo.InvariantCulture, $"{Letter(kind)}{number}-{seen[line]}");
        }
    }

    /// <summary>Label of a device's bus cable; empty where it needs none.</summary>
    public string Label(DeviceSettings device) => labels.GetValueOrDefault(device.Name, "");

    /// <summary>What a device hangs on.</summary>
    public static BusKind KindOf(DeviceSettings device)
        => device.Settings.Has("host") ? BusKind.Network : device.Settings.Has("baud") ? BusKind.Serial : device.Settings.Has("bus") ? BusKind.WireBus : device.Driver.StartsWith("one-wire", StringComparison.Ordinal) ? BusKind.OneWire : BusKind.None;

    /// <summary>Where a device is, in words.</summary>
    public static string AddressOf(DeviceSettings device, DriverDeclaration driver)
    {
        if (device.Settings.Has("host"))
            return string.Create(CultureInfo.InvariantCulture, $"{device.Settings.Text("host")} port {device.Settings.Number("port")} unit {device.Settings.Number("unit")}");
        var place = driver.DevicePlace?.Invoke(device.Settings) ?? "";
        return device.Settings.Has("baud") ? $"{place}, {device.Settings.Text("baud")} baud, parity {device.Settings.Text("parity")}" : place;
    }

    /// <summary>The bus cable of a device: from the board, or from the device before it on the line. It begins in another panel where that stands there.</summary>
    public static CableRun Run(WiredDevice device, IReadOnlyList<WiredDevice> devices, IReadOnlyList<ScheduleRow> rows)
    {
        var kind = KindOf(device.Settings);
        var type = kind switch
        {
            BusKind.Network => "network cable, four pairs, at most 100 m",
            BusKind.Serial => "screened twisted pair of 120 Ω with a common, one line from end to end, terminated at both ends",
            BusKind.WireBus => "wire bus (I2C): a few decimetres, inside the panel or one housing",
            _ => "1-Wire: three cores, one line without branches",
        };
        var (from, panel) = kind == BusKind.Network ? ("network switch", device.Panel)
            : devices.FirstOrDefault(other => other.Cable.Length > 0 && other.Cable == Before(device.Cable)) is { } before ? (before.Name, before.Panel) : ("board", PanelPower.PanelOfBoard(devices));
        return new CableRun(device.Cable, from, panel, panel == device.Panel ? device.Name : $"{device.Name}, {device.Panel}", type, 0, device.IsSensor ? [.. rows.Where(row => row.Device.Name == device.Name).Select(row => row.Id)] : []);
    }

    /// <summary>Label of the cable to the device before on the line; empty for the first.</summary>
    private static string Before(string label)
    {
        var dash = label.LastIndexOf('-');
        var number = int.Parse(label.AsSpan(dash + 1), CultureInfo.InvariantCulture);
        return number == 1 ? "" : string.Create(CultureInfo.InvariantCulture, $"{label.AsSpan(0, dash)}-{number - 1}");
    }

    private static string LineOf(DeviceSettings device, DriverDeclaration driver) => KindOf(device) switch
    {
        BusKind.Network => device.Settings.Text("host"),
        BusKind.WireBus => device.Settings.Text("bus"),
        BusKind.Serial => driver.SharedPlace?.Invoke(device.Settings) ?? device.Name,
        _ => "1-Wire",
    };

    private static char Letter(BusKind kind) => kind switch
    {
        BusKind.Serial => 'M',
        BusKind.WireBus => 'I',
        _ => 'Q',
    };
}

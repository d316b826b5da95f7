// What answers on the buses of a site while nothing runs: addresses of wire buses, units of Modbus lines, folders of 1-Wire chips, and which driver may fit.
// It must never write a value to anything: an address is only knocked at.
using System.Globalization;
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Control;

/// <summary>Something that answers on a bus.</summary>
/// <param name="Place">Address, unit or name, such as 0x44.</param>
/// <param name="UsedBy">Devices of the site there; empty: the site does not know it.</param>
/// <param name="MayBe">Drivers that know such an address; empty: none.</param>
public sealed record Answering(string Place, IReadOnlyList<string> UsedBy, IReadOnlyList<string> MayBe);

/// <summary>One bus as it was found.</summary>
/// <param name="Name">Path, or host and port.</param>
/// <param name="Problem">Why it could not be asked; empty when it could.</param>
/// <param name="Advice">What to do about it.</param>
/// <param name="Found">What answers.</param>
/// <param name="Silent">Places of the site's devices that do not.</param>
public sealed record ScannedBus(string Name, string Problem, string Advice, IReadOnlyList<Answering> Found, IReadOnlyList<string> Silent);

/// <summary>Asks buses who is there.</summary>
public static class BusScan
{
    /// <summary>Where the kernel lists 1-Wire chips.</summary>
    public const string OneWireDirectory = "/sys/bus/w1/devices";

    private const byte Lowest = 0x08, Highest = 0x77;   // the others are reserved by the bus's specification
    private const double DeadlineS = 0.05;

    /// <summary>A wire bus, address by address.</summary>
    /// <param name="path">Its path.</param>
    /// <param name="devices">Devices of the site.</param>
    /// <param name="open">Opens it.</param>
    public static ScannedBus WireBus(string path, IReadOnlyList<DeviceSettings> devices, Func<string, II2cBus> open)
    {
        using var bus = open(path);
        var found = new List<Answering>();
        var here = devices.Where(device => device.Settings.Has("bus") && device.Settings.Text("bus") == path).ToList();
        for (var address = Lowest; address <= Highest; address++)
        {
            var problem = Knock(bus, address);
            if (problem is I2cProblem.NoBus or I2cProblem.NotAllowed or I2cProblem.TimedOut)
                return new ScannedBus(path, I2cWords.Of(problem), Advice(problem, path), found, [.. here.Select(Place)]);
            if (problem == I2cProblem.None)
                found.Add(new Answering(Hex(address), [.. here.Where(device => Place(device) == $"{path} {Hex(address)}").Select(device => device.Name)], MayBe(path, address)));
        }
        var silent = here.Where(device => !found.Any(one => one.UsedBy.Contains(device.Name))).Select(device => $"{device.Name} ({Place(device)})").ToList();
        return new ScannedBus(path, "", silent.Count > 0 && found.Count == 0 ? "nobody answers at all: supply and ground of the chips, data and clock exchanged, pull-up resistors" : "", found, silent);
    }

    /// <summary>The Modbus units of a line or host: those of the site and the ones asked for besides.</summary>
    /// <param name="name">Its name for people.</param>
    /// <param name="onIt">Devices of the site on it.</param>
    /// <param name="others">Further units to ask.</param>
    /// <param name="link">Its link; closed here.</param>
    public static ScannedBus Modbus(string name, IReadOnlyList<DeviceSettings> onIt, IReadOnlyList<int> others, IModbusLink link)
    {
        using var closes = link;
        var found = new List<Answering>();
        var silent = new List<string>();
        foreach (var unit in onIt.Select(UnitOf).Concat(others).Distinct().Order())
        {
            string[] users = [.. onIt.Where(device => UnitOf(device) == unit).Select(device => device.Name)];
            var timeoutS = onIt.Count > 0 ? onIt.Max(device => device.Settings.Has("timeout") ? device.Settings.Number("timeout") : 1) : 1;
            var reply = Ask(link, (byte)unit, timeoutS);
            if (reply.Problem is ModbusProblem.None || (reply.Problem == ModbusProblem.Refused && reply.Exception is not (10 or 11)))
                found.Add(new Answering($"unit {unit}", users, []));
            else if (found.Count == 0 && reply.Fault == Fault.NoAcknowledge)
                return new ScannedBus(name, ModbusWords.Of(reply.Problem, reply.Exception), "power and network lamp of the module, cable, host and port in site.yaml; whether another program holds its only connection", [], [.. onIt.Select(device => device.Name)]);
            else if (users.Length > 0)
                silent.Add($"{string.Join(", ", users)} (unit {unit}): {ModbusWords.Of(reply.Problem, reply.Exception)}");
        }
        return new ScannedBus(name, "", silent.Count > 0 ? "unit number at the device and in site.yaml; on a serial line also its speed and parity, and whether the two wires are exchanged" : "", found, silent);
    }

    /// <summary>The 1-Wire chips the kernel has found; null when there is no such directory.</summary>
    /// <param name="directory">Usually <see cref="OneWireDirectory"/>.</param>
    /// <param name="devices">Devices of the site.</param>
    public static ScannedBus? OneWire(string directory, IReadOnlyList<DeviceSettings> devices)
    {
        if (!Directory.Exists(directory))
            return null;
        var found = Directory.GetFileSystemEntries(directory).Select(entry => Path.GetFileName(entry)!).Where(name => name.Contains('-', StringComparison.Ordinal)).Order(StringComparer.Ordinal)
            .Select(name => new Answering(name, [.. devices.Where(device => Mentions(device, name)).Select(device => device.Name)], MayBeOneWire(name))).ToList();
        return new ScannedBus(directory, "", "", found, []);
    }

    /// <summary>What to do about a bus that cannot be used.</summary>
    public static string Advice(I2cProblem problem, string path) => problem switch
    {
        I2cProblem.NoBus => $"is the interface switched on? Add it to the boot file (on most boards config.txt: a line such as dtparam=i2c_arm=on), load i2c-dev at boot (a line in /etc/modules), restart; then look for {path} again: an adapter that was pulled and plugged in may have another number",
        I2cProblem.NotAllowed => $"the user needs permission for {path}: add him to its group (often i2c) and log in again",
        I2cProblem.TimedOut => "a chip or a cable holds a line low: unplug the chips one after the other; cut the power once, some chips let go only then",
        _ => "",
    };

    /// <summary>
    /// Knocks: a write of nothing, which no chip takes for a command; where such a write could start something (memories, clock chips at 0x30–0x37 and
    /// 0x50–0x5F) or the adapter cannot do it, one byte is read instead. Common practice of bus scanners, no published source.
    /// </summary>
    private static I2cProblem Knock(II2cBus bus, byte address)
    {
        var byReading = address is (>= 0x30 and <= 0x37) or (>= 0x50 and <= 0x5F);
        if (!byReading)
        {
            var written = bus.Write(address, [], 0, DeadlineS).Problem;
            if (written != I2cProblem.Failed)
                return written;
        }
        Span<byte> one = stackalloc byte[1];
        return bus.Read(address, one, 0, DeadlineS).Problem;
    }

    private static ModbusReply Ask(IModbusLink link, byte unit, double timeoutS)
    {
        // Whether granted or refused: it is there.
        Span<byte> request = stackalloc byte[ModbusPdu.Longest], answer = stackalloc byte[ModbusPdu.Longest];
        var length = ModbusPdu.Read(request, ModbusFunction.ReadHoldingRegisters, 0, 1);
        return link.Transact(unit, request[..length], answer, timeoutS);
    }

    private static List<string> MayBe(string path, byte address)
    {
        var found = new List<string>();
        foreach (var driver in Drivers.All.Where(one => one.DevicePlace is not null && one.CheckDevice is not null && one.Parameters.Any(key => key.Key == "bus") && one.Parameters.Any(key => key.Key == "address")))
        {
            var bag = new SettingBag();
            foreach (var key in driver.Parameters)
                (key.Quantity == Quantity.Text ? () => bag.Set(key.Key, key.DefaultText ?? "") : (Action)(() => bag.Set(key.Key, key.Default)))();
            bag.Set("bus", path);
            bag.Set("address", Hex(address));
            if (driver.CheckDevice!(bag) is null)
                found.Add(driver.Name);
        }
        return found;
    }

    /// <summary>Family 28 is the common thermometer; older and simpler kinds speak the same way (families as the kernel's w1_therm lists them).</summary>
    private static IReadOnlyList<string> MayBeOneWire(string name)
        => name[..2] is "28" or "10" or "22" or "3b" or "42" ? [.. Drivers.All.Select(driver => driver.Name).Where(driver => driver.StartsWith("ds18", StringComparison.Ordinal))] : [];

    private static bool Mentions(DeviceSettings device, string name)
        => Drivers.All.FirstOrDefault(one => one.Name == device.Driver)?.Parameters.Any(key => key.Quantity == Quantity.Text && device.Settings.Has(key.Key) && device.Settings.Text(key.Key).Contains(name, StringComparison.OrdinalIgnoreCase)) ?? false;

    private static int UnitOf(DeviceSettings device) => device.Settings.Has("unit") ? (int)device.Settings.Number("unit") : 1;

    private static string Place(DeviceSettings device) => DevicesRequest.PlaceOf(device);

    private static string Hex(byte address) => "0x" + address.ToString("x2", CultureInfo.InvariantCulture);
}

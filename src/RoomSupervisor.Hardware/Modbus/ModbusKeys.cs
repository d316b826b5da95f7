// What a site file may say of the registers of a Modbus device and of the device itself, the same over TCP and on a serial line.
// It must never know how the device is reached.
using System.Globalization;
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;
using static RoomSupervisor.Hardware.Devices.DeclareKeys;

namespace RoomSupervisor.Hardware.Modbus;

/// <summary>Keys of Modbus devices and their registers, and what can be wrong with them.</summary>
internal static class ModbusKeys
{
    private const string Channels = "registers", OwnTimeOut = "own_time_out";
    private const string Coil = "coil", DiscreteInput = "discrete-input", HoldingRegister = "holding-register", InputRegister = "input-register";
    private const string OwnTimeOutAddress = "own_time_out_address", OwnTimeOutStep = "own_time_out_step", JoinGap = "join_gap", Turnaround = "turnaround";
    private const string Table = "table", Address = "address", Type = "type", Bit = "bit", Scale = "scale", Offset = "offset", ByteOrder = "byte_order", WordOrder = "word_order";
    private const string HighFirst = "high-first", LowFirst = "low-first";
    private const int Addresses = 65536;

    /// <summary>Keys every Modbus device has after those that say where it is.</summary>
    private static Parameter<SettingBag>[] Device { get; } =
    [
        Number(Interval, Quantity.Duration, 1, 0.1, 60, "How often inputs are read."),
        Number(Turnaround, Quantity.Duration, 0, 0, 1, "Silence before a request to the device and after its answer, for devices that need a moment."),
        Number(JoinGap, Quantity.Number, 0, 0, 100, "Addresses between two listed ones that may be read along, so that fewer requests do. 0: none, some devices refuse addresses they do not have."),
        RetryAtMostKey,
        Number(OwnTimeOut, Quantity.Duration, double.NaN, 1, 600, "Time after which the module itself switches its outputs off when nobody talks to it; set it up at the module, or name its register.", example: "60 s"),
        Number(OwnTimeOutAddress, Quantity.Number, double.NaN, 0, Addresses - 1, "Holding register that holds this time: it is read at each first contact, and written where it holds another.", example: "112"),
        Number(OwnTimeOutStep, Quantity.Duration, 1, 0.001, 60, "What one step of that register means.", example: "0.1 s"),
    ];

    /// <summary>Keys of one register or bit.</summary>
    private static Parameter<SettingBag>[] Channel { get; } =
    [
        Choice(Table, null, [Coil, DiscreteInput, HoldingRegister, InputRegister], "Which of the device's four tables. Outputs go to coil or holding-register."),
        Number(Address, Quantity.Number, double.NaN, 0, Addresses - 1, "Address as it goes over the wire, counted from 0 (register 40001 is address 0).", required: true, example: "0"),
        Choice(Type, "u16", ["u16", "s16", "u32", "s32", "f32"], "Whole number without (u) or with sign (s), or a floating-point number (f); 32 bits take two registers. For registers only; outputs u16 or s16."),
        Number(Bit, Quantity.Number, double.NaN, 0, 15, "One bit of the register, 0 the lowest: a switch. Inputs only.", example: "0"),
        Text(Scale, "What one step of the register means: 1 mV, 0.1 °C, 0.1 %, or 1 for a plain number.", fallback: "1"),
        Text(Offset, "What the register means when it holds 0, where that is not zero: -40 °C.", fallback: "", example: "-40 °C"),
        Choice(ByteOrder, HighFirst, [HighFirst, LowFirst], "Order of the two bytes of a register; the standard says high-first."),
        Choice(WordOrder, HighFirst, [HighFirst, LowFirst], "Order of the two registers of a 32-bit number: no standard, look it up."),
    ];

    /// <summary>What the declaration of every Modbus driver says.</summary>
    /// <param name="name">The word in <c>driver:</c>.</param>
    /// <param name="help">One line.</param>
    /// <param name="where">Keys that say where the device is.</param>
    /// <param name="wrongPlace">What is wrong with these, or null.</param>
    public static DriverDeclaration Declare(string name, string help, Parameter<SettingBag>[] where, Func<SettingBag, string?> wrongPlace) => new(
        name, help, [.. where, .. Device], Channels, Channel, [])
    {
        OwnTimeOutKey = OwnTimeOut,
        CheckDevice = device => wrongPlace(device) ?? WrongDevice(device),
        CheckChannel = WrongChannel,
        ChannelPlace = PlaceOf,
        ChannelsOverlap = Overlap,
        ChannelCanWrite = CanWrite,
        ChannelQuantity = QuantityOf,
    };

    private static double TurnaroundOf(SettingBag device) => device.Number(Turnaround);

    public static int JoinGapOf(SettingBag device) => (int)device.Number(JoinGap);

    private static bool IsBit(SettingBag channel) => channel.Text(Table) is Coil or DiscreteInput;

    private static bool CanWrite(SettingBag channel) => channel.Text(Table) is Coil or HoldingRegister && !IsSaid(channel, Bit) && !channel.Text(Type).EndsWith("32", StringComparison.Ordinal);

    private static Quantity QuantityOf(SettingBag channel) => IsBit(channel) || IsSaid(channel, Bit) ? Quantity.Switch : ScaleOf(channel).Quantity;

    /// <summary>Register and value of the module's own time-out, or null where the site file names none.</summary>
    private static (int Address, ushort Value)? OwnTimeOutRegister(SettingBag device)
        => IsSaid(device, OwnTimeOutAddress) ? ((int)device.Number(OwnTimeOutAddress), (ushort)Math.Round(device.Number(OwnTimeOut) / device.Number(OwnTimeOutStep))) : null;

    /// <summary>The channel from its bound settings.</summary>
    public static RegisterChannel ChannelOf(string name, SettingBag bag) => ChannelOf(name, bag, ScaleOf(bag));

    /// <summary>Where a channel lies: all of it but its scale, which has to be read from text and says nothing of the place. Every channel of a device is laid beside every other.</summary>
    private static RegisterChannel Lies(SettingBag bag) => ChannelOf("", bag, RegisterScale.One);

    private static RegisterChannel ChannelOf(string name, SettingBag bag, RegisterScale scale) => new(
        name,
        bag.Text(Table) switch
        {
            Coil => RegisterTable.Coil,
            DiscreteInput => RegisterTable.DiscreteInput,
            HoldingRegister => RegisterTable.HoldingRegister,
            _ => RegisterTable.InputRegister,
        },
        (int)bag.Number(Address), Enum.Parse<RegisterType>(bag.Text(Type), ignoreCase: true), scale)
    {
        Bit = IsSaid(bag, Bit) ? (int)bag.Number(Bit) : -1,
        LowByteFirst = bag.Text(ByteOrder) == LowFirst,
        LowWordFirst = bag.Text(WordOrder) == LowFirst,
    };

    /// <summary>The place in words: "holding-register 3", "holding-register 3 bit 5", "input-register 8 and 9".</summary>
    private static string PlaceOf(SettingBag bag)
    {
        var channel = Lies(bag);
        var more = channel.Bit >= 0 ? $" bit {channel.Bit}" : channel.Words > 1 ? $" and {channel.Address + 1}" : "";
        return string.Create(CultureInfo.InvariantCulture, $"{bag.Text(Table)} {channel.Address}{more}");
    }

    /// <summary>True when two channels cannot both be right: the same address, or one inside the other. The bits of a register lie side by side, and a whole register may be read beside its bits.</summary>
    private static bool Overlap(SettingBag one, SettingBag other)
    {
        var (a, b) = (Lies(one), Lies(other));
        if (a.Table != b.Table || a.End <= b.Address || b.End <= a.Address)
            return false;
        if (a.Bit >= 0 && b.Bit >= 0)
            return a.Bit == b.Bit;
        return a.Bit < 0 && b.Bit < 0 || a.Words > 1 || b.Words > 1;
    }

    /// <summary>What is wrong with a register, or null.</summary>
    private static string? WrongChannel(SettingBag channel)
    {
        if (!IsWhole(channel, Address))
            return "address is not a whole number: write it as in the device's register list, counted from 0";
        if (!IsWhole(channel, Bit))
            return "bit is not a whole number: 0 is the lowest bit, 15 the highest";
        if (!RegisterScale.TryRead(channel.Text(Scale), out var scale, out var problem))
            return "scale " + problem;
        if (IsBit(channel))
            return WrongBit(channel, scale);
        if (channel.Text(Offset).Length > 0 && !scale.TryOffset(channel.Text(Offset), out _))
            return $"offset \"{channel.Text(Offset)}\" does not go with scale \"{channel.Text(Scale)}\": write a value in the same unit, such as -40 °C with 0.1 °C";
        var words = Lies(channel).Words;
        if (IsSaid(channel, Bit) && (words > 1 || scale != RegisterScale.One || channel.Text(Offset).Length > 0 || channel.Text(Type) != "u16"))
            return "bit means one bit of one register: leave type, scale and offset out";
        if (words == 1 && channel.Text(WordOrder) != HighFirst)
            return $"word_order is for numbers of two registers only, and {channel.Text(Type)} has one: leave it out";
        return channel.Number(Address) + words > Addresses
            ? string.Create(CultureInfo.InvariantCulture, $"address {channel.Number(Address)} is the last there is, and {channel.Text(Type)} takes two registers: at most {Addresses - words}") : null;
    }

    /// <summary>What is wrong with the device beyond where it is, or null.</summary>
    private static string? WrongDevice(SettingBag device)
    {
        foreach (var key in (string[])["unit", JoinGap, OwnTimeOutAddress])
        {
            if (!IsWhole(device, key))
                return $"{key} is not a whole number";
        }
        if (!IsSaid(device, OwnTimeOutAddress))
            return null;
        if (!IsSaid(device, OwnTimeOut))
            return $"{OwnTimeOutAddress} names a register, but {OwnTimeOut} does not say what it shall hold: write it, such as {OwnTimeOut}: 60 s";
        var steps = device.Number(OwnTimeOut) / device.Number(OwnTimeOutStep);
        return steps is >= 1 and <= ushort.MaxValue && Math.Abs(steps - Math.Round(steps)) < 1e-6 ? null
            : string.Create(CultureInfo.InvariantCulture, $"{OwnTimeOut} is {steps:0.###} steps of {OwnTimeOutStep}: it must be a whole number of them, 1 to 65535");
    }

    /// <summary>What is wrong with the points wired to a device, worded for the plan.</summary>
    public static IEnumerable<PlanProblem> WrongPoints(DeviceSettings device, IReadOnlyList<OutputChannel> points)
    {
        var taken = new List<(PointWiring Wiring, SettingBag Bag)>();
        foreach (var point in points)
        {
            if (Wrong(device, point.Wiring, taken) is { } problem)
                yield return new PlanProblem(point.Wiring.Mark, problem);
        }
    }

    /// <summary>The device with its wired points on a link.</summary>
    public static ModbusDevice Build(DeviceSettings device, IReadOnlyList<OutputChannel> points, DeviceParts parts)
    {
        var unit = new ModbusUnit(parts.Buses.Modbus(device), (byte)device.Settings.Number("unit"), TurnaroundOf(device.Settings));
        var wired = points.Select(point => (ChannelOf(point.Wiring.Channel, device.Channels[point.Wiring.Channel]), point));
        return new ModbusDevice(device.Name, unit, new ModbusPlan(TimesOf(device.Settings), JoinGapOf(device.Settings), OwnTimeOutRegister(device.Settings)), [.. wired], parts);
    }

    private static string? Wrong(DeviceSettings device, PointWiring wiring, List<(PointWiring Wiring, SettingBag Bag)> taken)
    {
        if (!device.Channels.TryGetValue(wiring.Channel, out var bag))
            return $"{wiring.PointId} is wired to channel {wiring.Channel}, which device {device.Name} does not have";
        if (WrongChannel(bag) is { } wrong)
            return $"channel {wiring.Channel}: {wrong}";
        if (ChannelOf(wiring.Channel, bag).Mismatch(wiring) is { } mismatch)
            return mismatch;
        if (!wiring.IsOutput)
            return null;
        var twin = taken.FirstOrDefault(one => Overlap(one.Bag, bag)).Wiring;
        taken.Add((wiring, bag));
        return twin is null ? null : $"{wiring.PointId} would write the same {PlaceOf(bag)} as {twin.PointId}: one output an address";
    }

    private static string? WrongBit(SettingBag channel, RegisterScale scale)
    {
        var table = channel.Text(Table);
        if (channel.Text(Type) != "u16")
            return $"type is for registers only: a {table} is on or off, leave type out";
        if (IsSaid(channel, Bit) || channel.Text(Offset).Length > 0 || channel.Text(ByteOrder) != HighFirst || channel.Text(WordOrder) != HighFirst)
            return $"bit, offset, byte_order and word_order are for registers only: a {table} is on or off, leave them out";
        return scale == RegisterScale.One ? null : $"scale is for registers only: a {table} is on or off, leave scale out";
    }

    private static RegisterScale ScaleOf(SettingBag channel)
    {
        var scale = RegisterScale.TryRead(channel.Text(Scale), out var read, out _) ? read : RegisterScale.One;
        return channel.Text(Offset).Length > 0 && scale.TryOffset(channel.Text(Offset), out var moved) ? moved : scale;
    }

    private static bool IsSaid(SettingBag bag, string key) => bag.Has(key) && !double.IsNaN(bag.Number(key));

    private static bool IsWhole(SettingBag bag, string key) => !IsSaid(bag, key) || bag.Number(key) == Math.Floor(bag.Number(key));
}

// A Modbus module in memory, over TCP or on a serial line, with the registers the site lists, and no others.
// Must never know a register that the site does not.
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

/// <summary>The module.</summary>
internal sealed class ModbusStandIn : StandIn
{
    private const byte FailureInside = 4;

    // From request to answer; modules of the trade take 1 to 50 ms. Common practice, no published source.
    private const double AnswersAfterS = 0.005;
    private readonly MemoryModbusDevice _module;
    private readonly MemoryChannel? _channel;
    private readonly RegisterChannel[] _registers;
    private readonly bool[] _broken, _isOutput;
    private readonly double _ownTimeOutS;
    private bool _dropped;

    private ModbusStandIn(DeviceSettings device, IReadOnlySet<string> outputs, MemoryModbusDevice module, MemoryChannel? channel)
    {
        (_module, _channel) = (module, channel);
        _registers = [.. device.Channels.Select(one => RegisterChannel.From(one.Key, one.Value))];
        _broken = new bool[_registers.Length];
        _isOutput = [.. _registers.Select(one => outputs.Contains(one.Name))];
        _ownTimeOutS = Said(device.Settings, ModbusTcpDriver.Declaration.OwnTimeOutKey!) ?? double.PositiveInfinity;
        foreach (RegisterChannel register in _registers)
        {
            for (int address = register.Address; address < register.End; address++) _module[register.Table, address] = 0;
        }

        // The register of its own time-out, where the site names one; what it holds before it is set up matters to nobody here.
        if (Said(device.Settings, "own_time_out_address") is { } at) _module[RegisterTable.HoldingRegister, (int)at] = 0;
        Fill(device.Settings.Number("join_gap"));
    }

    /// <summary>A module as the site describes it, with every register at 0.</summary>
    /// <param name="device">The device of the site.</param>
    /// <param name="outputs">Its channels that carry an output: they fall to 0 without power and after its own time-out.</param>
    public static ModbusStandIn Of(DeviceSettings device, IReadOnlySet<string> outputs)
    {
        var module = new MemoryModbusDevice((byte)device.Settings.Number("unit")) { Records = false, LatencyS = AnswersAfterS };
        return new ModbusStandIn(device, outputs, module, device.Driver == ModbusRtuDriver.Name ? null : new MemoryChannel(module));
    }

    /// <summary>The driver's way to a module of the network.</summary>
    public IModbusLink Link() => new ModbusTcpLink(_channel!);

    /// <summary>The driver's way to all modules of a serial line, and the channel whose clock they go by.</summary>
    public static (IModbusLink Link, MemoryChannel Channel) Line(SerialLine line, IEnumerable<ModbusStandIn> modules)
    {
        var channel = new MemoryChannel(new MemoryRtuLine(line, [.. modules.Select(one => one._module)]));
        return (new ModbusRtuLink(channel, line), channel);
    }

    /// <inheritdoc/>
    /// <remarks>On a serial line nobody answers for a device that does not.</remarks>
    public override bool CanHave(BusFault fault) => fault != BusFault.NoAcknowledge || _channel is not null;

    /// <inheritdoc/>
    public override bool CarriesVolts(int channel) => _registers[channel].Quantity == Quantity.Voltage;

    /// <inheritdoc/>
    public override int ChannelOf(string name) => Array.FindIndex(_registers, one => one.Name == name);

    /// <inheritdoc/>
    public override void Put(int channel, double value)
    {
        RegisterChannel register = _registers[channel];
        bool broken = double.IsNaN(value);
        if (broken != _broken[channel]) _module.Refuse(register.Table, register.Address, broken ? FailureInside : (byte)0);
        _broken[channel] = broken;
        if (broken) return;
        (ushort first, ushort second) = Words(register);
        register.Put(register.IsSwitch ? value >= 0.5 ? 1 : 0 : register.ToNumber(value), ref first, ref second);
        _module[register.Table, register.Address] = first;
        if (register.Words > 1) _module[register.Table, register.Address + 1] = second;
    }

    /// <inheritdoc/>
    public override double Get(int channel)
    {
        RegisterChannel register = _registers[channel];
        (ushort first, ushort second) = Words(register);
        double raw = register.Raw(first, second);
        return register.IsSwitch ? raw : register.Scale.ToValue(raw);
    }

    /// <inheritdoc/>
    public override void At(double nowS)
    {
        _channel?.At(nowS);
        bool silent = nowS - _module.HeardAtS > _ownTimeOutS;
        if (silent && !_dropped) LosePower();
        _dropped = silent;
    }

    /// <inheritdoc/>
    protected override void Changed()
    {
        _module.Powered = Fault != BusFault.Absent;
        _module.Silent = Fault == BusFault.Hung;
        _module.Fault = Fault switch
        {
            BusFault.NoAcknowledge => MemoryFault.GatewayAlone,
            BusFault.BadChecksum => MemoryFault.Damaged,
            BusFault.CutShort => MemoryFault.Truncated,
            _ => MemoryFault.None,
        };
    }

    /// <inheritdoc/>
    protected override void LosePower()
    {
        for (int i = 0; i < _registers.Length; i++)
        {
            if (_isOutput[i]) _module[_registers[i].Table, _registers[i].Address] = 0;
        }
    }

    private static double? Said(SettingBag settings, string key) => settings.Has(key) && settings.Number(key) is var value && !double.IsNaN(value) ? value : null;

    private (ushort First, ushort Second) Words(RegisterChannel register) => (
        _module[register.Table, register.Address], register.Words > 1 ? _module[register.Table, register.Address + 1] : (ushort)0);

    /// <summary>Where the site allows unlisted addresses to be read along, the module has them.</summary>
    private void Fill(double gap)
    {
        foreach (IGrouping<RegisterTable, RegisterChannel> table in _registers.GroupBy(one => one.Table))
        {
            RegisterChannel[] sorted = [.. table.OrderBy(one => one.Address)];
            foreach ((RegisterChannel one, RegisterChannel next) in sorted.Zip(sorted.Skip(1)))
            {
                for (int address = one.End; next.Address - one.End <= gap && address < next.Address; address++) _module[table.Key, address] = 0;
            }
        }
    }
}

// A Modbus TCP module in memory with the registers the site lists, and no others.
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
    private readonly MemoryChannel _channel;
    private readonly RegisterChannel[] _registers;
    private readonly bool[] _broken, _isOutput;
    private readonly double _ownTimeOutS;
    private bool _dropped;

    private ModbusStandIn(DeviceSettings device, IReadOnlySet<string> outputs, MemoryModbusDevice module, MemoryChannel channel)
    {
        (_module, _channel) = (module, channel);
        _registers = [.. device.Channels.Select(one => RegisterChannel.From(one.Key, one.Value))];
        _broken = new bool[_registers.Length];
        _isOutput = [.. _registers.Select(one => outputs.Contains(one.Name))];
        string key = ModbusTcpDriver.Declaration.OwnTimeOutKey!;
        _ownTimeOutS = device.Settings.Has(key) && device.Settings.Number(key) is var own && !double.IsNaN(own) ? own : double.PositiveInfinity;
        foreach (RegisterChannel register in _registers) _module[register.Table, register.Address] = 0;
    }

    /// <summary>A module as the site describes it, with every register at 0.</summary>
    /// <param name="device">The device of the site.</param>
    /// <param name="outputs">Its channels that carry an output: they fall to 0 without power and after its own time-out.</param>
    public static ModbusStandIn Of(DeviceSettings device, IReadOnlySet<string> outputs)
    {
        var module = new MemoryModbusDevice((byte)device.Settings.Number("unit")) { Records = false, LatencyS = AnswersAfterS };
        return new ModbusStandIn(device, outputs, module, new MemoryChannel(module));
    }

    /// <summary>The driver's way to it.</summary>
    public IModbusLink Link() => new ModbusTcpLink(_channel);

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
        if (!broken) _module[register.Table, register.Address] = Raw(register, value);
    }

    /// <inheritdoc/>
    public override double Get(int channel)
    {
        RegisterChannel register = _registers[channel];
        ushort raw = _module[register.Table, register.Address];
        return register.IsBit ? raw : register.Scale.ToValue(register.TwosComplement ? (short)raw : raw);
    }

    /// <inheritdoc/>
    public override void At(double nowS)
    {
        _channel.At(nowS);
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

    private static ushort Raw(RegisterChannel register, double value)
    {
        if (register.IsBit) return value >= 0.5 ? (ushort)1 : (ushort)0;
        return register.TwosComplement
            ? (ushort)register.Scale.ToRaw(value, short.MinValue, short.MaxValue)
            : (ushort)register.Scale.ToRaw(value, ushort.MinValue, ushort.MaxValue);
    }
}

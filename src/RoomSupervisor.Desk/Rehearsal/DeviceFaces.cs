// The outer side of the site's devices: what a sensor shows them, what they drive. The drivers talk to the inner side, byte by byte.
// Must never reach past the device: a value goes in and out only in the steps and units the site file gives its channel.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>One device as the house sees it.</summary>
public interface IDeviceFace
{
    /// <summary>Name in the site file.</summary>
    string Name { get; }

    /// <summary>Shows an input its value in the point's unit; NaN: the channel tells nothing.</summary>
    void Show(PointWiring wiring, double value);

    /// <summary>What an output's channel carries: V, %, °C, or 0 and 1.</summary>
    double Carried(PointWiring wiring);

    /// <summary>True for an output's channel in volts.</summary>
    bool CarriesVolts(PointWiring wiring);

    /// <summary>Without power it answers nobody and lets go of its outputs.</summary>
    bool IsPowered { get; set; }

    /// <summary>Fault: there, but answers nothing.</summary>
    bool IsHung { get; set; }

    /// <summary>Once a step, after the buses were polled: keeps its own time-out.</summary>
    void Tick(double stepS);
}

/// <summary>A Modbus module in memory.</summary>
public sealed class ModbusFace : IDeviceFace
{
    private readonly MemoryModbusDevice module;
    private readonly Dictionary<PointWiring, RegisterChannel> channels = new(ReferenceEqualityComparer.Instance);
    private readonly double ownTimeOutS;
    private readonly Dictionary<PointWiring, bool> refuses = new(ReferenceEqualityComparer.Instance);
    private double silenceS;

    /// <param name="device">The device of the site file.</param>
    /// <param name="wiring">All wiring; its own is picked out.</param>
    public ModbusFace(DeviceSettings device, IEnumerable<PointWiring> wiring)
    {
        Name = device.Name;
        module = new MemoryModbusDevice((byte)device.Settings.Number("unit")) { LatencyS = 0.004 };
        ownTimeOutS = device.Settings.Has("own_time_out") ? device.Settings.Number("own_time_out") : double.PositiveInfinity;
        foreach (var wire in wiring.Where(wire => wire.Device == device.Name))
        {
            var channel = RegisterChannel.From(wire.Channel, device.Channels[wire.Channel]);
            channels[wire] = channel;
            module[channel.Table, channel.Address] = 0;
        }
    }

    /// <inheritdoc/>
    public string Name { get; }

    /// <inheritdoc/>
    public bool IsPowered
    {
        get => module.Powered;
        set
        {
            if (module.Powered && !value)
                LetGo();
            module.Powered = value;
        }
    }

    /// <inheritdoc/>
    public bool IsHung
    {
        get => module.Silent;
        set => module.Silent = value;
    }

    /// <summary>A new connection to it.</summary>
    public IModbusLink NewLink() => new ModbusTcpLink(new MemoryChannel(module));

    /// <inheritdoc/>
    public void Show(PointWiring wiring, double value)
    {
        var channel = channels[wiring];
        var isNothing = double.IsNaN(value);
        if (isNothing != refuses.GetValueOrDefault(wiring))
        {
            // A module that cannot read its own input says "device failure".
            module.Refuse(channel.Table, channel.Address, (byte)(isNothing ? 4 : 0));
            refuses[wiring] = isNothing;
        }
        if (!isNothing)
            module[channel.Table, channel.Address] = Raw(channel, wiring, value);
    }

    /// <inheritdoc/>
    public double Carried(PointWiring wiring)
    {
        var channel = channels[wiring];
        var raw = module[channel.Table, channel.Address];
        return channel.IsBit ? raw : channel.Scale.ToValue(channel.TwosComplement ? (short)raw : raw);
    }

    /// <inheritdoc/>
    public bool CarriesVolts(PointWiring wiring) => channels[wiring].Quantity == Quantity.Voltage;

    /// <inheritdoc/>
    public void Tick(double stepS)
    {
        silenceS = module.Requests.Count > 0 ? 0 : silenceS + stepS;
        module.Requests.Clear();
        module.Writes.Clear();
        if (silenceS > ownTimeOutS)
            LetGo();
    }

    private void LetGo()
    {
        foreach (var (wire, channel) in channels)
        {
            if (wire.IsOutput)
                module[channel.Table, channel.Address] = 0;
        }
    }

    private static ushort Raw(RegisterChannel channel, PointWiring wiring, double value)
    {
        if (wiring.Quantity == Quantity.Switch)
            return (ushort)(value > 0.5 != wiring.Inverted ? 1 : 0);
        return channel.TwosComplement
            ? unchecked((ushort)channel.Scale.ToRaw(value, short.MinValue, short.MaxValue))
            : (ushort)channel.Scale.ToRaw(value, 0, ushort.MaxValue);
    }
}

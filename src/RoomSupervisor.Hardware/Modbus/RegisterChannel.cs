// One listed channel of a Modbus device: where it lies and what its raw value means for the point wired to it.
// It must never produce a raw value outside the register's type, nor pass on a number that is none.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Modbus;

/// <summary>The four tables of a Modbus device.</summary>
public enum RegisterTable : byte
{
    Coil, DiscreteInput, HoldingRegister, InputRegister,
}

/// <summary>A channel as the driver understands it.</summary>
/// <param name="Name">Its name in the site file.</param>
/// <param name="Table">Table it lies in.</param>
/// <param name="Address">Address in the table, counted from 0.</param>
/// <param name="TwosComplement">A register is read and written as −32768 to 32767.</param>
/// <param name="Scale">What one step of a register means.</param>
public sealed record RegisterChannel(string Name, RegisterTable Table, int Address, bool TwosComplement, RegisterScale Scale) : IOutputChannel
{
    public bool IsBit => Table is RegisterTable.Coil or RegisterTable.DiscreteInput;

    /// <summary>Quantity of the value on the wire.</summary>
    public Quantity Quantity => IsBit ? Quantity.Switch : Scale.Quantity;

    /// <summary>The channel from its bound settings.</summary>
    public static RegisterChannel From(string name, SettingBag bag) => new(
        name,
        bag.Text("table") switch
        {
            ModbusTcpDriver.Coil => RegisterTable.Coil,
            ModbusTcpDriver.DiscreteInput => RegisterTable.DiscreteInput,
            ModbusTcpDriver.HoldingRegister => RegisterTable.HoldingRegister,
            _ => RegisterTable.InputRegister,
        },
        (int)bag.Number("address"), bag.Text("type") == "s16", ModbusTcpDriver.ScaleOf(bag));

    /// <summary>The point's value for a raw value as it came over the wire.</summary>
    public double ToPoint(int raw, PointWiring wiring)
    {
        if (wiring.Quantity == Quantity.Switch)
            return raw != 0 != wiring.Inverted ? 1 : 0;
        return Scale.ToValue(TwosComplement ? (short)raw : raw);
    }

    /// <summary>
    /// The raw value for a command, within the register's type. Percent goes to volts by the wiring's line; a command that is no number counts
    /// as the safe value. A switch is on from 0.5.
    /// </summary>
    public ushort ToRaw(double command, PointWiring wiring)
    {
        command = ChannelValue.OrSafe(command, wiring);
        if (IsBit || wiring.Quantity == Quantity.Switch)
            return (ushort)(command >= 0.5 != wiring.Inverted ? 1 : 0);
        if (wiring.Quantity == Quantity.Percent)
            command = Scale.Quantity == Quantity.Voltage ? ChannelValue.Volts(command, wiring) : Math.Clamp(command, 0, 100);
        // Only a temperature can mean something below zero: a voltage or a percentage that wrapped would be full speed.
        var lowest = TwosComplement && wiring.Quantity is Quantity.Temperature or Quantity.TemperatureDifference ? short.MinValue : 0;
        return (ushort)Scale.ToRaw(command, lowest, TwosComplement ? short.MaxValue : ushort.MaxValue);
    }

    /// <summary>What is wrong with wiring this point here, or null.</summary>
    public string? Mismatch(PointWiring wiring)
    {
        if (wiring.IsOutput && Table is RegisterTable.DiscreteInput or RegisterTable.InputRegister)
            return $"{wiring.PointId} is an output, but channel {Name} is a {(IsBit ? "discrete-input" : "input-register")}: wire it to a coil or holding-register";
        if (wiring.Inverted && wiring.Quantity != Quantity.Switch)
            return $"{wiring.PointId} is inverted, but only switches can be: leave inverted out";
        var fits = Quantity == wiring.Quantity
            || Quantity == Quantity.Number && wiring.Quantity == Quantity.Switch
            || wiring.IsOutput && wiring.Quantity == Quantity.Percent && Quantity == Quantity.Voltage;
        return fits ? null
            : $"{wiring.PointId} is {QuantityText.Words(wiring.Quantity)}, but channel {Name} is {QuantityText.Words(Quantity)}: correct its table or scale";
    }
}

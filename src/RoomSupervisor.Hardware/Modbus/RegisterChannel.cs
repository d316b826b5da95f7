// One listed channel of a Modbus device: where it lies and what its raw value means for the point wired to it.
// It must never produce a raw value outside the register's type, nor pass on a number that is none.
using System.Buffers.Binary;
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Modbus;

/// <summary>The four tables of a Modbus device.</summary>
public enum RegisterTable : byte
{
    Coil, DiscreteInput, HoldingRegister, InputRegister,
}

/// <summary>What one or two registers hold.</summary>
public enum RegisterType : byte
{
    U16, S16, U32, S32, F32,
}

/// <summary>A channel as the driver understands it.</summary>
/// <param name="Name">Its name in the site file.</param>
/// <param name="Table">Table it lies in.</param>
/// <param name="Address">Address in the table, counted from 0; of the first register where it takes two.</param>
/// <param name="Type">What the register holds; for registers only.</param>
/// <param name="Scale">What one step of a register means.</param>
public sealed record RegisterChannel(string Name, RegisterTable Table, int Address, RegisterType Type, RegisterScale Scale) : IOutputChannel
{
    /// <summary>Number of the one bit of a register that is meant, 0–15; −1: the whole.</summary>
    public int Bit { get; init; } = -1;

    /// <summary>The low word of two comes first.</summary>
    public bool LowWordFirst { get; init; }

    /// <summary>The low byte of each word comes first, against the specification.</summary>
    public bool LowByteFirst { get; init; }

    /// <summary>The channel from its bound settings, which must be sound.</summary>
    public static RegisterChannel From(string name, SettingBag bag) => ModbusKeys.ChannelOf(name, bag);

    /// <summary>It lies in a table of bits.</summary>
    public bool IsBit => Table is RegisterTable.Coil or RegisterTable.DiscreteInput;

    /// <summary>It is on or off: a coil, a discrete input, or one bit of a register.</summary>
    public bool IsSwitch => IsBit || Bit >= 0;

    /// <summary>Addresses it takes, 1 or 2.</summary>
    public int Words => Type is RegisterType.U32 or RegisterType.S32 or RegisterType.F32 ? 2 : 1;

    /// <summary>The first address behind it.</summary>
    public int End => Address + Words;

    /// <summary>Quantity of the value on the wire.</summary>
    public Quantity Quantity => IsSwitch ? Quantity.Switch : Scale.Quantity;

    /// <summary>The raw number that stands in its registers (0 or 1 for a switch), as they came over the wire; the second counts where it takes two.</summary>
    public double Raw(ushort first, ushort second)
    {
        if (IsBit)
            return first;
        if (LowByteFirst)
            (first, second) = (BinaryPrimitives.ReverseEndianness(first), BinaryPrimitives.ReverseEndianness(second));
        if (Bit >= 0)
            return first >> Bit & 1;
        var both = LowWordFirst ? (uint)second << 16 | first : (uint)first << 16 | second;
        return Type switch
        {
            // Each its own way to double: left alone, they would all go by way of a float and lose digits.
            RegisterType.U16 => (double)first,
            RegisterType.S16 => (short)first,
            RegisterType.U32 => both,
            RegisterType.S32 => (int)both,
            _ => BitConverter.UInt32BitsToSingle(both),
        };
    }

    /// <summary>What stands in its registers when it holds a number: the other way round. Other bits of a register stay as <paramref name="first"/> has them.</summary>
    public void Put(double raw, ref ushort first, ref ushort second)
    {
        if (IsBit)
        {
            first = (ushort)(raw != 0 ? 1 : 0);
            return;
        }
        if (Bit >= 0)
        {
            var mask = (ushort)(1 << (LowByteFirst ? Bit ^ 8 : Bit));
            first = (ushort)(raw != 0 ? first | mask : first & ~mask);
            return;
        }
        var both = Type switch
        {
            RegisterType.U16 or RegisterType.S16 => (uint)(ushort)(int)raw << 16,
            RegisterType.U32 => (uint)raw,
            RegisterType.S32 => (uint)(int)raw,
            _ => BitConverter.SingleToUInt32Bits((float)raw),
        };
        (first, second) = ((ushort)(both >> 16), (ushort)both);
        if (LowWordFirst && Words == 2)
            (first, second) = (second, first);
        if (LowByteFirst)
            (first, second) = (BinaryPrimitives.ReverseEndianness(first), BinaryPrimitives.ReverseEndianness(second));
    }

    /// <summary>The point's value for a raw number; not a number when the register holds none.</summary>
    public double ToPoint(double raw, PointWiring wiring)
    {
        if (!double.IsFinite(raw))
            return double.NaN;
        if (wiring.Quantity == Quantity.Switch)
            return raw != 0 != wiring.Inverted ? 1 : 0;
        return Scale.ToValue(raw);
    }

    /// <summary>The raw number nearest to a value in the channel's unit, within the register's type.</summary>
    public double ToNumber(double value) => Type switch
    {
        RegisterType.U16 => Scale.ToRaw(value, ushort.MinValue, ushort.MaxValue),
        RegisterType.S16 => Scale.ToRaw(value, short.MinValue, short.MaxValue),
        RegisterType.U32 => Scale.ToRaw(value, uint.MinValue, uint.MaxValue),
        RegisterType.S32 => Scale.ToRaw(value, int.MinValue, int.MaxValue),
        _ => (value - Scale.Offset) / Scale.Factor,
    };

    /// <summary>
    /// The raw value for a command, within the register's type. Percent goes to volts by the wiring's line; a command that is no number counts
    /// as the safe value. A switch is on from 0.5.
    /// </summary>
    public ushort ToRaw(double command, PointWiring wiring) => LowByteFirst ? BinaryPrimitives.ReverseEndianness(Plain(command, wiring)) : Plain(command, wiring);

    private ushort Plain(double command, PointWiring wiring)
    {
        command = ChannelValue.OrSafe(command, wiring);
        if (IsBit || wiring.Quantity == Quantity.Switch)
            return (ushort)(command >= 0.5 != wiring.Inverted ? 1 : 0);
        if (wiring.Quantity == Quantity.Percent)
            command = Scale.Quantity == Quantity.Voltage ? ChannelValue.Volts(command, wiring) : Math.Clamp(command, 0, 100);
        // Only a temperature can mean something below zero: a voltage or a percentage that wrapped would be full speed.
        var isSigned = Type == RegisterType.S16;
        var lowest = isSigned && wiring.Quantity is Quantity.Temperature or Quantity.TemperatureDifference ? short.MinValue : 0;
        return (ushort)(int)Scale.ToRaw(command, lowest, isSigned ? short.MaxValue : ushort.MaxValue);
    }

    /// <summary>What is wrong with wiring this point here, or null.</summary>
    public string? Mismatch(PointWiring wiring)
    {
        if (wiring.IsOutput && Table is RegisterTable.DiscreteInput or RegisterTable.InputRegister)
            return $"{wiring.PointId} is an output, but channel {Name} is a {(IsBit ? "discrete-input" : "input-register")}: wire it to a coil or holding-register";
        if (wiring.IsOutput && (Words > 1 || Bit >= 0))
            return $"{wiring.PointId} is an output, but channel {Name} is {(Bit >= 0 ? "one bit of a register" : "two registers")}: outputs go to a coil or to a whole register of type u16 or s16";
        if (wiring.Inverted && wiring.Quantity != Quantity.Switch)
            return $"{wiring.PointId} is inverted, but only switches can be: leave inverted out";
        var fits = Quantity == wiring.Quantity
            || Quantity == Quantity.Number && wiring.Quantity == Quantity.Switch
            || wiring.IsOutput && wiring.Quantity == Quantity.Percent && Quantity == Quantity.Voltage;
        return fits ? null
            : $"{wiring.PointId} is {QuantityText.Words(wiring.Quantity)}, but channel {Name} is {QuantityText.Words(Quantity)}: correct its table or scale";
    }
}

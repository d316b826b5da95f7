// Protocol data units of Modbus: building requests and checking answers, for TCP and serial lines alike. Pure.
// It must never accept an answer that does not fit its request in function, length, byte count and echo.
// Source: MODBUS Application Protocol Specification V1.1b3, section 6.
using System.Buffers.Binary;

namespace RoomSupervisor.Hardware.Modbus;

/// <summary>Requests and answers without their envelope. Addresses count from 0, as they go over the wire.</summary>
public static class ModbusPdu
{
    /// <summary>Longest unit, bytes.</summary>
    public const int Longest = 253;

    public const int MostBitsRead = 2000, MostRegistersRead = 125, MostBitsWritten = 1968, MostRegistersWritten = 123;

    private const byte ExceptionFlag = 0x80;

    /// <summary>Functions 1 to 4. Returns the length.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not a reading function, or a count of 0 or too many, or past address 65535.</exception>
    public static int Read(Span<byte> pdu, ModbusFunction function, int address, int count)
    {
        var most = function switch
        {
            ModbusFunction.ReadCoils or ModbusFunction.ReadDiscreteInputs => MostBitsRead,
            ModbusFunction.ReadHoldingRegisters or ModbusFunction.ReadInputRegisters => MostRegistersRead,
            _ => throw new ArgumentOutOfRangeException(nameof(function)),
        };
        return Head(pdu, function, address, count, most);
    }

    /// <summary>Function 5. Returns the length.</summary>
    public static int WriteCoil(Span<byte> pdu, int address, bool on) => Words(pdu, ModbusFunction.WriteSingleCoil, address, on ? 0xFF00 : 0);

    /// <summary>Function 6. Returns the length.</summary>
    public static int WriteRegister(Span<byte> pdu, int address, ushort value) => Words(pdu, ModbusFunction.WriteSingleRegister, address, value);

    /// <summary>Function 15. Returns the length.</summary>
    /// <exception cref="ArgumentOutOfRangeException">No or too many values, or past address 65535.</exception>
    public static int WriteCoils(Span<byte> pdu, int address, ReadOnlySpan<bool> values)
    {
        var length = Head(pdu, ModbusFunction.WriteMultipleCoils, address, values.Length, MostBitsWritten);
        var bytes = (values.Length + 7) / 8;
        pdu[length] = (byte)bytes;
        pdu.Slice(length + 1, bytes).Clear();
        for (var i = 0; i < values.Length; i++)
            pdu[length + 1 + i / 8] |= (byte)(values[i] ? 1 << (i % 8) : 0);
        return length + 1 + bytes;
    }

    /// <summary>Function 16. Returns the length.</summary>
    /// <exception cref="ArgumentOutOfRangeException">No or too many values, or past address 65535.</exception>
    public static int WriteRegisters(Span<byte> pdu, int address, ReadOnlySpan<ushort> values)
    {
        var length = Head(pdu, ModbusFunction.WriteMultipleRegisters, address, values.Length, MostRegistersWritten);
        pdu[length] = (byte)(2 * values.Length);
        for (var i = 0; i < values.Length; i++)
            BinaryPrimitives.WriteUInt16BigEndian(pdu[(length + 1 + 2 * i)..], values[i]);
        return length + 1 + 2 * values.Length;
    }

    /// <summary>Length of the answer that grants this request, bytes; a refusal has 2.</summary>
    public static int GrantedLength(ReadOnlySpan<byte> request) => (ModbusFunction)request[0] switch
    {
        ModbusFunction.ReadCoils or ModbusFunction.ReadDiscreteInputs => 2 + (Word(request, 3) + 7) / 8,
        ModbusFunction.ReadHoldingRegisters or ModbusFunction.ReadInputRegisters => 2 + 2 * Word(request, 3),
        _ => 5,
    };

    /// <summary>Checks an answer against its request. <paramref name="exception"/> is the device's reason when it refuses.</summary>
    public static ModbusProblem Check(ReadOnlySpan<byte> request, ReadOnlySpan<byte> answer, out byte exception)
    {
        exception = 0;
        if (answer.Length < 2)
            return ModbusProblem.WrongLength;
        if (answer[0] == (request[0] | ExceptionFlag))
        {
            exception = answer[1];
            return answer.Length != 2 ? ModbusProblem.WrongLength : exception == 0 ? ModbusProblem.WrongException : ModbusProblem.Refused;
        }
        if (answer[0] != request[0])
            return ModbusProblem.WrongFunction;
        if (answer.Length != GrantedLength(request))
            return ModbusProblem.WrongLength;
        if (request[0] <= (byte)ModbusFunction.ReadInputRegisters)
            return answer[1] == answer.Length - 2 ? ModbusProblem.None : ModbusProblem.WrongByteCount;
        return answer.SequenceEqual(request[..5]) ? ModbusProblem.None : ModbusProblem.WrongEcho;
    }

    /// <summary>Bit number <paramref name="index"/> of a granted answer to function 1 or 2.</summary>
    public static bool Bit(ReadOnlySpan<byte> answer, int index) => (answer[2 + index / 8] >> (index % 8) & 1) != 0;

    /// <summary>Register number <paramref name="index"/> of a granted answer to function 3 or 4.</summary>
    public static ushort Register(ReadOnlySpan<byte> answer, int index) => (ushort)Word(answer, 2 + 2 * index);

    internal static int Word(ReadOnlySpan<byte> bytes, int at) => BinaryPrimitives.ReadUInt16BigEndian(bytes[at..]);

    private static int Head(Span<byte> pdu, ModbusFunction function, int address, int count, int most)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(count, most);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(address, 65536 - count);
        return Words(pdu, function, address, count);
    }

    private static int Words(Span<byte> pdu, ModbusFunction function, int address, int word)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(address);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(address, 65535);
        pdu[0] = (byte)function;
        BinaryPrimitives.WriteUInt16BigEndian(pdu[1..], (ushort)address);
        BinaryPrimitives.WriteUInt16BigEndian(pdu[3..], (ushort)word);
        return 5;
    }
}

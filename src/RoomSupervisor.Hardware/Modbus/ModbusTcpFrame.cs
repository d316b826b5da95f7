// The envelope of Modbus over TCP (MBAP header): seven bytes before the protocol data unit. Pure.
// It must never let a header pass that differs from the request's in transaction, protocol or unit, or whose length cannot be an answer.
// Source: MODBUS Messaging on TCP/IP Implementation Guide V1.0b, section 3.1.3.
using System.Buffers.Binary;

namespace RoomSupervisor.Hardware.Modbus;

/// <summary>Header of a Modbus TCP frame.</summary>
public static class ModbusTcpFrame
{
    /// <summary>Bytes before the protocol data unit.</summary>
    public const int HeaderLength = 7;

    /// <summary>Longest frame, bytes.</summary>
    public const int Longest = HeaderLength + ModbusPdu.Longest;

    /// <summary>Writes the header before a unit of <paramref name="pduLength"/> bytes.</summary>
    public static void WriteHeader(Span<byte> frame, ushort transaction, byte unit, int pduLength)
    {
        BinaryPrimitives.WriteUInt16BigEndian(frame, transaction);
        BinaryPrimitives.WriteUInt16BigEndian(frame[2..], 0);
        BinaryPrimitives.WriteUInt16BigEndian(frame[4..], (ushort)(pduLength + 1));
        frame[6] = unit;
    }

    /// <summary>Checks the header of an answer; <paramref name="pduLength"/> is what must follow it.</summary>
    /// <param name="header">Seven bytes as received.</param>
    /// <param name="transaction">Transaction number of the request.</param>
    /// <param name="unit">Unit number of the request.</param>
    /// <param name="grantedLength">Length of the answer that grants the request; a refusal has 2.</param>
    /// <param name="pduLength">Bytes of the unit that follows, 0 when refused.</param>
    public static ModbusProblem CheckHeader(ReadOnlySpan<byte> header, ushort transaction, byte unit, int grantedLength, out int pduLength)
    {
        pduLength = 0;
        if (ModbusPdu.Word(header, 2) != 0)
            return ModbusProblem.WrongProtocol;
        if (ModbusPdu.Word(header, 0) != transaction)
            return ModbusProblem.WrongTransaction;
        if (header[6] != unit)
            return ModbusProblem.WrongUnit;
        var length = ModbusPdu.Word(header, 4) - 1;
        if (length != grantedLength && length != 2)
            return ModbusProblem.WrongLength;
        pduLength = length;
        return ModbusProblem.None;
    }
}

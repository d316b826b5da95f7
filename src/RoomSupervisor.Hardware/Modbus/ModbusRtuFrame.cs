// The envelope of Modbus on a serial line: unit number before the protocol data unit, CRC-16 behind it. Pure.
// It must never let a frame pass whose unit, function, length, byte count or checksum differ from what the request allows.
// Source: MODBUS over Serial Line Specification and Implementation Guide V1.02, section 2.5.1.2 and appendix B (from memory).
namespace RoomSupervisor.Hardware.Modbus;

/// <summary>Frames of a serial line.</summary>
public static class ModbusRtuFrame
{
    /// <summary>Bytes around the protocol data unit: one before, two behind.</summary>
    public const int Envelope = 3;

    /// <summary>Longest frame, bytes.</summary>
    public const int Longest = ModbusPdu.Longest + Envelope;

    private const int RefusalLength = 5;
    private static readonly ushort[] Table = MakeTable();

    /// <summary>CRC-16 of the line: polynomial 0xA001 (reflected 0x8005), from 0xFFFF; it goes over the wire low byte first.</summary>
    public static ushort Crc(ReadOnlySpan<byte> bytes)
    {
        var crc = 0xFFFF;
        foreach (var one in bytes)
            crc = (crc >> 8) ^ Table[(crc ^ one) & 0xFF];
        return (ushort)crc;
    }

    /// <summary>Writes a frame around a protocol data unit. Returns its length, bytes.</summary>
    public static int Write(Span<byte> frame, byte unit, ReadOnlySpan<byte> pdu)
    {
        frame[0] = unit;
        pdu.CopyTo(frame[1..]);
        var crc = Crc(frame[..(1 + pdu.Length)]);
        (frame[1 + pdu.Length], frame[2 + pdu.Length]) = ((byte)crc, (byte)(crc >> 8));
        return pdu.Length + Envelope;
    }

    /// <summary>Judges what has come so far. False: it may become an answer, wait for more. Else it is one, or <paramref name="problem"/> says why it is none.</summary>
    /// <param name="heard">Bytes since the silence, at least one.</param>
    /// <param name="unit">Unit number of the request.</param>
    /// <param name="request">Protocol data unit of the request.</param>
    /// <param name="problem">None, a refusal, or what is wrong.</param>
    /// <param name="exception">The device's reason when it refuses.</param>
    public static bool Judge(ReadOnlySpan<byte> heard, byte unit, ReadOnlySpan<byte> request, out ModbusProblem problem, out byte exception)
    {
        (problem, exception) = (ModbusProblem.None, 0);
        if (heard[0] != unit)
            problem = ModbusProblem.WrongUnit;
        else if (heard.Length > 1 && (heard[1] & 0x7F) != request[0])
            problem = ModbusProblem.WrongFunction;
        if (problem != ModbusProblem.None)
            return true;
        if (heard.Length < 2)
            return false;
        var granted = heard[1] == request[0];
        var isRead = request[0] <= (byte)ModbusFunction.ReadInputRegisters;
        var length = granted ? ModbusPdu.GrantedLength(request) + Envelope : RefusalLength;
        if (granted && isRead && heard.Length > 2 && heard[2] != length - RefusalLength)
            problem = ModbusProblem.WrongByteCount;
        else if (heard.Length > length)
            problem = ModbusProblem.WrongLength;
        else if (heard.Length < length)
            return false;
        else if (Crc(heard[..^2]) != (heard[^2] | heard[^1] << 8))
            problem = ModbusProblem.WrongChecksum;
        else
            problem = ModbusPdu.Check(request, heard[1..^2], out exception);
        return true;
    }

    private static ushort[] MakeTable()
    {
        var table = new ushort[256];
        for (var i = 0; i < table.Length; i++)
        {
            var crc = i;
            for (var bit = 0; bit < 8; bit++)
                crc = (crc & 1) != 0 ? (crc >> 1) ^ 0xA001 : crc >> 1;
            table[i] = (ushort)crc;
        }
        return table;
    }
}

// How a serial line is set, and the times that follow from it. Pure.
// Source: MODBUS over Serial Line Specification and Implementation Guide V1.02, sections 2.5.1 and 2.5.1.1 (from memory).
using System.Globalization;

namespace RoomSupervisor.Hardware.Modbus;

/// <summary>Parity of a serial line.</summary>
public enum SerialParity : byte
{
    None, Even, Odd,
}

/// <summary>Settings of a serial line with eight data bits.</summary>
/// <param name="Port">Path, such as /dev/serial/by-id/….</param>
/// <param name="Baud">Bits a second.</param>
/// <param name="Parity">Parity bit.</param>
/// <param name="StopBits">1 or 2.</param>
public sealed record SerialLine(string Port, int Baud, SerialParity Parity = SerialParity.None, int StopBits = 1)
{
    /// <summary>Speeds a line may have, bits a second.</summary>
    public static IReadOnlyList<int> Speeds { get; } = [1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200];

    /// <summary>Time of one character on the wire, s: start bit, eight data bits, parity, stop bits.</summary>
    public double CharacterS => (1 + 8 + (Parity == SerialParity.None ? 0 : 1) + StopBits) / (double)Baud;

    /// <summary>Silence between two frames, s: 3.5 characters, above 19200 baud 1.75 ms.</summary>
    public double GapS => Baud > 19200 ? 0.00175 : 3.5 * CharacterS;

    /// <summary>Time on the wire of a read request of 8 bytes, the silence, and an answer with so many bytes of values, s.</summary>
    public double ReadS(int valueBytes) => (8 + 5 + valueBytes) * CharacterS + GapS;

    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Port} {Baud} baud, parity {Parity}, {StopBits} stop bit(s)");
}

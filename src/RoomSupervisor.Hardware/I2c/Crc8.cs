// The checksum of measuring chips on a wire bus. Pure.
// Source: data sheets of the SHT4x family, section "Checksum calculation": polynomial 0x31, start 0xFF, no reflection, no final change; BE EF gives 92.
namespace RoomSupervisor.Hardware.I2c;

/// <summary>CRC-8 with polynomial x⁸ + x⁵ + x⁴ + 1 and start value 0xFF.</summary>
public static class Crc8
{
    private static readonly byte[] Table = Build();

    /// <summary>What to say of a word whose checksum does not fit.</summary>
    internal const string Wrong = "checksum wrong: disturbed wires, or another chip at this address";

    /// <summary>True for a word of two bytes with its checksum behind it.</summary>
    /// <param name="bytes">Words as they came.</param>
    /// <param name="at">Where the word begins.</param>
    public static bool Fits(ReadOnlySpan<byte> bytes, int at) => Of(bytes.Slice(at, 2)) == bytes[at + 2];

    public static byte Of(ReadOnlySpan<byte> bytes)
    {
        byte crc = 0xFF;
        foreach (var value in bytes)
            crc = Table[crc ^ value];
        return crc;
    }

    private static byte[] Build()
    {
        var table = new byte[256];
        for (var i = 0; i < 256; i++)
        {
            var crc = i;
            for (var bit = 0; bit < 8; bit++)
                crc = (crc & 0x80) != 0 ? (crc << 1) ^ 0x31 : crc << 1;
            table[i] = (byte)crc;
        }
        return table;
    }
}

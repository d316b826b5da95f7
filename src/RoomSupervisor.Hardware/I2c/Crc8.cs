// The checksum of measuring chips on a wire bus. Pure.
// Source: data sheets of the SHT4x family, section "Checksum calculation": polynomial 0x31, start 0xFF, no reflection, no final change; BE EF gives 92.
namespace RoomSupervisor.Hardware.I2c;

/// <summary>CRC-8 with polynomial x⁸ + x⁵ + x⁴ + 1 and start value 0xFF.</summary>
public static class Crc8
{
    private static readonly byte[] Table = Build();

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

// From the raw words of a BME280 to temperature and humidity, by the numbers each chip was given at its maker's. Pure.
// It must never be used with numbers that were read only once: they have no checksum.
// Source: data sheet of the BME280, section "Compensation formulas in double precision floating point", and its table of trimming registers.
namespace RoomSupervisor.Hardware.I2c;

/// <summary>The trimming numbers of one chip, as far as temperature and humidity need them.</summary>
public sealed record Bme280Compensation
{
    /// <summary>Where the two blocks of registers begin, and how many there are.</summary>
    public const byte FirstBlock = 0x88, SecondBlock = 0xE1;
    public const int FirstLength = 26, SecondLength = 7;

    public ushort T1 { get; init; }
    public short T2 { get; init; }
    public short T3 { get; init; }
    public byte H1 { get; init; }
    public short H2 { get; init; }
    public byte H3 { get; init; }
    public short H4 { get; init; }
    public short H5 { get; init; }
    public sbyte H6 { get; init; }

    /// <summary>False for numbers no chip can have: a block that reads as all noughts or all ones.</summary>
    public bool IsPossible => T1 is not (0 or 0xFFFF) && T2 is not (0 or -1) && H2 is not (0 or -1);

    /// <summary>Takes the numbers from the registers 0x88 to 0xA1 and 0xE1 to 0xE7.</summary>
    public static Bme280Compensation From(ReadOnlySpan<byte> first, ReadOnlySpan<byte> second) => new()
    {
        T1 = (ushort)(first[0] | first[1] << 8),
        T2 = (short)(first[2] | first[3] << 8),
        T3 = (short)(first[4] | first[5] << 8),
        H1 = first[25],
        H2 = (short)(second[0] | second[1] << 8),
        H3 = second[2],
        // Twelve bits each, with a sign; they share the middle byte.
        H4 = (short)((sbyte)second[3] << 4 | second[4] & 0x0F),
        H5 = (short)((sbyte)second[5] << 4 | second[4] >> 4),
        H6 = (sbyte)second[6],
    };

    /// <summary>The fine temperature both formulas go by, 1/5120 K.</summary>
    /// <param name="raw">Word of twenty bits.</param>
    public double Fine(int raw)
    {
        var first = (raw / 16384.0 - T1 / 1024.0) * T2;
        var rest = raw / 131072.0 - T1 / 8192.0;
        return first + rest * rest * T3;
    }

    /// <summary>°C, from the fine temperature.</summary>
    public static double TemperatureC(double fine) => fine / 5120;

    /// <summary>%, 0 to 100.</summary>
    /// <param name="raw">Word of sixteen bits.</param>
    /// <param name="fine">The fine temperature of the same measurement, <see cref="Fine"/>.</param>
    public double HumidityPercent(int raw, double fine)
    {
        // The data sheet cuts the fine temperature to a whole number here.
        var above = Math.Truncate(fine) - 76800;
        var humidity = (raw - (H4 * 64.0 + H5 / 16384.0 * above))
            * (H2 / 65536.0 * (1 + H6 / 67108864.0 * above * (1 + H3 / 67108864.0 * above)));
        return Math.Clamp(humidity * (1 - H1 * humidity / 524288.0), 0, 100);
    }
}

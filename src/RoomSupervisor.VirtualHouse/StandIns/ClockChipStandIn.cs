// A DS3231 in memory, byte by byte: a clock that runs from noon of 2 January 2026 with the time of the bus, its temperature, and the bit that says that it stopped.
// Must never run without its battery.
// Source: data sheet of the DS3231 (registers in packed decimal digits, temperature in quarters of a kelvin). Written apart from the driver.
using RoomSupervisor.Hardware.I2c;

namespace RoomSupervisor.VirtualHouse;

/// <summary>The clock.</summary>
/// <param name="address">Its address.</param>
internal sealed class ClockChipStandIn(byte address) : RegisterStandIn(address, ("temperature", 20), ("time_lost", 0))
{
    private static readonly DateTime Noon = new(2026, 1, 2, 12, 0, 0, DateTimeKind.Utc);

    /// <summary>Its quartz stands still, though the bit does not say so.</summary>
    public bool IsStuck { get; set; }

    /// <inheritdoc/>
    protected override I2cProblem Store(ReadOnlySpan<byte> bytes, double nowS) => I2cProblem.None;

    /// <inheritdoc/>
    protected override void Until(double nowS)
    {
        DateTime now = IsStuck ? Noon : Noon.AddSeconds(nowS);
        int quarters = (int)Math.Round(True[0] * 4);
        (Registers[0], Registers[1], Registers[2], Registers[3]) = (Digits(now.Second), Digits(now.Minute), Digits(now.Hour), (byte)(now.DayOfWeek + 1));
        (Registers[4], Registers[5], Registers[6]) = (Digits(now.Day), Digits(now.Month), Digits(now.Year % 100));
        (Registers[0x0F], Registers[0x11], Registers[0x12]) = ((byte)(True[1] > 0.5 ? 0x80 : 0), (byte)(quarters >> 2), (byte)((quarters & 3) << 6));
    }

    /// <inheritdoc/>
    protected override void LosePower()
    {
        // It runs on from its battery.
    }

    private static byte Digits(int value) => (byte)(value / 10 << 4 | value % 10);
}

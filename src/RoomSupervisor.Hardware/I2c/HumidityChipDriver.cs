// The drivers "sht4x" and "sht3x": air temperature and humidity by the SHT4x and SHT3x families of chips. What differs is here, the rest is HumidityChip.
// They must never measure with a shorter, coarser command to be faster.
// Source: data sheets of the two families (commands, longest times, conversion); checked in the tests against open-source bindings of the chips.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;
using static RoomSupervisor.Hardware.Devices.DeclareKeys;

namespace RoomSupervisor.Hardware.I2c;

/// <summary>The driver of a family of chips.</summary>
public sealed class HumidityChipDriver : ChipDriver
{
    internal const string Temperature = "temperature", Humidity = "humidity";

    private readonly HumidityChip chip;

    private HumidityChipDriver(DriverDeclaration declaration, HumidityChip chip) : base(declaration) => this.chip = chip;

    /// <summary>SHT4x: measures precisely by FD in at most 8.3 ms; its humidity line reaches from −6 to 119 %.</summary>
    public static HumidityChipDriver Sht4x { get; } = new(
        Declare("sht4x", "SHT4x", "0x44 to 0x46, told by the chip's full name", 0x46), new HumidityChip([0xFD], 0.01, -6, 125));

    /// <summary>SHT3x: one measurement, precise, no holding of the clock line, by 24 00 in at most 15.5 ms.</summary>
    public static HumidityChipDriver Sht3x { get; } = new(
        Declare("sht3x", "SHT3x", "0x44 or 0x45, chosen by a pin", 0x45), new HumidityChip([0x24, 0x00], 0.018, 0, 100));

    private protected override IBusDevice Make(DeviceSettings device, I2cAddress place, IReadOnlyList<OutputChannel> points, DeviceParts parts)
        => new HumidityChipDevice(device.Name, place, chip, TimesOf(device.Settings), points, parts);

    private static DriverDeclaration Declare(string name, string family, string addresses, byte highest) => Declare(
        name, $"A chip of the {family} family on a wire bus (I2C): channels temperature and humidity.",
        new ChipKeys(0x44, highest, addresses) { Interval = Number(Interval, Quantity.Duration, 5, 0.5, 60, "How often it measures; each measurement warms it a little.") },
        new Point(Temperature, Quantity.Temperature), new Point(Humidity, Quantity.Percent));
}

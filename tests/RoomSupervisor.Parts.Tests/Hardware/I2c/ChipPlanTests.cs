// Chips in the plan and in the site file: one worker a bus, places that are taken, wirings that cannot be, and the kernel's bus that is not there.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Parts.Tests.Site;
using RoomSupervisor.Terms;
using static RoomSupervisor.Parts.Tests.Site.SiteTexts;

namespace RoomSupervisor.Parts.Tests.Hardware.I2c;

public class ChipPlanTests
{
    [Fact]
    public void Chips_of_one_path_share_a_worker_and_another_path_has_its_own()
    {
        var opened = new List<string>();
        DeviceSettings[] devices = [ChipRig.Chip("a", "sht4x", "0x44"), ChipRig.Chip("b", "dac-0-10v", "0x58"), ChipRig.Chip("c", "sht4x", "0x44", bus: "/dev/i2c-7"), Rig.DeviceWith()];
        II2cBus Open(string path)
        {
            opened.Add(path);
            return new ScriptedBus();
        }
        using var plan = HardwarePlan.Build(devices, [], new InputImage(0), new OutputLeases(0), new Buses { I2c = Open });
        Assert.Equal(["/dev/i2c-1", "/dev/i2c-7", "io-1"], plan.Workers.Select(worker => worker.Name));
        Assert.Equal([2, 1, 1], plan.Workers.Select(worker => worker.Devices.Count));
        Assert.Equal(["/dev/i2c-1", "/dev/i2c-7"], opened);
    }

    [Fact]
    public void What_cannot_be_is_told_with_its_reason()
    {
        DeviceSettings[] devices = [ChipRig.Chip("a", "sht4x", "0x44"), ChipRig.Chip("twin", "sht4x", "0x44"), ChipRig.Chip("b", "dac-0-10v", "0x58"), ChipRig.Chip("far", "sht4x", "0x59"), ChipRig.Chip("odd", "sht4x", "68"), ChipRig.Chip("none", "sht4x", "0x45", bus: "i2c-1")];
        PointWiring[] wiring =
        [
            Rig.Input("a.air.temperature", 0, Quantity.Temperature, "humidity") with { Device = "a" },
            Rig.Input("b.air.temperature", 1, Quantity.Temperature, "out-1") with { Device = "b" },
            Rig.Output("a.coil.fan", 0, Quantity.Percent, "temperature", VoltageLine.ZeroToTen, 0) with { Device = "a" },
            Rig.Output("b.coil.fan", 1, Quantity.Percent, "out-2", VoltageLine.ZeroToTen, 0) with { Device = "b" },
            Rig.Output("c.coil.fan", 2, Quantity.Percent, "out-2", VoltageLine.ZeroToTen, 0) with { Device = "b" },
            Rig.Output("d.pump.run", 3, Quantity.Switch, "out-1", VoltageLine.ZeroToTen, 0) with { Device = "b" },
            Rig.Output("e.coil.fan", 4, Quantity.Percent, "out-3", VoltageLine.ZeroToTen, 0) with { Device = "b" },
        ];
        var plan = HardwarePlan.Build(devices, wiring, new InputImage(2), new OutputLeases(5), new Buses { I2c = _ => throw new InvalidOperationException() });
        Assert.Empty(plan.Workers);
        string[] says =
        [
            "a.air.temperature is a temperature, but channel humidity is a percentage", "channel out-1 of b can only be written", "channel temperature of a can only be read",
            "would write the same out-2 as b.coil.fan", "d.pump.run is", "channel out-3, which device b does not have", "device twin is at the same place as a, /dev/i2c-1 0x44",
            "device far: address 0x59 is none such a chip can have: 0x44 to 0x46", "device odd: address \"68\" is no address", "device none: bus \"i2c-1\" is no path",
        ];
        Assert.All(says, part => Assert.Contains(plan.Problems, problem => problem.Text.Contains(part, StringComparison.Ordinal)));
        Assert.Equal(says.Length, plan.Problems.Count);
    }

    /// <summary>A chip on the bus itself answers whatever a multiplexer connects, outputs like sensors, and whichever of the two the site file names first.</summary>
    [Theory]
    [InlineData("pca9685", "0x71", "address of the multiplexer")]
    [InlineData("pca9685", "0x44", "which is behind a multiplexer")]
    [InlineData("dac-0-10v", "0x58", "")]
    public void A_chip_of_outputs_is_not_on_the_bus_beside_its_twin_behind_a_multiplexer(string driver, string address, string says)
    {
        var (air, outputs) = (ChipRig.Chip("far", "sht4x", "0x44"), ChipRig.Chip("out", driver, address));
        air.Settings.Set("behind", "0x71/3");
        foreach (var devices in (DeviceSettings[][])[[air, outputs], [outputs, air]])
        {
            using var plan = HardwarePlan.Build(devices, [], new InputImage(0), new OutputLeases(0), new Buses { I2c = _ => new ScriptedBus() });
            var clash = says is "" or "address of the multiplexer" || devices[0] == air ? says : "which is on the bus itself";
            Assert.Equal(clash.Length > 0 ? 1 : 0, plan.Problems.Count);
            Assert.All(plan.Problems, problem => Assert.Contains(clash, problem.Text, StringComparison.Ordinal));
        }
    }

    private const string AirOnGateway = "      air-temperature: {table: holding-register, address: 10, type: s16, scale: 0.1 °C}\n";

    private static string ChipSite(string devices) => With(
        SiteText, ("{device: io-1, channel: air-temperature, ", "{device: hall-air, channel: temperature, "), (AirOnGateway, ""), ("\ndevices:\n", "\ndevices:\n" + devices));

    [Fact]
    public void A_site_file_names_a_chip_by_bus_and_address()
    {
        var result = Read(ChipSite("  hall-air: {driver: sht4x, bus: /dev/i2c-1, address: 0x44}\n"), HouseholdText);
        Assert.Empty(result.Problems);
        using var plan = HardwarePlan.Build(result.Files!.Devices, result.Files.Wiring, new InputImage(result.Files.House.InputTable.Count), new OutputLeases(20), new Buses { I2c = _ => new ScriptedBus() });
        Assert.Empty(plan.Problems);
        Assert.Contains(plan.Workers, worker => worker.Name == "/dev/i2c-1");
    }

    [Theory]
    [InlineData("  hall-air: {driver: sht4x, bus: /dev/i2c-1, address: 0x50}\n", "0x44 to 0x46")]
    [InlineData("  hall-air: {driver: sht4x, bus: i2c-1}\n", "is no path")]
    [InlineData("  hall-air: {driver: sht4x, address: 0x44}\n", "bus")]
    [InlineData("  hall-air: {driver: sht4x, bus: /dev/i2c-1}\n  other: {driver: sht4x, bus: /dev/i2c-1, address: 0X44}\n", "is also the place of device hall-air")]
    [InlineData("  hall-air: {driver: dac-0-10v, bus: /dev/i2c-1}\n", "no such channel")]
    public void A_slip_with_a_chip_is_told(string devices, string says)
        => Assert.Contains(Read(ChipSite(devices), HouseholdText).Problems, problem => problem.ToString().Contains(says, StringComparison.Ordinal));

    [Fact]
    public void An_output_on_a_converter_is_warned_of_because_it_keeps_its_volts()
    {
        var site = With(SiteText, ("coil.fan: {device: io-1, channel: fan}", "coil.fan: {device: volts, channel: out-1}"), ("\ndevices:\n", "\ndevices:\n  volts: {driver: dac-0-10v, bus: /dev/i2c-1}\n"));
        var result = Read(site, HouseholdText);
        Told(result, LineOf(site, "  volts: {driver"), "warning", "if the board dies, its outputs stay as they are");
        Assert.Empty(Errors(result));
        var input = Read(With(site, ("{device: io-1, channel: air-temperature, ", "{device: volts, channel: out-2, ")), HouseholdText);
        Told(input, LineOf(site, "air.temperature:"), "channel that can only be written");
    }

    /// <summary>Error numbers as the kernel's own text "I2C/SMBUS Fault Codes" and dotnet/iot 832, 1584, 2011 name them.</summary>
    [Theory]
    [InlineData(6, I2cProblem.NoAcknowledge)]
    [InlineData(121, I2cProblem.NoAcknowledge)]
    [InlineData(110, I2cProblem.TimedOut)]
    [InlineData(11, I2cProblem.ArbitrationLost)]
    [InlineData(19, I2cProblem.NoBus)]
    [InlineData(13, I2cProblem.NotAllowed)]
    [InlineData(5, I2cProblem.Failed)]
    public void Error_numbers_of_the_kernel_are_told_apart(int number, I2cProblem problem) => Assert.Equal(problem, I2cWords.OfErrorNumber(number));

    [Fact]
    public void A_path_that_is_not_there_or_no_bus_is_a_failure_with_a_reason_and_no_exception()
    {
        using var missing = new LinuxI2cBus(Path.Combine(Path.GetTempPath(), "no-such-bus-" + Guid.NewGuid()));
        Assert.Equal(I2cProblem.NoBus, missing.Write(0x44, [0xFD], 0, 0.1).Problem);
        var file = Path.GetTempFileName();
        using var plain = new LinuxI2cBus(file);
        Assert.Equal(I2cProblem.Failed, plain.Read(0x44, new byte[6], 0, 0.1).Problem);
        File.Delete(file);
    }
}

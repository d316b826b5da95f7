// Thermometers of the kernel's 1-Wire, by real files in a folder of the test's own: what the kernel says, and every way it may be missing.
// Sources: data sheet of the DS18B20, table of temperatures and data; Linux kernel documentation, "Kernel driver w1_therm" (the two lines).
using RoomSupervisor.Hardware;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Hardware.OneWire;

public sealed class OneWireTests : IDisposable
{
    private const string Bus = "w1_bus_master1", Tank = "28-0316a2795eff";
    private readonly string root = Directory.CreateTempSubdirectory("one-wire-").FullName;
    private readonly InputImage inputs = new(1);
    private HardwarePlan? plan;

    public void Dispose()
    {
        plan?.Dispose();
        Directory.Delete(root, true);
    }

    private DeviceSettings Device(string sensor = Tank, string? at = null)
    {
        var bag = new SettingBag();
        foreach (var parameter in Drivers.All.Single(one => one.Name == "one-wire-thermometer").Parameters)
        {
            if (parameter.Quantity != Quantity.Text)
                parameter.SetNumber!(bag, parameter.Default);
            else if (parameter.DefaultText is { } text)
                parameter.SetText!(bag, text);
        }
        bag.Set("sensor", sensor);
        bag.Set("root", at ?? root);
        return new DeviceSettings("tank", "one-wire-thermometer", bag, new Dictionary<string, SettingBag>(), Rig.Here);
    }

    private (Sample Sample, DeviceHealth Health, string Channel) Read(string? text, double nowS = 0)
    {
        if (text is not null)
        {
            Directory.CreateDirectory(Path.Combine(root, Bus, Tank));
            File.WriteAllText(Path.Combine(root, Bus, Tank, "w1_slave"), text);
        }
        plan ??= HardwarePlan.Build([Device()], [Rig.Input("buffer.top.temperature", 0, Quantity.Temperature, "temperature") with { Device = "tank" }], inputs, new OutputLeases(0));
        Assert.Empty(plan.Problems);
        plan.Workers[0].Poll(nowS);
        var all = new Sample[1];
        inputs.CopyTo(all);
        return (all[0], plan.Workers[0].Devices[0].Health, plan.Workers[0].Devices[0].Channel(0).Problem);
    }

    private static string Lines(string bytes, string yes, int thousandths) => $"{bytes} : crc={bytes[^2..]} {yes}\n{bytes} t={thousandths}\n";

    // The data sheet's table: 07D0 125, 0191 25.0625, 00A2 10.125, 0008 0.5, 0000 0, FFF8 −0.5, FF5E −10.125, FC90 −55 °C.
    [Theory]
    [InlineData("d0 07 4b 46 7f ff 0c 10 01", 125000, 125)]
    [InlineData("91 01 4b 46 7f ff 0c 10 02", 25062, 25.062)]
    [InlineData("a2 00 4b 46 7f ff 0c 10 03", 10125, 10.125)]
    [InlineData("00 00 4b 46 7f ff 0c 10 04", 0, 0)]
    [InlineData("5e ff 4b 46 7f ff 0c 10 05", -10125, -10.125)]
    [InlineData("90 fc 4b 46 7f ff 0c 10 06", -55000, -55)]
    public void What_the_kernel_says_is_the_temperature(string bytes, int thousandths, double degrees)
    {
        var (sample, health, _) = Read(Lines(bytes, "YES", thousandths));
        Assert.Equal((Fault.None, degrees, DeviceState.Answering), (sample.Fault, sample.Value, health.State));
    }

    [Theory]
    [InlineData("91 01 4b 46 7f ff 0c 10 02", "NO", 25062, Fault.Crc, "checksum wrong")]
    [InlineData("ff ff ff ff ff ff ff ff ff", "NO", -62, Fault.NoAcknowledge, "does not answer")]
    [InlineData("00 00 00 00 00 00 00 00 00", "YES", 0, Fault.BusError, "shorted to ground")]
    [InlineData("91 01 4b 46 7f ff 0c 10", "YES", 25062, Fault.BusError, "not that of a thermometer")]
    public void What_cannot_be_is_no_temperature(string bytes, string yes, int thousandths, Fault fault, string words)
    {
        var (sample, health, channel) = Read(Lines(bytes, yes, thousandths));
        Assert.Equal(fault, sample.Fault);
        Assert.Contains(words, health.LastProblem.Length > 0 ? health.LastProblem : channel, StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_without_an_end_is_no_temperature()
    {
        Assert.Equal(Fault.BusError, Read("91 01 4b 46 7f ff 0c 10 02 : crc=02 YES\n91 01 4b").Sample.Fault);
        Assert.Equal(Fault.BusError, Read("", 100).Sample.Fault);
    }

    [Theory]
    [InlineData(22000, true)]
    [InlineData(80000, false)]
    public void Eighty_five_degrees_after_another_temperature(int before, bool isRefused)
    {
        Read(Lines("50 05 4b 46 7f ff 0c 10 1c", "YES", before));
        var (sample, health, channel) = Read(Lines("50 05 4b 46 7f ff 0c 10 1c", "YES", 85000), 10);
        Assert.Equal((isRefused ? Fault.OutOfRange : Fault.None, DeviceState.Answering), (sample.Fault, health.State));
        Assert.Equal(isRefused, channel.Contains("after power-up", StringComparison.Ordinal));
    }

    /// <summary>Each thing that may be missing says what to switch on or to look for.</summary>
    [Fact]
    public void Each_thing_that_is_missing_is_told_with_what_to_do()
    {
        Directory.Delete(root, true);
        var said = Read(null);
        Assert.Equal((Fault.BusError, DeviceState.NotAnswering), (said.Sample.Fault, said.Health.State));
        Assert.Contains("dtoverlay=w1-gpio", said.Health.LastProblem, StringComparison.Ordinal);
        Directory.CreateDirectory(root);
        Assert.Contains("no such 1-Wire bus", Read(null, 100).Health.LastProblem, StringComparison.Ordinal);
        Directory.CreateDirectory(Path.Combine(root, Bus));
        said = Read(null, 200);
        Assert.Equal(Fault.NoAcknowledge, said.Sample.Fault);
        Assert.Contains("not on the bus", said.Health.LastProblem, StringComparison.Ordinal);
        Directory.CreateDirectory(Path.Combine(root, Bus, Tank));
        Assert.Contains("w1_therm", Read(null, 300).Health.LastProblem, StringComparison.Ordinal);
        Assert.Equal(Fault.None, Read(Lines("91 01 4b 46 7f ff 0c 10 02", "YES", 25062), 400).Sample.Fault);
    }

    [Theory]
    [InlineData("28-0316A2795EFF", "no number of a thermometer")]
    [InlineData("29-0316a2795eff", "no number of a thermometer")]
    [InlineData("../../28-0316a2795eff", "no number of a thermometer")]
    public void A_number_that_is_none_is_refused(string sensor, string words)
        => Assert.Contains(words, Assert.Single(HardwarePlan.Build([Device(sensor)], [], inputs, new OutputLeases(0)).Problems).Text, StringComparison.Ordinal);

    [Fact]
    public void A_root_that_is_no_path_and_a_sensor_named_twice_are_refused()
    {
        Assert.Contains("no path", Assert.Single(HardwarePlan.Build([Device(at: "sys")], [], inputs, new OutputLeases(0)).Problems).Text, StringComparison.Ordinal);
        Assert.Contains("same place", Assert.Single(HardwarePlan.Build([Device(), Device() with { Name = "twin" }], [], inputs, new OutputLeases(0)).Problems).Text, StringComparison.Ordinal);
    }
}

// The four-input converter's own bytes and what the site file may say of its channels. Virtual time.
// Source: data sheet of the ADS1115 (registers, settings, full scales). Voltages by hand from Ohm's law.
using RoomSupervisor.Hardware;
using RoomSupervisor.Parts.Tests.Site;
using RoomSupervisor.Terms;
using static RoomSupervisor.Parts.Tests.Site.SiteTexts;

namespace RoomSupervisor.Parts.Tests.Hardware.I2c;

public class AnalogTests
{
    private static SettingBag Channel(string input, string sensor, params (string Key, object Value)[] settings)
    {
        var bag = new SettingBag();
        foreach (var parameter in Drivers.All.Single(one => one.Name == "ads1115").ChannelParameters)
        {
            if (parameter.Quantity != Quantity.Text)
                parameter.SetNumber!(bag, parameter.Default);
            else if (parameter.DefaultText is { } text)
                parameter.SetText!(bag, text);
        }
        bag.Set("input", input);
        bag.Set("sensor", sensor);
        foreach (var (key, value) in settings)
        {
            if (value is string text)
                bag.Set(key, text);
            else
                bag.Set(key, Convert.ToDouble(value, System.Globalization.CultureInfo.InvariantCulture));
        }
        return bag;
    }

    private static DeviceSettings Device(params (string Name, SettingBag Channel)[] channels)
    {
        var device = ChipRig.Chip("analog", "ads1115", "0x48", 1);
        device.Settings.Set("behind", "nothing");
        device.Settings.Set("reference_input", "nothing");
        return device with { Channels = channels.ToDictionary(one => one.Name, one => one.Channel) };
    }

    private static PointWiring Point(int index, string channel, Quantity quantity = Quantity.Temperature)
        => Rig.Input($"p{index}.supply.temperature", index, quantity, channel) with { Device = "analog" };

    /// <summary>Settings by hand: begin 8, input 4 to 7, full scale 2.048 V 4 (bits 010 and once 1), 128 a second and no comparator 83. Thermometers on 3.3 V take 4.096 V, 3.</summary>
    private static RegisterChip Converter(params (int Settings, short Word)[] answers)
    {
        var chip = new RegisterChip();
        foreach (var (settings, word) in answers)
        {
            chip.Answers.Enqueue([(byte)(settings >> 8), (byte)settings]);
            chip.Answers.Enqueue([(byte)(word >> 8), (byte)word]);
            chip.Answers.Enqueue([(byte)(word >> 8), (byte)word]);
        }
        return chip;
    }

    [Fact]
    public void Inputs_are_measured_one_after_the_other_each_with_its_settings_read_back()
    {
        // 10 kΩ over 10 kΩ on 3.3 V: 1.65 V, of 4.096 V 13200. 5 V through a divider of 3 is 1.667 V, 13333.
        var chip = Converter((0xC383, 13200), (0xF383, 13333));
        var (plan, inputs) = chip.Plan(
            Device(("supply", Channel("a0", "ntc-10k-3950")), ("pressure", Channel("a3", "voltage", ("divider", 3), ("at_low", "0 bar"), ("at_high", "4 bar")))), 0,
            Point(0, "supply"), Point(1, "pressure", Quantity.Pressure));
        using (plan)
        {
            RegisterChip.Run(plan, 0, 0.5);
            Assert.Equal(["01c383", "01", "00", "01f383", "01", "00"], chip.Written);
            var samples = RegisterChip.Samples(inputs);
            Assert.Equal((25.0, 200.0), (Math.Round(samples[0].Value, 3), Math.Round(samples[1].Value, 1)));
        }
    }

    [Theory]
    [InlineData("settings of another input", 0xD383, 13200, 13200, "not what was written")]
    [InlineData("settings as after power-up", 0x8583, 13200, 13200, "not what was written")]
    [InlineData("two readings of one word differ", 0xC383, 13200, 13201, "different twice")]
    [InlineData("never done", 0x4383, 13200, 13200, "does not end")]
    public void What_cannot_be_is_no_value(string what, int settings, short word, short again, string words)
    {
        Assert.NotEmpty(what);
        var chip = new RegisterChip();
        for (var i = 0; i < 40; i++)
        {
            chip.Answers.Enqueue([(byte)(settings >> 8), (byte)settings]);
            if (settings == 0xC383)
            {
                chip.Answers.Enqueue([(byte)(word >> 8), (byte)word]);
                chip.Answers.Enqueue([(byte)(again >> 8), (byte)again]);
            }
        }
        var (plan, inputs) = chip.Plan(Device(("supply", Channel("a0", "ntc-10k-3950"))), 0, Point(0, "supply"));
        using (plan)
        {
            RegisterChip.Run(plan, 0, 0.9);
            Assert.NotEqual(Fault.None, RegisterChip.Samples(inputs)[0].Fault);
            Assert.Contains(words, plan.Workers[0].Devices[0].Health.LastProblem, StringComparison.Ordinal);
        }
    }

    /// <summary>Volts at the chip and what they say. 2–10 V through a divider of 3; 1.79 V is below 0.9 of the living zero, 10.5 V above the top.</summary>
    [Theory]
    [InlineData(2.0, "", 0)]
    [InlineData(10.0, "", 100)]
    [InlineData(6.0, "", 50)]
    [InlineData(1.85, "", -1.875)]
    [InlineData(1.75, "wire broken, or transmitter without power", double.NaN)]
    [InlineData(0.0, "wire broken, or transmitter without power", double.NaN)]
    [InlineData(-0.5, "wires are swapped", double.NaN)]
    [InlineData(10.6, "above the highest", double.NaN)]
    public void A_transmitter_with_a_living_zero_tells_a_broken_wire(double volts, string words, double percent)
    {
        var chip = Converter((0xC383, (short)Math.Round(volts / 3 / 4.096 * 32768)));
        var (plan, inputs) = chip.Plan(
            Device(("air", Channel("a0", "voltage", ("divider", 3), ("low_voltage", 2), ("at_low", "0 %"), ("at_high", "100 %")))), 0, Point(0, "air", Quantity.Percent));
        using (plan)
        {
            RegisterChip.Run(plan, 0, 0.5);
            var sample = RegisterChip.Samples(inputs)[0];
            Assert.Equal(double.IsNaN(percent) ? Fault.OutOfRange : Fault.None, sample.Fault);
            if (!double.IsNaN(percent))
                Assert.Equal(percent, sample.Value, 0.01);
            Assert.Contains(words, plan.Workers[0].Devices[0].Channel(0).Problem, StringComparison.Ordinal);
        }
    }

    private static string Site(string device)
        => With(SiteText, ("\ndevices:\n", "\ndevices:\n" + device), ("supply.temperature: {device: io-1, channel: supply-temperature}", "supply.temperature: {device: analog, channel: supply}"));

    [Theory]
    [InlineData("{input: a0, sensor: pt1000, series_resistance: 2200}", null)]
    [InlineData("{input: a0, sensor: ntc, beta: 3950}", null)]
    [InlineData("{input: a0, sensor: ntc, table: \"0 °C 32650, 25 °C 10000, 60 °C 2488\"}", null)]
    [InlineData("{input: a0, sensor: voltage, divider: 3, at_low: 0 °C, at_high: 50 °C}", null)]
    [InlineData("{input: a0, sensor: ntc}", "needs its beta or its table")]
    [InlineData("{input: a0, sensor: ntc, beta: 3950, table: \"0 °C 32650, 25 °C 10000, 60 °C 2488\"}", "one of the two")]
    [InlineData("{input: a0, sensor: ntc, table: \"25 °C 10000\"}", "write three points")]
    [InlineData("{input: a0, sensor: voltage, at_low: 0 °C, at_high: 50 °C}", "more than the 5 V the chip stands: use a divider of 3.3 or more")]
    [InlineData("{input: a0, sensor: voltage, divider: 3, at_low: 0 °C, at_high: 100 %}", "do not go together")]
    [InlineData("{input: a0, sensor: voltage, divider: 3, at_low: 0 %, at_high: 100 %}", "the point is a temperature")]
    [InlineData("{input: a4, sensor: pt1000}", "a0, a1, a2, a3")]
    public void A_site_file_says_what_hangs_on_an_input(string channel, string? says)
    {
        var result = Read(Site($"  analog: {{driver: ads1115, bus: /dev/i2c-1, channels: {{supply: {channel}}}}}\n"), HouseholdText);
        if (says is null)
            Assert.DoesNotContain(result.Problems, problem => problem.ToString().Contains("error", StringComparison.Ordinal));
        else
            Assert.Contains(result.Problems, problem => problem.ToString().Contains(says, StringComparison.Ordinal));
    }

    [Fact]
    public void The_input_that_measures_the_reference_can_carry_nothing_else()
    {
        var device = Device(("supply", Channel("a3", "pt1000")));
        device.Settings.Set("reference_input", "a3");
        var plan = HardwarePlan.Build([device], [], new InputImage(0), new OutputLeases(0), new Buses { I2c = _ => new RegisterChip() });
        Assert.Contains("measures the reference voltage", Assert.Single(plan.Problems).Text, StringComparison.Ordinal);
    }
}

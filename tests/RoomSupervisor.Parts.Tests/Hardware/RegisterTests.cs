// Scales and the way between raw registers and points, both ways; the driver's declaration; wirings that cannot be.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Terms;
using Xunit;

namespace RoomSupervisor.Parts.Tests.Hardware;

public class RegisterTests
{
    // 77.0 °F = 25 °C, −40 °F = −40 °C, 212 °F = 100 °C by definition of the scales.
    [Theory]
    [InlineData("0.1 °C", 245, Quantity.Temperature, 24.5)]
    [InlineData("0,1 °C", 245, Quantity.Temperature, 24.5)]
    [InlineData("0.1°F", 770, Quantity.Temperature, 25)]
    [InlineData("0.1 °F", -400, Quantity.Temperature, -40)]
    [InlineData("1 F", 212, Quantity.Temperature, 100)]
    [InlineData("0.1 K", 15, Quantity.TemperatureDifference, 1.5)]
    [InlineData("1 mV", 3300, Quantity.Voltage, 3.3)]
    [InlineData("0.01 V", 330, Quantity.Voltage, 3.3)]
    [InlineData("0.1\u00A0%", 623, Quantity.Percent, 62.3)]
    [InlineData("1 %", 35, Quantity.Percent, 35)]
    [InlineData("1", 812, Quantity.Number, 812)]
    [InlineData("0.1 m3/h", 12, Quantity.Flow, 20)]
    public void A_scale_says_what_a_step_means(string text, int raw, Quantity quantity, double value)
    {
        Assert.True(RegisterScale.TryRead(text, out var scale, out var problem), problem);
        Assert.Equal(quantity, scale.Quantity);
        Assert.Equal(value, scale.ToValue(raw), 9);
        Assert.Equal(raw, scale.ToRaw(value, short.MinValue, ushort.MaxValue));
    }

    [Theory]
    [InlineData("")]
    [InlineData("mV")]
    [InlineData("0 mV")]
    [InlineData("-1 mV")]
    [InlineData("1 furlong")]
    [InlineData("1.5.2 V")]
    [InlineData(".nan V")]
    [InlineData("1 mV V")]
    public void A_scale_that_says_nothing_is_refused_with_what_to_write(string text)
    {
        Assert.False(RegisterScale.TryRead(text, out _, out var problem));
        Assert.Contains("0.1 °C", problem, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(-5, 0)]
    [InlineData(20, 1800)]
    [InlineData(35, 3338)] // 1.8 + 15/80 × 8.2 = 3.3375 V
    [InlineData(100, 10000)]
    [InlineData(1e9, 10000)]
    [InlineData(double.NaN, 0)]
    [InlineData(double.PositiveInfinity, 0)]
    public void A_fan_in_percent_becomes_millivolts_by_its_line(double percent, int millivolts)
        => Assert.Equal(millivolts, Channel("holding-register", "1 mV").ToRaw(percent, Rig.Output("r.coil.fan", 0, Quantity.Percent, "c", new VoltageLine(1.8, 20, 10), 0)));

    [Fact]
    public void No_value_leaves_the_range_of_its_register()
    {
        var set = Rig.Output("source.call.set_point", 0, Quantity.Temperature, "c", VoltageLine.ZeroToTen, 18);
        Assert.Equal(0, Channel("holding-register", "0.1 °C").ToRaw(-5, set));
        Assert.Equal(unchecked((ushort)-50), Channel("holding-register", "0.1 °C", "s16").ToRaw(-5, set));
        Assert.Equal(32767, Channel("holding-register", "0.001 °C", "s16").ToRaw(200, set));
        Assert.Equal(65535, Channel("holding-register", "0.001 °C").ToRaw(200, set));
        Assert.Equal(180, Channel("holding-register", "0.1 °C").ToRaw(double.NaN, set));
        Assert.Equal(644, Channel("holding-register", "0.1 °F").ToRaw(18, set));
        var valve = Rig.Output("r.ceiling.valve", 0, Quantity.Percent, "c", VoltageLine.ZeroToTen, 0);
        Assert.Equal(0, Channel("holding-register", "1 %", "s16").ToRaw(-20, valve));
        Assert.Equal(100, Channel("holding-register", "1 %").ToRaw(250, valve));
        // Ten volts do not fit into sixteen bits of tenths of a millivolt: the register's end, never a wrap to 0.
        Assert.Equal(65535, Channel("holding-register", "0.1 mV").ToRaw(100, valve));
    }

    [Theory]
    [InlineData(1, false, 1)]
    [InlineData(0, false, 0)]
    [InlineData(1, true, 0)]
    [InlineData(0, true, 1)]
    public void Inverted_turns_switches_round_both_ways(int raw, bool inverted, int value)
    {
        var channel = Channel("coil", "1");
        Assert.Equal(value, channel.ToPoint(raw, Rig.Input("r.opening.open", 0, Quantity.Switch, "c", inverted)));
        Assert.Equal(value, channel.ToRaw(raw, Rig.Output("l.pump.run", 0, Quantity.Switch, "c", VoltageLine.ZeroToTen, 0, inverted)));
    }

    [Theory]
    [InlineData("input-register", "1 mV", true, Quantity.Percent, false, "wire it to a coil or holding-register")]
    [InlineData("discrete-input", "1", true, Quantity.Switch, false, "wire it to a coil or holding-register")]
    [InlineData("input-register", "0.1 %", false, Quantity.Temperature, false, "correct its table or scale")]
    [InlineData("coil", "1", false, Quantity.Temperature, false, "correct its table or scale")]
    [InlineData("input-register", "1 mV", false, Quantity.Percent, false, "correct its table or scale")]
    [InlineData("holding-register", "1 mV", true, Quantity.Percent, true, "only switches can be")]
    [InlineData("holding-register", "1 mV", true, Quantity.Percent, false, null)]
    [InlineData("coil", "1", true, Quantity.Percent, false, "correct its table or scale")]
    [InlineData("coil", "1", true, Quantity.Percent, true, "only switches can be")]
    [InlineData("coil", "1", true, Quantity.Switch, true, null)]
    [InlineData("holding-register", "1", false, Quantity.Switch, false, null)]
    public void Wirings_that_cannot_be_say_why(string table, string scale, bool output, Quantity quantity, bool inverted, string? why)
    {
        var wiring = new PointWiring("a.b.c", output, 0, quantity, "io-1", "c", inverted, VoltageLine.ZeroToTen, 0, Rig.Here);
        var mismatch = Channel(table, scale).Mismatch(wiring);
        Assert.Equal(why is null, mismatch is null);
        Assert.Contains(why ?? "", mismatch ?? "", StringComparison.Ordinal);
    }

    [Fact]
    public void The_declaration_answers_what_the_site_reader_asks()
    {
        var driver = Drivers.All.Single(one => one.Name == "modbus-tcp");
        Assert.Equal(["host", "port", "unit", "timeout", "interval", "turnaround", "join_gap", "retry_at_most", "own_time_out", "own_time_out_address", "own_time_out_step"], driver.Parameters.Select(one => one.Key));
        Assert.Equal(["table", "address", "type", "bit", "scale", "offset", "byte_order", "word_order"], driver.ChannelParameters.Select(one => one.Key));
        Assert.Equal((false, true), (driver.ChannelCanWrite!(Rig.Register("input-register", 1)), driver.ChannelCanWrite(Rig.Register("coil", 1))));
        Assert.Equal(Quantity.Switch, driver.ChannelQuantity!(Rig.Register("discrete-input", 1)));
        Assert.Equal(Quantity.Voltage, driver.ChannelQuantity(Rig.Register("holding-register", 1, "1 mV")));
        Assert.Null(driver.CheckChannel!(Rig.Register("holding-register", 1, "1 mV")));
        Assert.Contains("whole number", driver.CheckChannel(Rig.Register("coil", 1.5)), StringComparison.Ordinal);
        Assert.Contains("unknown unit", driver.CheckChannel(Rig.Register("holding-register", 1, "1 smoot")), StringComparison.Ordinal);
        Assert.Contains("registers only", driver.CheckChannel(Rig.Register("coil", 1, "1 mV")), StringComparison.Ordinal);
        Assert.Contains("registers only", driver.CheckChannel(Rig.Register("coil", 1, type: "s16")), StringComparison.Ordinal);
    }

    [Fact]
    public void A_plan_with_problems_names_them_all_and_builds_nothing()
    {
        var wiring = new List<PointWiring>
        {
            Rig.Input("a.air.temperature", 0, Quantity.Temperature, "nowhere"),
            Rig.Input("a.air.humidity", 1, Quantity.Percent, "temperature"),
            Rig.Output("a.coil.fan", 0, Quantity.Percent, "fan", VoltageLine.ZeroToTen, 0),
            Rig.Output("b.coil.fan", 1, Quantity.Percent, "fan", VoltageLine.ZeroToTen, 0),
            Rig.Input("c.air.humidity", 2, Quantity.Percent, "humidity") with { Device = "io-9" },
        };
        var plan = HardwarePlan.Build([Rig.DeviceWith(bag => bag.Set("unit", 1))], wiring, new InputImage(3), new OutputLeases(2));
        Assert.Equal(4, plan.Problems.Count);
        Assert.Empty(plan.Workers);
        Assert.Contains(plan.Problems, one => one.Text.Contains("one output an address", StringComparison.Ordinal));
        Assert.NotEmpty(HardwarePlan.Build([Rig.DeviceWith(bag => bag.Set("unit", 1.5))], [], new InputImage(0), new OutputLeases(0)).Problems);
    }

    [Fact]
    public void Events_have_their_own_numbers_and_say_what_to_check()
    {
        Assert.All(HardwareEvents.All, one => Assert.InRange(one.Id, 700, 799));
        Assert.Equal(HardwareEvents.All.Count, HardwareEvents.All.Select(one => one.Id).Distinct().Count());
        Assert.Equal(HardwareEvents.All.Count, HardwareEvents.All.Select(one => one.Name).Distinct().Count());
        Assert.All(HardwareEvents.All, one => Assert.True(one.Check.Length > 0 && one.Meaning.Length > 0));
    }

    private static RegisterChannel Channel(string table, string scale, string type = "u16") => RegisterChannel.From("c", Rig.Register(table, 0, scale, type));
}

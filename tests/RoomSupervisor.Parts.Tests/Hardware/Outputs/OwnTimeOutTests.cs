// A device that carries outputs must be said to drop them by itself; the lines of actuators from 2 to 10 V.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Parts.Tests.Site;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Hardware.Outputs;

public class OwnTimeOutTests
{
    private const string Line = "    own_time_out: 60 s       # the module itself switches its outputs off when nobody talks to it: set it up there too\n";

    [Fact]
    public void A_device_with_outputs_and_no_time_out_of_its_own_is_warned_of()
    {
        var result = SiteTexts.ReadSite((Line, ""));
        var problem = Assert.Single(result.Problems);
        Assert.Equal((Severity.Warning, SiteTexts.LineOf(SiteTexts.SiteText, "  io-1:\n")), (problem.Severity, problem.Mark.Line));
        Assert.Contains("is not said: if the board dies, its outputs stay as they are", problem.ToString(), StringComparison.Ordinal);
        Assert.NotNull(result.Files);
    }

    [Fact]
    public void Said_it_is_read() => Assert.Equal(60, SiteTexts.ReadSite().Files!.Devices.Single().Settings.Number(ModbusTcpDriver.Declaration.OwnTimeOutKey!));

    [Theory]
    [InlineData("0.5 s")]
    [InlineData("11 min")]
    public void Outside_one_second_to_ten_minutes_it_is_refused(string time)
        => SiteTexts.Told(SiteTexts.ReadSite((Line, $"    own_time_out: {time}\n")), SiteTexts.LineOf(SiteTexts.SiteText, Line), "out of range");

    [Theory]
    [InlineData(0, 2)]
    [InlineData(-5, 2)]
    [InlineData(double.NaN, 2)]
    [InlineData(0.001, 2)]
    [InlineData(50, 6)]
    [InlineData(100, 10)]
    [InlineData(300, 10)]
    public void An_actuator_from_two_to_ten_volts_never_sees_less_than_two(double percent, double volts) => Assert.Equal(volts, VoltageLine.TwoToTen.VoltsFor(percent), 1e-3);

    [Fact]
    public void Its_safe_value_is_two_volts_on_the_wire()
    {
        var channel = RegisterChannel.From("c", Rig.Register("holding-register", 0, "1 mV"));
        Assert.Equal(2000, channel.ToRaw(0, Rig.Output("r.ceiling.valve", 0, Quantity.Percent, "c", VoltageLine.TwoToTen, 0)));
    }
}

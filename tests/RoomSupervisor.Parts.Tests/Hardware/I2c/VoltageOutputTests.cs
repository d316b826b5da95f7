// The converter's own bytes: volts as twelve bits, the range, leases and safe values, and the worker it shares with the sensors.
// Source of the bytes: several open-source libraries for the part agree (registers 1, 2, 4; 0x11 is 10 V; value shifted left by four, low byte first).
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Hardware.I2c;

public class VoltageOutputTests
{
    private const string FanOff = "58: 020000", ValveShut = "58: 040000", Range = "58: 0111";

    [Fact]
    public void At_start_safe_values_go_out_first_and_the_range_with_them()
    {
        using var rig = new ChipRig();
        rig.Put(0, 100, 0, 0);
        rig.Worker.Poll(0);
        Assert.Equal([FanOff, Range, ValveShut], rig.WrittenTo(ChipRig.Converter));
    }

    // By hand: raw = floor(V / 10 × 4095), shifted left by four, low byte first. 100 %: 10 V, 4095, FFF0. Valve 50 %: 5 V, 2047, 7FF0.
    // Fan 60 % on 1.8 V at 20 % to 10 V: 5.9 V, 2416, 9700. A quarter: 2.5 V, 1023, 3FF0.
    [Theory]
    [InlineData(0, 100, "58: 02f0ff")]
    [InlineData(0, 60, "58: 020097")]
    [InlineData(0, 250, "58: 02f0ff")]
    [InlineData(1, 50, "58: 04f07f")]
    [InlineData(1, 25, "58: 04f03f")]
    [InlineData(1, 100, "58: 04f0ff")]
    public void Percent_becomes_volts_and_twelve_bits(int output, double percent, string bytes)
    {
        using var rig = new ChipRig();
        rig.Run(0, 1);
        rig.Put(output, percent, 0, 1);
        rig.Run(1, 1.2);
        Assert.Equal(bytes, rig.WrittenTo(ChipRig.Converter).Last());
    }

    [Fact]
    public void Everything_is_written_again_every_ten_seconds_the_range_too()
    {
        using var rig = new ChipRig();
        rig.Run(0, 35);
        var written = rig.WrittenTo(ChipRig.Converter).ToList();
        Assert.Equal((4, 4, 4), (written.Count(text => text == FanOff), written.Count(text => text == ValveShut), written.Count(text => text == Range)));
    }

    [Fact]
    public void A_command_that_is_not_renewed_gives_way_to_what_follows_it()
    {
        using var rig = new ChipRig();
        rig.Run(0, 1);
        rig.Put(1, 100, 25, 1, lifeS: 5);
        rig.Run(1, 5.9);
        Assert.Equal("58: 04f0ff", rig.WrittenTo(ChipRig.Converter).Last());
        rig.Run(6, 6.2);
        Assert.Equal("58: 04f03f", rig.WrittenTo(ChipRig.Converter).Last());
    }

    [Fact]
    public void After_an_outage_longer_than_the_command_the_value_that_follows_goes_out_first()
    {
        using var rig = new ChipRig();
        rig.Run(0, 1);
        rig.Put(1, 100, 25, 1, lifeS: 10);
        rig.Run(1, 2);
        rig.Bus.Problems[ChipRig.Converter] = I2cProblem.NoAcknowledge;
        rig.Run(2, 30);
        Assert.Equal(DeviceState.NotAnswering, rig.Health(2).State);
        rig.Put(1, 100, 25, 30, lifeS: 100);   // put blind, before it is back
        rig.Bus.Written.Clear();
        rig.Bus.Problems.Clear();
        rig.Run(30, 62);
        Assert.DoesNotContain("58: 04f0ff", rig.WrittenTo(ChipRig.Converter));
        Assert.Contains("58: 04f03f", rig.WrittenTo(ChipRig.Converter));
        Assert.Contains(Range, rig.WrittenTo(ChipRig.Converter));
        rig.Put(1, 100, 25, 62);
        rig.Run(62, 63);
        Assert.Equal("58: 04f0ff", rig.WrittenTo(ChipRig.Converter).Last());
    }

    [Fact]
    public void At_stop_safe_values_are_written_and_nothing_afterwards()
    {
        using var rig = new ChipRig();
        rig.Run(0, 1);
        rig.Put(0, 100, 0, 1);
        rig.Run(1, 2);
        rig.Bus.Written.Clear();
        var result = rig.Worker.WriteSafe(2);
        Assert.Equal((2, 0), (result.Written, result.NotWritten.Count));
        Assert.Equal([FanOff, ValveShut], rig.Bus.Written.Select(one => one.Text));
        rig.Worker.Poll(30);
        Assert.Equal(2, rig.Bus.Written.Count);
    }

    [Fact]
    public void At_stop_a_dead_converter_is_named()
    {
        using var rig = new ChipRig();
        rig.Run(0, 1);
        rig.Bus.Problems[ChipRig.Converter] = I2cProblem.TimedOut;
        Assert.Equal(["hall.coil.fan", "hall.ceiling.valve"], rig.Worker.WriteSafe(1).NotWritten.Select(one => one.PointId));
    }

    [Fact]
    public void A_hung_sensor_costs_one_time_out_a_try_and_the_outputs_are_still_written()
    {
        using var rig = new ChipRig(intervalS: 1);
        rig.Run(0, 1);
        rig.Bus.Problems[ChipRig.Hall] = I2cProblem.TimedOut;
        for (var t = 2.0; t < 40; t += 0.5)
            Assert.InRange(rig.Worker.Poll(t), 0, 0.11);
        Assert.Equal(0, rig.Health(2).Failures);
        Assert.Equal(4, rig.WrittenTo(ChipRig.Converter).Count(text => text == FanOff));
    }
}

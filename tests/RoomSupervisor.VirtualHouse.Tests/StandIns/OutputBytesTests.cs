// The bytes of each output chip, worked out by hand from its data sheet, and what must never be among them.
using RoomSupervisor.Hardware;
using RoomSupervisor.Terms;
using static RoomSupervisor.VirtualHouse.Tests.StandIns.OutputChips;

namespace RoomSupervisor.VirtualHouse.Tests.StandIns;

public class OutputBytesTests
{
    private static readonly (string, object)[] Quad = [("bus", "/dev/i2c-1"), ("address", "0x60"), ("amplifier_gain", 2.5)];

    private static OutputChips QuadRig(params (string, object)[] more)
        => new("mcp4728", [.. Quad, .. more], [], Percent("out-a", 0, new VoltageLine(1.8, 20, 10)), Percent("out-c", 1));

    // Data sheet, multi-write: 0100 0 DAC1 DAC0 UDAC. Output c is 0x44. Reference 4.096 V is bits 1001: 0x90. 5 V of 10.24 V is 2000 = 7D0. All of a line to 10 V: 4000 = FA0.
    [Theory]
    [InlineData(1, 50, "4497d0")]
    [InlineData(1, 100, "449fa0")]
    [InlineData(1, 0, "449000")]
    [InlineData(0, 60, "409938")]   // 1.8 V + 40/80 of 8.2 V = 5.9 V = 2360
    public void Percent_become_volts_behind_the_amplifier_and_reference_and_gain_go_with_them(int lease, double percent, string bytes)
    {
        using OutputChips rig = QuadRig();
        rig.Poll(0);
        rig.Put(lease, percent, 0);
        rig.Bytes.Clear();
        rig.Poll(11);
        Assert.Contains(bytes, rig.Bytes);
        Assert.Equal(percent, rig.House.Asked(lease), 0.1);
    }

    [Fact]
    public void The_first_bytes_are_safe_values_each_read_back_and_the_lasting_memory_is_never_written()
    {
        using OutputChips rig = QuadRig();
        rig.Put(0, 100, 0);
        rig.Poll(0);
        Assert.Equal(["409000", "r24", "449000", "r24"], rig.Bytes);
        for (int t = 1; t < 3000; t++)
        {
            rig.Put(0, t % 100, t);
            rig.Put(1, t * 7 % 100, t);
            rig.Poll(t);
        }

        // Commands 0101 0 and 0101 1 write the lasting memory, 011 is not used, 1xx change reference, gain and power-down of all.
        Assert.All(rig.Bytes.Where(one => one[0] != 'r'), one => Assert.Equal(0b01000, Convert.ToByte(one[..2], 16) >> 3));
        Assert.All(rig.Bytes.Where(one => one[0] != 'r'), one => Assert.Equal(6, one.Length));
    }

    // Reference 2.048 V: 0x80, 2.048 × 5 = 10.24 V as before. The supply of 5 V as reference: 0x00, 5 × 2 = 10 V; 10 V would be 4096, so 4095.
    [Theory]
    [InlineData("2.048 V", 5, 5.0, "4487d0")]
    [InlineData("supply", 5, 2.0, "440800")]
    public void Other_references_have_other_bits(string reference, double supply, double gain, string bytes)
    {
        using var rig = new OutputChips("mcp4728", [.. Quad, ("reference", reference), ("supply_voltage", supply), ("amplifier_gain", gain)], [], Percent("out-c", 0));
        rig.Poll(0);
        rig.Put(0, 50, 0);
        rig.Poll(10);
        Assert.Contains(bytes, rig.Bytes);
        Assert.Equal(5, rig.House.Output(0), 0.01);
    }

    private static readonly (string, object)[] Pulses = [("bus", "/dev/i2c-1"), ("address", "0x40"), ("frequency", 1000)];

    // Data sheet: all outputs off by FD, asleep with stepping 30, prescale FE of 25 MHz / (4096 × 1000) − 1 = 5, push-pull 04, awake 20. Only then counts.
    [Fact]
    public void A_pulse_chip_is_all_off_before_it_is_woken_and_then_gets_its_counts()
    {
        using var rig = new OutputChips("pca9685", Pulses, [], Percent("out-0", 0), Percent("out-15", 1));
        rig.Poll(0);
        string[] begin = ["00", "r1", "01", "r1", "fe", "r1", "fd10", "0030", "fe05", "0104", "0020", "0600000010", "06", "r4", "4200000010", "42", "r4"];
        Assert.Equal(begin, rig.Bytes);
        rig.Bytes.Clear();
        rig.Put(0, 50, 1);
        rig.Put(1, 100, 1);
        rig.Poll(1);
        Assert.Equal(["0600000008", "06", "r4", "4200100000", "42", "r4"], rig.Bytes);
        Assert.Equal((50.0, 100.0), (rig.House.Output(0), rig.House.Output(1)));
    }

    // Through a converter of all of a pulse to 10 V: a 2–10 V drive rests at 2 V, its half is 6 V; a fan at 60 % on 1.8 V at 20 % wants 5.9 V. Told its
    // speed as a pulse it gets 60 %. Counts of 4096, rounded down.
    [Theory]
    [InlineData(OutputKind.Plain, 2, 0, 10, 2, 0, 819)]
    [InlineData(OutputKind.Plain, 2, 0, 10, 2, 50, 2457)]
    [InlineData(OutputKind.Plain, 1.8, 20, 10, 0, 60, 2416)]
    [InlineData(OutputKind.Plain, 1.8, 20, 10, 0, 0, 0)]
    [InlineData(OutputKind.Pwm, 1.8, 20, 10, 0, 60, 2457)]
    public void What_follows_a_voltage_gets_the_share_of_that_voltage(OutputKind kind, double startV, double startPercent, double fullV, double restV, double percent, int counts)
    {
        var line = new VoltageLine(startV, startPercent, fullV, restV);
        PointWiring wiring = Percent("out-0", 0, line) with { Shape = new OutputShape { Kind = kind, Line = line } };
        using var rig = new OutputChips("pca9685", Pulses, [], wiring);
        using var own = new OutputChips("pwm", [("chip", "/sys/class/pwm/pwmchip0")], [("out-0", [("number", 0), ("frequency", 25000)])], wiring);
        foreach (OutputChips one in new[] { rig, own })
        {
            one.Poll(0);
            one.Put(0, percent, 1);
            one.Poll(1);
            Assert.Equal(counts / 40.96, one.House.Output(0), 0.03);
            Assert.Equal(percent, one.House.Asked(0), 0.1);
        }
    }

    [Fact]
    public void At_stop_every_pulse_is_always_off()
    {
        using var rig = new OutputChips("pca9685", Pulses, [], Percent("out-0", 0), Percent("out-3", 1));
        rig.Poll(0);
        rig.Put(0, 70, 1);
        rig.Put(1, 30, 1);
        rig.Poll(1);
        rig.Bytes.Clear();
        Assert.Equal(2, rig.Plan.Workers[0].WriteSafe(2).Written);
        Assert.Equal(["0600000010", "1200000010"], rig.Bytes.Where(one => one.Length == 10));
        Assert.Equal((0.0, 0.0), (rig.House.Output(0), rig.House.Output(1)));
    }

    [Theory]
    [InlineData("inverting", "0114")]
    [InlineData("open-drain", "0100")]
    public void What_is_behind_a_pulse_output_is_set_before_it_wakes(string stage, string bytes)
    {
        using var rig = new OutputChips("pca9685", [.. Pulses, ("stage", stage)], [], Percent("out-0", 0));
        rig.Poll(0);
        Assert.True(rig.Bytes.IndexOf(bytes) is > 0 and var at && at < rig.Bytes.IndexOf("0020"));
    }

    private static readonly (string, object)[] Sixteen = [("bus", "/dev/i2c-1"), ("address", "0x20")];

    private static (string, (string, object)[]) Line(string name, string pin, string active = "low", string pullUp = "no") => (name, [("pin", pin), ("active", active), ("pull_up", pullUp)]);

    // A1 and B2 are relays that switch at low, A7 is a contact with pull-up. Latch first (bits of relays high: A1 = 02, B2 = 04), then pull-ups, polarity,
    // direction last (outputs 0: FD, FB).
    [Fact]
    public void An_expander_has_its_latch_at_safe_before_a_line_becomes_an_output()
    {
        using var rig = new OutputChips("mcp23017", Sixteen, [Line("pump", "A1"), Line("valve", "B2"), Line("door", "A7", pullUp: "yes")], Relay("pump", 0), Relay("valve", 1), Input("door", 0));
        bool drawn = false;
        rig.Before = () => drawn |= rig.House.Output(0) > 0 || rig.House.Output(1) > 0;
        rig.Put(0, 1, 0);
        rig.Poll(0);
        Assert.Equal(["00", "r2", "0c", "r2", "02", "r2", "14", "r2", "140204", "0c8000", "020000", "00fdfb", "140204", "12", "r2", "140204", "12", "r2", "12", "r2"], rig.Bytes);
        Assert.False(drawn);
        rig.Bytes.Clear();
        rig.Put(0, 1, 1);
        rig.Poll(1);
        Assert.Equal("140004", rig.Bytes[0]);
        Assert.Equal((1.0, 0.0), (rig.House.Output(0), rig.House.Output(1)));
    }

    /// <summary>A relay board that a crash left on: one transfer puts all of it off before anything is switched.</summary>
    [Theory]
    [InlineData("mcp23017", "A")]
    [InlineData("pcf8574", "P")]
    public void A_relay_board_that_starts_with_all_on_is_off_before_anything_else(string driver, string port)
    {
        (string, (string, object)[])[] lines = [.. Enumerable.Range(0, 4).Select(i => Line($"r{i}", $"{port}{i}"))];
        using var rig = new OutputChips(driver, Sixteen, driver == "pcf8574" ? [.. lines.Select(one => (one.Item1, one.Item2[..2]))] : lines, [.. Enumerable.Range(0, 4).Select(i => Relay($"r{i}", i))]);
        rig.Poll(0);
        for (int i = 0; i < 4; i++) rig.Put(i, 1, 1);
        rig.Poll(1);
        Assert.Equal(4, Enumerable.Range(0, 4).Sum(rig.House.Output));
        var (inputs, leases) = (new InputImage(0), new OutputLeases(4));
        using HardwarePlan next = HardwarePlan.Build([rig.Settings], [.. Enumerable.Range(0, 4).Select(i => Relay($"r{i}", i))], inputs, leases, rig.Buses);
        for (int i = 0; i < 4; i++) leases.Put(i, new Command(1, default, default, 0), 0, 100);
        List<double> seen = [];
        rig.Before = () => seen.Add(Enumerable.Range(0, 4).Sum(rig.House.Output));
        next.Workers[0].Poll(0);
        seen.Add(Enumerable.Range(0, 4).Sum(rig.House.Output));
        // All on, then all off, and nothing in between: the commands wait for their turn after it.
        Assert.Equal([4.0, 0.0], seen.Distinct());
    }

    // P0 and P1 are relays that switch at low, P7 a contact: a one stays where the contact is, whatever is written.
    [Fact]
    public void An_expander_without_registers_never_pulls_a_contact_low()
    {
        using var rig = new OutputChips("pcf8574", [("bus", "/dev/i2c-1"), ("address", "0x38")], [Plain("opens", "P0"), Plain("shuts", "P1"), Plain("gate", "P7")], Relay("opens", 0), Relay("shuts", 1), Input("gate", 0));
        rig.Poll(0);
        Assert.Equal(["ff", "r1", "ff", "r1", "r1"], rig.Bytes);
        rig.Put(0, 1, 1);
        rig.Poll(1);
        Assert.Equal("fe", rig.Bytes.Last(one => one[0] != 'r'));
        for (int t = 2; t < 60; t++)
        {
            rig.Put(0, t % 2, t);
            rig.Put(1, t / 2 % 2, t);
            rig.House.SetInput(0, t % 3 == 0 ? 1 : 0);
            rig.Poll(t);
        }

        Assert.All(rig.Bytes.Where(one => one[0] != 'r'), one => Assert.Equal(0xFC, Convert.ToByte(one, 16) & 0xFC));
    }

    private static (string, (string, object)[]) Plain(string name, string pin, string active = "low") => (name, [("pin", pin), ("active", active)]);

    /// <summary>A relay drawn by a weak high reads low: no alarm; one that should be off and reads high is one.</summary>
    [Fact]
    public void A_weak_high_that_draws_a_relay_is_no_alarm()
    {
        using var rig = new OutputChips("pcf8574", [("bus", "/dev/i2c-1"), ("address", "0x20")], [Plain("pump", "P3", "high")], Relay("pump", 0));
        rig.Poll(0);
        rig.Put(0, 1, 1);
        rig.Poll(1);
        Assert.Equal((1.0, ""), (rig.House.Output(0), rig.Channel(0).Problem));
    }

    [Fact]
    public void A_contact_that_bounces_counts_when_it_has_stood()
    {
        using var rig = new OutputChips("mcp23017", [.. Sixteen, ("interval", 0.05)], [("door", [("pin", "B0"), ("active", "low"), ("debounce", 0.2)])], Input("door", 0));
        rig.Poll(0);
        Assert.Equal((0.0, Fault.None), (rig.Sample(0).Value, rig.Sample(0).Fault));
        double[] seen = new double[40];
        for (int i = 1; i < 40; i++)
        {
            double t = i * 0.05;
            // Bounces from 0.5 to 0.7 s, then stands.
            rig.House.SetInput(0, t >= 0.7 || (t >= 0.5 && i % 2 == 0) ? 1 : 0);
            rig.Poll(t);
            seen[i] = rig.Sample(0).Value;
            Assert.InRange(rig.Sample(0).TakenAtS, t - 0.051, t);
        }

        Assert.Equal(0, seen[..18].Max());   // up to 0.85 s
        Assert.Equal(1, seen[20..].Min());   // it has stood from 0.7 to 0.9 s, and a look may fall a little later
    }

    [Theory]
    [InlineData("low", false, 1)]
    [InlineData("low", true, 0)]
    [InlineData("high", false, 1)]
    [InlineData("high", true, 0)]
    public void Level_and_sense_of_a_contact_are_two_things(string active, bool inverted, double made)
    {
        using var rig = new OutputChips("mcp23017", Sixteen, [Line("door", "B0", active)], Input("door", 0, inverted));
        rig.House.SetInput(0, inverted ? 0 : 1);   // the contact is made either way
        rig.Poll(0);
        Assert.Equal(made, rig.Sample(0).Value);
    }

    /// <summary>Back after an outage the other relays keep what they stand at until their own turn: none blinks.</summary>
    [Fact]
    public void After_a_short_outage_no_other_relay_moves()
    {
        using var rig = new OutputChips("mcp23017", Sixteen, [Line("a", "A0"), Line("b", "A1")], Relay("a", 0), Relay("b", 1));
        rig.Poll(0);
        rig.Put(0, 1, 1);
        rig.Put(1, 1, 1);
        rig.Poll(1);
        rig.Fault(BusFault.NoAcknowledge);
        rig.Put(0, 0, 2);
        rig.Run(2, 6);
        Assert.Equal(DeviceState.NotAnswering, rig.Device.Health.State);
        rig.Fault(BusFault.None);
        bool blinked = false;
        rig.Before = () => blinked |= rig.House.Output(1) < 1;
        rig.Run(6.5, 12);
        Assert.Equal((0.0, 1.0, false), (rig.House.Output(0), rig.House.Output(1), blinked));
    }
}

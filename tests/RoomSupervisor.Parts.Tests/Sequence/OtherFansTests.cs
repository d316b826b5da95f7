// Section 4, rules 3 and 5, for fans and valves that are not a voltage: stepped fans, fans of one speed, coil valves that only open or shut.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class OtherFansTests
{
    private static readonly double[] Steps = [35, 60, 100];

    private static Rig Room(string signal, (string Key, double Value)[]? household = null, (string Key, double Value)[]? quiet = null, ActuatorKind? valve = null, double output = 2400)
    {
        var kind = BenchHouse.Kind(output);
        CoilKind.Parameters.Single(parameter => parameter.Key == "fan_signal").SetText!(kind, signal);
        TestHouse.Fill(kind, CoilKind.StepParameters, ("step_1", Steps[0]), ("step_2", Steps[1]), ("step_3", Steps[2]));
        var coil = new CoilPart("coil", "coil-loop", kind, new CoilSettings()) { Actuator = valve };
        var room = BenchHouse.Room("room", [coil], [], household: household);
        TestHouse.Fill(room.Household, HouseholdRoom.QuietParameters, quiet ?? []);
        return new Rig(BenchHouse.Build([room], [BenchHouse.Coils()]));
    }

    private static Rig PulledDown(Rig rig)
    {
        rig.Air(27, 45);
        rig.RunUntil(r => r.Stage == Stage.PullDown, 300);
        return rig;
    }

    private static List<double> Speeds(Rig rig)
    {
        var speeds = new List<double>();
        rig.EachScan += r =>
        {
            if (speeds.Count == 0 || speeds[^1] != r.Fan.Value)
                speeds.Add(r.Fan.Value);
        };
        return speeds;
    }

    [Fact]
    public void Rule_4_5_a_stepped_fan_goes_up_by_its_steps_and_the_command_is_the_step_itself()
    {
        var rig = Room(CoilKind.Steps);
        var speeds = Speeds(rig);
        PulledDown(rig).Run(120);
        Assert.Equal([0, 35, 60, 100], speeds);
    }

    /// <summary>The limit is 50 %, so the fan turns at 35 %: what binds is the step, and behind it the limit.</summary>
    [Fact]
    public void Rule_4_5_the_step_is_at_or_under_the_lowest_limit_and_says_whose()
    {
        var rig = PulledDown(Room(CoilKind.Steps, household: [("fan_at_most", 50)]));
        rig.Run(240);
        Assert.Equal(35, rig.Fan.Value);
        Assert.Equal("step of 35 % for 50 %; household's limit would allow 50 %", CauseWords.Sentence(rig.Fan, UnitSystem.Metric));
        rig.Household(("fan_at_most", 60));
        rig.Run(60);
        Assert.Equal(60, rig.Fan.Value);
    }

    [Fact]
    public void Rule_4_5_a_lower_limit_is_met_at_once_over_two_steps()
    {
        var rig = PulledDown(Room(CoilKind.Steps));
        rig.RunUntil(r => r.Fan.Value >= 100, 400);
        rig.Household(("fan_at_most", 36));
        rig.Scan();
        Assert.Equal(35, rig.Fan.Value);
    }

    [Fact]
    public void Rule_4_5_a_limit_under_the_first_step_means_off()
    {
        var rig = PulledDown(Room(CoilKind.Steps));
        rig.RunUntil(r => r.Fan.Value >= 100, 400);
        rig.Household(("fan_at_most", 34));
        rig.Scan();
        Assert.Equal(0, rig.Fan.Value);
        Assert.Equal(Cause.LimitUnderStartSpeed, rig.Fan.Binding.Cause);
    }

    /// <summary>With a rate of 300 dB/min a wish crosses a step each scan: the relays still get their two seconds, and no step is left out.</summary>
    [Fact]
    public void Rule_4_5_between_two_steps_lie_at_least_two_seconds()
    {
        var rig = Room(CoilKind.Steps, household: []);
        rig = new Rig(rig.House);
        TestHouse.Fill(rig.House.Settings, SequenceSettings.Parameters, ("rise", 300), ("step_wait", 10));
        var changes = new List<double>();
        var before = 0.0;
        rig.EachScan = r =>
        {
            if (r.Fan.Value != before)
                changes.Add(r.NowS);
            before = r.Fan.Value;
        };
        PulledDown(rig).Run(60);
        Assert.Equal(3, changes.Count);
        Assert.True(changes[1] - changes[0] >= 10 && changes[2] - changes[1] >= 10, string.Join(", ", changes));
    }

    /// <summary>The wish wanders by a tenth of full speed around the middle between two steps for an hour, several times a minute.</summary>
    [Fact]
    public void Rule_4_5_a_wish_that_wanders_between_two_steps_changes_nothing()
    {
        var rig = Room(CoilKind.Steps);
        rig.Set("room.air.temperature", 24.2);
        rig.RunUntil(r => r.Stage == Stage.CoilHold && r.Fan.Value > 0, 1200);
        var wishes = new List<double>();
        var speeds = new List<double>();
        rig.EachScan = r =>
        {
            // The integral is held: what the wish does is what the air does.
            r.Memory.Rooms[0].IntegralW = 1180;
            r.Set("room.air.temperature", 24 + 0.05 * Math.Sin(r.NowS / 8));
            wishes.Add(r.Memory.Coils[0].SlewPercent);
            speeds.Add(r.Fan.Value);
        };
        rig.Run(3600);
        Assert.InRange(wishes.Skip(600).Min(), 38.1, 46);
        Assert.InRange(wishes.Skip(600).Max(), 49, 56.9);
        Assert.Single(speeds.Skip(600).Distinct());
    }

    [Fact]
    public void A_step_with_a_stepped_fan_or_a_valve_that_only_opens_allocates_nothing()
    {
        foreach (var round in new[] { "for the compiler", "measured" })
        {
            foreach (var rig in new[] { Room(CoilKind.Steps, quiet: [("from", 13 * 60), ("to", 14 * 60)]), Room(CoilKind.Voltage, valve: ActuatorKind.OnOff()) })
            {
                PulledDown(rig).Run(300);
                rig.Set("room.air.temperature", 24);
                rig.Run(5400);
                if (round == "measured")
                    Assert.Equal(0, rig.AllocatedInSteps);
                Assert.Contains(Stage.CoilHold, rig.StagesEntered());
            }
        }
    }

    /// <summary>What the sequence commands is what the relays do: the driver's own choice of a step finds the same one.</summary>
    [Fact]
    public void Rule_4_5_the_relays_agree_with_the_step_that_was_decided()
    {
        var rig = Room(CoilKind.Steps);
        var relays = new SpeedSteps(Steps, 2);
        var others = 0;
        rig.EachScan = r =>
        {
            var step = relays.Step(r.Fan.Value, r.NowS);
            if (step != 0)
                Assert.Equal(r.Fan.Value, Steps[step - 1]);
            else if (r.Fan.Value > 0)
                others++;
        };
        PulledDown(rig).Run(300);
        Assert.InRange(others, 1, 9);   // the pauses between steps
    }

    [Theory]
    [InlineData(99, 0)]
    [InlineData(100, 100)]
    public void Rule_4_5_a_fan_of_one_speed_runs_only_when_every_limit_allows_full_speed(double limit, double speed)
    {
        var rig = Room(CoilKind.OnOff, household: [("fan_at_most", limit)]);
        rig.Air(27, 45);
        rig.Run(600);
        Assert.Equal(speed, rig.Fan.Value);
    }

    /// <summary>47 dB at full speed: a limit of 46 dB is 95 % and no fan of one speed meets it, not even for a share of the time.</summary>
    [Fact]
    public void Rule_4_5_a_noise_limit_under_full_speed_keeps_a_fan_of_one_speed_off_for_good()
    {
        var rig = Room(CoilKind.OnOff, household: [("noise_at_most", 46)]);
        rig.Air(27, 45);
        rig.EachScan = r => Assert.Equal(0, r.Fan.Value);
        rig.Run(1200);
        Assert.Equal(Cause.LimitUnderStartSpeed, rig.Fan.RunnerUp.Cause);
    }

    [Fact]
    public void Rule_4_5_quiet_hours_stop_a_fan_of_one_speed_at_their_minute()
    {
        var rig = PulledDown(Room(CoilKind.OnOff, quiet: [("from", 22 * 60 + 30), ("to", 7 * 60), ("fan_at_most", 50)]));
        rig.Local = new DateTime(2026, 7, 14, 22, 29, 0, DateTimeKind.Unspecified);
        rig.Run(59);
        Assert.Equal(100, rig.Fan.Value);
        rig.Run(1);
        Assert.Equal(0, rig.Fan.Value);
    }

    /// <summary>Its relay has no half: a value under 100 % is off, not on for half of the time, which would be as loud as full speed.</summary>
    [Theory]
    [InlineData(100, 1)]
    [InlineData(99, 0)]
    [InlineData(50, 0)]
    [InlineData(0, 0)]
    public void Rule_4_5_the_relay_of_a_fan_of_one_speed_is_never_switched_by_shares_of_time(double percent, double relay)
    {
        var kind = BenchHouse.Kind();
        CoilKind.Parameters.Single(parameter => parameter.Key == "fan_signal").SetText!(kind, CoilKind.OnOff);
        var shape = new OutputShape { Kind = OutputKind.OnOff, OnlyWhole = true, CycleS = 60 };
        PointWiring[] wiring = [new("room.coil.fan", true, 0, Quantity.Percent, "relays", "relay_1", false, VoltageLine.ZeroToTen, 0, new Mark("site.yaml", 1, 1)) { Shape = shape }];
        var leases = new OutputLeases(1);
        var stage = new OutputStage(wiring, leases);
        for (var s = 0; s < 300; s++)
        {
            stage.Put([new Command(percent, default, default, 0)], s, 10);
            Assert.Equal(relay, leases.At(0, s, 0).Value);
        }
    }

    /// <summary>
    /// A coil valve that only opens or shuts would stand shut for minutes under a running fan, and the wet coil would give its water back. So coil and fan run
    /// or rest together, no more than six times an hour.
    /// </summary>
    [Fact]
    public void Rule_4_3_a_coil_whose_valve_cannot_throttle_runs_or_rests_and_never_with_its_valve_shut()
    {
        var rig = Room(CoilKind.Voltage, valve: ActuatorKind.OnOff());
        var temperature = 24.2;
        var starts = new List<double>();
        var before = 0.0;
        rig.EachScan = r =>
        {
            // Air of 360 kJ/K and walls of 300 W/K at 25.2 °C: 360 W to carry, of a coil that gives 700 W at its slowest.
            var coil = r.CoilValve.Value > 0 ? 2400 * Math.Pow(r.Fan.Value / 100, 0.7) * (temperature - 7) / 20 : 0;
            temperature += (300 * (25.2 - temperature) - coil) / 360e3;
            r.Set("room.air.temperature", temperature);
            Assert.True(r.CoilValve.Value is 0 or 100);
            if (r.CoilValve.Value <= 0)
                Assert.True(r.Memory.Coils[0].ValveShutForS <= 31 || r.Fan.Value == 0, $"fan {r.Fan.Value} %");
            if (r.Fan.Value > 0 && before <= 0)
                starts.Add(r.NowS);
            before = r.Fan.Value;
        };
        rig.Run(6 * 3600);
        Assert.InRange(starts.Count, 6, 12);
        Assert.InRange(temperature, 23.4, 24.6);
        Assert.InRange(rig.Room.AudibleChanges, 3, 6);
    }

    /// <summary>
    /// One digit of a sensor that tells tenths every five seconds is worth more watts than a coil at its slowest gives. So a coil that holds a room of little load
    /// runs for five minutes and rests for fifteen at least, so that nobody hears it more than six times an hour; a room that grows warm meanwhile does not wait.
    /// </summary>
    [Fact]
    public void Rule_2_3_a_coil_does_not_start_and_stop_with_the_last_digit_of_a_sensor()
    {
        var rig = Room(CoilKind.Voltage);
        var temperature = 24.3;
        var changes = new List<double>();
        var before = 0.0;
        var wallsC = 24.5;
        rig.EachScan = r =>
        {
            // Air of 360 kJ/K and walls of 120 W/K: 60 W to carry, of a coil that gives 690 W at its slowest.
            var valve = r.CoilValve.Value;
            var throttled = valve <= 0 ? 0 : Math.Max(0, 1 + Math.Log(valve / 100) / 5.3);
            temperature += (120 * (wallsC - temperature) - 2400 * throttled * Math.Pow(r.Fan.Value / 100, 0.7) * (temperature - 7) / 20) / 360e3;
            if ((int)r.NowS % 5 == 0)
                r.Set("room.air.temperature", Math.Round(temperature, 1));
            if (r.Fan.Value > 0 != before > 0)
                changes.Add(r.NowS);
            before = r.Fan.Value;
        };
        rig.Run(6 * 3600);
        // It stops sooner only where it has cooled the bare air of this room by three tenths too much.
        var rests = changes.Zip(changes.Skip(1), (one, next) => next - one).Where((_, i) => i % 2 == 1).ToList();
        Assert.True(changes.Count >= 4, $"{changes.Count} starts and stops: it never rested");
        Assert.All(rests, s => Assert.InRange(s, 895, double.PositiveInfinity));
        Assert.InRange(changes.Count, 4, 6 * 6);
        Assert.InRange(temperature, 23.5, 24.5);

        // Somebody opens the oven: no rest is waited for.
        while (rig.Fan.Value > 0)
            rig.Run(1);
        (temperature, wallsC) = (24.6, 30);
        var from = rig.NowS;
        while (rig.Fan.Value <= 0)
            rig.Run(1);
        Assert.InRange(rig.NowS - from, 0, 200);
    }

    /// <summary>Air that swings by two tenths either way each minute asks for nothing every other minute and for a good deal in the mean: the coil runs on.</summary>
    [Fact]
    public void Rule_2_3_a_coil_goes_by_the_mean_of_minutes_of_what_is_asked()
    {
        var rig = Room(CoilKind.Voltage);
        rig.Set("room.air.temperature", 24.4);
        rig.RunUntil(r => r.Stage == Stage.CoilHold && r.Fan.Value > 0, 1800);
        rig.EachScan = r => r.Set("room.air.temperature", (int)r.NowS % 120 < 60 ? 24.2 : 23.8);
        var (runs, idle) = (0, 0);
        for (var s = 0; s < 2400; s++)
        {
            rig.Run(1);
            runs += rig.Fan.Value > 0 ? 1 : 0;
            idle += rig.Memory.Rooms[0].DemandW <= 0 ? 1 : 0;
        }
        Assert.Equal(2400, runs);
        Assert.True(idle > 300, $"{idle} s with nothing asked: the air does not swing enough to tell");
    }
}

// Section 9, rule 1: every command carries the reason that bound it and the one that would bind next, in words that give the price. Houses wander through all
// stages; the sentences are pinned as people read them.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class ReasonTests
{
    /// <summary>One room with coil and ceiling; two rooms with coils of two and four pipes, a floor, a coil for both: every output a house may have.</summary>
    private static House Of(string name) => name switch
    {
        "ceiling and coil" => TestHouse.OneRoom(household: [("fan_at_most", 70)], quiet: [("from", 13 * 60), ("to", 14 * 60)], coil: [("draught_fan_at_most", 60)], wired: ["site.health.ok", "coil-loop.pump.speed", "coil-loop.standby_pump.run"]),
        "four pipes" => BenchHouse.Build(
            [BenchHouse.Room("room", [BenchHouse.Coil(heating: "hot-loop")], [])], [BenchHouse.Coils(), BenchHouse.Coils("hot-loop", Seasons.Heating)], SourceType.Chiller, second: SourceType.Boiler),
        "two pipes" => BenchHouse.Build(
            [BenchHouse.Room("room", [BenchHouse.Coil()], [BenchHouse.Surface("floor", "floor-loop")]), BenchHouse.Room("office", [], [BenchHouse.Surface("ceiling", "floor-loop")])],
            [BenchHouse.Coils(seasons: Seasons.Both), BenchHouse.Surfaces("floor-loop", Seasons.Both)], SourceType.HeatPump,
            shared: [new SharedCoilPart("loft-coil", ["room", "office"], BenchHouse.Coil())], wired: ["source.call.cooling", "source.call.set_point", "source.change_over.valve"]),
        _ => throw new ArgumentOutOfRangeException(nameof(name)),
    };

    private static void Wander(House house, int seed, int scans, Action<Rig> look)
    {
        var random = new Random(seed);
        var rig = new Rig(house);
        double temperature = 25, humidity = 50, water = 12;
        for (var i = 0; i < scans; i++)
        {
            var season = i / 6000 % 2 == 0 ? 25 : 20;
            temperature = Math.Clamp(temperature + (random.NextDouble() - 0.5) * 0.1 + (i % 2400 < 1200 ? 0.003 : -0.003) + 0.0005 * (season - temperature), 15, 30);
            humidity = Math.Clamp(humidity + (random.NextDouble() - 0.5) * 0.6, 35, 75);
            water += ((rig.Image.Sources[0].Mode == SourceMode.Heating ? 38 : i % 5000 < 400 ? 20 : 9) - water) * 0.01;
            foreach (var (point, index) in house.InputTable.All.Select((point, index) => (point, index)))
            {
                var kind = house.Inputs[index].Kind;
                if (kind == InputKind.RoomAirTemperature)
                    rig.Set(point.Id, temperature);
                else if (kind == InputKind.RoomHumidity)
                    rig.Set(point.Id, humidity);
                else if (kind == InputKind.WaterTemperature)
                    rig.Set(point.Id, house.Loops.Any(loop => loop.Heats && !loop.Cools && loop.Supply == index) ? 40 : water + (point.Id.Contains("return", StringComparison.Ordinal) ? 3 : 0));
            }
            rig.Set("outdoor.air.temperature", season == 25 ? 28 : 5);
            rig.Set("room.opening.open", i % 2400 is >= 2000 and < 2150 ? 1 : 0);
            if (house.InputTable.IndexOf("room.coil.drip_tray_full") is >= 0)
                rig.Set("room.coil.drip_tray_full", i % 7000 is >= 3000 and < 3200 ? 1 : 0);
            if (i % 9000 is >= 2500 and < 2700)
                rig.Silence("room.air.temperature", Fault.Crc);
            rig.Scan();
            look(rig);
        }
    }

    [Theory]
    [InlineData("ceiling and coil")]
    [InlineData("four pipes")]
    [InlineData("two pipes")]
    public void Rule_9_1_no_command_is_without_its_reason_and_what_would_bind_next_is_in_the_command_s_unit(string name)
    {
        var house = Of(name);
        var stages = new HashSet<Stage>();
        var causes = new HashSet<Cause>();
        Wander(house, 5, 30_000, rig =>
        {
            stages.Add(rig.Stage);
            for (var i = 0; i < house.OutputTable.Count; i++)
            {
                var command = rig.Image.Commands[i];
                causes.Add(command.Binding.Cause);
                Assert.True(command.Binding.Cause != Cause.None, $"{house.OutputTable[i].Id} at {command.Value} without a reason, {Names.Of(rig.Stage)}");
                Assert.True(Said(command).Length > 3);
                var told = CauseWords.Of(command.Binding.Cause).Text.Contains('{', StringComparison.Ordinal);
                Assert.True(!told || command.Binding is not { A: 0, B: 0, C: 0 }, $"{house.OutputTable[i].Id} tells figures that nobody has put in: {Said(command)}");
                Next(house, i, command);
            }
        });
        var all = name == "four pipes"
            ? new[] { Stage.Off, Stage.Satisfied, Stage.PullDown, Stage.WarmUp, Stage.EasingOff, Stage.CoilHold, Stage.Opening }
            : [Stage.Off, Stage.Satisfied, Stage.PullDown, Stage.EasingOff, Stage.CoilHelps, Stage.RadiantHold, Stage.Opening];
        Assert.True(stages.IsSupersetOf(all), $"only {string.Join(", ", stages)}");
        Assert.True(causes.Count > 20, $"{causes.Count} reasons");
    }

    /// <summary>What would bind next would allow or ask for a value of this output.</summary>
    private static void Next(House house, int output, in Command command)
    {
        var point = house.OutputTable[output];
        var next = command.RunnerUp;
        if (next.Cause == Cause.None || next.A == 0)
            return;
        Assert.True(
            CauseWords.Of(next.Cause).A == point.Quantity,
            $"{point.Id}: {CauseWords.Name(command.Binding.Cause)}, then {CauseWords.Name(next.Cause)} with {next.A}");
        if (point.Quantity == Quantity.Percent)
            Assert.InRange(next.A, 0, 100);
    }

    [Fact]
    public void Rule_9_1_a_command_at_a_limit_says_the_next_limit_or_the_wish_behind_it()
    {
        Wander(Of("ceiling and coil"), 6, 20_000, rig =>
        {
            var fan = rig.Fan;
            if (fan.Binding.Cause is Cause.HouseholdLimit or Cause.QuietHours or Cause.QuietHoursComing or Cause.DraughtLimit or Cause.RisingSlowly)
                Assert.True(fan.RunnerUp.Cause != Cause.None && fan.RunnerUp.A >= fan.Value - 1e-4, $"{CauseWords.Sentence(fan, UnitSystem.Metric)} at {fan.Value}");
            if (rig.Guard == GuardLevel.Shut && rig.Memory.Circuits[0].AskedW > 0 && fan.Binding.Cause != Cause.StartingUp && rig.Ceiling.Value <= 0 && rig.Ceiling.Binding.Cause is Cause.WaterTooCold or Cause.WaterFarTooCold)
                Assert.Equal(Cause.SurfaceCarries, rig.Ceiling.RunnerUp.Cause);
        });
    }

    private static string Said(in Command command) => CauseWords.Sentence(command, UnitSystem.Metric);

    private static Command Of(double value, Reason binding, Reason next = default) => new(value, binding, next, 0);

    public static TheoryData<Command, string> Sentences { get; } = new()
    {
        { Of(35, Reason.Of(Cause.HouseholdLimit, 35), Reason.Of(Cause.DraughtLimit, 60)), "household's limit 35 %; draught would allow 60 %" },
        { Of(35, Reason.Of(Cause.HouseholdLimit, 35), Reason.Of(Cause.CoilCarries, 48, 900, 900)), "household's limit 35 %; the load asks for 48 % (900 W)" },
        { Of(50, Reason.Of(Cause.NoiseLimit, 50.1, 32), Reason.Of(Cause.PullDown, 100, 2.5)), "noise limit 32 dB = 50 %; pull-down would use 100 %" },
        { Of(62, Reason.Of(Cause.QuietHoursComing, 62, 22.5 * 60, 25), Reason.Of(Cause.NoiseLimit, 70, 39)), "quiet hours from 22:30 on allow 25 %: at most 62 % by now; the noise limit would allow 70 %" },
        { Of(0, Reason.Of(Cause.LimitUnderStartSpeed, 15, 20), Reason.Of(Cause.QuietHours, 15)), "off: the limit 15 % is under the fan's slowest speed 20 %; quiet hours would allow 15 %" },
        { Of(0, new Reason(Cause.Satisfied), Reason.Of(Cause.LimitUnderStartSpeed, 15, 20)), "nothing to do; a limit of 15 %, under its slowest speed 20 %, would keep it off" },
        { Of(20, Reason.Of(Cause.StartSpeed, 20), Reason.Of(Cause.CoilCarries, 12, 400, 700)), "the fan's slowest speed 20 %; the load asks for 12 % (400 W)" },
        { Of(35, Reason.Of(Cause.NearestStep, 35, 45), Reason.Of(Cause.CoilCarries, 45, 1300, 1300)), "step of 35 % for 45 %; the load asks for 45 % (1300 W)" },
        { Of(31, Reason.Of(Cause.RisingSlowly, 31, 20), Reason.Of(Cause.PullDown, 100, 2)), "getting louder at 20 dB/min at most; pull-down would use 100 %" },
        { Of(0, Reason.Of(Cause.NoColdBlow, 0, 22, 26.5), Reason.Of(Cause.WarmUp, 100, 2)), "waits for water of 26.5 °C to blow with, now 22 °C; warm-up would use 100 %" },
        { Of(0, Reason.Of(Cause.StartStopWait, 0, 420), Reason.Of(Cause.CoilCarries, 100, 800, 800)), "not again before 7 min: a coil rests a while between runs; the load asks for 100 % (800 W)" },
        { Of(0, Reason.Of(Cause.WaterTooCold, 18, 18.9, 17.9), Reason.Of(Cause.SurfaceCarries, 70, 420, 600)), "water 18 °C, needs 18.9 °C (air would wet it at 17.9 °C; 1 K kept); the room asks for 70 % (420 W)" },
        { Of(0, Reason.Of(Cause.WaterFarTooCold, 16.5, 18.9, 17.9), Reason.Of(Cause.SurfaceCarries, 70, 420, 600)), "water 16.5 °C is under the dew point 17.9 °C (worst case), needs 18.9 °C: 1 K kept; the room asks for 70 % (420 W)" },
        { Of(0, Reason.Of(Cause.MinimumOff, 240)), "minimum rest of the compressor, 4 min more" },
    };

    [Theory]
    [MemberData(nameof(Sentences))]
    public void Rule_9_1_a_reason_gives_the_price(Command command, string sentence) => Assert.Equal(sentence, Said(command));

    [Fact]
    public void Rule_9_1_the_ceiling_that_the_guard_shuts_says_what_its_water_needs_what_is_kept_and_what_the_room_goes_without()
    {
        var rig = new Rig();
        rig.Air(24.4, 62);
        rig.Set("ceiling-loop.supply.temperature", 20);
        rig.RunUntil(r => r.Ceiling.Value > 0, 900);
        rig.Set("ceiling-loop.supply.temperature", 17.6);
        rig.RunUntil(r => r.Guard == GuardLevel.Shut, 120);
        Assert.Matches(@"^water 17\.\d °C, needs 18\.\d °C \(air would wet it at 17\.\d °C; 1 K kept\); the room asks for \d+ % \(\d+ W\)$", Said(rig.Ceiling));
    }

    [Fact]
    public void Rule_9_1_a_fan_off_for_its_limit_in_a_room_that_its_surface_holds_says_so_behind_it()
    {
        var rig = new Rig(TestHouse.OneRoom(household: [("fan_at_most", 15)]));
        rig.Air(24.4, 45);
        rig.Run(600);
        Assert.Equal(Stage.RadiantHold, rig.Stage);
        Assert.Equal("the surface carries the room alone; a limit of 15 %, under its slowest speed 20 %, would keep it off", Said(rig.Fan));
    }
}

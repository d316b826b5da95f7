// Section 7, rule 5: the source of a house with a buffer is called by the buffer, against a buffer that does nothing but balance heat: ΔT = (P − load)·t/(V·4,187 J/(l·K)).
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class BufferTests
{
    private const double MachineW = 3000;

    /// <summary>A mixed buffer of so many litres that a machine cools with 3 kW while it is called and rooms warm with a load.</summary>
    private static Rig Closed(double litres, double loadW, List<double> buffer)
    {
        var rig = new SourceHouse { BufferL = litres, MinimumOutputW = MachineW }.Rig();
        var water = 14.0;
        rig.Air(24.5, 45);
        rig.EachScan = r =>
        {
            water += (loadW - (r.NowS > 0 && r.Called() ? MachineW : 0)) / (litres * 4187);
            buffer.Add(water);
            r.Set("buffer.top.temperature", water);
            r.Set("buffer.bottom.temperature", water);
        };
        return rig;
    }

    /// <summary>The ninety litres of rule 7.2 in motion: with half a kilowatt of load 3 kW need ten minutes through 4 K, and the rest takes fifty.</summary>
    [Theory]
    [InlineData(90)]       // just its shortest run
    [InlineData(180)]      // twice: it is the buffer that ends it
    public void Rule_7_5_ninety_litres_swing_four_kelvins_and_let_the_machine_run_ten_minutes(double litres)
    {
        var buffer = new List<double>();
        var rig = Closed(litres, 500, buffer);
        rig.IsAlive = true;
        rig.RunUntil(r => r.Called(), 1500);
        rig.Run(4 * 3600);                                     // requests have moved the wanted water as far as it goes
        rig.RunUntil(r => !r.Called(), 3600);
        rig.RunUntil(r => r.Called(), 7200);
        var began = (rig.NowS, Water: buffer[^1]);
        rig.RunUntil(r => !r.Called(), 3600);
        var ran = (rig.NowS, Water: buffer[^1]);
        rig.RunUntil(r => r.Called(), 7200);
        Assert.Equal(4, began.Water - ran.Water, 0.15);
        Assert.Equal(603 * litres / 90, ran.NowS - began.NowS, 25.0);        // 90 l · 4,187 · 4 K / 2,500 W
        Assert.Equal(3015 * litres / 90, rig.NowS - ran.NowS, 100.0);        // 90 l · 4,187 · 4 K / 500 W
    }

    [Fact]
    public void Rule_7_5_the_machine_is_asked_for_water_that_fills_the_buffer_and_never_under_five_degrees()
    {
        var rig = Closed(200, 1200, []);
        rig.RunUntil(r => r.Called(), 1500);
        var wanted = rig.Memory.Sources[0].WantedC;
        Assert.InRange(wanted, 7, 12);
        Assert.Equal(Math.Max(5, Math.Max(7, wanted - 2) - 2), rig.Output("source.call.set_point").Value, 6);
        rig.Air(28, 45);
        rig.RunUntil(r => r.Stage == Stage.PullDown, 300);
        rig.Run(10);
        Assert.Equal(5, rig.Output("source.call.set_point").Value, 6);
    }

    [Fact]
    public void Rule_7_5_a_warm_buffer_calls_nothing_while_nobody_asks()
    {
        var rig = new SourceHouse { BufferL = 200 }.Rig();
        rig.Air(23, 45);
        rig.Set("buffer.top.temperature", 25);
        rig.Set("buffer.bottom.temperature", 25);
        rig.Run(3600);
        Assert.Equal((false, Cause.NobodyAsks), (rig.Called(), rig.CallReason().Cause));
    }

    [Fact]
    public void Rule_7_5_a_cold_buffer_carries_a_room_and_the_reason_says_until_when()
    {
        var rig = new SourceHouse { BufferL = 200 }.Rig();
        rig.Air(24.5, 45);
        rig.Set("buffer.top.temperature", 9);
        rig.Set("buffer.bottom.temperature", 8);
        rig.RunUntil(r => r.CallReason().Cause == Cause.BufferCarries, 1500);
        Assert.Equal(8, rig.CallReason().A, 3);
        var weak = rig.CallReason().B;
        Assert.False(rig.Called());
        rig.Run(300);
        weak = rig.CallReason().B;
        rig.Set("buffer.bottom.temperature", weak + 0.3);
        rig.RunUntil(r => r.Called(), 120);
    }

    [Fact]
    public void Rule_7_5_a_buffer_that_seems_never_to_empty_is_charged_after_four_hours()
    {
        var rig = new SourceHouse { BufferL = 200 }.Rig();
        rig.Air(24.5, 45);
        rig.Set("buffer.top.temperature", 9);
        rig.Set("buffer.bottom.temperature", 8);               // a sensor that has slipped out of its pocket
        rig.RunUntil(r => r.CallReason().Cause == Cause.BufferCarries, 1500);
        var told = rig.CallReason().C;
        Assert.InRange(told, 14000, 14400);
        Assert.Equal(told, rig.RunUntil(r => r.Called(), 15000, 5), 30.0);
    }

    [Fact]
    public void Rule_7_5_one_sensor_does_for_both_and_without_any_the_rooms_call()
    {
        var rig = new SourceHouse { BufferL = 200 }.Rig();
        rig.Air(24.5, 45);
        rig.Set("buffer.top.temperature", 8);
        rig.RunUntil(r => r.CallReason().Cause == Cause.BufferCarries, 1500);
        rig.Silence("buffer.top.temperature", Fault.BusError);
        rig.RunUntil(r => r.Called(), 200);
        Assert.Equal(Cause.RoomsAsk, rig.CallReason().Cause);
    }

    [Fact]
    public void Rule_7_5_in_heating_the_top_counts_and_a_loop_without_a_mixing_valve_gets_nothing_hotter_than_it_may()
    {
        var rig = new SourceHouse
        {
            Type = SourceType.HeatPump,
            BufferL = 200,
            Loops = [BenchHouse.Coils(seasons: Seasons.Heating)],
        }.Rig();
        rig.Set("room.air.temperature", 17);
        rig.Set("coil-loop.supply.temperature", 40);
        rig.Set("buffer.top.temperature", 30);
        rig.Set("buffer.bottom.temperature", 46);              // stands on its head: only the top calls
        rig.RunUntil(r => r.Called(), 1500);
        Assert.Equal(Cause.BufferCharges, rig.CallReason().Cause);
        Assert.True(rig.Output("source.call.set_point").Value <= 45, $"{rig.Output("source.call.set_point").Value} °C");
    }

    /// <summary>A machine that does what it is called for, and says so.</summary>
    private static void IsRead(Rig rig) => rig.EachScan = r => r.Set("source.state.running", r.NowS > 0 && r.Called() ? 1 : 0);

    private static void Buffer(Rig rig, double waterC)
    {
        rig.Set("buffer.top.temperature", waterC);
        rig.Set("buffer.bottom.temperature", waterC);
    }

    /// <summary>Full is 7 °C where coils want 7: a machine stopped there would rest ten minutes in the middle of a pull-down. It goes on to the 5 °C it is asked for, which one that adapts its output holds while its water is needed; there it is called off.</summary>
    [Fact]
    public void Rule_7_5_a_full_buffer_does_not_stop_the_machine_in_a_pull_down_before_its_own_set_point()
    {
        var rig = new SourceHouse { BufferL = 200 }.Rig();
        IsRead(rig);
        Buffer(rig, 12);
        rig.Air(30, 45);
        rig.RunUntil(r => r.Called() && r.Stage == Stage.PullDown, 900);
        rig.Run(900);                                          // past its shortest run
        Buffer(rig, 5.5);
        rig.Run(600);
        Assert.Equal((Stage.PullDown, true, Cause.BufferCharges), (rig.Stage, rig.Called(), rig.CallReason().Cause));
        Assert.Equal(5, rig.CallReason().B, 3);
        Buffer(rig, 4.9);
        rig.Run(60);
        Assert.Equal((Stage.PullDown, false, Cause.BufferCarries), (rig.Stage, rig.Called(), rig.CallReason().Cause));
        Buffer(rig, 8.9);                                      // on the strong side still: 7 and 2 K
        rig.Run(900);
        Assert.False(rig.Called());
        Buffer(rig, 9.2);
        rig.RunUntil(r => r.Called(), 60);
    }

    /// <summary>Where nobody reads whether it runs, its own thermostat may start it ten times an hour beyond the full buffer; where it is told no set point, nothing but the full buffer keeps its evaporator from freezing.</summary>
    [Theory]
    [InlineData(true, true, true)]
    [InlineData(false, true, false)]
    [InlineData(true, false, false)]
    public void Rule_7_5_only_a_machine_that_is_told_its_set_point_and_read_goes_on_past_a_full_buffer(bool isRead, bool isTold, bool goesOn)
    {
        var rig = new SourceHouse { BufferL = 200, Wired = isTold ? ["source.call.set_point"] : [] }.Rig();
        if (isRead)
            IsRead(rig);
        Buffer(rig, 12);
        rig.Air(30, 45);
        rig.RunUntil(r => r.Called() && r.Stage == Stage.PullDown, 900);
        rig.Run(900);
        Buffer(rig, 6.8);
        rig.Run(60);
        Assert.Equal((Stage.PullDown, goesOn), (rig.Stage, rig.Called()));
    }

    /// <summary>And when the pull-down is over, full is full again for those who still draw.</summary>
    [Fact]
    public void Rule_7_5_once_the_room_is_back_a_full_buffer_stops_the_machine()
    {
        var rig = new SourceHouse { BufferL = 200, Rooms = [SourceHouse.CoilRoom("room"), SourceHouse.CoilRoom("other")] }.Rig();
        IsRead(rig);
        Buffer(rig, 16);
        rig.Air(30, 45);
        rig.RoomAir("other", 24.6);
        rig.RunUntil(r => r.Called() && r.Stage == Stage.PullDown, 900);
        rig.Run(900);
        Buffer(rig, 5.5);
        rig.Run(60);
        Assert.True(rig.Called());
        rig.Air(23, 45);
        rig.RunUntil(r => r.Stage is not Stage.PullDown and not Stage.EasingOff, 1800);
        rig.Run(60);
        Assert.Equal((false, Cause.BufferCarries), (rig.Called(), rig.CallReason().Cause));
    }

    /// <summary>A door that has opened on a hot room while the machine runs, past its shortest run; the buffer is full since.</summary>
    private static Rig OpenedWhileItRuns()
    {
        var rig = new SourceHouse { BufferL = 200 }.Rig();
        IsRead(rig);
        Buffer(rig, 16);
        rig.Air(24.5, 45);
        rig.RunUntil(r => r.Called(), 1500);
        rig.Run(900);
        rig.Set("room.opening.open", 1);
        rig.Air(30, 60);
        rig.RunUntil(r => r.Stage == Stage.Opening, 300);
        Buffer(rig, 6);
        return rig;
    }

    /// <summary>So that the water is cold when the door shuts; for the hour in which the opening asks, and no longer.</summary>
    [Fact]
    public void Rule_7_5_a_machine_that_runs_when_a_door_opens_on_a_hot_room_runs_until_the_door_has_shut()
    {
        var rig = OpenedWhileItRuns();
        rig.Run(1800);
        Assert.True(rig.Called(), CauseWords.Sentence(rig.Output("source.call.enable"), UnitSystem.Metric));
        Assert.Equal(5, rig.Output("source.call.set_point").Value, 6);   // for the 7 °C that the pull-down will want, though nobody draws any now
        rig.RunUntil(r => !r.Called(), 2400, 10);
        Assert.InRange(rig.Memory.Rooms[0].OpenForS, 3600, 3660);
    }

    /// <summary>Nor does the call break off between the opening and the pull-down that follows it.</summary>
    [Fact]
    public void Rule_7_5_a_machine_that_runs_past_a_full_buffer_runs_on_when_the_door_shuts()
    {
        var rig = OpenedWhileItRuns();
        rig.Run(900);
        rig.EachScan += r => Assert.True(r.Called(), CauseWords.Sentence(r.Output("source.call.enable"), UnitSystem.Metric));
        rig.Set("room.opening.open", 0);
        rig.Run(300);
        Assert.Equal(Stage.PullDown, rig.Stage);
    }

    /// <summary>A ceiling on a direct loop gets what the buffer holds: in a pull-down as well no colder than the loop may be.</summary>
    [Fact]
    public void Rule_7_5_a_pull_down_chills_no_surface_without_a_mixing_valve()
    {
        var rig = new SourceHouse
        {
            BufferL = 200,
            Rooms = [BenchHouse.Room("room", [BenchHouse.Coil()], [BenchHouse.Surface("ceiling", "ceiling-loop")])],
            Loops = [BenchHouse.Coils(), new LoopPart("ceiling-loop", LoopType.Direct, LoopServes.Surfaces, new LoopSettings()) { Seasons = Seasons.Cooling }],
        }.Rig();
        IsRead(rig);
        Buffer(rig, 24);
        rig.Air(30, 45);
        rig.RunUntil(r => r.Called() && r.Stage == Stage.PullDown && r.Memory.Loops[1].HasSetPoint, 900);
        rig.Run(900);
        var coldest = rig.Memory.Loops[1].SetPointC;
        Assert.InRange(coldest, 14, 22);
        Buffer(rig, coldest + 0.3);
        rig.Run(300);
        Assert.True(rig.Called());
        Buffer(rig, coldest - 0.2);
        rig.RunUntil(r => !r.Called(), 60);
        Assert.Equal(Stage.PullDown, rig.Stage);
    }

    [Fact]
    public void Rule_7_surplus_power_charges_the_buffer_further_while_somebody_asks_and_cools_nothing_beforehand()
    {
        var rig = new SourceHouse { BufferL = 200 }.Rig();
        rig.Air(23, 45);
        rig.Set("site.surplus.available", 1);
        rig.Set("buffer.top.temperature", 20);
        rig.Set("buffer.bottom.temperature", 20);
        rig.Run(1800);
        Assert.False(rig.Called());                            // nobody asks: nothing is cooled for later
        rig.Air(24.15, 45);
        rig.RunUntil(r => r.CallReason().Cause == Cause.BufferCharges, 1500);
        rig.RunUntil(r => r.Memory.Sources[0].WantedC > 10.8, 1500);
        var with = rig.CallReason().B;
        rig.Set("site.surplus.available", 0);
        rig.Scan();
        Assert.Equal(2, rig.CallReason().B - with, 0.2);
    }
}

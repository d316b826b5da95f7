// Each rival does what its description says, on hand-made moments; all meet the same weather and the same caps. Must never ask for a winner.
using RoomSupervisor.Desk.Compare;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Rehearsal.Measures;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse.Tests.Desk;

public class CompareTests
{
    private readonly RehearsalPlan plan = HouseFromSiteTests.Plan("harbour-flat", "two-summer-days");
    private readonly Memory memory;
    private readonly Reading[] readings;

    public CompareTests()
    {
        memory = new Memory(House);
        readings = new Reading[House.InputTable.Count];
        Array.Fill(readings, Reading.Never);
        for (int i = 0; i < memory.Coils.Length; i++) memory.Coils[i].CapPercent = 60;
        for (int i = 0; i < memory.Circuits.Length; i++) memory.Circuits[i].LowestSafeC = 16;
        Dew(12);
        Supply(18);
    }

    private House House => plan.Files.House;

    private static readonly DateTime Noon = new(2026, 8, 4, 12, 0, 0, DateTimeKind.Unspecified);

    private double SetPoint => Schedule.Now(House.Rooms[0].Household, Noon).CoolAboveC;

    private double Fan => memory.Hands[House.Coils[House.Rooms[0].Coils[0]].Fan].Value;

    private double CoilValve => memory.Hands[House.Coils[House.Rooms[0].Coils[0]].Valve].Value;

    private double Surface => memory.Hands[House.Circuits[House.Rooms[0].Circuits[0]].Valve].Value;

    private void Put(int input, double value) => readings[input] = new Reading(value, 0, Quality.Good, default);

    private void Air(double over)
    {
        for (int i = 0; i < House.Rooms.Length; i++) Put(House.Rooms[i].AirTemperature, Schedule.Now(House.Rooms[i].Household, Noon).CoolAboveC + over);
    }

    private void Dew(double dewC)
    {
        for (int i = 0; i < memory.Rooms.Length; i++) memory.Rooms[i].DewPointC = dewC;
    }

    private void Supply(double supplyC)
    {
        foreach (var loop in House.Loops)
        {
            if (loop.Supply >= 0) Put(loop.Supply, supplyC);
        }
    }

    private void Step(IRoomControl control, int scans = 1)
    {
        for (int i = 0; i < scans; i++) control.Step(new RoomsNow(House, memory, readings, Noon, 1));
    }

    // On over 24.5 °C, off under 23.5 °C for a set point of 24 °C, whatever lies between.
    [Fact]
    public void A_thermostat_runs_its_coil_at_the_cap_within_half_a_kelvin_and_never_a_surface()
    {
        CoilThermostat control = new(House);
        foreach (var (over, runs) in ((double, bool)[])[(0.4, false), (0.6, true), (0, true), (-0.4, true), (-0.6, false), (0.4, false)])
        {
            Air(over);
            Step(control);
            Assert.Equal(runs ? 60 : 0, Fan);
            Assert.Equal(runs ? 100 : 0, CoilValve);
            Assert.Equal(0, Surface);
        }
    }

    [Fact]
    public void A_cut_off_shuts_the_surface_two_kelvin_over_the_dew_point_and_runs_no_fan()
    {
        SurfaceCutOff control = new(House);
        Air(1);
        foreach (var (supply, open) in ((double, bool)[])[(18, true), (14.1, true), (13.9, false), (14.2, false), (14.4, true)])
        {
            Supply(supply);
            Step(control);
            Assert.Equal(open ? 100 : 0, Surface);
            Assert.Equal((0.0, 0.0), (Fan, CoilValve));
        }
    }

    [Fact]
    public void A_cut_off_without_a_dew_point_is_shut()
    {
        SurfaceCutOff control = new(House);
        Air(1);
        Dew(double.NaN);
        Step(control);
        Assert.Equal(0, Surface);
    }

    // Gains of 0.4 and 0.8 a kelvin, 1,000 s: at 0.5 K over for 1 s the parts are 0.2 and 0.4, and grow by as much in 1,000 s.
    [Fact]
    public void Two_loops_move_by_their_own_gains_and_not_by_each_other()
    {
        LoopGains gains = new(0.4, 1000, 0.8, 1000);
        SeparateLoops control = new(House, gains);
        Air(0.5);
        Step(control, 1000);
        double start = House.Coils[House.Rooms[0].Coils[0]].StartSpeedPercent;
        Assert.Equal(start + (60 - start) * 0.4, Fan, 0.5);
        Assert.Equal(80, Surface, 2.0);
        double surface = Surface;
        memory.Coils[House.Rooms[0].Coils[0]].CapPercent = 0;
        Step(control);
        Assert.Equal(0, Fan);
        Assert.Equal(surface, Surface, 0.2);
    }

    [Fact]
    public void No_rival_opens_a_circuit_into_water_that_the_guard_would_shut_it_for()
    {
        Air(1);
        int circuit = House.Rooms[0].Circuits[0];
        memory.Loops[House.Circuits[circuit].Loop].PumpOn = true;
        memory.Circuits[circuit].LowestSafeC = 19;
        Step(new SeparateLoops(House, new LoopGains(1, 1000, 1, 1000)));
        Assert.Equal(0, Surface);
        memory.Circuits[circuit].LowestSafeC = 18;
        Step(new SeparateLoops(House, new LoopGains(1, 1000, 1, 1000)));
        Assert.True(Surface > 50);
    }

    [Fact]
    public void All_meet_the_same_weather_and_none_passes_a_cap()
    {
        RehearsalPlan night = plan with { Seed = 4 };
        LoopGains gains = LoopTuning.Grid[0];
        List<OutdoorRecord> weather = [];
        foreach (var contender in Comparison.Contenders(gains))
        {
            using Rehearsal run = new(night, contender.Make?.Invoke(House));
            while (run.ElapsedS < 14 * 3600) run.Step();
            Assert.Equal(0, run.Recorder.Rooms.Sum(room => room.OverCapMin));
            weather.Add(run.Recorder.Record().Outdoor);
        }

        Assert.Equal("abcde", string.Concat(Comparison.Contenders(gains).Select(one => one.Letter)));
        Assert.All(weather, one => Assert.Equal(weather[0].AirC, one.AirC));
        Assert.All(weather, one => Assert.Equal(weather[0].DewC, one.DewC));
        Assert.True(weather[0].AirC.Length >= 14 * 60);
    }

    // 25 °C at a dew point of 16.7 °C is 60 % (1,901 of 3,169 Pa, ASHRAE tables, from memory); a kelvin over the band for an hour is 1 K·h; 0.5 K under, of which 0.3 K are allowed, 0.2.
    [Fact]
    public void What_is_compared_is_counted_without_anyones_stages()
    {
        ComparedWatch watch = new([0]);
        RoomMoment moment = new() { AirC = 25, CoolAboveC = 24, HeatBelowC = 20, DewC = 16.7, ColdestC = 30, LevelDba = double.NegativeInfinity, Stage = Stage.PullDown };
        for (int i = 1; i <= 3600; i++) watch.Add(0, moment, i, 1);
        for (int i = 3601; i <= 7200; i++) watch.Add(0, moment with { AirC = 23.5, CoilSensibleW = -400 }, i, 1);
        Assert.Equal(1, watch.OutsideKh, 1e-6);
        Assert.Equal(0.2, watch.TooColdKh, 1e-6);
        Assert.InRange(watch.MeanHumidityPercent, 60, 66);
    }

    [Fact]
    public void A_comparison_of_nothing_is_refused_with_the_reason()
    {
        Assert.Contains("no room has both", Comparisons.WhyNot(HouseFromSiteTests.Plan("two-pipe"), 1), StringComparison.Ordinal);
        var winter = HouseFromSiteTests.Plan("ferry-house", "winter");
        Assert.Contains("too cold", Comparisons.WhyNot(winter, 1), StringComparison.Ordinal);
        Assert.Contains("never reported", Comparisons.WhyNot(plan, LoopTuning.FirstSeed), StringComparison.Ordinal);
        Assert.Null(Comparisons.WhyNot(plan, 3));
    }

    [Theory]
    [InlineData(new double[] { 4, 10, 24 }, false, 0)]
    [InlineData(new double[] { 58, 60, 66 }, false, 55)]
    [InlineData(new double[] { 4, 24, 334 }, true, 2)]
    public void An_axis_keeps_all_values_apart_and_on_it(double[] values, bool log, double from)
    {
        TradeAxis axis = TradeAxis.Of(values, 0, 300);
        Assert.Equal(log, axis.IsLog);
        Assert.All(values, value => Assert.InRange(axis.At(value), 0, 300));
        Assert.True(axis.At(values[^1]) - axis.At(values[0]) > 100);
        Assert.InRange(axis.Ticks().First(), from, values[^1]);
        Assert.True(axis.Ticks().Count() is >= 3 and <= 7);
    }

    [Fact]
    public void Cheaper_in_discomfort_or_noise_is_cheaper()
    {
        ComparedMeasures some = new(4, 0, 0, true, 30, 8, 0, 0, 50, 10, 10);
        Assert.Equal(6, LoopTuning.Cost(some), 1e-9);
        Assert.True(LoopTuning.Cost(some with { OutsideKh = 3 }) < LoopTuning.Cost(some));
        Assert.True(LoopTuning.Cost(some with { HeardAnHour = 6 }) < LoopTuning.Cost(some));
    }
}

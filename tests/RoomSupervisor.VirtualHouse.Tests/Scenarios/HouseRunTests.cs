// The whole house under a scenario: in time, over a change of clocks, with faults of the plant, resumed.
// Must never depend on the machine's time zone.
using System.Text;

namespace RoomSupervisor.VirtualHouse.Tests;

public class HouseRunTests
{
    // Eastern time of the United States by rule, so that no time-zone data is needed: second Sunday of March, first Sunday of November.
    private static readonly TimeZoneInfo Eastern = TimeZoneInfo.CreateCustomTimeZone(
        "eastern", TimeSpan.FromHours(-5), "eastern", "eastern", "eastern summer",
        [
            TimeZoneInfo.AdjustmentRule.CreateAdjustmentRule(
                DateTime.MinValue.Date, DateTime.MaxValue.Date, TimeSpan.FromHours(1),
                TimeZoneInfo.TransitionTime.CreateFloatingDateRule(new DateTime(1, 1, 1, 2, 0, 0), 3, 2, DayOfWeek.Sunday),
                TimeZoneInfo.TransitionTime.CreateFloatingDateRule(new DateTime(1, 1, 1, 2, 0, 0), 11, 1, DayOfWeek.Sunday)),
        ]);

    private static HouseRun Make(string text, double step = 1)
    {
        BuildingModel building = new(Samples.SixRooms(), step);
        PlantModel plant = HouseTests.Make(building);
        ScenarioNames names = new([.. building.Plan.Rooms.Select(r => r.Name)], [.. building.Plan.Doors.Select(d => d.Name), .. building.Plan.Openings.Select(o => o.Name)], ["room-0.air.humidity"], plant.Parts());
        ScenarioResult result = ScenarioReader.Read("s.yaml", Encoding.UTF8.GetBytes(text), names);
        Assert.True(result.Scenario is not null, string.Join("\n", result.Problems.Select(p => p.OneLine)));
        return new HouseRun(result.Scenario!, Data.NewYork.Value, building, plant, Eastern);
    }

    private static void Go(HouseRun run, double untilS)
    {
        while (run.Building.StepsTaken * run.Building.StepS < untilS)
        {
            HouseTests.Crude(run.Plant, run.Building);
            Array.Fill(run.Plant.Loops[0].ValveCommand, 1);
            run.Step();
        }
    }

    /// <summary>8 March 2026 in New York: 2:00 becomes 3:00. A window opened at 3:30 on the clock opens 2.5 hours after midnight; the weather goes on hour by hour.</summary>
    [Fact]
    public void A_change_of_clocks_moves_the_household_and_not_the_weather()
    {
        HouseRun run = Make("""
            weather: new-york
            from: 2026-03-08
            happenings:
              window: {what: open, where: back window, at: 03:30, for: 30 min}
            """, 5);
        Assert.Equal(new DateTimeOffset(2026, 3, 8, 5, 0, 0, TimeSpan.Zero), run.Start);
        double weather = Data.NewYork.Value.Hour(run.Now);
        Go(run, 2.5 * 3600 - 10);
        Assert.Equal(0, run.Building.OpeningOpen[1]);
        Data.Near(weather + 2.5, Data.NewYork.Value.Hour(run.Now), 0.01);
        Go(run, 2.5 * 3600 + 10);
        Assert.Equal(1, run.Building.OpeningOpen[1]);
        Data.Near(3.5 * 3600, run.WallSeconds(), 60);
        Go(run, 3 * 3600 + 10);
        Assert.Equal(0, run.Building.OpeningOpen[1]);
    }

    [Fact]
    public void Parts_break_and_are_mended_in_their_time()
    {
        HouseRun run = Make("""
            weather: new-york
            from: 2026-07-12
            faults:
              pump: {what: seized, where: surface-loop.pump, at: 01:00, for: 10 min}
              dust: {what: dusty, where: room-2.coil.fan, at: 01:00, for: 10 min, share: 40 %}
              leak: {what: leaking, where: room-1.coil.valve, at: 01:00, for: 10 min, share: 10 %}
              grid: {what: locked-out, where: source, at: 01:00, for: 10 min}
              dark: {what: power-cut, where: site, at: 02:00, for: 10 min}
            """, 5);
        Go(run, 3600);
        Assert.True(run.Plant.Loops[0].Circuits.TotalKgPerS > 0.05);
        Go(run, 3600 + 120);
        Assert.Equal(0, run.Plant.Loops[0].Circuits.TotalKgPerS);
        Assert.Equal((0.4, 0.1, true), (run.Plant.Fans[2].Dust, run.Plant.Loops[1].Valves[1].ExtraLeakage, run.Plant.Machine.LockedOut));
        Go(run, 3600 + 900);
        Assert.True(run.Plant.Loops[0].Circuits.TotalKgPerS > 0.05);
        Assert.Equal((0, 0, false), (run.Plant.Fans[2].Dust, run.Plant.Loops[1].Valves[1].ExtraLeakage, run.Plant.Machine.LockedOut));
        Go(run, 2 * 3600 + 300);
        Assert.Equal((0, 0, false), (run.Plant.Loops[0].Circuits.TotalKgPerS, run.Plant.PowerW, run.Plant.Machine.IsRunning));
        Go(run, 2 * 3600 + 1200);
        Assert.True(run.Plant.PowerW > 0 && !run.Plant.PowerCut);
    }

    [Fact]
    public void A_part_that_cannot_break_so_is_refused()
    {
        Assert.Contains("cannot be dusty", Assert.Throws<ArgumentException>(() => Make("""
            weather: new-york
            from: 2026-07-12
            faults:
              odd: {what: dusty, where: surface-loop.pump, at: 01:00, for: 10 min, share: 40 %}
            """)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void It_is_resumed_in_the_middle_of_a_fault()
    {
        const string Text = """
            weather: new-york
            from: 2026-07-12
            faults:
              pump: {what: seized, where: surface-loop.pump, at: 00:20, for: 30 min}
            happenings:
              door: {what: open, where: slipway, at: 00:10, for: 15 min}
            """;
        HouseRun whole = Make(Text), resumed = Make(Text);
        Go(whole, 1500);
        double[] state = whole.Save();
        resumed.Restore(state);
        (resumed.Plant.Loops[0].MixingCommand, resumed.Plant.Loops[1].MixingCommand) = (whole.Plant.Loops[0].MixingCommand, whole.Plant.Loops[1].MixingCommand);
        Array.Copy(whole.Plant.FanVolts, resumed.Plant.FanVolts, 6);
        Go(whole, 4000);
        Go(resumed, 4000);
        Assert.Equal(whole.Save(), resumed.Save());
        Assert.Throws<ArgumentException>(() => resumed.Restore([3, 1]));
    }
}

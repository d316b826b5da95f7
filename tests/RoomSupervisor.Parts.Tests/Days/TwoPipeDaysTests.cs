// Two days of six rooms on a reversible heat pump, two mixed loops and a coil loop, with cool mornings and humid afternoons: what section 6 and 7 promise of a whole house. Each line can fail: the mutants that prove
// it are in tools/long ("days").
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Days;

public class TwoPipeDaysTests
{
    private static readonly Lazy<DayRun> Played = new(() => DayRun.Play(DayCase.TwoPipe()));

    private static DayRun Run => Played.Value;

    private static SourceFigures Source => Run.Watch.Sources[0];

    private static RoomFigures Room(string name) => Run.Watch.Rooms[Run.House.Rooms.ToList().FindIndex(room => room.Id == name)];

    private static void Holds(bool isTrue) => Assert.True(isTrue, Run.Told);

    [Fact]
    public void Rule_5_2_no_open_circuit_is_shut_unless_a_door_or_steam_has_come_in_between() => Holds(DayRules.NoFalseTrips(Run));

    [Fact]
    public void Rule_5_nothing_condenses_and_no_film_grows() => Holds(Run.Watch.FilmGPerM2 <= 1 && Run.Watch.CondensingS == 0);

    /// <summary>The buffer swings two to three times an hour, and the loops feel it: two turns for each swing and those of rooms that come and go, twelve in all.</summary>
    [Fact]
    public void Rule_6_1_loops_of_different_dew_points_do_not_drive_each_other()
        => Holds(Run.Watch.PairSwings <= 6 && DayRules.Mixed(Run).All(loop => Run.Watch.SwingsInAnHour(loop) <= 12) && Run.Watch.FlipsInAnHour <= 20);

    [Fact]
    public void Rule_6_3_mixing_valves_travel_less_than_sixty_strokes_a_day() => Holds(DayRules.Travel(Run) <= 60);

    [Fact]
    public void Rule_6_4_no_pump_pushes_against_shut_valves() => Holds(Run.Watch.DeadHeaded == 0);

    [Fact]
    public void Rule_7_1_the_machine_keeps_its_shortest_run_its_rest_and_its_starts()
        => Holds(Source.ShortestRunS >= 600 && Source.ShortestRestS >= 600 && Source.MostStartsInAnHour <= 3 && Source.Starts >= 20);

    /// <summary>In the morning the corner room wants heat and the kitchen, which bakes, cold: who waits is told whose floor is larger and how long it will be at most.</summary>
    [Fact]
    public void Rule_7_3_the_smaller_part_is_told_why_it_waits_and_for_how_long()
    {
        Holds(Source.ChangedOver.Count is >= 2 and <= 6);
        Holds(Room("corner").Told.Any(told => told.Why.Cause == Cause.WaitsForHeat && told.Why.A > told.Why.B && told.Why.B == 14 && told.Why.C is > 0 and <= 21_600));
        Holds(Room("corner").WaitsS >= 3600);
        Holds(Room("kitchen").Told.Any(told => told.Why is { Cause: Cause.TooColdToCool, A: < 16, B: 16 }));   // before breakfast it is the weather that holds it
        Holds(Room("hall").Told.Count == 0 && Room("loft").Told.Count == 0);
    }

    [Fact]
    public void Rule_7_4_the_tank_is_charged_twice_a_day_and_stays_warm() => Holds(Source.Charges.Count == 4 && Source.ColdestTankC >= 42);

    /// <summary>What stands in the pipes has the house's temperature, a kelvin or two over a cool room: that is no slug.</summary>
    [Fact]
    public void Rule_7_4_no_hot_water_reaches_a_surface_that_cools() => Holds(Run.Watch.HottestSlugK <= 2.5);

    /// <summary>A minute at most after a change-over, until the first water has come to the sensor.</summary>
    [Fact]
    public void Rule_7_3_no_fan_blows_the_other_season_s_water_into_a_room() => Holds(Run.Watch.BlownWarmS <= 120 && Run.Watch.HottestCoilK <= 4);

    [Fact]
    public void Rule_8_1_a_memory_saved_half_way_and_taken_up_goes_on_bit_for_bit() => Holds(Run.DifferentAfterSaving == 0);

    /// <summary>Kitchen and corner room wait for the other season and are told so; nobody else may want for anything.</summary>
    [Fact]
    public void No_room_is_starved() => Holds(new[] { "hall", "loft", "library", "bath" }.All(room => Room(room).LastDayK <= 0.7 && Room(room).LongestBeyondS <= 900));
}

// What ours measures of the rooms before a comparison: the same days with a seed that no comparison reports, every room's door or window opened often enough to be measured. Must never look at a run that is reported.
using System.Globalization;
using System.Text;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Compare;

/// <summary>Lives in a house for a while so that its rooms are measured.</summary>
internal static class RoomLearning
{
    /// <summary>Seed of the days lived through before.</summary>
    private const ulong Seed = LoopTuning.FirstSeed + 1;

    /// <summary>Each room's door or window opens so often and for so long; one room after another, so that a room is not pulled down while its neighbour is.</summary>
    private const int FirstHour = 9, LastHour = 21, EveryHours = 3, ForMin = 30, ApartMin = 40;

    /// <summary>What is known of the rooms after it.</summary>
    /// <param name="plan">House, days and weather.</param>
    public static RoomDataMemory[] Of(RehearsalPlan plan)
    {
        var measured = new RoomDataMemory[plan.Files.House.Rooms.Length];
        using var run = new Rehearsal.Rehearsal(plan with { Seed = Seed, Scenario = Doors(plan) });
        while (!run.IsOver)
            run.Step();
        (run.Controller?.Memory.RoomData ?? measured).CopyTo(measured, 0);
        return measured;
    }

    /// <summary>The plan's days in an empty house, with open doors and windows; rooms that have none are not pulled down.</summary>
    internal static Scenario Doors(RehearsalPlan plan)
    {
        var text = new StringBuilder().Append(CultureInfo.InvariantCulture, $"weather: {plan.Scenario.Weather}\nfrom: {DateText.TimeOf(plan.Scenario.FromMinutes):yyyy-MM-dd}\ndays: {plan.Scenario.Days}\nhappenings:\n");
        for (var room = 0; room < plan.Building.OpeningsOf.Length; room++)
        {
            for (var hour = FirstHour; hour <= LastHour && plan.Building.OpeningsOf[room].Length > 0; hour += EveryHours)
            {
                var at = TimeSpan.FromMinutes(60 * hour + ApartMin * (room % 4));
                text.Append(CultureInfo.InvariantCulture, $"  door-{room}-{hour}: {{what: open, where: {plan.Building.Plan.Openings[plan.Building.OpeningsOf[room][0]].Name}, at: \"{at:hh\\:mm}\", for: {ForMin} min}}\n");
            }
        }
        return ScenarioReader.Read("measuring days", Encoding.UTF8.GetBytes(text.ToString()), RehearsalPlan.NamesOf(plan.Files, plan.Building, plan.Plant)).Scenario
            ?? throw new InvalidOperationException("the days of measuring were not understood");
    }

    /// <summary>Takes measured data into a run that begins; null: nothing measured is used in it.</summary>
    public static void Give(Rehearsal.Rehearsal run, RoomDataMemory[]? measured)
    {
        run.UsesRoomData = measured is not null;
        if (run.Controller is not { } controller || measured is null)
            return;
        var house = run.House;
        RoomDataKeeping.Move([.. house.Rooms.Select(room => room.Id)], measured, house, controller.Memory);
    }
}

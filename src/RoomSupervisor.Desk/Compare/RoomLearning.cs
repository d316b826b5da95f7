// What ours measures of the rooms before a comparison: the same days with seeds that no comparison reports. Must never look at a run that is reported.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Desk.Compare;

/// <summary>Lives in a house for a while so that its rooms are measured.</summary>
internal static class RoomLearning
{
    /// <summary>How often the days are lived through before.</summary>
    public const int Runs = 2;

    /// <summary>What is known of the rooms after it.</summary>
    /// <param name="plan">House, days and weather.</param>
    /// <param name="progress">Told which run begins; null: nobody.</param>
    public static RoomDataMemory[] Of(RehearsalPlan plan, Action<int>? progress = null)
    {
        var measured = new RoomDataMemory[plan.Files.House.Rooms.Length];
        for (var i = 0; i < Runs; i++)
        {
            progress?.Invoke(i);
            using var run = new Rehearsal.Rehearsal(plan with { Seed = LoopTuning.FirstSeed + 1 + (ulong)i });
            Give(run, measured);
            while (!run.IsOver)
                run.Step();
            (run.Controller?.Memory.RoomData ?? measured).CopyTo(measured, 0);
        }
        return measured;
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

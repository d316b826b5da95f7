// What may change in a room that was measured, each as it happens in a house and once so strong that it must be seen. Changes the true room only, never what the sequence knows.
using RoomSupervisor.Parts.Tests.Closed;

namespace RoomSupervisor.Parts.Tests.Sequence;

internal static class RoomDataChanges
{
    /// <summary>Changes by name: called when what was known is known (0) and after each door that follows (1, 2, …).</summary>
    public static readonly (string What, Action<RoomDataRun, int> Change)[] All =
    [
        ("nothing", (run, door) => { }),
        ("dusty coil, a third weaker", (run, door) => Once(run, door, run.Truth with { CoilFactor = 0.65 * run.Truth.CoilFactor })),
        ("dusty coil, two thirds weaker", (run, door) => Once(run, door, run.Truth with { CoilFactor = 0.35 * run.Truth.CoilFactor })),
        ("furniture out", (run, door) => Once(run, door, run.Truth with { FurnitureJPerK = 0.2 * run.Truth.FurnitureJPerK, FurnitureWPerK = 0.3 * run.Truth.FurnitureWPerK })),
        ("a library in", (run, door) => Once(run, door, run.Truth with { FurnitureJPerK = 6 * run.Truth.FurnitureJPerK, FurnitureWPerK = 5 * run.Truth.FurnitureWPerK })),
        ("sensor three times as slow", (run, door) => Once(run, door, run.Truth, 3 * run.LagS)),
        ("sensor drifts 0.1 K a door", (run, door) => run.SensorOffK += door > 0 ? 0.1 : 0),
        ("sensor drifts 0.6 K a door", (run, door) => run.SensorOffK += door > 0 ? 0.6 : 0),
    ];

    public static Action<RoomDataRun, int> Of(string what) => All.Single(one => one.What == what).Change;

    public static ClosedCase Case(int i, int seed)
        => new(new[] { 100, 100, 60, 100, 35, 60 }[i % 6], new[] { 1.0, 0.6, 1.6, 1.0, 1.6, 0.6 }[i % 6], new[] { 120, 30, 300, 300, 120, 120 }[i % 6], i % 6 is 1 or 3, seed);

    private static void Once(RoomDataRun run, int door, TruthOfRoom other, int? lagS = null)
    {
        if (door == 0)
            run.Become(other, lagS);
    }
}

// Section 8, rule 2: what outputs of a loop do when the controller no longer says anything: pump off, mixing at full recirculation, valves shut; but in frost warm water is kept moving, and what would shut it off
// stays open. Never leaves a cooled surface open.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Loops;

/// <summary>What follows the end of a loop's commands.</summary>
internal static class SafeState
{
    /// <summary>Water that may freeze before somebody notices is warmer than the frost limit by this much, K (project choice).</summary>
    private const double MayFreezeK = 4;

    public static void Write(in Scan scan, int index, Loop loop, in LoopMemory m)
    {
        if (!m.Heats || (m.Stopped != Cause.None && m.Stopped != Cause.SupplyMissing) || !MayFreeze(scan, loop, m))
            return;
        foreach (var i in loop.Circuits)
            Keep(scan, scan.House.Circuits[i].Valve, 100);
        foreach (var i in loop.Coils)
            Keep(scan, scan.House.Coils[i].ValveOn(index), 100);
        Keep(scan, m.Pump.OnStandby && loop.StandbyPump >= 0 ? loop.StandbyPump : loop.Pump, 1);
        if (loop.PumpSpeed >= 0)
            Keep(scan, loop.PumpSpeed, 100);
    }

    private static void Keep(in Scan scan, int output, double then)
    {
        ref var command = ref scan.Outputs.Commands[output];
        command = command with { ThenValue = then };
    }

    /// <summary>In the cold outdoors or where nobody knows, with cold water, or with frost already there.</summary>
    private static bool MayFreeze(in Scan scan, Loop loop, in LoopMemory m)
    {
        var outdoors = scan.Reading(scan.House.Points.OutdoorTemperature);
        var limit = scan.Settings.FrostWaterC + MayFreezeK;
        return m.Frost || !outdoors.Exists || outdoors.Value < scan.Settings.FrostOutdoorsC || scan.Reading(loop.Supply).Value < limit || scan.Reading(loop.Return).Value < limit;
    }
}

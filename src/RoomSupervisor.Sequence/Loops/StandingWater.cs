// Section 5, rule 3: what the water that stands in a loop of cooled surfaces will measure when it moves. An estimate: decides nothing.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Loops;

/// <summary>Water that stands.</summary>
internal static class StandingWater
{
    /// <summary>The mean of supply and return while it flows, then warming towards the coldest of its rooms.</summary>
    public static void Step(in Scan scan, Loop loop, ref LoopMemory m)
    {
        if (loop.Serves != LoopServes.Surfaces || m.Heats)
            return;
        var supply = scan.Reading(loop.Supply);
        if (m.PumpOn || !m.HasSlug)
        {
            m.HasSlug = supply.Exists;
            if (!supply.Exists || (m.HasSlug && m.PumpOn && m.PumpForS < loop.Settings.LagS))
                return;
            var back = scan.Reading(loop.Return);
            m.SlugC = m.PumpOn ? (supply.Value + (back.Exists ? back.Value : supply.Value)) / 2 : supply.Value;
            return;
        }
        var air = double.PositiveInfinity;
        foreach (var i in loop.Circuits)
        {
            var reading = scan.Reading(scan.House.Rooms[scan.House.Circuits[i].Room].AirTemperature);
            if (reading.Exists)
                air = Math.Min(air, reading.Value);
        }
        if (double.IsFinite(air))
            m.SlugC += (air - m.SlugC) * Blocks.FilterShare(scan.Dt, scan.Settings.SlugTimeS);
    }
}

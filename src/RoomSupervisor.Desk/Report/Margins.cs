// Degrees to spare between the water and the worst-case dew point of the rooms it passes. Must never count water that stands still or heats.
using RoomSupervisor.Desk.Rehearsal;

namespace RoomSupervisor.Desk.Report;

/// <summary>The tightest moment of a run.</summary>
/// <param name="Sample">Number of the sample; −1 when there was none.</param>
/// <param name="Loop">Number of the loop.</param>
/// <param name="Room">Number of the room.</param>
/// <param name="SpareK">Supply less worst-case dew point, K; negative when short.</param>
internal readonly record struct Tightest(int Sample, int Loop, int Room, double SpareK)
{
    internal bool Is => Sample >= 0;
}

/// <summary>Margins of a run.</summary>
internal static class Margins
{
    /// <summary>Supply less worst-case dew point, K; NaN when that water does not pass this room's surfaces or does not cool.</summary>
    internal static double Spare(RunRecord run, int loop, int room, int sample)
        => Passes(run, loop, room, sample) ? run.Loops[loop].SupplyC[sample] - run.Rooms[room].WorstDewC[sample] : double.NaN;

    /// <summary>Cooling water of a loop passes surfaces of a room.</summary>
    internal static bool Passes(RunRecord run, int loop, int room, int sample)
    {
        var place = run.Rooms[room];
        return run.Loops[loop].Flows[sample] && run.Loops[loop].Cools[sample] && place.SurfaceLoops.Contains(loop)
            && (place.SurfaceFlows.Length == 0 || place.SurfaceFlows[sample]);
    }

    /// <summary>The least margin of all rooms of a loop at a sample; NaN when none counts.</summary>
    internal static double Least(RunRecord run, int loop, int sample)
    {
        var least = double.NaN;
        for (var room = 0; room < run.Rooms.Length; room++)
        {
            var spare = Spare(run, loop, room, sample);
            if (!double.IsNaN(spare) && !(spare >= least))
                least = spare;
        }
        return least;
    }

    /// <summary>The tightest moment of a stretch.</summary>
    internal static Tightest Find(RunRecord run, Stretch stretch)
    {
        var found = new Tightest(-1, -1, -1, double.PositiveInfinity);
        for (var loop = 0; loop < run.Loops.Length; loop++)
            for (var room = 0; room < run.Rooms.Length; room++)
                for (var sample = stretch.First; sample < stretch.End; sample++)
                {
                    var spare = Spare(run, loop, room, sample);
                    if (spare < found.SpareK)
                        found = new Tightest(sample, loop, room, spare);
                }
        return found;
    }

    /// <summary>The water a room's surfaces see, °C: the coldest supply that flows when cooling, the warmest when heating; NaN when none flows.</summary>
    internal static double Water(RunRecord run, int room, int sample)
    {
        var water = double.NaN;
        foreach (var loop in run.Rooms[room].SurfaceLoops)
        {
            var record = run.Loops[loop];
            var supply = record.SupplyC[sample];
            if (record.Flows[sample] && (double.IsNaN(water) || (record.Cools[sample] ? supply < water : supply > water)))
                water = supply;
        }
        return water;
    }
}

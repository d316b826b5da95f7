// Section 6, rule 8: a loop held at a supply temperature by a programme from outside, as a new screed is heated up: its circuits stand open, its water is what the programme says, and everything that protects goes on: guard,
// high limit, frost, leak, surface limits, the loop's own warmest water. Must never let cold water to such a loop, nor warmer water than loop and surfaces bear.
using RoomSupervisor.Sequence.Guarding;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Loops;

/// <summary>Loops held at a supply temperature.</summary>
public static class Held
{
    /// <summary>Water so much over what is held shuts its circuits: a mixing valve that leaks or sticks must not cook a screed, K (project choice).</summary>
    public const double TooHotOverK = 5;

    /// <summary>Once shut it opens again at this much over what is held, K (project choice).</summary>
    private const double AgainOverK = 2;

    /// <summary>Holds a loop, between two scans; NaN lets go of it.</summary>
    /// <param name="memory">Memory of the house.</param>
    /// <param name="loop">Index of a mixed loop of surfaces that heats.</param>
    /// <param name="supplyC">Wanted supply, °C.</param>
    /// <returns>True when that changed anything.</returns>
    public static bool Set(Memory memory, int loop, double supplyC)
    {
        ref var m = ref memory.Loops[loop];
        var (was, wasC) = (m.IsHeld, m.HeldC);
        (m.IsHeld, m.HeldC) = (!double.IsNaN(supplyC), double.IsNaN(supplyC) ? 0 : supplyC);
        return was != m.IsHeld || wasC != m.HeldC;
    }

    /// <summary>Why a loop cannot be held; null: it can.</summary>
    public static string? WhyNot(Loop loop) =>
        loop.Serves != LoopServes.Surfaces ? "it serves coils: there is no screed on it"
        : loop.Type != LoopType.Mixed || loop.Mixing < 0 ? "it is direct: without a mixing valve of its own nothing keeps hotter water of the source out of the screed"
        : !loop.Heats ? "it never carries warm water (season: cooling)"
        : loop.Supply < 0 ? "its supply temperature is not wired: nobody could hold it"
        : null;

    /// <summary>The valve of a circuit on a held loop.</summary>
    internal static Command Valve(in Scan scan, int index, in CircuitMemory c)
    {
        var loop = scan.House.Circuits[index].Loop;
        ref readonly var m = ref scan.Memory.Loops[loop];
        if (!LoopWater.InSeason(scan, loop, heats: true))
            return new Command(0, new Reason(Cause.HeldWaits), default, 0);
        var supply = scan.Reading(scan.House.Loops[loop].Supply);
        var over = c.ValvePercent > 0 ? TooHotOverK : AgainOverK;
        if (supply.Exists && supply.Value > m.HeldC + over)
            return new Command(0, Reason.Of(Cause.HeldTooHot, 0, supply.Value, m.HeldC), default, 0);
        return new Command(100, Reason.Of(Cause.Held, 100, m.HeldC), default, 0);
    }

    /// <summary>The set point of a held loop: what is held, unless the loop or a surface bears less.</summary>
    internal static void Water(in Scan scan, Loop loop, ref LoopMemory m)
    {
        var highest = double.PositiveInfinity;
        (m.LowestSafeC, m.Limit, m.Asked) = (double.NaN, default, false);
        foreach (var i in loop.Circuits)
        {
            ref readonly var c = ref scan.Memory.Circuits[i];
            if (c.ValvePercent <= 0)
                continue;
            m.Asked = true;
            if (c.HighestC < highest)
                (highest, m.Limit) = (c.HighestC, Reason.Of(Cause.SurfaceLimit, c.HighestC, SurfaceLimit.WarmestSurface(scan, scan.House.Circuits[i])));
        }
        m.WantedC = Math.Min(highest, Math.Min(m.HeldC, loop.Settings.HeatingWarmestC(loop.Serves)));
        m.SetPointC = m.WantedC;
    }

    /// <summary>Floor over held loops of a source: it counts as wanting warm water while the season is weighed, m².</summary>
    internal static double FloorM2(in Scan scan, Source source)
    {
        var sum = 0.0;
        foreach (var loop in source.Loops)
        {
            if (!scan.Memory.Loops[loop].IsHeld)
                continue;
            foreach (var i in scan.House.Loops[loop].Circuits)
                sum += scan.House.Circuits[i].Settings.AreaM2;
        }
        return sum;
    }
}

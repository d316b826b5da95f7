// One scan of the whole house, in the order of the sequence of operation: readings, air, guard, rooms, coils, loops, source.
// Deterministic, without clock, I/O, logging or allocation.
using RoomSupervisor.Sequence.Guarding;
using RoomSupervisor.Sequence.Loops;
using RoomSupervisor.Sequence.Readings;
using RoomSupervisor.Sequence.RoomData;
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Sequence.Sources;
using RoomSupervisor.Terms;

// Every local is assigned before it is read (the compiler sees to it); clearing them first besides is a twentieth of a scan.
[module: System.Runtime.CompilerServices.SkipLocalsInit]

namespace RoomSupervisor.Sequence;

/// <summary>The sequence of operation.</summary>
public static class Supervisor
{
    /// <summary>A step longer than this means "time passed, nothing known" (lockstep format), s.</summary>
    public const double LongestStepS = 90;

    /// <summary>
    /// Takes one scan. A step over 90 s is taken as time that passed with nothing known, then this scan a second later.
    /// </summary>
    /// <param name="t">The two clocks.</param>
    /// <param name="house">The house.</param>
    /// <param name="samples">One sample an input, in the order of <see cref="House.Inputs"/>.</param>
    /// <param name="memory">Memory of this house; changed.</param>
    /// <param name="outputs">Everything decided; overwritten.</param>
    public static void Step(in ScanTime t, House house, ReadOnlySpan<Sample> samples, Memory memory, OutputImage outputs)
    {
        outputs.Happenings.Clear();
        var dt = t.StepS;
        if (dt > LongestStepS)
        {
            One(t with { ElapsedS = t.ElapsedS - 1 }, dt - 1, house, default, memory, outputs);
            dt = 1;
        }
        One(t, dt, house, samples, memory, outputs);
    }

    private static void One(in ScanTime t, double dt, House house, ReadOnlySpan<Sample> samples, Memory memory, OutputImage outputs)
    {
        var scan = new Scan
        {
            Dt = dt,
            Local = t.Local,
            ElapsedS = t.ElapsedS,
            House = house,
            Memory = memory,
            Outputs = outputs,
            Samples = samples,
        };
        Array.Fill(memory.CoilFullW, double.NaN);
        Judge.All(scan);
        SourceRules.Observe(scan);
        Air.All(scan);
        Frost.Observe(scan);
        HeatLoad.Observe(scan);
        Guard.All(scan);
        FanCaps.All(scan);
        HandValues.Age(scan);
        if (memory.RoomsBy is { } others)
            others.Step(new RoomsNow(house, memory, outputs.Readings, t.Local, dt));
        else
            OurRooms(scan);
        for (var i = 0; i < house.Coils.Length; i++)
            CoilFan.Step(scan, i);
        for (var i = 0; i < house.Circuits.Length; i++)
            SurfaceValve.Step(scan, i);
        for (var i = 0; i < house.Loops.Length; i++)
            LoopRules.Step(scan, i);
        Guard.Raise(scan);
        Proofs.Step(scan);
        for (var i = 0; i < house.Sources.Length; i++)
            SourceRules.Step(scan, i);
        SiteRules.Step(scan);
        Status.All(scan);
        Measuring.All(scan);
    }

    private static void OurRooms(in Scan scan)
    {
        for (var i = 0; i < scan.House.Rooms.Length; i++)
        {
            Stages.Step(scan, i);
            Drying.Step(scan, i);
            Demand.Step(scan, i);
            RoomWatch.Step(scan, i);
            Calming.Step(scan, i);
        }
    }
}

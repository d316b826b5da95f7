// Counts what parts do: running time, starts, strokes, wet time. Looks at each scan after it was put out; runs in the loop: must never allocate, wait or make text, nor
// decide anything for the house.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Care;

/// <summary>Counters of one run. Figures are written by the loop and read by anybody; each is a number of its own, so a reader sees whole ones.</summary>
public sealed class CareTap
{
    /// <summary>A scan that came later than this counts as this long, s: a board that stood still did not see what ran.</summary>
    private const double LongestStepS = 60;

    private readonly House house;
    private readonly CarePart[] parts;
    private readonly CareFigures[] figures;
    private readonly double[] was;
    private readonly int[] resets;
    private double countedS;

    public CareTap(House house, CareLimits limits)
    {
        this.house = house;
        Limits = limits;
        parts = [.. CarePart.Of(house)];
        figures = new CareFigures[parts.Length];
        was = new double[parts.Length];
        resets = new int[parts.Length];
    }

    /// <summary>When care is due.</summary>
    public CareLimits Limits { get; }

    /// <summary>What is counted.</summary>
    public IReadOnlyList<CarePart> Parts => parts;

    /// <summary>Time counted since start, s; any thread.</summary>
    public double CountedS => Volatile.Read(ref countedS);

    /// <summary>What was counted of a part, begun anew where somebody asked for that just now; any thread.</summary>
    public CareFigures Of(int part) => Volatile.Read(ref resets[part]) != 0 ? default : figures[part];

    /// <summary>What a run before this one had counted. Before the first scan only.</summary>
    public void GoOn(int part, in CareFigures from) => figures[part] = from;

    /// <summary>Has a part counted anew from the next scan on: it was cleaned, or is another one. Any thread.</summary>
    public void Reset(int part) => Volatile.Write(ref resets[part], 1);

    /// <summary>Takes a scan.</summary>
    /// <param name="image">What was found and decided.</param>
    /// <param name="put">What was put out, one an output.</param>
    /// <param name="memory">What the sequence remembers.</param>
    /// <param name="stepS">Time since the scan before, s.</param>
    /// <param name="happenings">Takes what is to be told.</param>
    public void Look(OutputImage image, ReadOnlySpan<Command> put, Memory memory, double stepS, HappeningList happenings)
    {
        var dt = Math.Clamp(stepS, 0, LongestStepS);
        for (var i = 0; i < parts.Length; i++)
        {
            ref var m = ref figures[i];
            if (Volatile.Read(ref resets[i]) != 0)
            {
                Begin(i, ref m, happenings);
                Volatile.Write(ref resets[i], 0);
            }
            var now = Now(parts[i], image, put, memory);
            if (parts[i].Kind == CareKind.Valve)
                m.Strokes += double.IsFinite(now) ? Math.Abs(now - was[i]) / 2 : 0;
            else if (now > 0)
                m.RunS += dt;
            if (parts[i].Kind == CareKind.Coil)
                m.DryS = now > 0 ? 0 : m.DryS + dt;
            else if (now > 0 && !(was[i] > 0))
                m.Starts++;
            was[i] = double.IsFinite(now) ? now : was[i];
            if (!m.IsTold && Limits.IsDue(parts[i].Kind, m))
            {
                m.IsTold = true;
                Tell(i, parts[i].Kind == CareKind.Filter ? CareEvents.FilterDue : CareEvents.CoilDue, m.RunS, happenings);
            }
        }
        Volatile.Write(ref countedS, countedS + dt);
    }

    /// <summary>What a part does now: above zero while it runs or is wet; of a valve how far it is open, 0–1.</summary>
    private double Now(CarePart part, OutputImage image, ReadOnlySpan<Command> put, Memory memory) => part.Kind switch
    {
        CareKind.Fan or CareKind.Filter => put[house.Coils[part.Index].Fan].Value,
        CareKind.Coil => memory.Coils[part.Index].WetForS,
        CareKind.Pump => put[part.Index].Value,
        CareKind.Source => Source(part.Index, image),
        _ => house.OutputTable[part.Index].IsSwitch ? put[part.Index].Value : put[part.Index].Value / 100,
    };

    private double Source(int index, OutputImage image)
    {
        var running = house.Sources[index].Running;
        return running >= 0 && image.Readings[running].Exists ? image.Readings[running].Value : image.Sources[index].Calling ? 1 : 0;
    }

    private void Begin(int index, ref CareFigures m, HappeningList happenings)
    {
        var kind = parts[index].Kind;
        if (kind is CareKind.Filter or CareKind.Coil)
            Tell(index, kind == CareKind.Filter ? CareEvents.FilterDone : CareEvents.CoilDone, m.RunS, happenings);
        m = default;
    }

    /// <summary>At the coil's fan: the one thing of it that has a name on every screen.</summary>
    private void Tell(int index, EventDefinition what, double runS, HappeningList happenings)
        => happenings.Add(new Happening(what.Id, Owner.Output, house.Coils[parts[index].Index].Fan, Reason.Of(Cause.None, runS)));
}

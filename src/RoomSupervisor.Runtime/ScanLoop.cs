// The loop: time, input image, step, output stage, record, next tick. One thread owns it; nothing else decides anything. It must never
// wait for a bus, a file or wall time.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime.Care;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime;

/// <summary>What the loop works on; put together by <see cref="Wiring"/>.</summary>
public sealed record LoopParts(House House, RunClock Clock, InputImage Inputs, OutputStage Outputs, HealthWatch Health, LogRing Ring, bool IsObserving)
{
    /// <summary>What the sequence remembers.</summary>
    public Memory Memory { get; init; } = new(House);

    /// <summary>Follows values over time; null: nobody does.</summary>
    public TrendTap? Trends { get; set; }

    /// <summary>Follows every scan for the trace; null: none is recorded.</summary>
    public TraceTap? Trace { get; set; }

    /// <summary>The state of each room is told this often, s.</summary>
    public double StatusEveryS { get; set; } = double.PositiveInfinity;

    /// <summary>Keeps it on disk; null: nobody does.</summary>
    public MemoryKeeper? Keeper { get; set; }

    /// <summary>Where each scan is published for readers of other threads.</summary>
    public SnapshotBoard Board { get; init; } = new(House);

    /// <summary>Hand values that wait for the next scan.</summary>
    public HandRequests Hands { get; init; } = new();

    /// <summary>Counts what parts do; null: nobody does, as in a run that only looks or serves a hand.</summary>
    public CareTap? Care { get; set; }

    /// <summary>What is told with the first scan: what was found at the start.</summary>
    public IReadOnlyList<Happening> AtStart { get; set; } = [];
    /// <summary>Heats new screeds up; null: nobody does.</summary>
    public Screed.ScreedKeeper? Screed { get; set; }

    /// <summary>Given for a run in which only a hand moves outputs; null: the sequence does.</summary>
    public OnlyByHand? ByHand { get; init; }
}

/// <summary>Runs the sequence until told to stop.</summary>
public sealed class ScanLoop(LoopParts parts)
{
    /// <summary>A scan later than this is told, s.</summary>
    private const double LateS = 2;

    private readonly Memory memory = parts.Memory;
    private readonly OutputImage image = parts.House.NewOutputImage();
    private readonly HappeningList ours = new(256);
    private readonly Sample[] samples = new Sample[parts.House.InputTable.Count];
    private House house = parts.House;
    private House? next;
    private double lastS = double.NaN, statusAtS = double.NaN;
    private long scans;

    /// <summary>Scans taken since start; somebody who sees it stand still knows that the loop does.</summary>
    public long Scans => Interlocked.Read(ref scans);

    /// <summary>What the last scan decided; only for the thread that scans.</summary>
    public OutputImage Image => image;

    /// <summary>Life of a command, s, at least three scans: a loop that stands still lets go of every output after this.</summary>
    private double LeaseS => Math.Max(10, 3 * house.Settings.ScanPeriodS);

    /// <summary>Gives the loop another house with the same points and parts, from the next scan on; memory is carried over. Any thread; returns at once.</summary>
    public void Swap(House other) => Volatile.Write(ref next, other);

    /// <summary>Takes scans until <paramref name="stop"/>.</summary>
    public void Run(CancellationToken stop)
    {
        var due = parts.Clock.ElapsedS;
        while (!stop.IsCancellationRequested)
        {
            Scan();
            var period = house.Settings.ScanPeriodS;
            due += period;
            var wait = due - parts.Clock.ElapsedS;
            if (wait < -period)
                due = parts.Clock.ElapsedS;
            else if (wait > 0)
                stop.WaitHandle.WaitOne(TimeSpan.FromSeconds(wait));
        }
    }

    /// <summary>One scan.</summary>
    public void Scan()
    {
        house = Interlocked.Exchange(ref next, null) ?? house;
        var nowS = parts.Clock.ElapsedS;
        var utc = parts.Clock.Utc;
        var before = lastS;
        var step = double.IsNaN(before) ? 0 : nowS - before;
        lastS = nowS;
        // Devices first: whoever reads the log wants the cause above its consequences.
        ours.Clear();
        for (var i = 0; scans == 0 && i < parts.AtStart.Count; i++)
            ours.Add(parts.AtStart[i]);
        parts.Health.Look(nowS, ours);
        if (step > house.Settings.ScanPeriodS + LateS)
            ours.Add(new Happening(RuntimeEvents.ScanLate.Id, Owner.Site, 0, Reason.Of(Cause.None, step - house.Settings.ScanPeriodS)));
        parts.Hands.ApplyTo(memory, parts.Trace);
        parts.Screed?.Before(memory, parts.Trace, utc, ours);
        parts.Inputs.CopyTo(samples);
        var time = new ScanTime(nowS, step, utc, parts.Clock.LocalOf(utc));
        parts.Trace?.Before(house, time, before, samples, memory);
        Supervisor.Step(time, house, samples, memory, image);
        parts.Trace?.After(image);
        parts.Screed?.After(house, image, memory, step, nowS, utc, ours);
        var put = parts.ByHand is { } hand ? hand.Of(image.Commands, memory) : image.Commands;
        if (!parts.IsObserving)
            parts.Outputs.Put(put, nowS, LeaseS);
        parts.Board.Publish(house, time, samples, image, memory);
        parts.Keeper?.Offer(memory, nowS, utc);
        parts.Care?.Look(image, put, memory, step, ours);
        Record(ours, utc, nowS);
        Record(image.Happenings, utc, nowS);
        parts.Trends?.Look(image, utc, nowS);
        Status(utc, nowS);
        Interlocked.Increment(ref scans);
    }

    /// <summary>A line a room a minute, from a minute after the start.</summary>
    private void Status(DateTime utc, double nowS)
    {
        if (double.IsNaN(statusAtS))
            statusAtS = nowS;
        if (nowS < statusAtS + parts.StatusEveryS)
            return;
        statusAtS = Math.Max(statusAtS + parts.StatusEveryS, nowS - parts.StatusEveryS);
        for (var i = 0; i < image.Rooms.Length; i++)
        {
            var (fan, volts) = Leading(house, house.Rooms[i], image.Rooms[i]);
            parts.Ring.Put(new LogEntry(utc, nowS, new Happening(LogEntry.Status, Owner.Room, i, default), image.Rooms[i], fan, volts));
        }
    }

    /// <summary>The fan of the room's leading coil with its volts; in a room without a coil its first surface valve, without volts.</summary>
    private (Command Command, double Volts) Leading(House house, Room room, in RoomStatus status)
    {
        if (status.FanOutput >= 0)
        {
            var fan = image.Commands[status.FanOutput];
            var kind = house.Coils[room.Coils[0]].Kind;
            return (fan, kind.FanSignal == CoilKind.Voltage ? kind.Line.VoltsFor(fan.Value) : double.NaN);
        }
        return (room.Circuits.Length > 0 ? image.Commands[house.Circuits[room.Circuits[0]].Valve] : default, double.NaN);
    }

    private void Record(HappeningList happenings, DateTime utc, double nowS)
    {
        foreach (ref readonly var happening in happenings.Items)
        {
            if (happening.Owner != Owner.Room)
            {
                parts.Ring.Put(new LogEntry(utc, nowS, happening, default, default, 0));
                continue;
            }
            var room = image.Rooms[happening.Index];
            var (fan, volts) = Leading(house, house.Rooms[happening.Index], room);
            parts.Ring.Put(new LogEntry(utc, nowS, happening, room, fan, volts));
        }
        if (happenings.Lost > 0)
            parts.Ring.Put(new LogEntry(utc, nowS, new Happening(RuntimeEvents.HappeningsLost.Id, Owner.Site, 0, Reason.Of(Cause.None, happenings.Lost)), default, default, 0));
    }
}

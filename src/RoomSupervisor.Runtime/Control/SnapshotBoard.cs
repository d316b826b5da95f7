// What the last scan found and decided, for readers of other threads: status, points, whoever asks over the socket. The loop writes it without waiting and
// without allocating; a reader that is overtaken reads again. It must never hold up the loop.
using RoomSupervisor.Runtime.Explain;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Control;

/// <summary>One scan as it was: a copy that belongs to its reader.</summary>
public sealed class HouseSnapshot(House house)
{
    /// <summary>The house as it was in that scan, settings included.</summary>
    public House House { get; internal set; } = house;

    /// <summary>Monotonic seconds of the scan, on the clock of the run.</summary>
    public double ElapsedS { get; internal set; }

    /// <summary>Wall time of the scan.</summary>
    public DateTime Utc { get; internal set; }

    /// <summary>Scans since start, this one counted; 0 before the first.</summary>
    public long Scans { get; internal set; }

    /// <summary>What devices delivered, one an input, before offset and filter.</summary>
    public Sample[] Samples { get; } = new Sample[house.InputTable.Count];

    /// <summary>What the sequence made of it, one an input.</summary>
    public Reading[] Readings { get; } = new Reading[house.InputTable.Count];

    /// <summary>What was decided, one an output.</summary>
    public Command[] Commands { get; } = new Command[house.OutputTable.Count];

    /// <summary>Hand values, one an output.</summary>
    public HandValue[] Hands { get; } = new HandValue[house.OutputTable.Count];

    public RoomStatus[] Rooms { get; } = new RoomStatus[house.Rooms.Length];

    public LoopStatus[] Loops { get; } = new LoopStatus[house.Loops.Length];

    public SourceStatus[] Sources { get; } = new SourceStatus[house.Sources.Length];

    /// <summary>What the sequence remembers of each surface circuit: guard level and its reason.</summary>
    public CircuitMemory[] Circuits { get; } = new CircuitMemory[house.Circuits.Length];

    /// <summary>What it remembers of each coil: what stops it.</summary>
    public CoilMemory[] Coils { get; } = new CoilMemory[house.Coils.Length];

    /// <summary>What it remembers of each loop: what stops it, frost, its pump.</summary>
    public LoopMemory[] LoopMemories { get; } = new LoopMemory[house.Loops.Length];

    /// <summary>What the memory tells of each room beside its status.</summary>
    public RoomSeen[] RoomsSeen { get; } = new RoomSeen[house.Rooms.Length];

    /// <summary>How long everything has been as it is.</summary>
    public ScanAges Ages { get; } = new(house);

    internal void Take(House of, in ScanTime t, long scans, ReadOnlySpan<Sample> samples, OutputImage image, Memory memory)
    {
        for (var i = 0; i < RoomsSeen.Length; i++)
            RoomsSeen[i] = new RoomSeen(memory.Rooms[i].Heats, memory.Rooms[i].StageForS);
        (House, ElapsedS, Utc, Scans) = (of, t.ElapsedS, t.Utc, scans);
        samples.CopyTo(Samples);
        image.Readings.CopyTo(Readings, 0);
        image.Commands.CopyTo(Commands, 0);
        memory.Hands.CopyTo(Hands, 0);
        memory.Circuits.CopyTo(Circuits, 0);
        memory.Coils.CopyTo(Coils, 0);
        memory.Loops.CopyTo(LoopMemories, 0);
        image.Rooms.CopyTo(Rooms, 0);
        image.Loops.CopyTo(Loops, 0);
        image.Sources.CopyTo(Sources, 0);
    }

    internal void CopyTo(HouseSnapshot other)
    {
        (other.House, other.ElapsedS, other.Utc, other.Scans) = (House, ElapsedS, Utc, Scans);
        Samples.CopyTo(other.Samples, 0);
        Readings.CopyTo(other.Readings, 0);
        Commands.CopyTo(other.Commands, 0);
        Hands.CopyTo(other.Hands, 0);
        Rooms.CopyTo(other.Rooms, 0);
        RoomsSeen.CopyTo(other.RoomsSeen, 0);
        Ages.CopyTo(other.Ages);
        Loops.CopyTo(other.Loops, 0);
        Sources.CopyTo(other.Sources, 0);
        Circuits.CopyTo(other.Circuits, 0);
        Coils.CopyTo(other.Coils, 0);
        LoopMemories.CopyTo(other.LoopMemories, 0);
    }
}

/// <summary>Two pages, written in turn by the loop; any number of readers.</summary>
public sealed class SnapshotBoard(House house)
{
    private readonly HouseSnapshot[] pages = [new(house), new(house)];
    private readonly ScanAges ages = new(house);
    private long begun, done;

    /// <summary>Number of the last scan that was published; 0: none yet.</summary>
    public long Published => Volatile.Read(ref done);

    /// <summary>Publishes a scan. Only for the thread that scans; never waits, allocates nothing.</summary>
    public void Publish(House of, in ScanTime t, ReadOnlySpan<Sample> samples, OutputImage image, Memory memory)
    {
        var number = done + 1;
        Volatile.Write(ref begun, number);
        Interlocked.MemoryBarrier();   // nobody sees the page change before he sees that it does
        ages.Look(t.ElapsedS, image, memory);
        pages[number & 1].Take(of, t, number, samples, image, memory);
        ages.CopyTo(pages[number & 1].Ages);
        Volatile.Write(ref done, number);
    }

    /// <summary>Copies the latest scan, whole; false when there has been none yet. Any thread.</summary>
    public bool TryRead(HouseSnapshot into)
    {
        while (true)
        {
            var number = Volatile.Read(ref done);
            if (number == 0)
                return false;
            pages[number & 1].CopyTo(into);
            Interlocked.MemoryBarrier();
            // The page is written again by the scan after the next one.
            if (Volatile.Read(ref begun) <= number + 1)
                return true;
        }
    }
}

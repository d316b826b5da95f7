// Keeps the sequence's memory on disk, every few minutes and at an orderly stop, and takes it up again at a start. The scan never waits for the disk: it copies
// its memory when the writer is idle, and a thread writes. How long the controller was away is told by wall time, so a clock that went back says nothing:
// then only what does not age is taken up.
using System.Buffers.Binary;
using System.IO.Compression;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Runtime.State;

/// <summary>Memory on disk.</summary>
public sealed class MemoryKeeper : IDisposable
{
    /// <summary>Between two savings, s: half of what a stage may be resumed after (Resume.YoungS), so that a crash at any moment finds a young one.</summary>
    public const double EveryS = 300;

    /// <summary>An absence nobody can tell counts as this long, s.</summary>
    private const double UnknownGapS = 30 * 86400;

    /// <summary>Largest memory that is unpacked, bytes: a thousand rooms take ten million.</summary>
    private const int LargestBytes = 50_000_000;

    private readonly House house;
    private readonly StateFolder state;
    private readonly Action<string> trouble;
    private readonly Memory copy;
    private readonly WriterThread writer;
    private DateTime copiedUtc;
    private double copiedS = double.NegativeInfinity;
    private long written;
    private int busy;
    private string lastTrouble = "";

    /// <param name="house">Whose memory.</param>
    /// <param name="state">Where it is kept.</param>
    /// <param name="trouble">Told when it cannot be kept; once for the same reason.</param>
    public MemoryKeeper(House house, StateFolder state, Action<string> trouble)
    {
        (this.house, this.state, this.trouble) = (house, state, trouble);
        copy = new Memory(house);
        writer = new WriterThread("memory", () =>
        {
            Save();
            Interlocked.Exchange(ref busy, 0);
        });
    }

    /// <summary>Bytes written since start; any thread.</summary>
    public long Written => Interlocked.Read(ref written);

    public void Start() => writer.Start();

    /// <summary>Copies the memory if it is time and the writer is idle. Called by the scan; never waits, allocates nothing.</summary>
    public void Offer(Memory memory, double nowS, DateTime utc)
    {
        if (double.IsNegativeInfinity(copiedS))
            copiedS = nowS;   // nothing worth keeping at the first scan
        if (nowS - copiedS < EveryS || Interlocked.CompareExchange(ref busy, 1, 0) != 0)
            return;
        memory.CopyTo(copy);
        copiedUtc = utc;
        copiedS = nowS;
        writer.Tell();
    }

    /// <summary>An orderly stop: keeps the memory now. A leak ends here: somebody stopped the controller by hand.</summary>
    public void KeepAtStop(Memory memory, DateTime utc)
    {
        if (!writer.End())
        {
            trouble("memory: the disk hangs; the next start begins anew");
            return;   // the copy belongs to the thread that hangs
        }
        memory.CopyTo(copy);
        copy.Leak = false;
        copiedUtc = utc;
        Save();
    }

    /// <summary>The memory as it was kept, and when; null: none was, or none that has a time.</summary>
    public static (DateTime Utc, byte[] Bytes)? Kept(StateFolder state)
    {
        if (state.LoadMemory() is not { Length: > sizeof(long) } stamped)
            return null;
        var ticks = BinaryPrimitives.ReadInt64LittleEndian(stamped);
        return ticks < 0 || ticks > DateTime.MaxValue.Ticks ? null : (new DateTime(ticks, DateTimeKind.Utc), Unpacked(stamped.AsMemory(sizeof(long))));
    }

    /// <summary>A memory is mostly zeros and figures like their neighbours: packed (zlib, RFC 1950) it takes a fraction of the card's bytes, every five minutes for years. One kept by an older program is not packed.</summary>
    private static byte[] Unpacked(ReadOnlyMemory<byte> kept)
    {
        if (kept.Span.StartsWith(MemoryFile.Magic))
            return kept.ToArray();
        try
        {
            using var packed = new ZLibStream(new MemoryStream(kept.ToArray()), CompressionMode.Decompress);
            using var all = new MemoryStream();
            var piece = new byte[8192];
            // Whatever it is, no more of it than a memory of a house can be.
            for (int read; all.Length < LargestBytes && (read = packed.Read(piece)) > 0;)
                all.Write(piece, 0, read);
            return all.ToArray();
        }
        catch (InvalidDataException)
        {
            return [];   // refused as no memory of this program
        }
    }

    /// <summary>Keeps a memory with its moment; bytes written.</summary>
    /// <exception cref="IOException">The disk is full or read-only.</exception>
    public static long Keep(StateFolder state, Memory memory, House house, DateTime utc)
    {
        using var stamped = new MemoryStream();
        Span<byte> ticks = stackalloc byte[sizeof(long)];
        BinaryPrimitives.WriteInt64LittleEndian(ticks, utc.Ticks);
        stamped.Write(ticks);
        using (var packed = new ZLibStream(stamped, CompressionLevel.Optimal, leaveOpen: true))
            packed.Write(MemoryFile.Save(memory, house));
        return state.SaveMemory(stamped.GetBuffer().AsSpan(0, (int)stamped.Length));
    }

    /// <summary>Takes up a kept memory: young enough, rooms go on where they were. Says what came of it; empty when there was none.</summary>
    public static string TakeUp(House house, StateFolder state, DateTime utc, Memory into)
    {
        if (Kept(state) is not { } kept)
            return "";
        if (!MemoryFile.TryLoad(kept.Bytes, house, out var memory, out var why))
        {
            // What was measured of a room stays true when the site around it has changed.
            var moved = MemoryFile.RoomData(kept.Bytes) is { } data ? RoomDataKeeping.Move(data.Rooms, data.Data, house, into) : 0;
            return $"{why}: rooms begin anew" + (moved > 0 ? FormattableString.Invariant($"; what was measured of {moved} room(s) was kept by their names") : "");
        }
        var gapS = (utc - kept.Utc).TotalSeconds;
        var known = gapS >= 0;
        Resume.Prepare(house, memory, known ? gapS : UnknownGapS);
        memory.CopyTo(into);
        return !known ? "the clock is behind the saved memory: nobody knows how long the controller was away; rooms begin anew"
            : gapS < Resume.YoungS ? FormattableString.Invariant($"memory of {gapS:0} s ago taken up: rooms whose air has not moved go on where they were")
            : FormattableString.Invariant($"memory of {gapS / 60:0} min ago: rooms begin anew");
    }

    public void Dispose() => writer.Dispose();

    private void Save()
    {
        try
        {
            Interlocked.Add(ref written, Keep(state, copy, house, copiedUtc));
            lastTrouble = "";
        }
        catch (Exception e) when (SafeFile.IsTrouble(e))
        {
            if (lastTrouble != e.Message)
                trouble($"memory: {e.Message}");
            lastTrouble = e.Message;
        }
    }
}

// Every scan as it went in and came out, on its way from the loop to the Records thread: a ring of pages made beforehand. Runs in the loop: must never allocate, wait or make text.
// A page that finds no room is lost and counted, and the trace begins anew with the whole memory: it must never look whole where it is not.
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Recording;

/// <summary>One scan.</summary>
public sealed class TracePage(House house)
{
    /// <summary>Most hand values within a scan.</summary>
    internal const int MostHands = 64;

    /// <summary>The house of this scan, settings included.</summary>
    public House House { get; internal set; } = house;

    public DateTime Utc { get; internal set; }

    public double ElapsedS { get; internal set; }

    /// <summary>Monotonic seconds of the scan before; NaN for the first of a run.</summary>
    public double BeforeS { get; internal set; }

    public Sample[] Samples { get; } = new Sample[house.InputTable.Count];

    /// <summary>Values of the commands, one an output.</summary>
    public double[] Did { get; } = new double[house.OutputTable.Count];

    /// <summary>Sum over everything decided, see <see cref="TraceSum"/>.</summary>
    public ulong Check { get; internal set; }

    /// <summary>True where <see cref="TraceTap.Memory"/> is the memory as it was before this scan.</summary>
    public bool HasMemory { get; internal set; }

    /// <summary>Scans lost just before this one.</summary>
    public int LostBefore { get; internal set; }

    internal HandRequest[] HandValues { get; } = new HandRequest[MostHands];

    internal int HandCount { get; set; }
}

/// <summary>The ring. One writer, the loop; one reader, the Records thread.</summary>
public sealed class TraceTap(House house, int capacity = 128)
{
    private readonly TracePage[] pages = [.. Enumerable.Range(0, capacity).Select(_ => new TracePage(house))];
    private readonly HandRequest[] hands = new HandRequest[TracePage.MostHands];
    private long put, taken;
    private int handCount, lost, memoryBusy;
    private bool wantsMemory = true, isOpen;
    private volatile bool isAsked;
    private DateTime day;

    /// <summary>The memory before the scan of the page that says so; only for the reader, until it lets go of that page.</summary>
    public Memory Memory { get; } = new(house);

    /// <summary>Scans lost since start; any thread.</summary>
    public long Lost { get; private set; }

    /// <summary>A hand value that is applied before this scan.</summary>
    public void Hand(in HandRequest request)
    {
        if (handCount < hands.Length)
            hands[handCount++] = request;
        else
            wantsMemory = true;   // more than a page takes: the whole memory says it all
    }

    /// <summary>What goes in. After hands, before the step.</summary>
    /// <param name="of">The house of this scan.</param>
    /// <param name="t">Its time.</param>
    /// <param name="beforeS">Monotonic seconds of the scan before; NaN: none.</param>
    /// <param name="samples">Its samples.</param>
    /// <param name="memory">Memory before the step.</param>
    public void Before(House of, in ScanTime t, double beforeS, ReadOnlySpan<Sample> samples, Memory memory)
    {
        isOpen = put - Volatile.Read(ref taken) < pages.Length;
        if (!isOpen)
        {
            (lost, handCount, wantsMemory) = (lost + 1, 0, true);
            Lost++;
            return;
        }
        var page = pages[put % pages.Length];
        (page.House, page.Utc, page.ElapsedS, page.BeforeS, page.LostBefore) = (of, t.Utc, t.ElapsedS, beforeS, lost);
        samples.CopyTo(page.Samples);
        // A file a day, by the site's calendar: each begins with the memory and stands alone.
        wantsMemory |= isAsked || t.Local.Date != day;
        page.HasMemory = wantsMemory && Interlocked.CompareExchange(ref memoryBusy, 1, 0) == 0;
        if (page.HasMemory)
        {
            memory.CopyTo(Memory);
            (wantsMemory, isAsked, day) = (false, false, t.Local.Date);
        }
        page.HandCount = page.HasMemory ? 0 : handCount;
        hands.AsSpan(0, page.HandCount).CopyTo(page.HandValues);
        handCount = 0;
        // A hole before a page without memory cannot be told from none: such a page is not kept.
        isOpen = page.HasMemory || lost == 0;
        lost = isOpen ? 0 : lost + 1;
    }

    /// <summary>What came out.</summary>
    public void After(OutputImage image)
    {
        if (!isOpen)
            return;
        var page = pages[put % pages.Length];
        for (var i = 0; i < page.Did.Length; i++)
            page.Did[i] = image.Commands[i].Value;
        page.Check = TraceSum.Of(image);
        Volatile.Write(ref put, put + 1);
    }

    /// <summary>Has the whole memory told again with the next scan: something of the trace is missing. Any thread.</summary>
    public void AskForMemory() => isAsked = true;

    /// <summary>The oldest page, or null. Only for the reader; it is the reader's until <see cref="Release"/>.</summary>
    public TracePage? Peek() => taken == Volatile.Read(ref put) ? null : pages[taken % pages.Length];

    /// <summary>Lets go of the page of <see cref="Peek"/>.</summary>
    public void Release()
    {
        if (pages[taken % pages.Length].HasMemory)
            Interlocked.Exchange(ref memoryBusy, 0);
        Volatile.Write(ref taken, taken + 1);
    }
}

/// <summary>A sum over all that a scan decided, bit by bit (FNV-1a, 64 bit, over words): two scans that decided the same have the same sum.</summary>
public static class TraceSum
{
    private const ulong Basis = 14695981039346656037, Prime = 1099511628211;

    public static ulong Of(OutputImage image)
    {
        var sum = Basis;
        foreach (ref readonly var command in image.Commands.AsSpan())
        {
            sum = Add(sum, command.Value);
            sum = (sum ^ ((uint)command.Binding.Cause | ((ulong)(uint)command.RunnerUp.Cause << 16))) * Prime;
        }
        foreach (ref readonly var room in image.Rooms.AsSpan())
        {
            sum = (sum ^ ((ulong)room.Stage | ((ulong)room.Moisture << 8) | ((ulong)room.Guard << 16))) * Prime;
            sum = Add(Add(sum, room.AirTemperatureC), room.DewPointWorstC);
        }
        foreach (ref readonly var loop in image.Loops.AsSpan())
            sum = Add(Add(sum, loop.SetPointC), loop.LowestSafeSupplyC);
        foreach (ref readonly var source in image.Sources.AsSpan())
            sum = (sum ^ ((source.Calling ? 1UL : 0) | ((ulong)source.Mode << 8))) * Prime;
        return sum;
    }

    // Every "not a number" counts as the same one: its other bits are the processor's own affair.
    private static ulong Add(ulong sum, double value) => (sum ^ (double.IsNaN(value) ? ulong.MaxValue : BitConverter.DoubleToUInt64Bits(value))) * Prime;
}

// Pieces of a trace that stand by themselves: the hours around what happened, each with its own head and the memory as it was, so that it is played again bit for bit. For a support pack that has
// no room for whole days. Must never make a piece look whole: what was left out before it is counted in its head.
using System.IO.Compression;
using System.Text;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.Lockstep;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Recording;

/// <summary>Cutting.</summary>
public sealed class TraceCut : IDisposable
{
    private readonly GZipStream zip;
    private readonly IReadOnlyList<(DateTime FromUtc, DateTime ToUtc)> windows;
    private TraceWords? words;
    private ReplayLane? lane;
    private House? house;
    private int skipped;
    private bool isInside;

    private TraceCut(Stream to, IReadOnlyList<(DateTime FromUtc, DateTime ToUtc)> windows)
    {
        zip = new GZipStream(to, CompressionLevel.Optimal, leaveOpen: true);
        this.windows = windows;
    }

    /// <summary>Scans written.</summary>
    public long Scans { get; private set; }

    /// <summary>Writes what lies within the windows, compressed; plays the whole file for it.</summary>
    /// <returns>Scans written.</returns>
    /// <exception cref="TraceException">It is no trace, or of another version.</exception>
    /// <exception cref="IOException">It cannot be read.</exception>
    public static long Write(string path, Stream to, IReadOnlyList<(DateTime FromUtc, DateTime ToUtc)> windows)
    {
        using var cut = new TraceCut(to, windows);
        TraceReplay.Play(path, new ReplayPlan { Before = cut.Take });
        return cut.Scans;
    }

    /// <summary>Windows around moments, joined where they meet.</summary>
    public static IReadOnlyList<(DateTime FromUtc, DateTime ToUtc)> Around(IEnumerable<DateTime> moments, TimeSpan before, TimeSpan after)
    {
        List<(DateTime From, DateTime To)> windows = [];
        foreach (var moment in moments.Order())
        {
            if (windows.Count > 0 && moment - before <= windows[^1].To)
                windows[^1] = (windows[^1].From, moment + after);
            else
                windows.Add((moment - before, moment + after));
        }
        return windows;
    }

    public void Dispose()
    {
        words?.Dispose();
        zip.Dispose();
    }

    /// <summary>A scan before it is stepped.</summary>
    /// <param name="time">Its time.</param>
    /// <param name="beforeS">Monotonic seconds of the scan before; NaN: none.</param>
    /// <param name="now">Memory and house.</param>
    /// <param name="line">What was recorded.</param>
    /// <param name="texts">Texts of the house.</param>
    private void Take(ScanTime time, double beforeS, ReplayLane now, LockstepLine line, SiteTexts texts)
    {
        if (!windows.Any(window => time.Utc >= window.FromUtc && time.Utc <= window.ToUtc))
        {
            (isInside, skipped) = (false, skipped + 1);
            return;
        }
        if (texts.Site is null)
            throw new TraceException("it has no head: no piece of it could be played");
        var page = Page(time, beforeS, now.House, line);
        words ??= new TraceWords(now.House);
        if (!isInside || !ReferenceEquals(now, lane))
        {
            page.LostBefore = skipped;
            zip.Write(words.Head(Head(page, texts) with { Memory = MemoryFile.Save(now.Memory, now.House), InHand = now.Memory.InHand }));
        }
        else if (!ReferenceEquals(now.House, house))
            zip.Write(words.Head(Head(page, texts)));
        zip.Write(words.Line(page));
        (isInside, lane, house, skipped) = (true, now, now.House, 0);
        Scans++;
    }

    private static TraceHead Head(TracePage page, in SiteTexts texts)
        => new(Encoding.UTF8.GetString(texts.Site), Encoding.UTF8.GetString(texts.Household)) { BeforeS = page.BeforeS, Lost = page.LostBefore };

    private static TracePage Page(in ScanTime time, double beforeS, House of, LockstepLine line)
    {
        var page = new TracePage(of) { Utc = time.Utc, ElapsedS = time.ElapsedS, BeforeS = beforeS, Check = line.Check ?? 0 };
        for (var i = 0; i < page.Samples.Length; i++)
            page.Samples[i] = line.SampleOf(i);
        line.Did.CopyTo(page.Did, 0);
        foreach (var hand in line.Hands.Take(TracePage.MostHands))
            page.HandValues[page.HandCount++] = hand;
        return page;
    }
}

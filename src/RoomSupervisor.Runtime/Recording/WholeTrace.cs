// A trace in one stream: for runs in virtual time, whose whole life is one file. The same lines as a run records beside its log. Must never write a value that was not there.
using System.IO.Compression;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Runtime.Recording;

/// <summary>Writes pages as they come.</summary>
/// <param name="stream">Where they go; closed by whoever opened it.</param>
/// <param name="isPacked">True for a compressed one.</param>
/// <param name="tap">The loop's side.</param>
/// <param name="texts">Texts of a house that the loop runs.</param>
public sealed class WholeTrace(Stream stream, bool isPacked, TraceTap tap, Func<House, SiteTexts> texts) : IDisposable
{
    private readonly Stream to = isPacked ? new GZipStream(stream, CompressionLevel.Optimal, leaveOpen: true) : stream;
    private TraceWords? words;
    private House? house;

    /// <summary>Takes what the loop has left; to be called after each scan, or the ring runs over.</summary>
    public void Drain()
    {
        while (tap.Peek() is { } page)
        {
            words ??= new TraceWords(page.House);
            if (page.HasMemory)
                to.Write(words.Head(TraceHead.Of(page, texts(page.House), tap)));
            else if (!ReferenceEquals(page.House, house))
                to.Write(words.Head(TraceHead.Of(page, texts(page.House), null)));
            house = page.House;
            to.Write(words.Line(page));
            tap.Release();
        }
    }

    public void Dispose()
    {
        Drain();
        if (isPacked)
            to.Dispose();
        words?.Dispose();
    }
}

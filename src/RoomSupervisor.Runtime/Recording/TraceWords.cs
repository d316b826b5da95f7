// A scan and a head of a trace as lines of text, in the format of lockstep. A head holds all that a replay needs: settings and memory. Must never write a value that was not there.
using System.Buffers;
using System.Text;
using System.Text.Json;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Recording;

/// <summary>What stands at the head of a trace, and again where settings change or the memory is told anew.</summary>
/// <param name="Site">site.yaml as it ran.</param>
/// <param name="Household">The household's settings in force, as a household.yaml.</param>
public sealed record TraceHead(string Site, string Household)
{
    /// <summary>Version of the format.</summary>
    public const int Version = 1;

    public string Program { get; init; } = SiteRun.Version;

    public string Platform { get; init; } = Recording.Platform.Fingerprint;

    /// <summary>Memory before the next line as <c>MemoryFile</c> saves it; null: it goes on.</summary>
    public byte[]? Memory { get; init; }

    /// <summary>True while the plant was in somebody's hand, as told.</summary>
    public bool InHand { get; init; }

    /// <summary>Monotonic seconds of the scan before the next line; NaN: it is the first of a run.</summary>
    public double BeforeS { get; init; } = double.NaN;

    /// <summary>Scans that are missing before the next line.</summary>
    public int Lost { get; init; }

    /// <summary>The head before a page.</summary>
    /// <param name="page">The scan that follows.</param>
    /// <param name="texts">Texts of its house.</param>
    /// <param name="with">Whose memory is told; null: it goes on.</param>
    internal static TraceHead Of(TracePage page, in SiteTexts texts, TraceTap? with) => new(Encoding.UTF8.GetString(texts.Site), Encoding.UTF8.GetString(texts.Household))
    {
        Memory = with is null ? null : MemoryFile.Save(with.Memory, page.House),
        InHand = with is not null && with.Memory.InHand,
        BeforeS = page.BeforeS,
        Lost = page.LostBefore,
    };
}

/// <summary>Lines of a trace. Keeps what the line before said: only changes are written.</summary>
internal sealed class TraceWords : IDisposable
{
    private readonly JsonEncodedText[] inputs, outputs;
    private readonly Point[] points;
    private readonly Sample[] said;
    private readonly double[] did;
    private readonly ArrayBufferWriter<byte> buffer = new(65536);
    private readonly Utf8JsonWriter json;

    public TraceWords(House house)
    {
        points = [.. house.InputTable.All];
        inputs = [.. points.Select(point => JsonEncodedText.Encode(point.Id))];
        outputs = [.. house.OutputTable.All.Select(point => JsonEncodedText.Encode(point.Id))];
        (said, did) = (new Sample[inputs.Length], new double[outputs.Length]);
        json = new Utf8JsonWriter(buffer, new JsonWriterOptions { SkipValidation = true });
    }

    /// <summary>The line of a head, with its end. What was said before is forgotten where it tells a memory.</summary>
    public ReadOnlySpan<byte> Head(TraceHead head)
    {
        Begin();
        json.WriteNumber("trace"u8, TraceHead.Version);
        json.WriteString("program"u8, head.Program);
        json.WriteString("platform"u8, head.Platform);
        json.WriteBoolean("changes_only"u8, true);
        if (double.IsFinite(head.BeforeS))
            json.WriteNumber("before"u8, head.BeforeS);
        if (head.Lost > 0)
            json.WriteNumber("lost"u8, head.Lost);
        json.WriteBoolean("in_hand"u8, head.InHand);
        json.WriteString("site"u8, head.Site);
        json.WriteString("household"u8, head.Household);
        if (head.Memory is not null)
        {
            json.WriteBase64String("memory"u8, head.Memory);
            said.AsSpan().Fill(Sample.Nothing);
            did.AsSpan().Fill(double.NaN);
        }
        return End();
    }

    /// <summary>The line of a scan, with its end.</summary>
    public ReadOnlySpan<byte> Line(TracePage page)
    {
        Begin();
        json.WriteString("time"u8, page.Utc);
        json.WriteNumber("elapsed"u8, page.ElapsedS);
        Readings(page);
        Faults(page);
        TakenAt(page);
        Hands(page);
        page.Samples.CopyTo(said, 0);
        Did(page);
        json.WriteString("check"u8, page.Check.ToString("x16", System.Globalization.CultureInfo.InvariantCulture));
        return End();
    }

    public void Dispose() => json.Dispose();

    private void Begin()
    {
        buffer.ResetWrittenCount();
        json.Reset(buffer);
        json.WriteStartObject();
    }

    private ReadOnlySpan<byte> End()
    {
        json.WriteEndObject();
        json.Flush();
        buffer.Write("\n"u8);
        return buffer.WrittenSpan;
    }

    private static bool SameBits(double one, double other) => BitConverter.DoubleToInt64Bits(one) == BitConverter.DoubleToInt64Bits(other);

    private void Readings(TracePage page)
    {
        json.WriteStartObject("readings"u8);
        for (var i = 0; i < inputs.Length; i++)
        {
            var (now, before) = (page.Samples[i], said[i]);
            if (now.Fault == before.Fault && SameBits(now.Value, before.Value))
                continue;
            if (now.Fault != Fault.None || !double.IsFinite(now.Value))
                json.WriteNull(inputs[i]);
            else if (points[i].IsSwitch && now.Value is 0 or 1)
                json.WriteBoolean(inputs[i], now.Value > 0.5);
            else
                json.WriteNumber(inputs[i], now.Value);
        }
        json.WriteEndObject();
    }

    private void Faults(TracePage page)
    {
        var isOpen = false;
        for (var i = 0; i < inputs.Length; i++)
        {
            var (now, before) = (page.Samples[i], said[i]);
            if (now.Fault is Fault.None or Fault.NotRead || (now.Fault == before.Fault && SameBits(now.Value, before.Value)))
                continue;
            Open(ref isOpen, "faults"u8);
            json.WriteString(inputs[i], CauseWords.Name(Names.CauseOf(now.Fault)));
        }
        Close(isOpen);
    }

    private void TakenAt(TracePage page)
    {
        var isOpen = false;
        for (var i = 0; i < inputs.Length; i++)
        {
            if (!double.IsFinite(page.Samples[i].TakenAtS) || SameBits(page.Samples[i].TakenAtS, said[i].TakenAtS))
                continue;
            Open(ref isOpen, "taken_at"u8);
            json.WriteNumber(inputs[i], page.Samples[i].TakenAtS);
        }
        Close(isOpen);
    }

    /// <summary>Of several on one output the last one holds.</summary>
    private void Hands(TracePage page)
    {
        var isOpen = false;
        for (var i = 0; i < page.HandCount; i++)
        {
            var hand = page.HandValues[i];
            if (page.HandValues.AsSpan(i + 1, page.HandCount - i - 1).ToArray().Any(later => later.Output == hand.Output))
                continue;
            Open(ref isOpen, "hand"u8);
            if (!double.IsFinite(hand.Value))
            {
                json.WriteNull(outputs[hand.Output]);
                continue;
            }
            json.WriteStartObject(outputs[hand.Output]);
            if (page.House.OutputTable[hand.Output].IsSwitch)
                json.WriteBoolean("value"u8, hand.Value > 0.5);
            else
                json.WriteNumber("value"u8, hand.Value);
            json.WriteNumber("for_s"u8, hand.ForS);
            json.WriteEndObject();
        }
        Close(isOpen);
    }

    private void Did(TracePage page)
    {
        var isOpen = false;
        for (var i = 0; i < outputs.Length; i++)
        {
            if (SameBits(page.Did[i], did[i]))
                continue;
            Open(ref isOpen, "did"u8);
            if (double.IsFinite(page.Did[i]))
                json.WriteNumber(outputs[i], page.Did[i]);
            else
                json.WriteNull(outputs[i]);
            did[i] = page.Did[i];
        }
        Close(isOpen);
    }

    private void Open(ref bool isOpen, ReadOnlySpan<byte> name)
    {
        if (!isOpen)
            json.WriteStartObject(name);
        isOpen = true;
    }

    private void Close(bool isOpen)
    {
        if (isOpen)
            json.WriteEndObject();
    }
}

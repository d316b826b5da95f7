// One line of the book of results: what was checked, what was expected, what was found, the verdict, who and when. The format is fixed: other parts of the desk read it.
// Must never hold a verdict without the figures it was made from.
using System.Globalization;
using System.Text.Json;

namespace RoomSupervisor.Desk.Checkout;

/// <summary>What came of a step.</summary>
public enum Verdict : byte
{
    /// <summary>As expected.</summary>
    Pass,

    /// <summary>Not as expected.</summary>
    Fail,

    /// <summary>Not done, with the reason.</summary>
    Skip,

    /// <summary>Measured or read, nothing to judge; also a part of a step that is not finished.</summary>
    Told,

    /// <summary>Does not count any longer: what it was measured on was replaced, or somebody wants it again.</summary>
    Again,
}

/// <summary>One result.</summary>
/// <param name="Kind">Kind of check: <c>input</c>, <c>calibration</c>, <c>pump</c>, …; other parts of the desk add their own (<c>fill</c>, <c>balance</c>, <c>screed</c>).</param>
/// <param name="Id">What was checked, unique with its kind in front: <c>input/weaving-room.air.temperature</c>. A part of an unfinished step has <c>#part</c> behind.</param>
/// <param name="Expected">In words.</param>
/// <param name="Found">In words.</param>
/// <param name="Verdict">The verdict.</param>
/// <param name="Who">Who did it.</param>
/// <param name="Utc">When.</param>
public sealed record CheckEntry(string Kind, string Id, string Expected, string Found, Verdict Verdict, string Who, DateTime Utc)
{
    /// <summary>Version of the format.</summary>
    public const int Version = 1;

    private const string Stamp = "yyyy-MM-ddTHH:mm:ss.fffZ";

    /// <summary>Why it failed or was skipped, and what to do; "" where there is nothing to say.</summary>
    public string Why { get; init; } = "";

    /// <summary>Figures behind it, in base units, by name.</summary>
    public IReadOnlyDictionary<string, double> Values { get; init; } = new Dictionary<string, double>();

    /// <summary>What it says site.yaml ought to say: path and value, such as <c>rooms.weaving-room.points.air.temperature.offset</c>: <c>-0.3 K</c>.</summary>
    public IReadOnlyDictionary<string, string> Proposals { get; init; } = new Dictionary<string, string>();

    /// <summary>True for a part of a step that is not finished.</summary>
    public bool IsPart => Id.Contains('#', StringComparison.Ordinal);

    /// <summary>The entry as one line of JSON, without a line end.</summary>
    public string ToLine()
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            json.WriteStartObject();
            json.WriteNumber("version", Version);
            json.WriteString("when", Utc.ToString(Stamp, CultureInfo.InvariantCulture));
            json.WriteString("who", Who);
            json.WriteString("kind", Kind);
            json.WriteString("id", Id);
            json.WriteString("verdict", Word(Verdict));
            json.WriteString("expected", Expected);
            json.WriteString("found", Found);
            json.WriteString("why", Why);
            json.WriteStartObject("values");
            foreach (var (name, value) in Values.Where(one => double.IsFinite(one.Value)))
                json.WriteNumber(name, value);
            json.WriteEndObject();
            json.WriteStartObject("proposals");
            foreach (var (path, value) in Proposals)
                json.WriteString(path, value);
            json.WriteEndObject();
            json.WriteEndObject();
        }
        return System.Text.Encoding.UTF8.GetString(stream.ToArray());
    }

    /// <summary>Reads a line; null with what is wrong with it.</summary>
    public static CheckEntry? Read(string line, out string why)
    {
        why = "";
        try
        {
            using var parsed = JsonDocument.Parse(line);
            var root = parsed.RootElement;
            if (root.GetProperty("version").GetInt32() != Version)
                return Wrong($"is of version {root.GetProperty("version").GetInt32()}, this program reads {Version}", out why);
            string Text(string name) => root.GetProperty(name).GetString() ?? "";
            if (!TryWord(Text("verdict"), out var verdict))
                return Wrong($"verdict \"{Text("verdict")}\"; allowed: pass, fail, skip, told, again", out why);
            if (!DateTime.TryParse(Text("when"), CultureInfo.InvariantCulture, DateTimeStyles.AdjustToUniversal | DateTimeStyles.AssumeUniversal, out var utc))
                return Wrong($"when \"{Text("when")}\" is no time", out why);
            return new CheckEntry(Text("kind"), Text("id"), Text("expected"), Text("found"), verdict, Text("who"), utc)
            {
                Why = Text("why"),
                Values = root.GetProperty("values").EnumerateObject().ToDictionary(one => one.Name, one => one.Value.GetDouble()),
                Proposals = root.GetProperty("proposals").EnumerateObject().ToDictionary(one => one.Name, one => one.Value.GetString() ?? ""),
            };
        }
        catch (Exception e) when (e is JsonException or KeyNotFoundException or InvalidOperationException or FormatException or ArgumentException)
        {
            return Wrong("is no result: torn by a power cut, or not written by this program", out why);
        }
    }

    /// <summary>The verdict in a word.</summary>
    public static string Word(Verdict verdict) => verdict switch
    {
        Verdict.Pass => "pass",
        Verdict.Fail => "fail",
        Verdict.Skip => "skip",
        Verdict.Told => "told",
        _ => "again",
    };

    private static bool TryWord(string word, out Verdict verdict)
    {
        foreach (var one in (ReadOnlySpan<Verdict>)[Verdict.Pass, Verdict.Fail, Verdict.Skip, Verdict.Told, Verdict.Again])
        {
            verdict = one;
            if (Word(one) == word)
                return true;
        }
        verdict = default;
        return false;
    }

    private static CheckEntry? Wrong(string what, out string why)
    {
        why = what;
        return null;
    }
}

// Points as lines for people: one a point, grouped by owner, in columns. Decides nothing; everything shown is in the answer.
using System.Globalization;
using System.Text.Json;

namespace RoomSupervisor.Verbs;

internal static class PointLines
{
    /// <summary>The lines of a whole answer.</summary>
    public static List<string> Of(JsonElement answer)
    {
        var lines = new List<string> { Title(answer) };
        var rows = answer.GetProperty("points").EnumerateArray().GroupBy(point => OwnerOf(point.GetProperty("point").GetString()!), StringComparer.Ordinal).ToList();
        var widest = rows.SelectMany(group => group).Select(point => PartOf(point).Length).DefaultIfEmpty(0).Max();
        foreach (var group in rows)
        {
            lines.Add(group.Key);
            lines.AddRange(group.Select(point => $"  {PartOf(point).PadRight(widest)}  {(Text(point, "kind") == "input" ? Input(point) : Output(point))}".TrimEnd()));
        }
        return lines;
    }

    private static string Title(JsonElement answer)
    {
        var time = Text(answer, "local_time");
        var site = Text(answer, "site");
        if (!answer.GetProperty("running").GetBoolean())
            return $"{site}, {time}: no controller runs; each sensor was read once, no output was touched";
        var how = answer.GetProperty("observing").GetBoolean() ? ", observing: nothing is written" : answer.GetProperty("by_hand").GetBoolean() ? ", only by hand: every other output is kept safe" : "";
        return string.Create(CultureInfo.InvariantCulture, $"{site}, {time}, scan {answer.GetProperty("scans").GetInt64()}{how}");
    }

    private static string Input(JsonElement point)
    {
        var quality = Text(point, "quality");
        var raw = $"raw {Text(point, "raw_shown")}";
        var where = Text(point, "device") is { Length: > 0 } device ? $"{device}.{Text(point, "channel")}" : "";
        return $"{Text(point, "shown"),10}  {quality,-9}  {raw,-16} {Age(point),-11} {Latency(point),-8} {where}{(Text(point, "why") is { Length: > 0 } why ? " | " + why : "")}";
    }

    private static string Output(JsonElement point)
    {
        var hand = point.GetProperty("hand");
        var written = string.Join(", ", point.GetProperty("written").EnumerateArray().Select(Written));
        var byHand = hand.ValueKind == JsonValueKind.Object ? $"BY HAND {Text(hand, "shown")}, {Duration(hand.GetProperty("remaining_s").GetDouble())} more: " : "";
        return $"{Text(point, "shown"),10}  {(written.Length > 0 ? written + " | " : "")}{byHand}{Text(point, "why")}";
    }

    private static string Written(JsonElement one)
    {
        var place = $"{Text(one, "shown")} on {Text(one, "device")}.{Text(one, "channel")}";
        if (Text(one, "problem") is { Length: > 0 } problem)
            return $"{place} NOT WRITTEN: {problem}";
        return Text(one, "lease") switch
        {
            "alive" => place,
            "ended" => place + " (its command has ended: what is safe then)",
            _ => place + " (never commanded: safe value)",
        };
    }

    private static string Age(JsonElement point)
        => point.GetProperty("age_s") is { ValueKind: JsonValueKind.Number } age && age.GetDouble() < 1e8 ? $"{Duration(Math.Max(0, age.GetDouble()))} old" : "";

    private static string Latency(JsonElement point)
        => point.GetProperty("latency_s") is { ValueKind: JsonValueKind.Number } latency ? string.Create(CultureInfo.InvariantCulture, $"{latency.GetDouble() * 1000:0.#} ms") : "";

    /// <summary>Seconds as people say them.</summary>
    public static string Duration(double seconds) => seconds switch
    {
        < 10 => string.Create(CultureInfo.InvariantCulture, $"{seconds:0.0} s"),
        < 100 => string.Create(CultureInfo.InvariantCulture, $"{seconds:0} s"),
        < 7200 => string.Create(CultureInfo.InvariantCulture, $"{Math.Floor(seconds / 60):0} min {seconds % 60:00} s"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{seconds / 3600:0.0} h"),
    };

    /// <summary>A text of an answer, "" where there is none.</summary>
    public static string Text(JsonElement one, string key) => one.TryGetProperty(key, out var value) && value.ValueKind == JsonValueKind.String ? value.GetString()! : "";

    private static string OwnerOf(string id) => id[..id.IndexOf('.', StringComparison.Ordinal)];

    private static string PartOf(JsonElement point)
    {
        var id = point.GetProperty("point").GetString()!;
        return id[(id.IndexOf('.', StringComparison.Ordinal) + 1)..];
    }
}

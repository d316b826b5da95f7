// A status as lines for people: whole, or the eight that fit a login. Words only; what is unknown is said, never left out.
using System.Globalization;
using System.Text.Json;
using RoomSupervisor.Terms;
using static RoomSupervisor.Verbs.PointLines;

namespace RoomSupervisor.Verbs;

internal static class StatusLines
{
    /// <summary>Most lines of a banner, and their width.</summary>
    private const int BannerLines = 8, BannerWidth = 100;

    public static IReadOnlyList<string> Of(JsonElement status)
    {
        List<string> lines = [Head(status), ""];
        var open = status.GetProperty("open").EnumerateArray().ToList();
        lines.Add(open.Count == 0 ? Nothing(status) : "needs a hand, first things first:");
        foreach (var one in open)
        {
            lines.Add($"  {Need(one)}");
            if (Text(one, "check") is { Length: > 0 } check)
                lines.Add($"      check: {check}");
        }
        if (status.GetProperty("shelved").GetInt32() is > 0 and var shelved)
            lines.Add(string.Create(CultureInfo.InvariantCulture, $"  and {shelved} set aside for a while"));
        lines.AddRange(Hands(status));
        lines.Add("");
        lines.AddRange(Rooms(status));
        lines.Add("");
        lines.AddRange(status.GetProperty("care").EnumerateArray().Select(line => $"care: {line.GetString()}"));
        lines.Add(Changed(status));
        lines.Add(status.GetProperty("bytes_last_day") is { ValueKind: JsonValueKind.Number } bytes
            ? string.Create(CultureInfo.InvariantCulture, $"written to disk within 24 h: {bytes.GetDouble() / 1e6:0.0} MB")
            : "written to disk within 24 h: not known while no controller answers");
        return lines;
    }

    /// <summary>At most eight lines: what needs a hand first, hands, the rooms that are short, what changed.</summary>
    public static IReadOnlyList<string> Banner(JsonElement status)
    {
        List<string> lines = [Head(status)];
        var open = status.GetProperty("open").EnumerateArray().ToList();
        lines.Add(open.Count == 0 ? Nothing(status) : Need(open[0]));
        if (open.Count > 1)
            lines.Add(open.Count == 2 ? Need(open[1]) : string.Create(CultureInfo.InvariantCulture, $"{Need(open[1])} (and {open.Count - 2} more)"));
        var hands = Hands(status).ToList();
        if (hands.Count > 0)
            lines.Add(hands.Count == 1 ? hands[0] : string.Create(CultureInfo.InvariantCulture, $"{hands[0]} (and {hands.Count - 1} more)"));
        var rooms = status.GetProperty("rooms").EnumerateArray().ToList();
        var short1 = rooms.Where(room => Text(room, "verdict") != "content").ToList();
        var fit = BannerLines - 2 - lines.Count;
        lines.AddRange(short1.Take(short1.Count > fit ? fit - 1 : fit).Select(room => $"{Text(room, "room")}: {Text(room, "verdict").ToUpperInvariant()}: {Text(room, "text")}"));
        if (rooms.Count > 0 && lines.Count < BannerLines - 1)
            lines.Add(string.Create(CultureInfo.InvariantCulture, $"{rooms.Count - short1.Count} of {rooms.Count} rooms content: {string.Join(", ", rooms.Select(room => $"{Text(room, "room")} {Text(room, "air")}"))}"));
        if (lines.Count < BannerLines)
            lines.Add(Changed(status));
        return [.. lines.Take(BannerLines).Select(line => line.Length > BannerWidth ? line[..(BannerWidth - 1)] + "…" : line)];
    }

    private static string Head(JsonElement status)
    {
        var up = status.GetProperty("up_s") is { ValueKind: JsonValueKind.Number } seconds ? $", up {Quantities.Show(seconds.GetDouble(), Quantity.Duration, UnitSystem.Metric)}" : "";
        var mode = Text(status, "mode") is { Length: > 0 } said ? $"; {said}" : "";
        return $"{Text(status, "site")}, {Text(status, "local")}: {Text(status, "from")}{up}{mode}";
    }

    private static string Nothing(JsonElement status) => status.GetProperty("live").GetBoolean() ? "nothing needs a hand" : "nothing needed a hand when the controller last wrote; now nobody controls";

    private static string Need(JsonElement one)
    {
        var stands = one.GetProperty("stands").GetBoolean() ? "" : ", gone meanwhile and not seen by anybody";
        var seen = Text(one, "seen_by") is { Length: > 0 } who ? $", seen by {who}" : "";
        var times = one.GetProperty("times").GetInt32() is > 1 and var count ? string.Create(CultureInfo.InvariantCulture, $", {count} times") : "";
        var long1 = Quantities.Show(one.GetProperty("for_s").GetDouble(), Quantity.Duration, UnitSystem.Metric);
        return $"{Text(one, "priority").ToUpperInvariant()} {Text(one, "where")}: {Text(one, "text")} (since {Text(one, "since")}, {long1}{times}{stands}{seen})";
    }

    private static IEnumerable<string> Hands(JsonElement status)
        => status.GetProperty("hands").EnumerateArray().Select(hand => $"in hand: {Text(hand, "point")} {Text(hand, "value")} until {Text(hand, "until")}, {Quantities.Show(hand.GetProperty("left_s").GetDouble(), Quantity.Duration, UnitSystem.Metric)} more");

    private static IEnumerable<string> Rooms(JsonElement status)
    {
        var rooms = status.GetProperty("rooms").EnumerateArray().ToList();
        var width = rooms.Select(room => Text(room, "room").Length).DefaultIfEmpty(0).Max();
        foreach (var room in rooms)
        {
            yield return $"{Text(room, "room").PadRight(width)}  {Text(room, "air")}, wanted {Text(room, "wanted")}, humidity {Text(room, "humidity")}, dew point {Text(room, "dew_point")}, {Text(room, "stage")}, fan {Text(room, "fan")}, guard {Text(room, "guard")}";
            if (Text(room, "verdict") != "content")
                yield return $"{"".PadRight(width)}  {Text(room, "verdict").ToUpperInvariant()}: {Text(room, "text")}";
        }
        if (rooms.Count == 0)
            yield return "rooms: nothing is known of them";
    }

    private static string Changed(JsonElement status)
    {
        if (status.GetProperty("changed") is not { ValueKind: JsonValueKind.Object } version)
            return "changed last: no version of household.yaml is kept";
        var what = version.GetProperty("what").EnumerateArray().Select(line => line.GetString()).ToList();
        return string.Create(CultureInfo.InvariantCulture, $"changed last: {Text(version, "when")}, version {version.GetProperty("version").GetInt32()}: {(what.Count == 0 ? "only its text" : string.Join("; ", what))}");
    }
}

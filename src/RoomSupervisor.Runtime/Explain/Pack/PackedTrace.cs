// A day's trace for a pack that has no room for it: the time around its events, the worst first. Plays the day once for it. Must never take the place of the day on the board.
using System.Globalization;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Explain.Pack;

/// <summary>Pieces of a trace.</summary>
internal static class PackedTrace
{
    /// <summary>What led to an event, and what came of it.</summary>
    private static readonly TimeSpan Before = TimeSpan.FromMinutes(30), After = TimeSpan.FromMinutes(30);

    private static readonly (string Words, Priority From)[] Choices = [("warnings and alarms", Priority.Warning), ("alarms", Priority.Alarm)];

    /// <summary>The piece, empty where nothing of it has room; null where it cannot be cut, and the whole is as good.</summary>
    /// <param name="path">The day's trace.</param>
    /// <param name="trends">The trend file, which keeps the events.</param>
    /// <param name="hasRoom">Whether so many bytes have room.</param>
    /// <param name="said">What was left out, for people.</param>
    public static byte[]? Around(string path, string trends, Func<long, bool> hasRoom, out string said)
    {
        said = "";
        using var reader = TrendReader.Open(trends, out _);
        if (reader is null)
            return null;
        var day = DateTime.TryParseExact(Path.GetFileName(path)[..Math.Min(10, Path.GetFileName(path).Length)], "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out var begin);
        if (!day)
            return null;
        // The day is one of the site's calendar, at most fourteen hours from universal time.
        var events = reader.Events(begin.AddHours(-14), begin.AddHours(38));
        foreach (var (words, from) in Choices)
        {
            var moments = events.Where(one => Enum.TryParse<Priority>(one.Priority, true, out var priority) && priority >= from).Select(one => one.Utc).ToList();
            if (moments.Count == 0 || Cut(path, TraceCut.Around(moments, Before, After)) is not { Length: > 0 } piece)
                continue;
            if (!hasRoom(piece.Length))
                continue;
            said = string.Create(CultureInfo.InvariantCulture, $"only the time around its {words}, half an hour before and after ({piece.Length / 1e6:0.0} MB): the whole day, {new FileInfo(path).Length / 1e6:0.0} MB, has no room; --last makes the rest smaller");
            return piece;
        }
        said = events.Count == 0 ? "nothing happened that day, and the whole of it has no room" : "neither the day nor the time around its alarms has room; --last makes the rest smaller";
        return [];
    }

    private static byte[]? Cut(string path, IReadOnlyList<(DateTime FromUtc, DateTime ToUtc)> windows)
    {
        try
        {
            using var piece = new MemoryStream();
            return TraceCut.Write(path, piece, windows) > 0 ? piece.ToArray() : null;
        }
        catch (Exception e) when (e is TraceException || SafeFile.IsTrouble(e))
        {
            return null;
        }
    }
}

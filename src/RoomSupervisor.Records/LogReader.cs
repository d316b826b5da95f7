// Reads the log for people back, beside a controller that writes it: all its files, oldest first, torn lines and heads left out. Must never write to it.
using System.Globalization;
using System.Text;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Records;

/// <summary>What is wanted of a log.</summary>
/// <param name="Place">Only lines on this place, or on what begins with it and a dot; null: all.</param>
/// <param name="Span">How far back from the newest line.</param>
/// <param name="Least">Least priority.</param>
public sealed record LogWish(string? Place, TimeSpan Span, Priority Least)
{
    /// <summary>True for the status lines of every minute, too.</summary>
    public bool WithStatus { get; init; }
}

/// <summary>A line as it was written.</summary>
public readonly record struct ReadLine(DateTime Utc, double ElapsedS, Priority Priority, string Text);

/// <summary>Reading the log.</summary>
public static class LogReader
{
    /// <summary>Lines that fit, in the order in which they were written; false with the reason when there is no log.</summary>
    public static bool TryRead(string directory, LogWish wish, out IReadOnlyList<ReadLine> lines, out string why)
    {
        (lines, why) = ([], "");
        try
        {
            List<ReadLine> all = [];
            foreach (var file in Files(directory))
                Read(file, all);
            if (all.Count == 0)
            {
                why = $"{Path.Combine(directory, LogFile.TextName)}: there is no log yet; a controller writes it ten minutes after its start, or after a warning";
                return false;
            }
            var from = all.Max(line => line.Utc) - wish.Span;
            lines = [.. all.Where(line => line.Utc >= from && line.Priority >= wish.Least && IsOn(line.Text, wish.Place) && (wish.WithStatus || !IsStatus(line.Text)))];
            return true;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            why = e.Message;
            return false;
        }
    }

    /// <summary>Files of the log, oldest first.</summary>
    internal static IReadOnlyList<string> Files(string directory)
    {
        var path = Path.Combine(directory, LogFile.TextName);
        return [.. Enumerable.Range(1, 9).Reverse().Select(number => string.Create(CultureInfo.InvariantCulture, $"{path}.{number}")).Append(path).Where(File.Exists)];
    }

    private static void Read(string file, List<ReadLine> into)
    {
        using var stream = new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        using var reader = new StreamReader(stream, Encoding.UTF8);
        while (reader.ReadLine() is { } text)
        {
            if (TryLine(text, out var line))
                into.Add(line);
            else if (text.StartsWith("    ", StringComparison.Ordinal) && into.Count > 0)
                into[^1] = into[^1] with { Text = into[^1].Text + "\n" + text };
        }
    }

    private static bool TryLine(string text, out ReadLine line)
    {
        line = default;
        var parts = text.Split(' ', 4);
        if (parts.Length < 4 || !DateTime.TryParseExact(parts[0], LogFile.Stamp, CultureInfo.InvariantCulture, DateTimeStyles.AdjustToUniversal | DateTimeStyles.AssumeUniversal, out var utc)
            || !double.TryParse(parts[1], NumberStyles.Float, CultureInfo.InvariantCulture, out var elapsedS) || !Enum.TryParse<Priority>(parts[2], ignoreCase: true, out var priority))
            return false;
        line = new ReadLine(utc, elapsedS, priority, parts[3]);
        return true;
    }

    private static bool IsStatus(string text) => text.Contains(": stage=", StringComparison.Ordinal) && text.Contains(" reason=", StringComparison.Ordinal);

    private static bool IsOn(string text, string? place)
        => place is null || (text.StartsWith(place, StringComparison.Ordinal) && text.Length > place.Length && text[place.Length] is ':' or '.')
            || text.StartsWith($"by hand: ", StringComparison.Ordinal) && text.Contains($" {place}.", StringComparison.Ordinal);
}

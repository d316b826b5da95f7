// Every accepted version of household.yaml, whole, with its time and what it changed: the last fifty. A version is one file, written once
// and never changed.
using System.Globalization;
using System.Text;

namespace RoomSupervisor.Runtime.State;

/// <summary>One version.</summary>
/// <param name="Number">Counts up from 1; never used twice while the newest is kept.</param>
/// <param name="Utc">When it was accepted.</param>
/// <param name="Changes">What it changed, a line each.</param>
/// <param name="Text">The file as it was.</param>
public sealed record HistoryVersion(int Number, DateTime Utc, IReadOnlyList<string> Changes, byte[] Text);

/// <summary>The versions of one site.</summary>
public sealed class History(string folder)
{
    /// <summary>How many are kept.</summary>
    public const int Kept = 50;

    private const string Head = "# room-supervisor: a version of household.yaml, accepted ", Line = "# changed ", End = "# ---- the file as it was ----\n";

    /// <summary>All versions that can be read, oldest first.</summary>
    public IReadOnlyList<HistoryVersion> All() => [.. Numbers().Select(Read).OfType<HistoryVersion>()];

    /// <summary>One version, or null.</summary>
    public HistoryVersion? Find(int number) => Read(number);

    /// <summary>The newest version, or null.</summary>
    public HistoryVersion? Newest() => Numbers().Reverse().Select(Read).FirstOrDefault(version => version is not null);

    /// <summary>Keeps a version and lets go of the oldest ones.</summary>
    /// <returns>Its number.</returns>
    /// <exception cref="IOException">The disk is full or read-only.</exception>
    public int Add(DateTime utc, IEnumerable<string> changes, ReadOnlySpan<byte> text)
    {
        Directory.CreateDirectory(folder);
        var head = new StringBuilder(Head).Append(utc.ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture)).Append('\n');
        foreach (var change in changes)
            head.Append(Line).Append(change.ReplaceLineEndings(" ")).Append('\n');
        var numbers = Numbers();
        var number = numbers.Length > 0 ? numbers[^1] + 1 : 1;
        SafeFile.Write(FileOf(number), [.. Encoding.UTF8.GetBytes(head.Append(End).ToString()), .. text], overwrite: false);
        foreach (var old in numbers.Take(numbers.Length + 1 - Kept))
            File.Delete(FileOf(old));
        return number;
    }

    private string FileOf(int number) => Path.Combine(folder, string.Create(CultureInfo.InvariantCulture, $"household.{number:000000}.yaml"));

    private int[] Numbers()
    {
        if (!Directory.Exists(folder))
            return [];
        return [.. Directory.GetFiles(folder, "household.*.yaml").Select(file => Path.GetFileName(file).Split('.')[1])
            .Select(word => int.TryParse(word, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : 0).Where(number => number > 0).Order()];
    }

    private HistoryVersion? Read(int number)
    {
        if (SafeFile.Read(FileOf(number), out _) is not { } bytes)
            return null;
        var at = bytes.AsSpan().IndexOf(Encoding.UTF8.GetBytes(End));
        if (at < 0)
            return null;
        var lines = Encoding.UTF8.GetString(bytes, 0, at).Split('\n');
        return lines[0].StartsWith(Head, StringComparison.Ordinal)
            && DateTime.TryParse(lines[0][Head.Length..], CultureInfo.InvariantCulture, DateTimeStyles.AdjustToUniversal, out var utc)
            ? new HistoryVersion(number, utc, [.. lines.Where(line => line.StartsWith(Line, StringComparison.Ordinal)).Select(line => line[Line.Length..])], bytes[(at + Encoding.UTF8.GetByteCount(End))..])
            : null;
    }
}

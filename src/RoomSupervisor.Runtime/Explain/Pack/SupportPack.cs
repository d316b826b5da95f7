// A support pack: one zip with all that somebody needs who was not there: site files and history, memory, log, trends, traces, versions. Written from a running or stopped site;
// must never grow past its limit (what was left out is said), nor change anything of the site.
using System.Globalization;
using System.IO.Compression;
using System.Text;
using Microsoft.Data.Sqlite;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Site;

namespace RoomSupervisor.Runtime.Explain.Pack;

/// <summary>What goes into a pack.</summary>
/// <param name="Directory">The site's directory.</param>
/// <param name="State">Its state folder.</param>
/// <param name="Logs">Its log directory.</param>
/// <param name="Last">How far back, for trends and traces.</param>
public sealed record PackWish(string Directory, StateFolder State, string Logs, TimeSpan Last)
{
    /// <summary>Names that are replaced wherever they stand in text; empty: none are. Trends, memory and traces carry names in their own way and stay out then.</summary>
    public IReadOnlyDictionary<string, string> Names { get; init; } = new Dictionary<string, string>();

    /// <summary>Answers of the running controller, by the name of the request; empty: nobody runs.</summary>
    public IReadOnlyDictionary<string, string> Answers { get; init; } = new Dictionary<string, string>();

    /// <summary>Only site files and state: what a spare board needs, without logs, trends and traces.</summary>
    public bool OnlyState { get; init; }

    /// <summary>Largest size, bytes.</summary>
    public long LimitBytes { get; init; } = SupportPack.Limit;
}

/// <summary>Writing packs.</summary>
public static class SupportPack
{
    /// <summary>Largest size of a pack, bytes: what a mail takes.</summary>
    public const long Limit = 20_000_000;

    /// <summary>Marks a pack, and says what is in it.</summary>
    public const string AboutName = "about.txt", Mark = "room-supervisor support pack 1";

    /// <summary>Writes a pack; what was left out comes back, a line each.</summary>
    /// <exception cref="IOException">It cannot be written.</exception>
    public static IReadOnlyList<string> Write(string path, PackWish wish, DateTime utc)
    {
        List<string> leftOut = [];
        using var file = new FileStream(path, FileMode.CreateNew, FileAccess.ReadWrite);
        using (var zip = new ZipArchive(file, ZipArchiveMode.Create, leaveOpen: true))
        {
            // The dearest first: what is added last is what no longer fits.
            foreach (var (name, text) in wish.Answers)
                Add(zip, file, wish, $"answers/{name}.json", Encoding.UTF8.GetBytes(text), leftOut);
            foreach (var name in (string[])[SiteReader.SiteFile, SiteReader.HouseholdFile, "household.answer.txt", "building.yaml"])
                Add(zip, file, wish, name, Path.Combine(wish.Directory, name), leftOut);
            foreach (var scenario in FilesIn(Path.Combine(wish.Directory, "scenarios"), "*.yaml"))
                Add(zip, file, wish, "scenarios/" + Path.GetFileName(scenario), scenario, leftOut);
            State(zip, file, wish, leftOut);
            if (!wish.OnlyState)
            {
                Logs(zip, file, wish, leftOut);
                Trends(zip, file, wish, utc, leftOut);
                Traces(zip, file, wish, utc, leftOut);
            }
            About(zip, wish, utc, leftOut);
        }
        return leftOut;
    }

    private static void State(ZipArchive zip, FileStream file, PackWish wish, List<string> leftOut)
    {
        foreach (var kept in FilesIn(wish.State.Path, "*").Where(one => !one.EndsWith(".sock", StringComparison.Ordinal) && Path.GetFileName(one)[0] != '.'))
        {
            var isText = kept.Contains(".yaml", StringComparison.Ordinal);
            if (wish.Names.Count > 0)
                leftOut.Add($"state/{Path.GetFileName(kept)}: {(isText ? "its checksum would no longer fit without names" : "it is of the house with its names")}");
            else
                Add(zip, file, wish, "state/" + Path.GetFileName(kept), kept, leftOut);
        }
        if (wish.Names.Count > 0)
            leftOut.Add("state/history: versions hold whatever the household wrote");
        foreach (var version in wish.Names.Count > 0 ? [] : FilesIn(Path.Combine(wish.State.Path, "history"), "*.yaml"))
            Add(zip, file, wish, "state/history/" + Path.GetFileName(version), version, leftOut);
    }

    private static void Logs(ZipArchive zip, FileStream file, PackWish wish, List<string> leftOut)
    {
        foreach (var log in FilesIn(wish.Logs, "room-supervisor.*").OrderBy(name => name.Length).ThenBy(name => name, StringComparer.Ordinal))
            Add(zip, file, wish, "log/" + Path.GetFileName(log), log, leftOut);
    }

    /// <summary>A copy of the trends that holds only the time wanted, made by the database itself: the controller may go on writing.</summary>
    private static void Trends(ZipArchive zip, FileStream file, PackWish wish, DateTime utc, List<string> leftOut)
    {
        var path = Path.Combine(wish.Logs, TrendRecorder.FileName);
        if (!File.Exists(path))
            return;
        if (wish.Names.Count > 0)
        {
            leftOut.Add($"log/{TrendRecorder.FileName}: its series carry names");
            return;
        }
        var copy = Path.Combine(Path.GetTempPath(), $"room-supervisor-{Guid.NewGuid():n}.db");
        try
        {
            TrendCopy.Write(path, copy, utc - wish.Last);
            Add(zip, file, wish, "log/" + TrendRecorder.FileName, copy, leftOut);
        }
        catch (SqliteException e)
        {
            leftOut.Add($"log/{TrendRecorder.FileName}: {e.Message}");
        }
        finally
        {
            File.Delete(copy);
        }
    }

    /// <summary>Newest day first; of a day that has no room, what lies around its warnings and alarms.</summary>
    private static void Traces(ZipArchive zip, FileStream file, PackWish wish, DateTime utc, List<string> leftOut)
    {
        var from = (utc - wish.Last).AddDays(-1).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        foreach (var trace in TraceRecorder.Files(Path.Combine(wish.Logs, TraceRecorder.FolderName)).Reverse().Where(trace => string.CompareOrdinal(Path.GetFileName(trace), from) >= 0))
        {
            var name = $"log/{TraceRecorder.FolderName}/{Path.GetFileName(trace)}";
            if (wish.Names.Count > 0)
                leftOut.Add($"{name}: it carries names");
            else if (HasRoom(file, wish, new FileInfo(trace).Length) || PackedTrace.Around(trace, Path.Combine(wish.Logs, TrendRecorder.FileName), size => HasRoom(file, wish, size), out var said) is not { } piece)
                Add(zip, file, wish, name, trace, leftOut);
            else
            {
                leftOut.Add($"{name}: {said}");
                if (piece.Length > 0)
                    Add(zip, file, wish, name, piece, leftOut);
            }
        }
    }

    private static void About(ZipArchive zip, PackWish wish, DateTime utc, List<string> leftOut)
    {
        var text = new StringBuilder().Append(Mark).Append('\n')
            .Append(CultureInfo.InvariantCulture, $"written {utc:yyyy-MM-dd HH:mm:ss} universal time by version {SiteRun.Version} on {Platform.Fingerprint}\n")
            .Append(wish.OnlyState ? "only what a spare board needs: site files and state\n" : "")
            .Append(CultureInfo.InvariantCulture, $"trends and traces of the last {wish.Last.TotalDays:0.#} days{(wish.Names.Count > 0 ? "; without names" : "")}\n")
            .Append(wish.Answers.Count > 0 ? "the controller ran and answered: see answers/\n" : "no controller answered: counters and bus statistics are missing\n");
        foreach (var line in leftOut)
            text.Append("left out: ").Append(line).Append('\n');
        Put(zip, AboutName, Encoding.UTF8.GetBytes(text.ToString()));
    }

    private static void Add(ZipArchive zip, FileStream file, PackWish wish, string name, string path, List<string> leftOut)
    {
        try
        {
            if (File.Exists(path))
                Add(zip, file, wish, name, Read(path), leftOut);
        }
        catch (Exception e) when (SafeFile.IsTrouble(e))
        {
            leftOut.Add($"{name}: {e.Message}");
        }
    }

    /// <summary>A file that is written at the same time has the length it has now.</summary>
    private static byte[] Read(string path)
    {
        using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        var bytes = new byte[stream.Length];
        return bytes[..stream.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false)];
    }

    private static void Add(ZipArchive zip, FileStream file, PackWish wish, string name, byte[] bytes, List<string> leftOut)
    {
        if (wish.Names.Count > 0)
        {
            var text = Encoding.UTF8.GetString(bytes);
            bytes = Encoding.UTF8.GetBytes(NameMask.Hide(name.EndsWith(".yaml", StringComparison.Ordinal) ? NameMask.WithoutRemarks(text) : text, wish.Names));
        }
        using var trial = new MemoryStream();
        using (var deflate = new DeflateStream(trial, CompressionLevel.Optimal, leaveOpen: true))
            deflate.Write(bytes);
        if (!HasRoom(file, wish, trial.Length))
        {
            leftOut.Add(string.Create(CultureInfo.InvariantCulture, $"{name}: {trial.Length / 1e6:0.0} MB more would be over the limit of {wish.LimitBytes / 1e6:0} MB; --last makes it smaller"));
            return;
        }
        Put(zip, name, bytes);
        file.Flush();
    }

    /// <summary>The directory at the end of a zip, and what is said of it, take some room too.</summary>
    private static bool HasRoom(FileStream file, PackWish wish, long bytes) => file.Length + bytes + 60_000 <= wish.LimitBytes;

    private static void Put(ZipArchive zip, string name, byte[] bytes)
    {
        using var entry = zip.CreateEntry(name, CompressionLevel.Optimal).Open();
        entry.Write(bytes);
    }

    private static string[] FilesIn(string folder, string pattern) => Directory.Exists(folder) ? [.. Directory.GetFiles(folder, pattern).Order(StringComparer.Ordinal)] : [];
}

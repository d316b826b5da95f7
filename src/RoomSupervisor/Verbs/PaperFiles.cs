// What the verbs that make papers share: facts for the foot, files to write. Must never write over a file of the site.
using System.CommandLine;
using System.Globalization;
using System.Text;
using RoomSupervisor.Desk.Describe;
using RoomSupervisor.Runtime;
using RoomSupervisor.Site;

namespace RoomSupervisor.Verbs;

/// <summary>Papers on a terminal and in files.</summary>
internal static class PaperFiles
{
    private const int NarrowestLetters = 60, WidestLetters = 160, UsualLetters = 110;

    /// <summary>An option that names a file to write.</summary>
    public static Option<string?> Option(string name, string description) => new(name) { Description = description, HelpName = "FILE" };

    /// <summary>What a paper says of itself.</summary>
    public static PaperFacts Facts(string directory, SiteFiles files)
    {
        var household = Path.Combine(directory, SiteReader.HouseholdFile);
        var local = TimeZoneInfo.ConvertTimeFromUtc(TimeProvider.System.GetUtcNow().UtcDateTime, files.Site.TimeZone);
        return new PaperFacts(
            SiteRun.Version, PaperFacts.Of(File.ReadAllBytes(Path.Combine(directory, SiteReader.SiteFile)), File.Exists(household) ? File.ReadAllBytes(household) : []),
            local.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture));
    }

    /// <summary>Writes a paper to the terminal.</summary>
    public static void Print(Paper paper, PaperFacts facts)
        => PaperText.Write(Console.Out, paper, facts, Console.IsOutputRedirected ? UsualLetters : Math.Clamp(Console.WindowWidth, NarrowestLetters, WidestLetters));

    /// <summary>Writes files; false with a message on standard error when one cannot be written. Nothing is written when two options name one file or one names a file of the site.</summary>
    /// <param name="verb">For the message.</param>
    /// <param name="directory">The site's directory.</param>
    /// <param name="wanted">Option, path as given (null: not asked for), and what to write.</param>
    public static bool Write(string verb, string directory, params IReadOnlyList<(string Option, string? Path, Action<TextWriter> Write)> wanted)
    {
        var taken = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var (option, path, _) in wanted.Where(file => file.Path is not null))
        {
            if (Clash(directory, taken, option, path!) is not { } clash)
                continue;
            Refusal.Say(verb, clash);
            return false;
        }
        foreach (var (option, path, write) in wanted.Where(file => file.Path is not null))
        {
            if (!WriteOne(verb, option, path!, write))
                return false;
        }
        return true;
    }

    private static string? Clash(string directory, Dictionary<string, string> taken, string option, string path)
    {
        var full = Path.GetFullPath(path);
        if (Path.GetDirectoryName(full) == Path.GetFullPath(directory).TrimEnd(Path.DirectorySeparatorChar) && full.EndsWith(".yaml", StringComparison.Ordinal))
            return $"{option} {path}: would write over a file of the site; name another";
        return taken.TryAdd(full, option) ? null : $"{option} {path}: {taken[full]} names the same file; give each its own";
    }

    private static bool WriteOne(string verb, string option, string path, Action<TextWriter> write)
    {
        try
        {
            // A spreadsheet takes a table without a byte order mark for another alphabet, and shows "Â°C".
            using var file = new StreamWriter(path, false, new UTF8Encoding(option is "--csv" or "--cables"));
            write(file);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            Refusal.Say(verb, $"{option} {path}: cannot be written ({e.Message.TrimEnd('.')}); name a file in a directory that exists and that you may write to");
            return false;
        }
        Console.Out.WriteLine($"{option.TrimStart('-')}: {Path.GetFullPath(path)}");
        return true;
    }
}

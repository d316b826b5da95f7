// Reads what a rehearsal needs from a site's directory: site.yaml and household.yaml strictly, building.yaml and a scenario where there are, the weather they name.
// Must never start with a file it did not understand: everything wrong is told at once, by line.
using System.Collections.Concurrent;
using System.Globalization;
using System.Text;
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime.Start;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>What somebody asked for on the command line.</summary>
/// <param name="Directory">The site's directory.</param>
public sealed record RehearsalWish(string Directory)
{
    /// <summary>A scenario file, or a name under <c>scenarios/</c>; null: ordinary days.</summary>
    public string? Scenario { get; init; }

    /// <summary>Length, days; 0: the scenario's.</summary>
    public int Days { get; init; }

    /// <summary>First day, yyyy-MM-dd; null: the scenario's.</summary>
    public string? From { get; init; }

    /// <summary>Seed; null: the scenario's.</summary>
    public ulong? Seed { get; init; }

    /// <summary>Makes the faults of a campaign from what the site has; null: none beside the scenario's own.</summary>
    public Func<ScenarioNames, string>? Faults { get; init; }
}

/// <summary>Reader of rehearsals.</summary>
public static class RehearsalReader
{
    /// <summary>Name of the building's file beside site.yaml.</summary>
    public const string BuildingFileName = "building.yaml";

    private static readonly Dictionary<string, string> Shipped = new(StringComparer.Ordinal)
    {
        ["chicago"] = "USA_IL_Chicago-OHare.725300_TMY3.epw",
        ["new-york"] = "USA_NY_New.York-JFK.744860_TMY3.epw",
    };

    // A year of a shipped file is the same for every seed of a campaign: read once, and nobody writes to it.
    private static readonly ConcurrentDictionary<string, EpwFile> ShippedRead = new(StringComparer.Ordinal);

    /// <summary>Reads everything; null with what is wrong, one text a problem.</summary>
    public static RehearsalPlan? Read(RehearsalWish wish, out IReadOnlyList<string> problems)
    {
        var site = SiteStart.Read(wish.Directory, StartVerb.Lockstep, Drivers.All, TimeProvider.System);
        List<string> wrong = [.. site.Problems.Where(problem => problem.Severity == Severity.Error).Select(problem => problem.ToString())];
        problems = wrong;
        if (site.Files is not { } files)
            return null;
        if (files.Wiring.Count == 0)
        {
            wrong.Add("rehearse: nothing is wired in site.yaml, so there is nothing to rehearse; add devices and points");
            return null;
        }
        try
        {
            return Read(wish, files, wrong);
        }
        catch (Exception e) when (e is NotSupportedException or ArgumentException or WeatherFileException or IOException or UnauthorizedAccessException)
        {
            wrong.Add(e.Message);
            return null;
        }
    }

    private static RehearsalPlan? Read(RehearsalWish wish, SiteFiles files, List<string> wrong)
    {
        var path = Path.Combine(wish.Directory, BuildingFileName);
        if (Directory.Exists(path))
            throw new ArgumentException($"{path}: error: is a directory; allowed: a file that describes the building, or none at all: then every value is a default");
        var found = BuildingFileReader.Read(BuildingFileName, File.Exists(path) ? File.ReadAllBytes(path) : null, [.. files.House.Rooms.Select(room => room.Id)]);
        wrong.AddRange(found.Problems.Where(problem => problem.Severity == Severity.Error).Select(problem => problem.ToString()));
        if (found.Building is not { } building)
            return null;
        var house = HouseFromSite.Make(files.House, building);
        var plant = PlantFromSite.Make(files.House, building, house);
        var (name, bytes, folder) = ScenarioText(wish, files, building);
        var names = RehearsalPlan.NamesOf(files, house, plant);
        var text = Over(bytes, wish);
        if (wish.Faults is { } faults)
            text = [.. text, .. Encoding.UTF8.GetBytes("\n" + faults(names))];
        var read = ScenarioReader.Read(name, text, names);
        wrong.AddRange(read.Problems.Where(problem => problem.Severity == Severity.Error).Select(problem => Told(problem, wish)));
        if (read.Scenario is not { } scenario)
            return null;
        return new RehearsalPlan(files, building, house, plant, new Weather(WeatherOf(name, scenario.Weather, folder)), scenario)
        {
            ScenarioName = Path.GetFileNameWithoutExtension(name),
            Seed = wish.Seed ?? scenario.Seed,
        };
    }

    private static (string Name, byte[] Text, string Folder) ScenarioText(RehearsalWish wish, SiteFiles files, BuildingFile building)
    {
        if (wish.Scenario is not { } scenario)
            return ("ordinary days.yaml", Encoding.UTF8.GetBytes(OrdinaryDays.Text(files.House, building, wish.Days)), wish.Directory);
        var places = Places(wish.Directory, scenario);
        if (!places.Any(File.Exists) && places.FirstOrDefault(Directory.Exists) is { } folder)
            throw new ArgumentException($"--scenario {scenario}: error: {folder} is a directory; allowed: a scenario file{Names(wish.Directory)}");
        var file = places.FirstOrDefault(File.Exists)
            ?? throw new ArgumentException($"--scenario {scenario}: error: there is no such file; looked for {string.Join(", ", places.Distinct())}; allowed: a scenario file{Names(wish.Directory)}");
        return (Path.GetFileName(file), File.ReadAllBytes(file), Path.GetDirectoryName(Path.GetFullPath(file))!);
    }

    private static string[] Places(string directory, string scenario)
        => [scenario, Path.Combine(directory, "scenarios", scenario), Path.Combine(directory, "scenarios", scenario + ".yaml")];

    /// <summary>Files a wish is read from; those that are not there as well.</summary>
    public static IEnumerable<string> FilesRead(RehearsalWish wish)
        => [.. ((string[])["site.yaml", "household.yaml", BuildingFileName]).Select(name => Path.Combine(wish.Directory, name)), .. wish.Scenario is { } scenario ? Places(wish.Directory, scenario).Where(File.Exists) : []];

    // Length and first day from the command line take the place of the file's lines: the strict reader judges them like any others.
    private static byte[] Over(byte[] text, RehearsalWish wish)
    {
        if (wish.Days == 0 && wish.From is null)
            return text;
        List<string> lines = [.. Encoding.UTF8.GetString(text).TrimEnd().Split('\n')];
        void Put(string key, string value)
        {
            // In its own line where there is one: messages name lines of the file as it was written.
            var at = lines.FindIndex(line => line.StartsWith(key, StringComparison.Ordinal));
            if (at < 0)
                lines.Add(key + " " + value);
            else
                lines[at] = key + " " + value;
        }
        if (wish.Days != 0)
            Put("days:", wish.Days.ToString(CultureInfo.InvariantCulture));
        if (wish.From is { } from)
            Put("from:", from);
        return Encoding.UTF8.GetBytes(string.Join('\n', lines) + "\n");
    }

    // What the command line said is told as such: no file has that line.
    private static string Told(Problem problem, RehearsalWish wish)
    {
        var given = problem.KeyPath == "days" && wish.Days != 0 ? wish.Days.ToString(CultureInfo.InvariantCulture) : problem.KeyPath == "from" ? wish.From : null;
        if (given is null)
            return problem.ToString();
        return $"--{problem.KeyPath} {given}: error: {problem.Message}{(problem.Allowed.Length > 0 ? "; allowed: " + problem.Allowed : "")}{(problem.WhatToDo.Length > 0 ? "; " + problem.WhatToDo : "")}";
    }

    private static string Names(string directory)
    {
        var folder = Path.Combine(directory, "scenarios");
        string[] names = Directory.Exists(folder) ? [.. Directory.GetFiles(folder, "*.yaml").Select(file => Path.GetFileNameWithoutExtension(file)).Order(StringComparer.Ordinal)] : [];
        return names.Length == 0 ? "" : ", or " + string.Join(", ", names);
    }

    /// <summary>The weather a file names: a shipped one, an EPW file or a design day beside it.</summary>
    /// <exception cref="ArgumentException">It cannot be used; the text says why.</exception>
    internal static EpwFile WeatherOf(string scenario, string weather, string folder)
    {
        try
        {
            var path = WeatherPath(weather, folder);
            if (Shipped.ContainsKey(weather))
                return ShippedRead.GetOrAdd(path, EpwReader.Read);
            return path.EndsWith(".yaml", StringComparison.Ordinal) ? DesignDayFileReader.Read(path).File : EpwReader.Read(path);
        }
        catch (WeatherFileException e)
        {
            throw new ArgumentException($"{scenario}: error: weather: {e.Message}", e);
        }
    }

    private static string WeatherPath(string weather, string folder)
    {
        if (!Shipped.TryGetValue(weather, out var file))
            return Path.IsPathRooted(weather) ? weather : Path.Combine(folder, weather);
        return Path.Combine(AppContext.BaseDirectory, "weather", file);
    }
}

// Puts a starting site into a directory: site.yaml, household.yaml, building.yaml and scenarios to rehearse it with. Never overwrites, and leaves nothing behind half written.
using System.Text;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Site;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>Writes it.</summary>
public static class StartingSite
{
    /// <summary>Scenarios beside it: the summer day, the same with a door open, the winter night.</summary>
    public const string Summer = "summer-design", Door = "door-open", Winter = "winter-design";

    /// <summary>A file that stands in the way, or null.</summary>
    public static string? InTheWay(string directory)
        => NewSiteFiles.InTheWay(directory) ?? ((string[])[RehearsalReader.BuildingFileName, "scenarios"]).Select(name => Path.Combine(directory, name)).FirstOrDefault(path => File.Exists(path) || Directory.Exists(path));

    /// <summary>Writes all; makes the directory.</summary>
    /// <param name="directory">Where.</param>
    /// <param name="result">The estimate.</param>
    /// <param name="folder">Where the estimate's own weather file lies.</param>
    /// <exception cref="IOException">Something is there already, or cannot be written.</exception>
    public static IReadOnlyList<string> Write(string directory, EstimateResult result, string folder)
    {
        ArgumentNullException.ThrowIfNull(result);
        if (InTheWay(directory) is { } there)
            throw new IOException($"{there} is there already");
        var texts = Files(directory, result, folder);
        NewSiteFiles.Write(directory, result.Wish.Drafted.Start.Site, result.Wish.Drafted.Start.Household);
        List<string> made = [];
        try
        {
            Directory.CreateDirectory(Path.Combine(directory, "scenarios"));
            foreach (var (name, text) in texts)
            {
                var path = Path.Combine(directory, name);
                using var file = new FileStream(path, FileMode.CreateNew, FileAccess.Write);
                made.Add(path);
                file.Write(Encoding.UTF8.GetBytes(text));
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            foreach (var path in (string[])[.. made, Path.Combine(directory, SiteReader.SiteFile), Path.Combine(directory, SiteReader.HouseholdFile)])
                File.Delete(path);
            throw;
        }
        return [SiteReader.SiteFile, SiteReader.HouseholdFile, .. texts.Select(one => one.Name)];
    }

    private static List<(string Name, string Text)> Files(string directory, EstimateResult result, string folder)
    {
        var (drafted, days) = (result.Wish.Drafted, result.Days);
        List<(string Name, string Text)> all = [(RehearsalReader.BuildingFileName, drafted.BuildingText)];
        if (result.File.Source.Cools)
        {
            var weather = WeatherName(directory, days, folder);
            // From the day before on: a rehearsal begins in a house that an ideal plant of air has settled, its own emitters want a day to do so.
            all.Add(($"scenarios/{Summer}.yaml", BuildingDraft.Scenario(drafted.Wish, weather, days.SummerDate.AddDays(-1), 2, null)));
            var opening = drafted.Building.Plan.Openings.MaxBy(one => one.AreaM2);
            if (opening is not null)
                all.Add(($"scenarios/{Door}.yaml", BuildingDraft.Scenario(drafted.Wish, weather, days.SummerDate.AddDays(-1), 2, opening.Name)));
            if (days.SummerText is { } summer)
                all.Add(($"scenarios/{DesignDays.SummerFile}", summer));
        }
        if (result.File.Source.Heats)
        {
            all.Add(($"scenarios/{DesignDays.WinterFile}", days.WinterText));
            all.Add(($"scenarios/{Winter}.yaml", BuildingDraft.Scenario(drafted.Wish, DesignDays.WinterFile, days.WinterDate, 2, null, isEmpty: true)));
        }
        return all;
    }

    // A weather file of one's own is named from where the scenarios lie.
    private static string WeatherName(string directory, DesignDays days, string folder)
        => days.SummerText is not null || !days.SummerName.EndsWith(".epw", StringComparison.OrdinalIgnoreCase)
            ? days.SummerName
            : Path.GetRelativePath(Path.GetFullPath(Path.Combine(directory, "scenarios")), Path.GetFullPath(Path.Combine(folder, days.SummerName)));
}

// Reads a scenario by the site's own strict reader: unknown keys, wrong units and unknown places are told with their line.
// Must never start half a scenario: with one error there is none.
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

/// <summary>What a scenario may speak of.</summary>
/// <param name="Rooms">Rooms.</param>
/// <param name="Openings">Doors and openings.</param>
/// <param name="Points">Ids of points.</param>
/// <param name="Parts">Parts of the plant that can break.</param>
public sealed record ScenarioNames(IReadOnlyList<string> Rooms, IReadOnlyList<string> Openings, IReadOnlyList<string> Points, IReadOnlyList<string> Parts)
{
    /// <summary>Devices of the site, whose bus can fail.</summary>
    public IReadOnlyList<string> Devices { get; init; } = [];
}

/// <summary>The outcome of reading.</summary>
/// <param name="Scenario">The scenario, or null when anything is wrong.</param>
/// <param name="Problems">What is wrong, by line.</param>
public sealed record ScenarioResult(Scenario? Scenario, IReadOnlyList<Problem> Problems);

/// <summary>Reader of scenarios.</summary>
public sealed class ScenarioReader
{
    private readonly Problems _problems = new();
    private readonly ParameterBinder _binder;
    private readonly ScenarioNames _names;

    private ScenarioReader(ScenarioNames names)
    {
        _names = names;
        _binder = new ParameterBinder(_problems);
    }

    /// <summary>Reads a scenario.</summary>
    /// <param name="file">Name of the file, for messages.</param>
    /// <param name="text">Its bytes.</param>
    /// <param name="names">What it may speak of.</param>
    public static ScenarioResult Read(string file, byte[] text, ScenarioNames names)
    {
        ArgumentNullException.ThrowIfNull(names);
        ScenarioReader reader = new(names);
        Scenario? scenario = null;
        if (SourceText.Decode(file, text, reader._problems) is { } source)
        {
            reader._problems.Add(source);
            if (TreeReader.Read(source, reader._problems) is { } top) scenario = reader.Top(top);
        }

        return new ScenarioResult(reader._problems.Errors == 0 ? scenario : null, reader._problems.Ordered());
    }

    private Scenario Top(MapNode top)
    {
        Scenario scenario = new();
        _binder.Bind(top, "", scenario, Scenario.Parameters, "happenings", "faults");
        scenario.Happenings = Group(top, "happenings", Happening.Parameters, (Happening h, Mark mark, string path) => Check(h, mark, path));
        scenario.Breakages = Group(top, "faults", Breakage.Parameters, (Breakage b, Mark mark, string path) => Check(b, mark, path));
        foreach (Stretch stretch in scenario.Happenings.Cast<Stretch>().Concat(scenario.Breakages))
            if (stretch.Day > scenario.Days)
                _problems.Error(top.MarkOf("days"), "days", "", $"ends before \"{stretch.Name}\" on day {stretch.Day}", "", "make it longer, or move that to an earlier day");
        return scenario;
    }

    private List<T> Group<T>(MapNode top, string key, IReadOnlyList<Parameter<T>> parameters, Action<T, Mark, string> check)
        where T : Stretch, new()
    {
        List<T> all = [];
        if (top.Find(key) is not { } entry) return all;
        if (entry.Value is not MapNode group)
        {
            if (entry.Value is not BrokenNode)
                _problems.Error(entry.Value.Mark, key, "", "one value or nothing stands where a group is wanted", "a name and its keys, each", "");
            return all;
        }

        foreach (Entry one in group.Entries)
        {
            string path = ParameterBinder.Join(key, one.Key);
            T stretch = new() { Name = one.Key };
            if (one.Value is not MapNode keys)
            {
                if (one.Value is not BrokenNode)
                    _problems.Error(one.Value.Mark, path, "", "one value or nothing stands where a group is wanted", string.Join(", ", parameters.Select(p => p.Key)), "");
                continue;
            }

            if (!_binder.Bind(keys, path, stretch, parameters)) continue;
            check(stretch, keys.MarkOf("where"), ParameterBinder.Join(path, "where"));
            all.Add(stretch);
        }

        return all;
    }

    private void Check(Happening happening, Mark mark, string path) => Place(happening.Where, mark, path, happening.What switch
    {
        "open" => _names.Openings,
        "taps" => ["hot-water"],
        _ => _names.Rooms,
    });

    private void Check(Breakage breakage, Mark mark, string path)
    {
        string? lacks = breakage.What switch
        {
            "wrong-by" or "drifting" or "noisy" when breakage.By == 0 => "by",
            "slow" or "delayed" or "clock-jump" when breakage.TimeS == 0 => "time",
            "intermittent" or "leaking" or "air-lock" or "dusty" when breakage.SharePercent == 0 => "share",
            _ => null,
        };
        if (lacks is not null)
            _problems.Error(mark, path[..^6] + "." + lacks, "", $"is missing or 0: \"{breakage.What}\" would do nothing", "", $"write {lacks}");
        if (breakage.What == "delayed" && breakage.TimeS is < 1 or > 3600)
            _problems.Error(mark, path[..^6] + ".time", "", "is out of range for delayed", "1 s to 1 h", "");
        bool point = Breakage.PointWords.Contains(breakage.What);
        Place(breakage.Where, mark, path, point ? _names.Points : breakage.What is "power-cut" or "clock-jump" ? ["site"]
            : Breakage.DeviceWords.Contains(breakage.What) ? _names.Devices : _names.Parts);
    }

    private void Place(string where, Mark mark, string path, IReadOnlyList<string> known)
    {
        if (known.Contains(where, StringComparer.Ordinal)) return;
        string shown = known.Count <= 12 ? string.Join(", ", known) : string.Join(", ", known.Take(12)) + ", …";
        _problems.Error(mark, path, where, "is not there", shown, Nearest.Hint(where, known));
    }
}

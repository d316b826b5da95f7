// The loops: section of site.yaml: how each loop gets its water and what hangs on it. It never lets a cooled surface hang on a loop
// that cannot keep it above the dew point.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal sealed class LoopReader(Problems problems, ParameterBinder binder, PointReader points)
{
    public List<LoopPart> Loops { get; } = [];

    /// <summary>Names as written, whether sound or not, with their places.</summary>
    public Dictionary<string, Mark> Marks { get; } = new(StringComparer.Ordinal);

    public void Read(MapNode? section)
    {
        foreach (var entry in section?.Entries ?? [])
        {
            Marks[entry.Key] = entry.KeyMark;
            var path = $"loops.{entry.Key}";
            if (NameRules.Fault(entry.Key) is { } fault)
                problems.Error(entry.KeyMark, path, entry.Key, fault);
            else if (entry.Value is MapNode group)
                ReadOne(entry, group, path);
            else if (entry.Value is not BrokenNode)
                problems.Error(entry.Value.Mark, path, "", "one value or nothing stands where a group is wanted", "{type: mixed, serves: surfaces, …}", "");
        }
    }

    private void ReadOne(Entry entry, MapNode group, string path)
    {
        var type = new TypeWord("type", "how it gets its water", "mixed", "direct");
        var serves = new TypeWord("serves", "what hangs on it", "surfaces", "coils");
        var settings = new LoopSettings();
        var sound = binder.Bind(Only(group, "type"), path, type, type.Parameters) & binder.Bind(Only(group, "serves"), path, serves, serves.Parameters)
            & binder.Bind(group, path, settings, LoopSettings.Parameters, "type", "serves", "points");
        if (settings.Bypass)
            problems.Error(group.MarkOf("bypass"), path + ".bypass", "true", LaterWords.Message, "false", "write bypass: false; circuits then warm through at recirculation");
        if (type.Word == "direct" && serves.Word == "surfaces")
        {
            sound = false;
            problems.Error(group.MarkOf("type"), path + ".type", "direct", "cooled surfaces hang on a loop without a mixing valve: nothing could keep them above the dew point", "mixed", "");
        }
        var surfaces = serves.Word == "surfaces";
        List<PointName> names = [new("supply.temperature", Quantity.Temperature, false), new("return.temperature", Quantity.Temperature, false), new("pump.run", Quantity.Switch, true)];
        if (surfaces)
            names.Add(new PointName("manifold.condensation", Quantity.Switch, false));
        if (type.Word == "mixed" || surfaces)
            names.Add(new PointName("mixing.valve", Quantity.Percent, true));
        points.Read(group.Entries.FirstOrDefault(e => e.Key == "points"), entry.Key, path + ".points", names);
        if (!sound)
            return;
        var loop = new LoopPart(entry.Key, type.Word == "mixed" ? LoopType.Mixed : LoopType.Direct, surfaces ? LoopServes.Surfaces : LoopServes.Coils, settings);
        Loops.Add(loop);
        if (!double.IsNaN(settings.ColdestC) && !double.IsNaN(settings.WarmestC) && settings.ColdestC >= settings.WarmestC)
            problems.Error(group.MarkOf("coldest"), path + ".coldest", "", "is not under warmest", "", "swap them");
    }

    public static MapNode Only(MapNode group, string key) => group.Where(entry => entry.Key == key);
}

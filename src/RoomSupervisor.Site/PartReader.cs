// The rooms: and loops: sections of site.yaml. This version knows one coil and one ceiling a room; everything else is refused with words.
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

internal sealed class RoomReader(Problems problems, ParameterBinder binder, PointReader points, KindReader kinds, LoopReader loops)
{
    /// <summary>A coil's or ceiling's names of other things.</summary>
    private sealed class Links
    {
        public string Loop = "", Kind = "", Actuator = "";

        public static Parameter<Links> LoopParameter { get; } = Name("loop", "loop it hangs on", (l, v) => l.Loop = v, l => l.Loop);

        public static Parameter<Links> KindParameter { get; } = Name("kind", "its kind, described under kinds", (l, v) => l.Kind = v, l => l.Kind);

        public static Parameter<Links> ActuatorParameter { get; } = Name("actuator", "kind of its valve actuator", (l, v) => l.Actuator = v, l => l.Actuator);

        private static Parameter<Links> Name(string key, string help, Action<Links, string> set, Func<Links, string> get)
            => new() { Key = key, Quantity = Quantity.Text, Required = true, Help = help, NeedsRestart = true, SetText = set, GetText = get };
    }

    public List<(string Name, RoomSettings Settings, CoilPart Coil, SurfacePart Surface, Mark Mark)> Rooms { get; } = [];

    /// <summary>Names as written, whether sound or not, so that the household's file is judged against them.</summary>
    public List<string> Names { get; } = [];

    public void Read(MapNode? section)
    {
        var numbers = new Dictionary<int, string>();
        foreach (var entry in section?.Entries ?? [])
        {
            var path = $"rooms.{entry.Key}";
            Names.Add(entry.Key);
            if (NameRules.Fault(entry.Key) is { } fault)
                problems.Error(entry.KeyMark, path, entry.Key, fault);
            else if (loops.Marks.ContainsKey(entry.Key))
                problems.Error(entry.KeyMark, path, entry.Key, "a loop has the same name", "names of rooms and loops are unique together", "rename one");
            else if (entry.Value is MapNode group)
                ReadOne(entry, group, path, numbers);
            else if (entry.Value is not BrokenNode)
                problems.Error(entry.Value.Mark, path, "", "one value or nothing stands where a group is wanted", "{number: 1, floor_area: …}", "");
        }
    }

    private static bool IsCoil(string key) => key == "coil" || key.StartsWith("coil-", StringComparison.Ordinal);

    private void ReadOne(Entry entry, MapNode group, string path, Dictionary<int, string> numbers)
    {
        var coils = group.Entries.Where(e => IsCoil(e.Key)).ToList();
        var ceiling = group.Entries.FirstOrDefault(e => e.Key == "ceiling");
        var settings = new RoomSettings();
        var sound = binder.Bind(group, path, settings, RoomSettings.Parameters, [.. coils.Count > 0 ? coils.Select(c => c.Key) : ["coil"], "ceiling", "points"]);
        if (sound && !numbers.TryAdd(settings.Number, entry.Key))
            problems.Error(group.MarkOf("number"), path + ".number", "", $"room {numbers[settings.Number]} has the same number", "each number once", "");
        if (coils.Count > 1)
            problems.Error(coils[1].KeyMark, ParameterBinder.Join(path, coils[1].Key), "", $"a second coil: {LaterWords.Message}", "one coil a room", "remove it");
        if (coils.Count == 0 && !group.Damaged)
            problems.Error(entry.KeyMark, path + ".coil", "", $"is missing: a room without a coil: {LaterWords.Message}", "{kind: …, loop: …}", "");
        if (ceiling is null && !group.Damaged)
            problems.Error(entry.KeyMark, path + ".ceiling", "", $"is missing: a room without a ceiling: {LaterWords.Message}", "{loop: …, area: …, kind: …, actuator: …}", "");
        var coil = coils.Count > 0 ? ReadCoil(coils[0], ParameterBinder.Join(path, coils[0].Key)) : null;
        var surface = ceiling is not null ? ReadSurface(ceiling, path + ".ceiling") : null;
        points.Read(group.Entries.FirstOrDefault(e => e.Key == "points"), entry.Key, path + ".points", PointNames(coils.Count > 0 ? coils[0].Key : "coil"));
        if (sound && coil is not null && surface is not null)
            Rooms.Add((entry.Key, settings, coil, surface, entry.KeyMark));
    }

    private static List<PointName> PointNames(string coil) =>
    [
        new("air.temperature", Quantity.Temperature, false), new("air.humidity", Quantity.Percent, false), new("opening.open", Quantity.Switch, false),
        new($"{coil}.fan", Quantity.Percent, true), new($"{coil}.valve", Quantity.Percent, true), new($"{coil}.drip_tray_full", Quantity.Switch, false),
        new("ceiling.valve", Quantity.Percent, true), new("ceiling.temperature", Quantity.Temperature, false), new("ceiling.condensation", Quantity.Switch, false),
    ];

    private CoilPart? ReadCoil(Entry entry, string path)
    {
        if (NameRules.Fault(entry.Key) is { } fault)
            problems.Error(entry.KeyMark, path, entry.Key, fault);
        if (entry.Value is not MapNode group)
            return NoGroup<CoilPart>(entry, path, "{kind: …, loop: …}");
        var links = new Links();
        var settings = new CoilSettings();
        var parts = Split(group, "kind", "loop");
        var sound = binder.Bind(parts.Links, path, links, [Links.KindParameter, Links.LoopParameter], [.. CoilSettings.Parameters.Select(p => p.Key)])
            & binder.Bind(parts.Others, path, settings, CoilSettings.Parameters, "kind", "loop");
        var kind = links.Kind.Length > 0 ? kinds.Find<CoilKind>(links.Kind, group.MarkOf("kind"), path + ".kind", "fan-coil") : null;
        return Serves(links.Loop, LoopServes.Coils, group.MarkOf("loop"), path) && sound && kind is not null ? new CoilPart(entry.Key, links.Loop, kind, settings) : null;
    }

    private SurfacePart? ReadSurface(Entry entry, string path)
    {
        if (entry.Value is not MapNode group)
            return NoGroup<SurfacePart>(entry, path, "{loop: …, area: …, kind: …, actuator: …}");
        var links = new Links();
        var settings = new SurfaceSettings();
        var parts = Split(group, "loop", "kind", "actuator");
        var sound = binder.Bind(parts.Links, path, links, [Links.LoopParameter, Links.KindParameter, Links.ActuatorParameter])
            & binder.Bind(parts.Others, path, settings, SurfaceSettings.Parameters, "loop", "kind", "actuator");
        var kind = links.Kind.Length > 0 ? kinds.Find<PanelKind>(links.Kind, group.MarkOf("kind"), path + ".kind", "panel") : null;
        var actuator = links.Actuator.Length > 0 ? kinds.Find<ActuatorKind>(links.Actuator, group.MarkOf("actuator"), path + ".actuator", "modulating") : null;
        return Serves(links.Loop, LoopServes.Surfaces, group.MarkOf("loop"), path) && sound && kind is not null && actuator is not null
            ? new SurfacePart(entry.Key, links.Loop, kind, settings, actuator)
            : null;
    }

    private T? NoGroup<T>(Entry entry, string path, string allowed)
        where T : class
    {
        if (entry.Value is not BrokenNode)
            problems.Error(entry.Value.Mark, path, "", "one value or nothing stands where a group is wanted", allowed, "");
        return null;
    }

    /// <summary>True when a loop exists and serves such a part; a problem otherwise. A loop that was itself wrong is not told again.</summary>
    private bool Serves(string name, LoopServes what, Mark mark, string path)
    {
        if (name.Length == 0)
            return false;
        var loop = loops.Loops.FirstOrDefault(candidate => candidate.Name == name);
        if (loop is not null && loop.Serves == what)
            return true;
        var fitting = loops.Loops.Where(candidate => candidate.Serves == what).Select(candidate => candidate.Name).ToList();
        if (loop is not null)
            problems.Error(mark, path + ".loop", name, $"is a loop for {(what == LoopServes.Coils ? "surfaces" : "coils")}", string.Join(", ", fitting), "");
        else if (!loops.Marks.ContainsKey(name))
            problems.Error(mark, path + ".loop", name, "there is no such loop", string.Join(", ", fitting), Nearest.Hint(name, fitting));
        return false;
    }

    private static (MapNode Links, MapNode Others) Split(MapNode group, params string[] keys) =>
        (group.Where(entry => keys.Contains(entry.Key)), group.Where(entry => !keys.Contains(entry.Key)));
}

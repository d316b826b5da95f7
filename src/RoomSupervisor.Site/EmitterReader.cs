// What hangs in a room: coil, coil-<name>, ceiling, floor and wall, each with its loop, kind and actuator. Gives the points such a part may
// have. Never guesses a loop or a kind.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal sealed class EmitterReader(Problems problems, ParameterBinder binder, KindReader kinds, LoopReader loops)
{
    /// <summary>First words of the keys of emitters.</summary>
    public static readonly string[] Words = ["coil", "ceiling", "floor", "wall"];

    /// <summary>A part's names of other things.</summary>
    internal sealed class Links
    {
        public string Loop { get; private set; } = "";

        public string HeatingLoop { get; private set; } = "";

        public string Kind { get; private set; } = "";

        public string Actuator { get; private set; } = "";

        private static Parameter<Links> LoopParameter(string example) => Declare.Name<Links>("loop", "loop it hangs on", l => l.Loop, (l, v) => l.Loop = v, example: example);

        private static Parameter<Links> KindParameter(string example) => Declare.Name<Links>("kind", "its kind, described under kinds", l => l.Kind, (l, v) => l.Kind = v, example: example);

        /// <summary>Names a coil gives.</summary>
        public static IReadOnlyList<Parameter<Links>> OfCoil { get; } =
        [
            KindParameter("my-fan-coil"), LoopParameter("coil-loop"),
            Declare.Name<Links>("heating_loop", "loop of its warm water in a four-pipe house", l => l.HeatingLoop, (l, v) => l.HeatingLoop = v, required: false, example: "coil-loop"),
            Declare.Name<Links>("actuator", "kind of its valve actuator; without it 0–10 V", l => l.Actuator, (l, v) => l.Actuator = v, required: false, example: "my-modulating"),
        ];

        /// <summary>Names a surface gives.</summary>
        public static IReadOnlyList<Parameter<Links>> OfSurface { get; } =
            [
                LoopParameter("surface-loop"), KindParameter("my-panel"),
                Declare.Name<Links>("actuator", "kind of its valve actuator", l => l.Actuator, (l, v) => l.Actuator = v, example: "my-modulating"),
            ];
    }

    public static bool IsCoil(string key) => key == "coil" || key.StartsWith("coil-", StringComparison.Ordinal);

    public static bool IsEmitter(string key) => Words.Any(word => key == word || key.StartsWith(word + "-", StringComparison.Ordinal));

    public static SurfacePlace PlaceOf(string key) => key.StartsWith("floor", StringComparison.Ordinal) ? SurfacePlace.Floor
        : key.StartsWith("wall", StringComparison.Ordinal) ? SurfacePlace.Wall : SurfacePlace.Ceiling;

    /// <summary>The coil, or null with its problems told; adds the points it may have.</summary>
    public CoilPart? ReadCoil(Entry entry, string path, List<PointName> names, params string[] others)
    {
        var group = GroupReader.Named(problems, entry, path, "{kind: …, loop: …}");
        var links = new Links();
        var settings = new CoilSettings();
        var sound = group is not null && Bind(group, path, links, Links.OfCoil, settings, CoilSettings.Parameters, others);
        var kind = group is not null && links.Kind.Length > 0 ? kinds.Find<CoilKind>(links.Kind, group.MarkOf("kind"), path + ".kind", KindReader.FanCoil) : null;
        var actuator = Actuator(links, group, path);
        AddPoints(entry.Key, kind is null ? null : FanShape(kind), links.Actuator.Length > 0 ? actuator?.Shape : OutputShape.Plain, links.HeatingLoop.Length > 0 || group is null, names);
        if (group is null)
            return null;
        sound &= Serves(links.Loop, "loop", LoopServes.Coils, group, path);
        if (links.HeatingLoop.Length > 0)
            sound &= Serves(links.HeatingLoop, "heating_loop", LoopServes.Coils, group, path) && IsWarm(links.HeatingLoop, group, path);
        return sound && kind is not null && (links.Actuator.Length == 0 || actuator is not null)
            ? new CoilPart(entry.Key, links.Loop, kind, settings) { HeatingLoop = links.HeatingLoop, Actuator = actuator }
            : null;
    }

    /// <summary>The surface, or null with its problems told; adds the points it may have.</summary>
    public SurfacePart? ReadSurface(Entry entry, string path, List<PointName> names)
    {
        var group = GroupReader.Named(problems, entry, path, "{loop: …, area: …, kind: …, actuator: …}");
        var links = new Links();
        var settings = new SurfaceSettings();
        var place = PlaceOf(entry.Key);
        var sound = group is not null && Bind(group, path, links, Links.OfSurface, settings, place == SurfacePlace.Floor ? SurfaceSettings.FloorParameters : SurfaceSettings.Parameters);
        var kind = group is not null && links.Kind.Length > 0 ? kinds.Find<SurfaceKind>(links.Kind, group.MarkOf("kind"), path + ".kind", "panel or slab") : null;
        var actuator = Actuator(links, group, path);
        AddSurfacePoints(entry.Key, actuator?.Shape, names);
        if (group is null)
            return null;
        sound &= Serves(links.Loop, "loop", LoopServes.Surfaces, group, path);
        return sound && kind is not null && actuator is not null ? new SurfacePart(entry.Key, links.Loop, kind, settings, actuator) { Place = place } : null;
    }

    /// <summary>What the fan of a kind needs of Hardware.</summary>
    public static OutputShape FanShape(CoilKind kind) => kind.FanSignal switch
    {
        CoilKind.Steps => new OutputShape { Kind = OutputKind.SteppedFan, StepsPercent = kind.StepsPercent },
        CoilKind.Pwm => new OutputShape { Kind = OutputKind.Pwm },
        CoilKind.OnOff => new OutputShape { Kind = OutputKind.OnOff, OnlyWhole = true },
        _ => new OutputShape { Line = kind.Line },
    };

    /// <summary>Every point a surface may have.</summary>
    public static void AddSurfacePoints(string surface, OutputShape? valve, List<PointName> names)
    {
        names.Add(PointName.Output($"{surface}.valve", Quantity.Percent, valve));
        names.Add(PointName.Input($"{surface}.temperature", Quantity.Temperature));
        names.Add(PointName.Contact($"{surface}.condensation"));
        names.Add(PointName.Contact($"{surface}.end_switch"));
    }

    /// <summary>Every point a coil may have.</summary>
    public static void AddPoints(string coil, OutputShape? fan, OutputShape? valve, bool fourPipe, List<PointName> names)
    {
        names.Add(PointName.Output($"{coil}.fan", Quantity.Percent, fan));
        names.Add(PointName.Output($"{coil}.valve", Quantity.Percent, valve));
        if (fourPipe)
            names.Add(PointName.Output($"{coil}.heating_valve", Quantity.Percent, valve));
        names.Add(PointName.Contact($"{coil}.drip_tray_full"));
        names.Add(PointName.Contact($"{coil}.fan_proof"));
        names.Add(PointName.Input($"{coil}.water_temperature", Quantity.Temperature));
        names.Add(PointName.Input($"{coil}.return_air_temperature", Quantity.Temperature));
    }

    private bool Bind<T>(MapNode group, string path, Links links, IReadOnlyList<Parameter<Links>> names, T settings, IReadOnlyList<Parameter<T>> parameters, params string[] others)
    {
        string[] keys = [.. names.Select(name => name.Key)];
        return binder.Bind(group.Where(entry => keys.Contains(entry.Key)), path, links, names)
            & binder.Bind(group.Where(entry => !keys.Contains(entry.Key)), path, settings, parameters, [.. keys, .. others]);
    }

    private ActuatorKind? Actuator(Links links, MapNode? group, string path) => group is not null && links.Actuator.Length > 0
        ? kinds.Find<ActuatorKind>(links.Actuator, group.MarkOf("actuator"), path + ".actuator", "modulating, on-off or three-point")
        : null;

    /// <summary>True when a loop exists and serves such a part; a problem otherwise. A loop that was itself wrong is not told again.</summary>
    private bool Serves(string name, string key, LoopServes what, MapNode group, string path)
    {
        if (name.Length == 0)
            return false;
        var loop = loops.Loops.Find(candidate => candidate.Name == name);
        if (loop is not null && loop.Serves == what)
            return true;
        var fitting = loops.Loops.Where(candidate => candidate.Serves == what).Select(candidate => candidate.Name).ToList();
        if (loop is not null)
            problems.Error(group.MarkOf(key), $"{path}.{key}", name, $"is a loop for {(what == LoopServes.Coils ? "surfaces" : "coils")}", string.Join(", ", fitting), "");
        else if (!loops.Marks.ContainsKey(name))
            problems.Error(group.MarkOf(key), $"{path}.{key}", name, "there is no such loop", string.Join(", ", fitting), Nearest.Hint(name, fitting));
        return false;
    }

    private bool IsWarm(string name, MapNode group, string path)
    {
        if (loops.Loops.Find(candidate => candidate.Name == name)?.Seasons != Seasons.Cooling)
            return true;
        problems.Error(group.MarkOf("heating_loop"), path + ".heating_loop", name, "never carries warm water", "a loop with season: heating", "");
        return false;
    }
}

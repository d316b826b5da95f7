// The loops: section of site.yaml: how each loop gets its water, in which seasons, and what hangs on it. It never lets a cooled surface
// hang on a loop that cannot keep it above the dew point.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal sealed class LoopReader(Problems problems, ParameterBinder binder, PointReader points, KindReader kinds, PlantReader plant)
{
    /// <summary>A loop's words and names of other things.</summary>
    internal sealed class Links
    {
        public string Type { get; private set; } = "";

        public string Serves { get; private set; } = "";

        public string Season { get; private set; } = "";

        public string ManifoldIn { get; private set; } = "";

        public string Actuator { get; private set; } = "";

        /// <summary>The word that says what hangs on a loop.</summary>
        public static Parameter<Links> ServesParameter { get; } = Declare.Choice<Links>(
            "serves", null, ["surfaces", "coils"], "what hangs on it", l => l.Serves, (l, v) => l.Serves = v, restart: true);

        public static IReadOnlyList<Parameter<Links>> Parameters { get; } =
        [
            Declare.Choice<Links>("type", null, ["mixed", "direct"], "how it gets its water", l => l.Type, (l, v) => l.Type = v,
                "mixed: a mixing valve of its own, as cooled surfaces need. direct: the source's water as it is.", restart: true),
            ServesParameter,
            Declare.Choice<Links>("season", "", ["cooling", "heating", "both"], "the seasons it works in; without it those of the source", l => l.Season, (l, v) => l.Season = v, restart: true),
            Declare.Name<Links>("manifold_in", "room in which its manifold stands: its air counts for the guard too", l => l.ManifoldIn, (l, v) => l.ManifoldIn = v, required: false, example: "living-room"),
            Declare.Name<Links>("actuator", "kind of the mixing valve's actuator, described under kinds; without it 0–10 V", l => l.Actuator, (l, v) => l.Actuator = v, required: false, example: "my-modulating"),
        ];
    }

    public List<LoopPart> Loops { get; } = [];

    /// <summary>Names as written, whether sound or not, with their places.</summary>
    public Dictionary<string, Mark> Marks { get; } = new(StringComparer.Ordinal);

    /// <summary>What was written of each sound loop.</summary>
    public Dictionary<string, MapNode> Groups { get; } = new(StringComparer.Ordinal);

    public void Read(MapNode? section)
    {
        foreach (var entry in section?.Entries ?? [])
        {
            Marks[entry.Key] = entry.KeyMark;
            var path = $"loops.{entry.Key}";
            if (GroupReader.Named(problems, entry, path, "{type: mixed, serves: surfaces, …}") is { } group)
                ReadOne(entry, group, path);
        }
    }

    private void ReadOne(Entry entry, MapNode group, string path)
    {
        var links = new Links();
        var settings = new LoopSettings();
        string[] own = [.. Links.Parameters.Select(parameter => parameter.Key)];
        var sound = binder.Bind(group.Where(e => own.Contains(e.Key)), path, links, Links.Parameters)
            & binder.Bind(group.Where(e => !own.Contains(e.Key)), path, settings, LoopSettings.Parameters, [.. own, "points"]);
        var seasons = SeasonsOf(links, group, path);
        var actuator = links.Actuator.Length > 0 ? kinds.Find<ActuatorKind>(links.Actuator, group.MarkOf("actuator"), path + ".actuator", KindReader.Modulating) : null;
        var surfaces = links.Serves == "surfaces";
        if (links.Type == "direct" && surfaces && seasons != Seasons.Heating)
        {
            sound = false;
            problems.Error(group.MarkOf("type"), path + ".type", "direct", "cooled surfaces hang on a loop without a mixing valve: nothing could keep them above the dew point", "mixed",
                "or season: heating, if nothing on it is ever cooled");
        }
        points.Read(group.Find("points"), entry.Key, path + ".points", PointsOf(links.Type != "direct" || surfaces, surfaces, links.Actuator.Length > 0 ? actuator?.Shape : OutputShape.Plain));
        if (!sound || (links.Actuator.Length > 0 && actuator is null))
            return;
        Groups[entry.Key] = group;
        Loops.Add(new LoopPart(entry.Key, links.Type == "mixed" ? LoopType.Mixed : LoopType.Direct, surfaces ? LoopServes.Surfaces : LoopServes.Coils, settings)
        {
            Seasons = seasons,
            ManifoldRoom = links.ManifoldIn,
            Actuator = actuator,
        });
        Limits(group, path, settings, surfaces ? LoopServes.Surfaces : LoopServes.Coils);
    }

    /// <summary>Every point a loop may have.</summary>
    public static List<PointName> PointsOf(bool mixed, bool surfaces, OutputShape? mixing)
    {
        List<PointName> names =
        [
            PointName.Input("supply.temperature", Quantity.Temperature), PointName.Input("return.temperature", Quantity.Temperature), PointName.Relay("pump.run"),
            PointName.Output("pump.speed", Quantity.Percent, OutputShape.Plain), PointName.Relay("standby_pump.run"), PointName.Contact("pump.proof"),
            PointName.Input("flow.rate", Quantity.Flow), PointName.Contact("high_limit.tripped"), PointName.Input("water.pressure", Quantity.Pressure),
        ];
        if (surfaces)
            names.Add(PointName.Contact("manifold.condensation"));
        if (mixed)
            names.Add(PointName.Output("mixing.valve", Quantity.Percent, mixing));
        return names;
    }

    /// <summary>What the file says, else what the source makes.</summary>
    private Seasons SeasonsOf(Links links, MapNode group, string path)
    {
        var cools = plant.Source.Type != SourceType.Boiler;
        var heats = plant.Source.Type != SourceType.Chiller || plant.HeatSource is not null;
        if (links.Season.Length == 0)
            return cools && heats && plant.HeatSource is null ? Seasons.Both : cools ? Seasons.Cooling : Seasons.Heating;
        if ((links.Season != "heating" && !cools) || (links.Season != "cooling" && !heats))
            problems.Error(group.MarkOf("season"), path + ".season", links.Season, "the source makes no such water", cools ? "cooling" : "heating", "look at source and its type");
        if (links.Season == "both" && plant.HeatSource is not null)
            problems.Error(group.MarkOf("season"), path + ".season", links.Season, "with two sources a loop belongs to one of them", "cooling or heating", "");
        return links.Season switch { "heating" => Seasons.Heating, "both" => Seasons.Both, _ => Seasons.Cooling };
    }

    private void Limits(MapNode group, string path, LoopSettings settings, LoopServes serves)
    {
        if (!double.IsNaN(settings.ColdestC) && !double.IsNaN(settings.WarmestC) && settings.ColdestC >= settings.WarmestC)
            problems.Error(group.MarkOf("coldest"), path + ".coldest", "", "is not under warmest", "", "swap them");
        if (settings.HeatingColdestC(serves) >= settings.HeatingWarmestC(serves))
            problems.Error(group.MarkOf("heating_warmest"), path + ".heating_warmest", "", "is not over heating_coldest", "", "swap them, or write both");
    }

    public static MapNode Only(MapNode group, string key) => group.Where(entry => entry.Key == key);
}

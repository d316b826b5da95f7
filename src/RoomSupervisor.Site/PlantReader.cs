// The sections of site.yaml that there is one of: source, heat-source, buffer, hot-water, outdoor, and the points of site. Never lets
// one source stand for two.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal sealed class PlantReader(Problems problems, ParameterBinder binder, PointReader points)
{
    /// <summary>Words of a source's <c>type</c>.</summary>
    public static readonly string[] SourceTypes = ["heat-pump", "chiller", "boiler"];

    /// <summary>The word that says what a source is.</summary>
    public static TypeWord Word() => new("type", "what makes the water", SourceTypes);

    /// <summary>The source; a chiller where nothing is said.</summary>
    public SourcePart Source { get; private set; } = new(SourceType.Chiller, new SourceSettings());

    /// <summary>The second source of a four-pipe house.</summary>
    public SourcePart? HeatSource { get; private set; }

    public BufferSettings? Buffer { get; private set; }

    public HotWaterSettings? HotWater { get; private set; }

    /// <summary>Where the section stands.</summary>
    public Mark HotWaterMark { get; private set; }

    /// <summary>Where the section stands.</summary>
    public Mark BufferMark { get; private set; }

    public static IReadOnlyList<PointName> SourcePoints { get; } =
    [
        PointName.Input("supply.temperature", Quantity.Temperature), PointName.Contact("state.running"), PointName.Contact("state.defrosting"),
        PointName.Contact("state.making_hot_water"), PointName.Contact("state.locked_out"), PointName.Contact("state.fault"),
        PointName.Relay("call.enable"), PointName.Relay("call.cooling"), PointName.Output("call.set_point", Quantity.Temperature, OutputShape.Plain), PointName.Relay("change_over.valve"),
    ];

    public static IReadOnlyList<PointName> OutdoorPoints { get; } = [PointName.Input("air.temperature", Quantity.Temperature), PointName.Input("air.humidity", Quantity.Percent)];

    public static IReadOnlyList<PointName> BufferPoints { get; } = [PointName.Input("top.temperature", Quantity.Temperature), PointName.Input("bottom.temperature", Quantity.Temperature)];

    public static IReadOnlyList<PointName> HotWaterPoints { get; } = [PointName.Input("tank.temperature", Quantity.Temperature), PointName.Relay("charge.enable")];

    public static IReadOnlyList<PointName> SitePoints { get; } =
        [PointName.Contact("leak.detected"), PointName.Contact("surplus.available"), PointName.Contact("manual_switch.in_hand"), PointName.Relay("health.ok")];

    public void ReadSource(Entry? entry) => Source = ReadSource(entry, "source") ?? Source;

    public void ReadHeatSource(Entry? entry)
    {
        HeatSource = ReadSource(entry, "heat-source");
        if (HeatSource is null || entry is null)
            return;
        if (HeatSource.Type == SourceType.Chiller)
            problems.Error(entry.KeyMark, "heat-source.type", "chiller", "makes no warm water", "boiler or heat-pump", "");
        if (Source.Type == SourceType.Boiler)
            problems.Error(entry.KeyMark, "heat-source", "", "both sources make warm water only: a second source is for four-pipe houses", "", "remove heat-source, or make source a chiller or heat-pump");
    }

    public void ReadBuffer(Entry? entry)
    {
        if (Group(entry, "buffer") is not { } group)
            return;
        BufferMark = entry!.KeyMark;
        var buffer = new BufferSettings();
        if (binder.Bind(group, "buffer", buffer, BufferSettings.Parameters, "points"))
            Buffer = buffer;
        points.Read(group.Find("points"), "buffer", "buffer.points", BufferPoints);
    }

    public void ReadHotWater(Entry? entry)
    {
        if (Group(entry, "hot-water") is not { } group)
            return;
        HotWaterMark = entry!.KeyMark;
        var hotWater = new HotWaterSettings();
        if (binder.Bind(group, "hot-water", hotWater, HotWaterSettings.Parameters, "points"))
            HotWater = hotWater;
        points.Read(group.Find("points"), "hot-water", "hot-water.points", HotWaterPoints);
    }

    public void ReadOutdoor(Entry? entry)
    {
        if (Group(entry, "outdoor") is not { } group)
            return;
        foreach (var unknown in group.Entries.Where(candidate => candidate.Key != "points"))
            binder.Unknown(unknown, "outdoor", ["points"]);
        points.Read(group.Find("points"), "outdoor", "outdoor.points", OutdoorPoints);
    }

    private SourcePart? ReadSource(Entry? entry, string name)
    {
        if (Group(entry, name) is not { } group)
            return null;
        var type = Word();
        var settings = new SourceSettings();
        var sound = binder.Bind(LoopReader.Only(group, "type"), name, type, type.Parameters)
            & binder.Bind(group, name, settings, SourceSettings.Parameters, "type", "points");
        points.Read(group.Find("points"), name, name + ".points", SourcePoints);
        var what = type.Word switch { "boiler" => SourceType.Boiler, "heat-pump" => SourceType.HeatPump, _ => SourceType.Chiller };
        return sound || type.Word.Length > 0 ? new SourcePart(what, settings) : null;
    }

    private MapNode? Group(Entry? entry, string path)
    {
        if (entry?.Value is MapNode { Entries.Count: > 0 } map)
            return map;
        if (entry is not null && entry.Value is not BrokenNode)
            problems.Error(entry.KeyMark, path, "", "the section is empty or holds one value", "a group of keys", "");
        return null;
    }
}

// What was understood of a site, as lines for people: rooms, loops, sources, wires and values. Decides nothing.
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Verbs;

internal static class Understood
{
    public static IEnumerable<string> Lines(SiteFiles files, bool all)
    {
        var house = files.House;
        yield return $"{files.Site.Name}: {house.Rooms.Length} room(s), {house.Loops.Length} loop(s), {files.Devices.Count} device(s), "
            + $"{files.Wiring.Select(wire => wire.PointId).Distinct(StringComparer.Ordinal).Count()} point(s) wired";
        foreach (var room in house.Rooms)
            yield return $"  room {room.Settings.Number} {room.Id}: {Emitters(house, room)}";
        foreach (var loop in house.Loops)
            yield return $"  loop {loop.Id}: {Names.Of(loop.Type)}, {Names.Of(loop.Seasons)}, from {house.Sources[loop.Source].Id}{Water(loop, house.Units)}";
        foreach (var source in house.Sources)
            yield return $"  {source.Id}: {Names.Of(source.Type)}";
        foreach (var wire in files.Wiring)
            yield return $"  {(wire.IsOutput ? "output" : "input "),-6} {wire.PointId,-40} {wire.Device}.{wire.Channel}{Role(wire)}{(wire.Inverted ? ", inverted" : "")}";
        // Points and channels stand above already, one wire a line.
        static bool IsWire(EffectiveValue value) => value.Path.Contains(".points.", StringComparison.Ordinal) || value.Path.StartsWith("devices.", StringComparison.Ordinal);
        foreach (var value in files.Effective.Where(value => all || (!value.IsDefault && !IsWire(value))))
            yield return $"  {value.Path,-52} {value.Shown}{(value.IsDefault ? " (default)" : "")}";
        if (!all)
            yield return $"  and {files.Effective.Count(value => value.IsDefault)} values by default (--all lists them)";
    }

    /// <summary>Coils and surfaces of a room, each with its loop.</summary>
    private static string Emitters(House house, Room room)
    {
        var coils = room.Coils.Select(index => house.Coils[index]).Select(coil => $"{coil.Id} on {house.Loops[coil.Loop].Id}"
            + (coil.HeatingLoop >= 0 ? $" and {house.Loops[coil.HeatingLoop].Id}" : "") + (coil.Rooms.Length > 1 ? $" (with {coil.Rooms.Length - 1} more room(s))" : ""));
        var surfaces = room.Circuits.Select(index => house.Circuits[index]).Select(circuit => $"{circuit.Id} on {house.Loops[circuit.Loop].Id}");
        return string.Join(", ", coils.Concat(surfaces));
    }

    private static string Water(Loop loop, UnitSystem units)
    {
        string Show(double celsius) => Quantities.Show(celsius, Quantity.Temperature, units);
        var cooling = loop.Cools ? $"; cools with {Show(loop.ColdestC)} to {Show(loop.WarmestC)}" : "";
        return loop.Heats ? $"{cooling}; heats with {Show(loop.Settings.HeatingColdestC(loop.Serves))} to {Show(loop.Settings.HeatingWarmestC(loop.Serves))}" : cooling;
    }

    private static string Role(PointWiring wire) => wire.Role switch
    {
        ChannelRole.Opens => " (opens)",
        ChannelRole.Shuts => " (shuts)",
        ChannelRole.Step => $" (step {wire.Step})",
        _ => "",
    };

    private static class Names
    {
        public static string Of(LoopType type) => type == LoopType.Mixed ? "mixed" : "direct";

        public static string Of(Seasons seasons) => seasons switch { Seasons.Heating => "heating", Seasons.Cooling => "cooling", _ => "cooling and heating" };

        public static string Of(SourceType type) => type switch { SourceType.Boiler => "boiler", SourceType.Chiller => "chiller", _ => "heat pump" };
    }
}

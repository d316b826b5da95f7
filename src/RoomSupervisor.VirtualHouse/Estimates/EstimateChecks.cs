// A house that cannot be is named, with the plausible range: areas that do not fit, bands the wrong way round, glass without a wall, a coil shared with a room that is not there.
// Must never correct a value, nor refuse what is only unusual: that is a warning.
using System.Globalization;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

internal static class EstimateChecks
{
    // Storeys of dwellings lie between 2 and 6 m; a wall is seldom longer than three sides of a square room (common practice, no published source).
    private const double LongestSides = 4;

    internal static void All(MapNode top, EstimateFile estimate, Problems problems)
    {
        Place(top, estimate, problems);
        Source(top, estimate.Source, problems);
        MapNode? rooms = top.Find("rooms")?.Value as MapNode;
        foreach (EstimateRoom room in estimate.Rooms)
            if (rooms?.Find(room.Name)?.Value is MapNode keys && double.IsFinite(room.FloorAreaM2)) Room(keys, $"rooms.{room.Name}", room, estimate, problems);
        if (estimate.Rooms.Count > 64) problems.Error(top.MarkOf("rooms"), "rooms", "", $"has {estimate.Rooms.Count} rooms", "1 to 64 rooms", "split the house");
        if (estimate.Rooms.Count > 0 && estimate.Rooms.All(r => r.Surfaces.Count + r.Coils.Count == 0))
            problems.Error(top.MarkOf("rooms"), "rooms", "", "no room has anything that heats or cools it", "ceiling, floor, wall, coil", "add coil: {} or ceiling: {} to a room");
        else if (rooms is not null)
            Served(rooms, estimate, problems);
    }

    // A site has no room with nothing in it: one that is only walked through counts with the room it opens to.
    private static void Served(MapNode rooms, EstimateFile estimate, Problems problems)
    {
        foreach (EstimateRoom room in estimate.Rooms)
        {
            Entry? entry = rooms.Find(room.Name);
            if (entry?.Value is not MapNode keys) continue;
            if (!estimate.HasEmitter(room.Name) && !keys.Entries.Any(e => EstimateFileReader.IsEmitter(e.Key)))
                problems.Error(entry.KeyMark, $"rooms.{room.Name}.coil", "", "is missing, and so are ceiling, floor and wall: nothing heats or cools the room", $"one of them, or shared_with: {room.Name} at a neighbour's coil", "add one; or count its area, walls and people with the room it opens to, and leave it out");
            // Up and up from a room must end under the sky.
            string above = room.Name;
            for (int i = 0; i <= estimate.Rooms.Count && estimate.Building.Rooms.TryGetValue(above, out RoomShell? shell); i++)
            {
                above = shell.Above;
                if (above != room.Name) continue;
                problems.Error(keys.MarkOf("above"), $"rooms.{room.Name}.above", estimate.Building.Rooms[room.Name].Above, "lies over it and under it at once", "outside, neighbour, nothing, or a room over it", "the topmost room says outside");
                break;
            }
        }
    }

    private static void Place(MapNode top, EstimateFile estimate, Problems problems)
    {
        EstimatePlace place = estimate.Place;
        MapNode? keys = top.Find("place")?.Value as MapNode;
        Mark mark = keys?.Mark ?? top.Mark;
        Mark Of(string key) => keys?.Find(key) is null ? mark : keys.MarkOf(key);
        bool given = double.IsFinite(place.SummerC);
        if (given && !double.IsFinite(place.SummerDewC))
            problems.Error(mark, "place.summer_dew_point", "", "is missing beside summer_outdoor", "-5 °C to 29 °C", "write the dew point of the same design day");
        if (given && place.SummerDewC > place.SummerC - 0.5)
            problems.Error(Of("summer_dew_point"), "place.summer_dew_point", Text(place.SummerDewC, "°C"), "is not below the day's highest air", $"under {Text(place.SummerC - 0.5, "°C")}", "");
        if (double.IsFinite(place.WinterC) && given && place.WinterC > place.SummerC - 5)
            problems.Error(Of("winter_outdoor"), "place.winter_outdoor", Text(place.WinterC, "°C"), "is no colder than the summer day", $"under {Text(place.SummerC - 5, "°C")}", "");
        if (place.Weather.Length > 0) return;
        bool heats = estimate.Source.Heats, cools = estimate.Source.Cools;
        foreach ((string key, double value, string range) in ((string, double, string)[])
            [("latitude", place.LatitudeDegrees, "-66 to 66"), ("longitude", place.LongitudeDegrees, "-180 to 180"), ("winter_outdoor", place.WinterC, "-40 °C to 18 °C"), ("summer_outdoor", place.SummerC, "15 °C to 50 °C")])
            if (!double.IsFinite(value) && keys?.Find(key) is null && (key[0] == 'l' || (key[0] == 'w' ? heats : cools))) problems.Error(mark, "place." + key, "", "is missing, and no weather file is named", range, "write it, or weather: new-york, chicago or an EPW file");
    }

    private static void Source(MapNode top, EstimateSource source, Problems problems)
    {
        MapNode? keys = top.Find("source")?.Value as MapNode;
        if (keys is null) return;
        if (source.HasHotWater && !source.Heats)
            problems.Error(keys.MarkOf("hot_water_people"), "source.hot_water_people", Text(source.HotWaterPeople, ""), "wants hot water of a source that only cools", "0", "take a heat-pump, boiler or four-pipe source, or leave hot water out");
        if (keys.Find("heat_by") is not null && !source.IsFourPipe)
            problems.Error(keys.MarkOf("heat_by"), "source.heat_by", source.HeatBy, "belongs to a four-pipe source only", "", "write type: four-pipe, or remove the line");
    }

    private static void Room(MapNode keys, string path, EstimateRoom room, EstimateFile estimate, Problems problems)
    {
        RoomShell shell = estimate.Building.Rooms[room.Name];
        double side = Math.Sqrt(room.FloorAreaM2), most = LongestSides * side * shell.HeightM;
        for (int i = 0; i < 4; i++)
        {
            string wall = "wall_" + BuildingFile.Directions[i];
            if (shell.WallM2(i) > most)
                problems.Error(keys.MarkOf(wall), $"{path}.{wall}", Text(shell.WallM2(i), "m²"), "is more wall than such a room can have on one side", $"0 m² to {Text(Math.Floor(most), "m²")} (four sides of a square room of this floor, at its height)", "look at floor_area, height and the wall");
        }

        if (!(room.HeatBelowC <= room.CoolAboveC - 1))
            problems.Error(keys.MarkOf("heat_below"), path + ".heat_below", Text(room.HeatBelowC, "°C"), "is not 1 K under cool_above", $"5 °C to {Text(room.CoolAboveC - 1, "°C")}", "");
        Surfaces(keys, path, room, shell, estimate, problems);
        foreach (EstimateCoil coil in room.Coils.Where(c => c.SharedWith.Length > 0))
        {
            string[] others = [.. estimate.Rooms.Select(r => r.Name).Where(n => n != room.Name)];
            if (!others.Contains(coil.SharedWith))
                problems.Error(keys.MarkOf(coil.Key), $"{path}.{coil.Key}.shared_with", coil.SharedWith, "is not another room of the house", others.Length > 0 ? string.Join(", ", others) : "no key: there is no other room", others.Length > 0 ? Nearest.Hint(coil.SharedWith, others) : "remove the key");
        }

        double people = double.IsFinite(shell.People) ? shell.People : 0;
        if (people > Math.Max(2, room.FloorAreaM2))
            problems.Error(keys.MarkOf("people"), path + ".people", Text(people, ""), "do not fit on the floor", $"0 to {Math.Max(2, Math.Floor(room.FloorAreaM2))} (one a square metre)", "");
        if (shell.DevicesW > 100 * room.FloorAreaM2)
            problems.Error(keys.MarkOf("devices"), path + ".devices", Text(shell.DevicesW, "W"), "is more than any room of a dwelling holds", $"0 W to {Text(100 * room.FloorAreaM2, "W")} (100 W/m²)", "");
    }

    private static void Surfaces(MapNode keys, string path, EstimateRoom room, RoomShell shell, EstimateFile estimate, Problems problems)
    {
        double floors = 0, ceilings = 0, walls = 0;
        foreach (EstimateSurface surface in room.Surfaces)
        {
            double area = surface.Area(room.FloorAreaM2);
            double sum = surface.IsFloor ? floors += area : surface.IsWall ? walls += area : ceilings += area;
            double most = surface.IsWall ? LongestSides * Math.Sqrt(room.FloorAreaM2) * shell.HeightM : room.FloorAreaM2;
            if (sum > most + 1e-6)
                problems.Error(keys.MarkOf(surface.Key), $"{path}.{surface.Key}.area", Text(area, "m²"), $"does not fit: the room has {Text(Math.Floor(most), "m²")} there", $"1 m² to {Text(Math.Floor(most), "m²")} together", "");
            if (!surface.IsCooled && !estimate.Source.Heats)
                problems.Error(keys.MarkOf(surface.Key), $"{path}.{surface.Key}", "", $"would never be used: the source only cools and the {(surface.IsFloor ? "floor" : surface.IsWall ? "wall" : "ceiling")} is only heated", "cooled: yes", "write cooled: yes, or take a source that heats");
            if (surface.IsFloor && surface.IsCooled && estimate.Source.IsFourPipe)
                problems.Error(keys.MarkOf(surface.Key), $"{path}.{surface.Key}.cooled", "yes", "cannot be: with four pipes a floor hangs on the warm water alone", "no", "cool by ceiling, wall or coil, or take a two-pipe heat-pump");
            if (surface.Made == "screed" && !surface.IsFloor)
                problems.Error(keys.MarkOf(surface.Key), $"{path}.{surface.Key}.build", "screed", "lies on floors only", "panel or plaster", "");
        }
    }

    private static string Text(double value, string unit) => string.Create(CultureInfo.InvariantCulture, $"{Math.Round(value, 1)}{(unit.Length > 0 ? " " + unit : "")}");
}

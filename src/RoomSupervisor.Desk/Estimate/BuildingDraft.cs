// Writes building.yaml and the scenarios of a starting site, so that it can be rehearsed at once: the same house, weather and people the estimate was reckoned with.
// Must never leave a value to a default that the estimate did not use.
using System.Globalization;
using System.Text;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

internal static class BuildingDraft
{
    /// <summary>building.yaml. U values hold the addition for thermal bridges; ventilation is what the load is reckoned with less what comes through the cracks.</summary>
    public static string Of(EstimateWish wish, PlantSize plant)
    {
        var (file, layers) = (wish.File, new ShellLayers(wish.File.Building));
        var bridges = file.Shell.BridgesWPerM2K;
        Dictionary<string, double> instead = new(StringComparer.Ordinal)
        {
            ["wall_u"] = Math.Min(layers.WallU + bridges, 3),
            ["roof_u"] = Math.Min(layers.RoofU + bridges, 3),
            ["floor_u"] = Math.Min(layers.FloorU + bridges, 2.5),
            ["glass_u"] = Math.Min(layers.GlassU + bridges, GlassPlan.HighestU),
            ["glass_g"] = layers.GlassG,
            ["ventilation"] = Math.Round(Math.Max(0, file.Shell.AirChangesPerH - Cracks(file, plant)), 3),
            ["source_cooling_output"] = plant.CoolingW,
            ["source_heating_output"] = plant.HeatingW,
        };
        var text = new StringBuilder($"# The building of {file.Name} for rehearsals, as it was estimated. The controller never reads it.\n");
        Keys(text, "", file.Building, BuildingFile.Parameters, instead);
        text.Append("rooms:\n");
        foreach (var room in wish.Rooms)
        {
            text.Append($"  {room.Name}:\n");
            Keys(text, "    ", room.Shell, RoomShell.Parameters, Bridged(room.Shell, bridges));
        }
        Group(text, "doors", file.Building.Doors, door => door.Name, DoorShell.Parameters);
        Group(text, "openings", file.Building.Openings, opening => opening.Name, OpeningShell.Parameters);
        return text.ToString();
    }

    // U values of a room itself hold the addition as well.
    private static Dictionary<string, double> Bridged(RoomShell shell, double bridges)
    {
        Dictionary<string, double> instead = new(StringComparer.Ordinal);
        foreach (var (key, value, most) in ((string, double, double)[])[("wall_u", shell.WallU, 3), ("roof_u", shell.RoofU, 3), ("floor_u", shell.FloorU, 2.5), ("glass_u", shell.GlassU, GlassPlan.HighestU)])
        {
            if (double.IsFinite(value))
                instead[key] = Math.Min(value + bridges, most);
        }
        return instead;
    }

    /// <summary>Air through the cracks at the winter design temperature and 4 m/s of wind, changes an hour: the virtual house's own way of reckoning.</summary>
    internal static double Cracks(EstimateFile file, PlantSize plant)
    {
        var (volume, flow) = (0.0, 0.0);
        foreach (var room in file.Rooms)
        {
            var own = room.FloorAreaM2 * file.Building.Rooms[room.Name].HeightM;
            volume += own;
            var leakage = Math.Min(file.Building.AirChangesAt50Pa * own / 3600 * Math.Pow(4.0 / 50, 0.65) / Math.Sqrt(2 * 4 / 1.2), 1);
            flow += 3600 * AirExchange.Cracks(leakage, DesignDays.WinterWindMPerS * file.Building.WindShare, room.HeatBelowC - plant.WinterC);
        }
        return flow / Math.Max(volume, 1);
    }

    private static void Group<T>(StringBuilder text, string key, IReadOnlyList<T> all, Func<T, string> name, IReadOnlyList<Parameter<T>> parameters)
    {
        if (all.Count == 0)
            return;
        text.Append(key).Append(":\n");
        foreach (var one in all)
        {
            text.Append($"  {name(one)}:\n");
            Keys(text, "    ", one, parameters, []);
        }
    }

    private static void Keys<T>(StringBuilder text, string indent, T owner, IReadOnlyList<Parameter<T>> parameters, Dictionary<string, double> instead)
    {
        foreach (var parameter in parameters)
        {
            var number = instead.TryGetValue(parameter.Key, out var other) ? other : parameter.GetNumber?.Invoke(owner) ?? double.NaN;
            var value = parameter.GetText is { } get ? get(owner) : double.IsNaN(number) ? "" : Quantities.ShowExactly(number, parameter.Quantity, UnitSystem.Metric);
            if (value.Length > 0)
                text.Append(indent).Append(parameter.Key).Append(": ").Append(value).Append('\n');
        }
    }

    /// <summary>Text of a scenario: people and devices as wished, every day, and an opening where one is given.</summary>
    /// <param name="wish">The wish.</param>
    /// <param name="weather">What the scenario names.</param>
    /// <param name="from">First day.</param>
    /// <param name="days">Length.</param>
    /// <param name="opening">Name of an opening that stands open on the last day; null: none.</param>
    /// <param name="isEmpty">Nobody is there and nothing is on: the night a heating load is reckoned for.</param>
    public static string Scenario(EstimateWish wish, string weather, DateOnly from, int days, string? opening, bool isEmpty = false)
    {
        var text = new StringBuilder(string.Create(CultureInfo.InvariantCulture, $"# Written with the estimate of {wish.File.Name}.\nweather: {weather}\nfrom: {from:yyyy-MM-dd}\ndays: {days}\n"));
        List<string> lines = [];
        foreach (var room in wish.Rooms.Where(_ => !isEmpty))
        {
            if (People(room) > 0)
                lines.Add(string.Create(CultureInfo.InvariantCulture, $"  {room.Name}-people: {{what: people, where: {room.Name}, count: {People(room)}, activity: {room.From.ActivityMet}, at: {TimeSpan.FromMinutes(room.From.PeopleFromMinutes):hh\\:mm}, for: {Math.Round(room.From.PeopleForS / 60)} min}}"));
            if (DevicesW(room) > 0)
                lines.Add(string.Create(CultureInfo.InvariantCulture, $"  {room.Name}-devices: {{what: devices, where: {room.Name}, count: {DevicesW(room)}, at: 00:00, for: 24 h}}"));
        }
        if (opening is not null)
            lines.Add($"  airing: {{what: open, where: {opening}, day: {days}, at: {Opened.At:hh\\:mm}, for: {Opened.ForS / 60} min}}");
        if (lines.Count > 0)
            text.Append("happenings:\n").AppendJoin('\n', lines).Append('\n');
        return text.ToString();
    }

    /// <summary>People of a room: as written, else one for 20 m² (common practice, no published source).</summary>
    internal static double People(WishedRoom room) => double.IsNaN(room.Shell.People) ? Math.Max(1, Math.Floor(room.From.FloorAreaM2 / 20)) : room.Shell.People;

    /// <summary>Devices of a room, W: as written, else 3 W/m² (common practice, no published source).</summary>
    internal static double DevicesW(WishedRoom room) => double.IsNaN(room.Shell.DevicesW) ? Math.Round(3 * room.From.FloorAreaM2) : room.Shell.DevicesW;

    /// <summary>How long a door stands open in the estimate's recovery: 40 min in the early afternoon.</summary>
    internal static class Opened
    {
        public const int ForS = 2400;

        public static TimeSpan At { get; } = new(14, 10, 0);

        /// <summary>Moments at which it may open as well as at the middle one: so many, so far apart, s.</summary>
        public const int Moments = 8, ApartS = 600;

        /// <summary>True at one of those moments: from 35 min before the middle to 35 min after.</summary>
        /// <param name="wallS">Second of the day.</param>
        public static bool MayOpen(double wallS)
        {
            var since = wallS - (At.TotalSeconds - (Moments - 1) * ApartS / 2);
            return since >= 0 && since <= (Moments - 1) * ApartS && since % ApartS == 0;
        }
    }
}

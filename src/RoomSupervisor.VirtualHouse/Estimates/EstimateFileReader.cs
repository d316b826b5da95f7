// Reads an estimate by the site's own strict reader: unknown keys, wrong units, rooms that are not there and houses that cannot be are told with their line and the plausible range.
// Must never take half an estimate: with one error there is none.
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

/// <summary>The outcome of reading an estimate.</summary>
/// <param name="Estimate">The estimate, or null when anything is wrong.</param>
/// <param name="Problems">What is wrong or doubtful, by line.</param>
public sealed record EstimateFileResult(EstimateFile? Estimate, IReadOnlyList<Problem> Problems);

/// <summary>Reader of estimates.</summary>
public sealed class EstimateFileReader
{
    private static readonly string[] Emitters = ["ceiling", "floor", "wall", "coil"], Taken = ["ceiling-loop", "floor-loop", "coil-loop", "warm-coil-loop", "warm-ceiling-loop", "warm-floor-loop", "io-1"];

    private readonly Problems _problems = new();
    private readonly ParameterBinder _binder;
    private readonly List<string> _names = [];

    private readonly Func<string, string>? _weatherFault;

    private EstimateFileReader(Func<string, string>? weatherFault) => (_binder, _weatherFault) = (new ParameterBinder(_problems), weatherFault);

    /// <summary>Reads an estimate.</summary>
    /// <param name="file">Name of the file, for messages.</param>
    /// <param name="text">Its bytes.</param>
    /// <param name="weatherFault">What is wrong with the name of a weather file, empty where it can be read; null: nobody looks.</param>
    public static EstimateFileResult Read(string file, byte[] text, Func<string, string>? weatherFault = null)
    {
        EstimateFileReader reader = new(weatherFault);
        EstimateFile? estimate = null;
        if (SourceText.Decode(file, text, reader._problems) is { } source)
        {
            reader._problems.Add(source);
            if (TreeReader.Read(source, reader._problems) is { } top) estimate = reader.Top(top);
        }

        return new EstimateFileResult(reader._problems.Errors == 0 ? estimate : null, reader._problems.Ordered());
    }

    private EstimateFile Top(MapNode top)
    {
        EstimateFile estimate = new();
        _binder.Bind(top, "", estimate, EstimateFile.Parameters, "place", "building", "source", "rooms", "doors", "openings", "variants");
        _binder.Units = estimate.Units == "us" ? UnitSystem.Us : UnitSystem.Metric;
        if (estimate.TimeZone.Length > 0 && !TimeZoneInfo.TryFindSystemTimeZoneById(estimate.TimeZone, out _))
            _problems.Error(top.MarkOf("time_zone"), "time_zone", estimate.TimeZone, "is no time zone this system knows", "a name such as America/New_York or Europe/Oslo", "");
        Section(top, "place", estimate.Place, EstimatePlace.Parameters);
        if (estimate.Place.Weather.Length > 0 && _weatherFault?.Invoke(estimate.Place.Weather) is { Length: > 0 } fault && top.Find("place")?.Value is MapNode place)
            _problems.Error(place.MarkOf("weather"), "place.weather", estimate.Place.Weather, fault, "chicago, new-york, or an EPW file beside the estimate", Nearest.Hint(estimate.Place.Weather, ["chicago", "new-york"]));
        Building(top, estimate);
        Section(top, "source", estimate.Source, EstimateSource.Parameters);
        if (top.Find("rooms") is not { Value: MapNode { Entries.Count: > 0 } rooms })
            _problems.Error(top.Find("rooms")?.Value.Mark ?? top.Mark, "rooms", "", "no room is named", "1 to 64 rooms, each with floor_area and what heats or cools it", "add rooms:");
        else
        {
            _names.AddRange(rooms.Entries.Select(entry => entry.Key));
            Rooms(rooms, estimate);
        }

        ShellGroups.Read(top, estimate.Building, _names, _problems, _binder);
        estimate.Variants = Variants(top);
        EstimateChecks.All(top, estimate, _problems);
        estimate.Effective = _binder.Effective(_binder.Units);
        return estimate;
    }

    private void Section<T>(MapNode top, string key, T owner, IReadOnlyList<Parameter<T>> parameters)
    {
        if (top.Find(key) is { } entry && GroupReader.Group(_problems, entry, key, "its keys, one a line") is { } group) _binder.Bind(group, key, owner, parameters);
        else _binder.Defaults(key, owner, parameters);
    }

    // One group, two owners: each binds its own keys; the first tells a key that neither knows, the second passes over all that is not its own.
    private void Building(MapNode top, EstimateFile estimate)
    {
        if (top.Find("building") is { } entry && GroupReader.Group(_problems, entry, "building", "insulation, weight and more, one a line") is { } group)
        {
            _binder.Bind(group, "building", estimate.Building, BuildingFile.Parameters, [.. EstimateShell.Parameters.Select(p => p.Key)]);
            _binder.Bind(group, "building", estimate.Shell, EstimateShell.Parameters, Others(group, EstimateShell.Parameters));
            return;
        }

        _binder.Defaults("building", estimate.Building, BuildingFile.Parameters);
        _binder.Defaults("building", estimate.Shell, EstimateShell.Parameters);
    }

    private void Rooms(MapNode rooms, EstimateFile estimate)
    {
        Dictionary<string, RoomShell> shells = new(StringComparer.Ordinal);
        List<EstimateRoom> all = [];
        foreach (Entry entry in rooms.Entries)
        {
            string path = ParameterBinder.Join("rooms", entry.Key);
            if (GroupReader.Named(_problems, entry, path, "{floor_area: 24 m², ceiling: {}, coil: {}}") is not { } keys) continue;
            if (Taken.Contains(entry.Key)) _problems.Error(entry.KeyMark, path, entry.Key, "is the name of something else in a site's file", "", "take another name");
            EstimateRoom room = new() { Name = entry.Key };
            RoomShell shell = new();
            string[] parts = [.. keys.Entries.Select(e => e.Key).Where(IsEmitter)];
            _binder.Bind(keys, path, room, EstimateRoom.Parameters, [.. RoomShell.Parameters.Select(p => p.Key), .. Emitters, .. parts]);
            _binder.Bind(keys, path, shell, RoomShell.Parameters, Others(keys, RoomShell.Parameters));
            ShellGroups.CheckRoom(entry.Key, shell, keys, path, _names, _problems);
            room.Surfaces = Parts(keys, path, e => e != "coil" && !e.StartsWith("coil-", StringComparison.Ordinal), EstimateSurface.Parameters, (EstimateSurface s, string key) => s.Key = key);
            room.Coils = Parts(keys, path, e => e == "coil" || e.StartsWith("coil-", StringComparison.Ordinal), EstimateCoil.Parameters, (EstimateCoil c, string key) => c.Key = key);
            shells[entry.Key] = shell;
            all.Add(room);
        }

        (estimate.Rooms, estimate.Building.Rooms) = (all, shells);
    }

    private static string[] Others<T>(MapNode keys, IReadOnlyList<Parameter<T>> own) => [.. keys.Entries.Select(e => e.Key).Where(key => own.All(p => p.Key != key))];

    internal static bool IsEmitter(string key) => Emitters.Any(word => key == word || key.StartsWith(word + "-", StringComparison.Ordinal));

    // An emitter may be wished without saying more of it: "coil: {}".
    private List<T> Parts<T>(MapNode room, string path, Func<string, bool> isOne, IReadOnlyList<Parameter<T>> parameters, Action<T, string> name)
        where T : new()
    {
        List<T> all = [];
        foreach (Entry entry in room.Entries.Where(e => IsEmitter(e.Key) && isOne(e.Key)))
        {
            string at = ParameterBinder.Join(path, entry.Key);
            if (GroupReader.Named(_problems, entry, at, "{} or its keys") is not { } group) continue;
            T part = new();
            name(part, entry.Key);
            if (_binder.Bind(group, at, part, parameters)) all.Add(part);
        }

        return all;
    }

    private List<EstimateVariant> Variants(MapNode top)
    {
        if (top.Find("variants") is not { } entry) return [.. EstimateVariant.Usual];
        List<EstimateVariant> all = [];
        if (GroupReader.Group(_problems, entry, "variants", "a name and {ceilings: no}, {coil_size: 150 %} or {cap_change: -5 dB}") is not { } group) return all;
        foreach (Entry one in group.Entries)
        {
            string path = ParameterBinder.Join("variants", one.Key);
            EstimateVariant variant = new() { Name = one.Key };
            if (GroupReader.Named(_problems, one, path, "{coil_size: 150 %}") is { } keys && _binder.Bind(keys, path, variant, EstimateVariant.Parameters)) all.Add(variant);
        }

        return all;
    }
}

// What of a changed site.yaml cannot be taken over while running: points, devices, wires, rooms, and every key declared so. Pure.
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Reload;

/// <summary>Comparing two sites.</summary>
public static class RestartReasons
{
    /// <summary>Why a change needs a restart, in words; empty: it can be taken over between two scans.</summary>
    public static IReadOnlyList<string> Of(SiteFiles running, SiteFiles wanted)
    {
        var reasons = new List<string>();
        Add(reasons, "rooms", running.House.Rooms.Select(room => room.Id), wanted.House.Rooms.Select(room => room.Id));
        Add(reasons, "coils", running.House.Coils.Select(coil => (coil.Id, coil.Room, coil.Loop)), wanted.House.Coils.Select(coil => (coil.Id, coil.Room, coil.Loop)));
        Add(reasons, "surfaces", running.House.Circuits.Select(circuit => (circuit.Id, circuit.Room, circuit.Loop)), wanted.House.Circuits.Select(circuit => (circuit.Id, circuit.Room, circuit.Loop)));
        Add(reasons, "loops", running.House.Loops.Select(loop => (loop.Id, loop.Type, loop.Serves)), wanted.House.Loops.Select(loop => (loop.Id, loop.Type, loop.Serves)));
        Add(reasons, "points", Points(running.House), Points(wanted.House));
        Add(reasons, "wiring", running.Wiring.Select(wire => wire with { Mark = default }), wanted.Wiring.Select(wire => wire with { Mark = default }));
        if (running.Site.Units != wanted.Site.Units)
            reasons.Add("site.units");
        reasons.AddRange(Changes(running, wanted).Where(change => change.NeedsRestart || IsOfDevice(change.Path)).Select(change => change.Path));
        return reasons;
    }

    /// <summary>True for what a device is told; where it is mounted is for wiring lists, and no device hears of it.</summary>
    private static bool IsOfDevice(string path)
        => path.StartsWith("devices.", StringComparison.Ordinal) && !DeviceMounting.Parameters.Any(parameter => path.EndsWith("." + parameter.Key, StringComparison.Ordinal));

    /// <summary>Keys of site.yaml whose values differ.</summary>
    public static IReadOnlyList<(string Path, string Old, string New, bool NeedsRestart)> Changes(SiteFiles running, SiteFiles wanted)
    {
        var old = Of(running);
        var fresh = Of(wanted);
        return [.. old.Keys.Union(fresh.Keys).Where(path => !(old.TryGetValue(path, out var one) && fresh.TryGetValue(path, out var other) && one.Shown == other.Shown))
            .Select(path => (path, old.GetValueOrDefault(path)?.Shown ?? "none", fresh.GetValueOrDefault(path)?.Shown ?? "none",
                (old.GetValueOrDefault(path)?.NeedsRestart ?? false) || (fresh.GetValueOrDefault(path)?.NeedsRestart ?? false)))];
    }

    private static Dictionary<string, EffectiveValue> Of(SiteFiles files)
    {
        var values = new Dictionary<string, EffectiveValue>(StringComparer.Ordinal);
        foreach (var value in files.Effective.Where(value => !value.IsHousehold))
            values[value.Path] = value;
        return values;
    }

    private static IEnumerable<string> Points(House house) => house.InputTable.All.Concat(house.OutputTable.All).Select(point => point.Id);

    private static void Add<T>(List<string> reasons, string what, IEnumerable<T> running, IEnumerable<T> wanted)
    {
        if (!running.SequenceEqual(wanted))
            reasons.Add(what);
    }
}

// The kinds: section: coils, panels and actuators described once. A part that names a kind gets the right sort of it or a problem.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal sealed class KindReader(Problems problems, ParameterBinder binder)
{
    private readonly Dictionary<string, (object Kind, string Type)> kinds = new(StringComparer.Ordinal);
    private readonly HashSet<string> used = new(StringComparer.Ordinal);
    private readonly Dictionary<string, Mark> marks = new(StringComparer.Ordinal);

    public void Read(MapNode? section)
    {
        foreach (var entry in section?.Entries ?? [])
        {
            marks[entry.Key] = entry.KeyMark;
            var path = $"kinds.{entry.Key}";
            if (NameRules.Fault(entry.Key) is { } fault)
                problems.Error(entry.KeyMark, path, entry.Key, fault);
            else if (entry.Value is MapNode group)
                ReadOne(entry, group, path);
            else if (entry.Value is not BrokenNode)
                problems.Error(entry.Value.Mark, path, "", "one value stands where a group is wanted", "{type: fan-coil, …}", "");
        }
    }

    /// <summary>The kind of a name, if it is of the sort wanted; a problem otherwise.</summary>
    public T? Find<T>(string name, Mark mark, string path, string type)
        where T : class
    {
        used.Add(name);
        if (kinds.TryGetValue(name, out var found))
        {
            if (found.Kind is T kind)
                return kind;
            problems.Error(mark, path, name, $"is a kind of type {found.Type}", $"a kind of type {type}", "");
        }
        else if (!marks.ContainsKey(name))
        {
            var fitting = kinds.Where(pair => pair.Value.Kind is T).Select(pair => pair.Key).ToList();
            problems.Error(mark, path, name, $"there is no such kind of type {type}", string.Join(", ", fitting), Nearest.Hint(name, fitting));
        }
        return null;
    }

    /// <summary>Warns of kinds that nothing names.</summary>
    public void WarnUnused()
    {
        foreach (var (name, mark) in marks.Where(pair => kinds.ContainsKey(pair.Key) && !used.Contains(pair.Key)))
            problems.Warn(mark, $"kinds.{name}", "", "nothing is of this kind", "remove it, or name it where it belongs");
    }

    private void ReadOne(Entry entry, MapNode group, string path)
    {
        var type = new TypeWord("type", "what it is", "fan-coil", "panel", "modulating");
        var typeEntries = LoopReader.Only(group, "type");
        if (!binder.Bind(typeEntries, path, type, type.Parameters))
            return;
        object kind;
        bool sound;
        switch (type.Word)
        {
            case "fan-coil":
                var coil = new CoilKind();
                sound = binder.Bind(group, path, coil, CoilKind.Parameters, "type", "sound");
                sound &= Sound(group, path, coil) & Line(group, path, coil);
                kind = coil;
                break;
            case "panel":
                var panel = new PanelKind();
                sound = binder.Bind(group, path, panel, PanelKind.Parameters, "type");
                kind = panel;
                break;
            default:
                var actuator = new ActuatorKind();
                sound = binder.Bind(group, path, actuator, ActuatorKind.Parameters, "type");
                kind = actuator;
                break;
        }
        if (sound)
            kinds[entry.Key] = (kind, type.Word);
    }

    private bool Sound(MapNode group, string path, CoilKind coil)
    {
        var entry = group.Entries.FirstOrDefault(candidate => candidate.Key == "sound");
        if (entry is null || entry.Value is BrokenNode)
            return true;
        if (entry.Value is MapNode sound)
            return binder.Bind(sound, path + ".sound", coil, CoilKind.SoundParameters);
        problems.Error(entry.Value.Mark, path + ".sound", "", "one value stands where a group is wanted", "{at: 100 %, level: 47 dB}", "");
        return false;
    }

    private bool Line(MapNode group, string path, CoilKind coil)
    {
        if (coil.StartVoltageV >= coil.FullVoltageV)
        {
            problems.Error(group.MarkOf("start_voltage"), path + ".start_voltage", "", "is not under full_voltage", $"under {Quantities.Show(coil.FullVoltageV, Quantity.Voltage, UnitSystem.Metric)}", "");
            return false;
        }
        if (coil.RatedRoomC - coil.RatedWaterC < 5)
        {
            problems.Error(group.MarkOf("rated_water"), path + ".rated_water", "", "is less than 5 K under rated_room", "", "take both from the same line of the data sheet");
            return false;
        }
        return true;
    }
}

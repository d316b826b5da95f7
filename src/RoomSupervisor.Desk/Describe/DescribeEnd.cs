// The end of a description: every point, the numbers it named with those that are not the usual ones, cautions, and a place to sign. Must never leave a wired point out.
using RoomSupervisor.Sequence;
using RoomSupervisor.Sequence.Telling;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Describe;

/// <summary>Points, numbers, signature.</summary>
internal static class DescribeEnd
{
    public static Section Points(SiteView view)
    {
        var wires = view.Files.Wiring.GroupBy(wire => wire.PointId).ToList();
        if (wires.Count == 0)
            return new Section("Points", [new Words("Nothing is wired.")]);
        return new Section("Points",
        [
            new Words($"{wires.Count(wire => !wire.First().IsOutput)} inputs and {wires.Count(wire => wire.First().IsOutput)} outputs; terminals and cables are in the wiring list."),
            new Table(["point", "what", "", "device"],
                [.. wires.Select(wire => (IReadOnlyList<string>)[wire.Key, PointWords.Of(wire.Key).Words, wire.First().IsOutput ? "output" : "input", $"{wire.First().Device}: {string.Join(", ", wire.Select(one => one.Channel))}"])]),
        ])
        { OnNewSheet = true };
    }

    /// <summary>Numbers that the description named, and numbers that are not the usual ones wherever they stand.</summary>
    public static Section Numbers(SiteView view)
    {
        var (settings, units) = (view.House.Settings, view.House.Units);
        var usual = new SequenceSettings();
        string Show(Parameter<SequenceSettings> parameter, SequenceSettings of) => SettingWords.Show(parameter, of, units);
        var changed = SequenceSettings.Parameters.Where(parameter => parameter.GetNumber!(settings) != parameter.GetNumber(usual)).ToList();
        List<Block> blocks =
        [
            changed.Count == 0 ? new Words("Every number of the sequence is the usual one.")
                : new Table(["set otherwise than usual", "here", "usual", "what it is"], [.. changed.Select(one => (IReadOnlyList<string>)[$"sequence.{one.Key}", Show(one, settings), Show(one, usual), UnitWords.In(one.Help, units)])]),
            new Table(["named above", "here", "what it is"],
                [.. SequenceSettings.Parameters.Where(one => view.Named.Contains(one.Key)).Select(one => (IReadOnlyList<string>)[$"sequence.{one.Key}", Show(one, settings), UnitWords.In(one.Help, units)])]),
        ];
        return new Section("Numbers", blocks) { OnNewSheet = true };
    }

    public static Section Signing() => new("Checked and signed",
    [
        new Bullets(Cautions.Description),
        new Words("The fingerprint at the foot is that of the site's files: another one on a later paper means that something was changed since."),
        new Blanks(["checked by", "licence", "date", "signature"]),
    ])
    { IsFramed = true };
}

// What the files may say and this version does not act on yet. It is read and checked, and told as a warning: nobody must believe in
// something that does not happen.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal static class NotYet
{
    private const string Message = "is understood, but this version does not act on it yet";

    /// <summary>Last words of points that are read or written and change nothing. Room units, people and CO₂ are shown by design.</summary>
    private static readonly string[] Points =
    [
        "water_temperature",
    ];

    public static void Warn(Problems problems, PointReader points)
    {
        foreach (var spec in points.Specs.Values.Where(spec => Points.Any(word => spec.Id.EndsWith("." + word, StringComparison.Ordinal))))
            problems.Warn(spec.Mark, spec.Path, "", Message, Later(spec.Name.IsOutput));
    }

    private static string Later(bool isOutput) => isOutput ? "it stays off; leave this to the machine's own control" : "its value is logged";
}

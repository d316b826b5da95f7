// Where in site.yaml a finding belongs: paths of proposals. A path is the names of groups with / between them; a point stands by its id. Must never propose for a key that the file's form does not know.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Checkout.Steps;

/// <summary>Paths.</summary>
internal static class SitePaths
{
    /// <summary>A key of a point where it is wired: <c>weaving-room.air.temperature/offset</c>.</summary>
    public static string Point(string pointId, string key) => $"{pointId}/{key}";

    /// <summary>A key of a loop.</summary>
    public static string Loop(Loop loop, string key) => $"loops/{loop.Id}/{key}";

    /// <summary>A key of the kind of a coil: the point of its fan, and the key there.</summary>
    public static string CoilKind(Coil coil, string key) => $"kind of {coil.Id}/{key}";

    /// <summary>A value as site.yaml takes it: metric base unit, so that nobody's unit system changes it.</summary>
    public static string Value(double value, Quantity quantity, int decimals)
        => FormattableString.Invariant($"{Math.Round(value, decimals)} {Quantities.BaseUnit(quantity)}");
}

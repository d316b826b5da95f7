// What coil and panel give with the water they have, and the water or speed that a wish needs. Pure; watts of sensible cooling.
using RoomSupervisor.Physics;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>Emitter arithmetic.</summary>
internal static class Emitters
{
    /// <summary>Exponent of coil output over fan speed (sequence, rule 2.1): g(f) = f^0.7, common practice, no published source.</summary>
    public const double CoilExponent = 0.7;

    /// <summary>Sensible output of a coil at full speed, W; 0 when the water is not colder than the room.</summary>
    public static double CoilFullOutput(CoilKind kind, double roomC, double waterC)
        => kind.OutputW * Math.Max(0, (roomC - waterC) / (kind.RatedRoomC - kind.RatedWaterC));

    /// <summary>Share of full output at a speed in percent.</summary>
    public static double CoilShare(double speedPercent) => speedPercent <= 0 ? 0 : Math.Pow(speedPercent / 100, CoilExponent);

    /// <summary>Speed in percent that gives a share of full output; 100 where more is asked than there is.</summary>
    public static double SpeedForShare(double share) => share >= 1 ? 100 : share <= 0 ? 0 : 100 * Math.Pow(share, 1 / CoilExponent);

    /// <summary>Rating difference of panels, K (EN 14240 nominal, from memory).</summary>
    private const double PanelRatedK = 8;

    /// <summary>Cooling output of a panel with this supply water, W; 0 when the mean water is not colder than the room.</summary>
    public static double PanelOutput(Circuit circuit, double roomC, double supplyC, double spreadK)
    {
        var difference = roomC - (supplyC + spreadK / 2);
        return difference > 0 && Panel.TryOutput(circuit.Kind.OutputWPerM2, PanelRatedK, circuit.Kind.Exponent, difference, out var perArea, out _)
            ? perArea * circuit.Settings.AreaM2
            : 0;
    }

    /// <summary>Supply water with which a panel gives so many watts, °C.</summary>
    public static double SupplyForOutput(Circuit circuit, double roomC, double watts, double spreadK)
        => watts > 0 && Panel.TryDifferenceFor(
            circuit.Kind.OutputWPerM2, PanelRatedK, circuit.Kind.Exponent, watts / circuit.Settings.AreaM2, out var difference, out _)
            ? roomC - difference - spreadK / 2
            : roomC - spreadK / 2;
}

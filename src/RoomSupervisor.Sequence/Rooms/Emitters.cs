// What coils and surfaces give with the water they have, and the water or speed that a wish needs. Pure; watts of sensible cooling, or
// of heating where so asked: always positive in the direction in which the room works.
using RoomSupervisor.Physics;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>Emitter arithmetic.</summary>
internal static class Emitters
{
    /// <summary>Exponent of coil output over fan speed (sequence, rule 2.1): g(f) = f^0.7, common practice, no published source.</summary>
    public const double CoilExponent = 0.7;

    /// <summary>Room temperature at which heating outputs of coils are rated, °C (EN 1397, from memory).</summary>
    private const double RatedHeatingRoomC = 20;

    /// <summary>Sensible output of a coil at full speed, W; 0 when the water is not colder (warmer) than the room.</summary>
    public static double CoilFullOutput(CoilKind kind, double roomC, double waterC, bool heats)
    {
        var difference = Math.Max(0, heats ? waterC - roomC : roomC - waterC);
        return heats && !double.IsNaN(kind.HeatingOutputW)
            ? kind.HeatingOutputW * difference / (kind.RatedHeatingWaterC - RatedHeatingRoomC)
            : kind.OutputW * difference / (kind.RatedRoomC - kind.RatedWaterC);
    }

    /// <summary>Share of full output at a speed in percent.</summary>
    public static double CoilShare(double speedPercent) => speedPercent <= 0 ? 0 : Math.Pow(speedPercent / 100, CoilExponent);

    /// <summary>Speed in percent that gives a share of full output; 100 where more is asked than there is.</summary>
    public static double SpeedForShare(double share) => share >= 1 ? 100 : share <= 0 ? 0 : 100 * Math.Pow(share, 1 / CoilExponent);

    /// <summary>Opening of a throttling coil valve, percent, for a share of what the coil gives at its slowest (rule 2.3): φ = exp(5.3·(share − 1)); over 100 from a share of 1 on.</summary>
    public static double ValveForShare(double share) => 100 * Math.Exp(ThrottleSteepness * (share - 1));

    /// <summary>The share that such an opening gives, 0–1.</summary>
    public static double ShareOfValve(double percent) => percent >= 100 ? 1 : Math.Max(0, 1 + Math.Log(percent / 100) / ThrottleSteepness);

    private const double ThrottleSteepness = 5.3;

    /// <summary>Output of a surface with this supply water, W; 0 when the mean water is not colder (warmer) than the room.</summary>
    public static double SurfaceOutput(Circuit circuit, double roomC, double supplyC, double spreadK, bool heats)
    {
        var difference = heats ? supplyC - spreadK / 2 - roomC : roomC - (supplyC + spreadK / 2);
        return difference > 0 && Panel.TryOutput(PerArea(circuit, heats), SurfaceKind.RatedK, circuit.Kind.Exponent, difference, out var perArea, out _)
            ? perArea * circuit.Settings.AreaM2
            : 0;
    }

    /// <summary>Supply water with which a surface gives so many watts, °C.</summary>
    public static double SupplyForOutput(Circuit circuit, double roomC, double watts, double spreadK, bool heats)
    {
        var from = watts > 0
            && Panel.TryDifferenceFor(PerArea(circuit, heats), SurfaceKind.RatedK, circuit.Kind.Exponent, watts / circuit.Settings.AreaM2, out var difference, out _)
            ? difference + spreadK / 2
            : spreadK / 2;
        return heats ? roomC + from : roomC - from;
    }

    private static double PerArea(Circuit circuit, bool heats)
        => heats && !double.IsNaN(circuit.Kind.HeatingOutputWPerM2) ? circuit.Kind.HeatingOutputWPerM2 : circuit.Kind.OutputWPerM2;
}

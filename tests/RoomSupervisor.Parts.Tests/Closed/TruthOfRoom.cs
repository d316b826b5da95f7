// What the room of a seed really is. The controller is told none of it but the floor area, and rated figures that are wrong by some tens of
// percent: a test room whose truth is what the controller believes would flatter it.
namespace RoomSupervisor.Parts.Tests.Closed;

/// <summary>
/// Drawn by seed. Ranges are common practice for a furnished 24 m² living room of masonry with one glazed side, no published source; heat
/// exchange coefficients are named where they are used.
/// </summary>
internal sealed record TruthOfRoom
{
    public const double FloorAreaM2 = 24;

    public const double VolumeM3 = 61;

    public const double PressurePa = 101_180;

    /// <summary>Told of every coil size, W sensible at 27 °C and 7 °C water; the true one is <see cref="CoilFactor"/> of it.</summary>
    public const double RatedCoilW = 2400;

    public TruthOfRoom(int seed)
    {
        var draw = new Random(7919 * seed + 11);
        double Between(double low, double high) => low + (high - low) * draw.NextDouble();
        FurnitureJPerK = 1000 * Between(150, 350);
        FurnitureWPerK = Between(100, 200);
        SkinJPerK = 75_000 * Between(12, 20);
        CoreJPerK = 75_000 * Between(60, 120);
        CoreWPerK = 75 * Between(6, 12);
        FacadeWPerK = Between(18, 32);
        GainW = Between(200, 380);
        People = draw.Next(1, 4);
        CoilFactor = Between(0.72, 1.02);
        SurfaceFactor = Between(0.85, 1.1);
        LagToldFactor = Between(0.75, 1.3);
        OutdoorC = Between(30, 33);
        OutdoorDewPointC = Between(21.5, 24);
        WindM3PerS = Between(0.06, 0.14);
        CoreStartC = Between(24.5, 26);
        GainPhase = Between(0, 2 * Math.PI);
    }

    public double FurnitureJPerK { get; init; }

    public double FurnitureWPerK { get; init; }

    /// <summary>Sensible gains, people, façade and infiltration at 24 °C, W.</summary>
    public double UsualLoadW => GainW + 70 * People + (FacadeWPerK + 1.18 * VolumeM3 * 0.4 / 3600 * 1006) * (OutdoorC - 24);

    /// <summary>The first 15 mm of walls, floor and ceiling, 75 m².</summary>
    public double SkinJPerK { get; }

    public double CoreJPerK { get; }

    public double CoreWPerK { get; }

    public double FacadeWPerK { get; }

    public double GainW { get; }

    public int People { get; }

    public double CoilFactor { get; init; }

    public double SurfaceFactor { get; }

    /// <summary>What the controller is told of the sensor's lag, over the truth: within a third.</summary>
    public double LagToldFactor { get; }

    public double OutdoorC { get; }

    public double OutdoorDewPointC { get; }

    public double WindM3PerS { get; }

    public double CoreStartC { get; }

    public double GainPhase { get; }
}

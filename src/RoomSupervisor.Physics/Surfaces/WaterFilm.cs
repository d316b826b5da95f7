// How fast water settles on a surface colder than the dew point, and goes again. Must never be taken for a measurement: it says what the air can bring to a face of that temperature.
namespace RoomSupervisor.Physics;

/// <summary>Films of water on cold faces.</summary>
public static class WaterFilm
{
    /// <summary>Film that begins to run and drip, kg/m² (a tenth of a millimetre): common practice, no published source; real faces let go between half of that and twice as much.</summary>
    public const double DripsFromKgPerM2 = 0.1;

    /// <summary>1/(cp·Le^(2/3)), kg·K/J, for water vapour in air, Le 0.865 (ASHRAE Handbook Fundamentals, ch. mass transfer; 0.865^(2/3) = 0.908), cp 1006 J/(kg·K) (ch. 1).</summary>
    private const double MassPerHeat = 1 / (1006 * 0.908);

    /// <summary>Radiant part of the exchange laws of ISO 11855-2, W/(m²·K) (Olesen, AIVC 2008: 5.5 of a cooled floor's 7); what is left moves air, and with it vapour.</summary>
    private const double RadiantWPerM2K = 5.5;

    /// <summary>Film growth, kg/(m²·s), h/(cp·Le^(2/3))·(W − Wsat(face)): below zero the film dries. Lewis relation; the vapour of one room at one dew point, no draught.</summary>
    /// <param name="convectionWPerM2K">Convective exchange between face and air, 0…50 W/(m²·K); see <see cref="TryConvection"/>.</param>
    /// <param name="dewPointC">Dew point of the air, −40…60 °C.</param>
    /// <param name="faceC">Temperature of the face, −40…60 °C.</param>
    /// <param name="pressurePa">20,000…200,000 Pa.</param>
    /// <param name="kgPerM2S">kg/(m²·s); NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryGrowth(double convectionWPerM2K, double dewPointC, double faceC, double pressurePa, out double kgPerM2S, out Impossible why)
    {
        kgPerM2S = double.NaN;
        if (!Allowed.Range(nameof(convectionWPerM2K), convectionWPerM2K, 0, 50, out why) || !Allowed.Range(nameof(dewPointC), dewPointC, -40, 60, out why) || !Allowed.Range(nameof(faceC), faceC, -40, 60, out why))
            return false;
        if (!MoistAir.TryHumidityRatio(dewPointC, 100, pressurePa, out double air, out why) || !MoistAir.TryHumidityRatio(faceC, 100, pressurePa, out double face, out why))
            return false;
        kgPerM2S = convectionWPerM2K * MassPerHeat * (air - face);
        return true;
    }

    /// <summary>Convective exchange of a cooled face, W/(m²·K): the whole exchange by ISO 11855-2 (ceiling 8.92·dT^0.1, wall 8, floor 7) less the radiant part.</summary>
    /// <param name="isCeiling">A ceiling.</param>
    /// <param name="isFloor">A floor; neither: a wall.</param>
    /// <param name="differenceK">Room over face, 0…60 K; under a tenth of a kelvin it counts as that.</param>
    /// <param name="wPerM2K">W/(m²·K); NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryConvection(bool isCeiling, bool isFloor, double differenceK, out double wPerM2K, out Impossible why)
    {
        wPerM2K = double.NaN;
        if (!Allowed.Range(nameof(differenceK), differenceK, 0, RadiantSurface.HighestDifferenceK, out why))
            return false;
        double difference = Math.Max(0.1, differenceK), watts;
        bool isKnown = isCeiling ? RadiantSurface.TryFloorHeatingOrCeilingCooling(difference, out watts, out why)
            : isFloor ? RadiantSurface.TryFloorCooling(difference, out watts, out why)
            : RadiantSurface.TryWall(difference, out watts, out why);
        wPerM2K = isKnown ? watts / difference - RadiantWPerM2K : double.NaN;
        return isKnown;
    }
}

// A coil's two conductances at any flows, and their fit to rating points.
// Must never be asked far outside the flows it was rated at: the exponents are rules of thumb.
namespace RoomSupervisor.Physics;

/// <summary>
/// Conductances at reference flows with power laws between: air ~ m^n, water ~ m^0.8 (turbulent, Dittus and Boelter) or less.
/// </summary>
/// <param name="Reference">Conductances at the reference flows.</param>
/// <param name="DryAirKgPerS">Reference flow of dry air, 1e-5…100 kg/s.</param>
/// <param name="WaterKgPerS">Reference flow of water, 1e-5…100 kg/s.</param>
/// <param name="AirExponent">0…1, about 0.6 for finned coils (common practice, no published source).</param>
/// <param name="WaterExponent">0…1.</param>
public readonly record struct CoilModel(
    CoilConductances Reference, double DryAirKgPerS, double WaterKgPerS, double AirExponent, double WaterExponent)
{
    /// <summary>Conductances at a pair of flows.</summary>
    /// <param name="dryAirKgPerS">1e-5…100 kg/s.</param>
    /// <param name="waterKgPerS">1e-5…100 kg/s.</param>
    /// <param name="conductances">W/K; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public bool TryAt(double dryAirKgPerS, double waterKgPerS, out CoilConductances conductances, out Impossible why)
    {
        conductances = new CoilConductances(double.NaN, double.NaN);
        if (!Allowed.Range(nameof(dryAirKgPerS), dryAirKgPerS, 1e-5, 100, out why)) return false;
        if (!Allowed.Range(nameof(waterKgPerS), waterKgPerS, 1e-5, 100, out why)) return false;
        if (!Allowed.Range(nameof(DryAirKgPerS), DryAirKgPerS, 1e-5, 100, out why)) return false;
        if (!Allowed.Range(nameof(WaterKgPerS), WaterKgPerS, 1e-5, 100, out why)) return false;
        if (!Allowed.Range(nameof(AirExponent), AirExponent, 0, 1, out why)) return false;
        if (!Allowed.Range(nameof(WaterExponent), WaterExponent, 0, 1, out why)) return false;
        conductances = new CoilConductances(
            Reference.AirWPerK * Math.Pow(dryAirKgPerS / DryAirKgPerS, AirExponent),
            Reference.WaterWPerK * Math.Pow(waterKgPerS / WaterKgPerS, WaterExponent));
        return true;
    }
}

/// <summary>One rating point: what entered and what the coil gave.</summary>
/// <param name="Input">What entered.</param>
/// <param name="TotalW">Heat taken from the air, W (negative in heating).</param>
/// <param name="SensibleW">Sensible part, W; NaN when not rated.</param>
public readonly record struct CoilRating(CoilInput Input, double TotalW, double SensibleW);

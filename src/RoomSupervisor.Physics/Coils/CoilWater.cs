// Water held on a coil: it fills before it drains, and goes back to the air when the valve is shut and the fan runs.
// Must never lose a gram: what condenses is held, drained or evaporated, and the three add up.
namespace RoomSupervisor.Physics;

/// <summary>One step of the water on a coil.</summary>
/// <param name="HeldKg">Held after the step, kg.</param>
/// <param name="DrainedKg">Drained in the step, kg.</param>
/// <param name="EvaporatedKg">Given back to the air in the step, kg.</param>
public readonly record struct CoilWaterStep(double HeldKg, double DrainedKg, double EvaporatedKg);

/// <summary>
/// Retained condensate after Henderson and Rengarajan, ASHRAE Trans. 102 (1996), from memory: a coil holds about 1,000 s of its latent output
/// before it drains; off-cycle evaporation follows the wet-bulb depression and the wetted share.
/// </summary>
public static class CoilWater
{
    /// <summary>Seconds of latent output a coil holds: about 1,000 (field value; Henderson and Rengarajan 1996 from memory).</summary>
    public const double TypicalHoldingS = 1000;

    /// <summary>One step of a coil that condenses: fills up to its capacity, then drains.</summary>
    /// <param name="heldKg">0…10 kg.</param>
    /// <param name="capacityKg">1e-6…10 kg.</param>
    /// <param name="condensateKgPerH">0…100 kg/h.</param>
    /// <param name="seconds">0…86,400 s.</param>
    /// <param name="step">After the step; NaN throughout when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryCondense(
        double heldKg, double capacityKg, double condensateKgPerH, double seconds, out CoilWaterStep step, out Impossible why)
    {
        step = new CoilWaterStep(double.NaN, double.NaN, double.NaN);
        if (!Allowed.Range(nameof(heldKg), heldKg, 0, 10, out why)) return false;
        if (!Allowed.Range(nameof(capacityKg), capacityKg, 1e-6, 10, out why)) return false;
        if (!Allowed.Range(nameof(condensateKgPerH), condensateKgPerH, 0, 100, out why)) return false;
        if (!Allowed.Range(nameof(seconds), seconds, 0, 86_400, out why)) return false;
        double water = heldKg + condensateKgPerH * seconds / 3600, kept = Math.Min(water, Math.Max(capacityKg, heldKg));
        step = new CoilWaterStep(kept, water - kept, 0);
        return true;
    }

    /// <summary>
    /// One step of a wet coil with its valve shut and the fan running. The air leaves towards saturation at its wet bulb: at full wetting
    /// m·(1−exp(−NTU))·(Ws(wet bulb)−W), less as the wetted share (held over capacity) falls; integrated exactly over the step.
    /// </summary>
    /// <param name="heldKg">0…10 kg.</param>
    /// <param name="capacityKg">1e-6…10 kg.</param>
    /// <param name="air">Entering air, a known state.</param>
    /// <param name="dryAirKgPerS">0…100 kg/s.</param>
    /// <param name="airConductanceWPerK">1…1e5 W/K.</param>
    /// <param name="seconds">0…86,400 s.</param>
    /// <param name="step">After the step; NaN throughout when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryEvaporate(
        double heldKg, double capacityKg, in AirState air, double dryAirKgPerS, double airConductanceWPerK, double seconds,
        out CoilWaterStep step, out Impossible why)
    {
        step = new CoilWaterStep(double.NaN, double.NaN, double.NaN);
        if (!Allowed.Range(nameof(heldKg), heldKg, 0, 10, out why)) return false;
        if (!Allowed.Range(nameof(capacityKg), capacityKg, 1e-6, 10, out why)) return false;
        if (!Allowed.Range(nameof(dryAirKgPerS), dryAirKgPerS, 0, 100, out why)) return false;
        if (!Allowed.Range(nameof(airConductanceWPerK), airConductanceWPerK, 1, 1e5, out why)) return false;
        if (!Allowed.Range(nameof(seconds), seconds, 0, 86_400, out why)) return false;
        if (!MoistAir.TryHumidityRatio(air.WetBulbC, 100, air.PressurePa, out double saturated, out why)) return false;
        double units = dryAirKgPerS > 0 ? airConductanceWPerK / (dryAirKgPerS * (1006 + 1860 * air.HumidityRatio)) : 0;
        double rate = dryAirKgPerS * (1 - Math.Exp(-units)) * Math.Max(saturated - air.HumidityRatio, 0);
        double kept = Dry(heldKg, capacityKg, rate, seconds);
        step = new CoilWaterStep(kept, 0, heldKg - kept);
        return true;
    }

    // Over capacity the whole surface is wet (constant rate); below it the rate falls with what is held (exponential).
    private static double Dry(double heldKg, double capacityKg, double rate, double seconds)
    {
        double over = Math.Max(heldKg - capacityKg, 0), fullSeconds = rate > 0 ? Math.Min(over / rate, seconds) : seconds;
        double left = heldKg - rate * fullSeconds;
        return left * Math.Exp(-rate / capacityKg * (seconds - fullSeconds));
    }
}

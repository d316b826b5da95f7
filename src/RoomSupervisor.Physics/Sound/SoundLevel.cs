// Adding sound levels, and from a source's power level to the level heard in a room.
// Must never be taken as a measurement: a room correction is ±3 dB at best.
namespace RoomSupervisor.Physics;

/// <summary>Sound levels, dB. Levels −50…200 dB.</summary>
public static class SoundLevel
{
    /// <summary>Energetic sum, dB: L = 10·log10(Σ 10^(Li/10)). Definition of the level.</summary>
    /// <param name="levelsDb">At least one level, −50…200 dB each.</param>
    /// <param name="sumDb">dB; NaN when impossible.</param>
    /// <param name="why">What was impossible; an empty list is named with its length.</param>
    public static bool TrySum(ReadOnlySpan<double> levelsDb, out double sumDb, out Impossible why)
    {
        sumDb = double.NaN;
        if (levelsDb.IsEmpty)
        {
            why = new Impossible(nameof(levelsDb), 0, 1, int.MaxValue);
            return false;
        }

        double energy = 0;
        foreach (double level in levelsDb)
        {
            if (!Allowed.Range(nameof(levelsDb), level, -50, 200, out why)) return false;
            energy += Math.Pow(10, level / 10);
        }

        sumDb = 10 * Math.Log10(energy);
        why = default;
        return true;
    }

    /// <summary>
    /// Pressure level, dB, at a distance in a room: Lp = Lw + 10·log10(Q/(4·pi·r²) + 4·(1−a)/(S·a)). Textbook diffuse-field form.
    /// </summary>
    /// <param name="powerLevelDb">Lw, −50…200 dB.</param>
    /// <param name="directivity">Q, 1 (free) to 8 (corner).</param>
    /// <param name="distanceM">0.1…100 m.</param>
    /// <param name="surfaceM2">All room surfaces, 1…1e5 m².</param>
    /// <param name="absorption">Mean absorption, 0.01…1.</param>
    /// <param name="pressureLevelDb">dB; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryInRoom(
        double powerLevelDb, double directivity, double distanceM, double surfaceM2, double absorption,
        out double pressureLevelDb, out Impossible why)
    {
        pressureLevelDb = double.NaN;
        if (!Allowed.Range(nameof(powerLevelDb), powerLevelDb, -50, 200, out why)) return false;
        if (!Allowed.Range(nameof(directivity), directivity, 1, 8, out why)) return false;
        if (!Allowed.Range(nameof(distanceM), distanceM, 0.1, 100, out why)) return false;
        if (!Allowed.Range(nameof(surfaceM2), surfaceM2, 1, 1e5, out why)) return false;
        if (!Allowed.Range(nameof(absorption), absorption, 0.01, 1, out why)) return false;
        double direct = directivity / (4 * Math.PI * distanceM * distanceM);
        pressureLevelDb = powerLevelDb + 10 * Math.Log10(direct + 4 * (1 - absorption) / (surfaceM2 * absorption));
        return true;
    }

    /// <summary>Same with the reverberant part from the room's reverberation time: 4/A, A = 0.161·V/T (Sabine).</summary>
    /// <param name="powerLevelDb">Lw, −50…200 dB.</param>
    /// <param name="directivity">Q, 1 (free) to 8 (corner).</param>
    /// <param name="distanceM">0.1…100 m.</param>
    /// <param name="volumeM3">1…1e5 m³.</param>
    /// <param name="reverberationS">0.05…20 s.</param>
    /// <param name="pressureLevelDb">dB; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryInReverberantRoom(
        double powerLevelDb, double directivity, double distanceM, double volumeM3, double reverberationS,
        out double pressureLevelDb, out Impossible why)
    {
        pressureLevelDb = double.NaN;
        if (!Allowed.Range(nameof(powerLevelDb), powerLevelDb, -50, 200, out why)) return false;
        if (!Allowed.Range(nameof(directivity), directivity, 1, 8, out why)) return false;
        if (!Allowed.Range(nameof(distanceM), distanceM, 0.1, 100, out why)) return false;
        if (!Allowed.Range(nameof(volumeM3), volumeM3, 1, 1e5, out why)) return false;
        if (!Allowed.Range(nameof(reverberationS), reverberationS, 0.05, 20, out why)) return false;
        double direct = directivity / (4 * Math.PI * distanceM * distanceM);
        pressureLevelDb = powerLevelDb + 10 * Math.Log10(direct + 4 * reverberationS / (0.161 * volumeM3));
        return true;
    }

    /// <summary>
    /// Schultz's form for small furnished rooms: Lp = Lw − 10·lg r − 5·lg V − 3·lg f + 12 (as quoted from ASHRAE handbooks; from memory).
    /// </summary>
    /// <param name="powerLevelDb">Lw in the band, −50…200 dB.</param>
    /// <param name="distanceM">0.5…20 m.</param>
    /// <param name="volumeM3">10…1000 m³.</param>
    /// <param name="frequencyHz">63…8000 Hz.</param>
    /// <param name="pressureLevelDb">dB; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryInFurnishedRoom(
        double powerLevelDb, double distanceM, double volumeM3, double frequencyHz, out double pressureLevelDb, out Impossible why)
    {
        pressureLevelDb = double.NaN;
        if (!Allowed.Range(nameof(powerLevelDb), powerLevelDb, -50, 200, out why)) return false;
        if (!Allowed.Range(nameof(distanceM), distanceM, 0.5, 20, out why)) return false;
        if (!Allowed.Range(nameof(volumeM3), volumeM3, 10, 1000, out why)) return false;
        if (!Allowed.Range(nameof(frequencyHz), frequencyHz, 63, 8000, out why)) return false;
        pressureLevelDb = powerLevelDb - 10 * Math.Log10(distanceM) - 5 * Math.Log10(volumeM3) - 3 * Math.Log10(frequencyHz) + 12;
        return true;
    }
}

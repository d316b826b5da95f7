// Fan speed to sound level and back.
// Must never promise silence: the law holds for the fan's own noise, ±2 dB; motor and bearings set a floor it does not know.
namespace RoomSupervisor.Physics;

/// <summary>
/// Lw2 − Lw1 = 50·log10(N2/N1) at constant diameter: the fan laws as handbooks give them (from memory, no clause confirmed; some texts
/// say 55). Treat as ±2 dB.
/// </summary>
public static class FanSound
{
    /// <summary>Change of sound level, dB, when speed is multiplied by a ratio.</summary>
    /// <param name="speedRatio">0.01…3.</param>
    /// <param name="decibels">dB, negative when slower; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryLevelChange(double speedRatio, out double decibels, out Impossible why)
    {
        decibels = double.NaN;
        if (!Allowed.Range(nameof(speedRatio), speedRatio, 0.01, 3, out why)) return false;
        decibels = 50 * Math.Log10(speedRatio);
        return true;
    }

    /// <summary>Speed, % of full, at which the fan meets a level; 100 % when full speed already meets it.</summary>
    /// <param name="fullSpeedLevelDb">Level at full speed, 0…140 dB, power or pressure, as long as the target is of the same kind.</param>
    /// <param name="targetLevelDb">Level to meet, 0…140 dB.</param>
    /// <param name="speedPercent">%, over 0 up to 100; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TrySpeedForLevel(double fullSpeedLevelDb, double targetLevelDb, out double speedPercent, out Impossible why)
    {
        speedPercent = double.NaN;
        if (!Allowed.Range(nameof(fullSpeedLevelDb), fullSpeedLevelDb, 0, 140, out why)) return false;
        if (!Allowed.Range(nameof(targetLevelDb), targetLevelDb, 0, 140, out why)) return false;
        speedPercent = 100 * Math.Min(1, SpeedRatioForDecibels(targetLevelDb - fullSpeedLevelDb));
        return true;
    }

    /// <summary>
    /// Ratio of speeds that changes the level by a number of decibels: 10^(dB/50). Every number has an answer, so there is nothing to refuse;
    /// NaN stays NaN.
    /// </summary>
    /// <param name="decibels">dB, any sign. 3 dB is a ratio of 1.148.</param>
    public static double SpeedRatioForDecibels(double decibels) => Math.Pow(10, decibels / 50);
}

// Blocks on one value: limit, slew, hysteresis. Pure; what was before is handed in, so that it stands in Memory under the trade's name.
// Must never let a value that is no number through as one.
using RoomSupervisor.Physics;

namespace RoomSupervisor.Sequence;

/// <summary>A value between two others.</summary>
public static class Limit
{
    /// <summary>The value, not under the lower nor over the upper bound; no number becomes the lower. Where the bounds cross, the upper one holds: a cap is a cap.</summary>
    public static double Between(double value, double lowest, double highest) => Math.Min(value > lowest ? value : lowest, highest);
}

/// <summary>A value that moves only so fast.</summary>
public static class Slew
{
    /// <summary>Towards a wish by at most so many units a second; a wish that is no number keeps what was before.</summary>
    /// <param name="before">Value before.</param>
    /// <param name="wish">Value wanted.</param>
    /// <param name="risePerS">Fastest rise, units/s, 0 or more.</param>
    /// <param name="fallPerS">Fastest fall, units/s, 0 or more.</param>
    /// <param name="dt">Time since then, s.</param>
    public static double Linear(double before, double wish, double risePerS, double fallPerS, double dt)
        => double.IsNaN(wish) ? before : Math.Clamp(wish, before - fallPerS * dt, before + risePerS * dt);

    /// <summary>Speed after getting louder or quieter by so many decibels a minute: 50·log10 of the speed ratio (<see cref="FanSound"/>).</summary>
    /// <param name="before">Speed before, any unit, over 0.</param>
    /// <param name="decibelsPerMin">dB/min, negative for quieter.</param>
    /// <param name="dt">Time since then, s.</param>
    public static double Decibels(double before, double decibelsPerMin, double dt) => before * Blocks.Exp(decibelsPerMin * dt * PerDecibel);

    private static readonly double PerDecibel = Math.Log(FanSound.SpeedRatioForDecibels(1)) / 60;
}

/// <summary>Decisions with a band in which they stay as they are.</summary>
public static class Hysteresis
{
    /// <summary>True from <paramref name="on"/> upwards, false below <paramref name="off"/>, in between as before. No number is false.</summary>
    public static bool Over(double value, double on, double off, bool before) => before ? value >= off : value >= on;
}

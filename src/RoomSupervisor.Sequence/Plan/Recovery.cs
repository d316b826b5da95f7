// How long a room needs to recover after a door stood open, by its data: what a lower fan limit costs. An estimate for people; no rule
// of the sequence uses it, and it must never decide anything.
using RoomSupervisor.Physics;
using RoomSupervisor.Sequence.Rooms;

namespace RoomSupervisor.Sequence;

/// <summary>
/// First-order pull-down. The room's heat capacity C falls with what its coils give, and a coil gives in proportion to the difference
/// between room and water: C·dT/dt = −K·(T − Tw), with K = Σ Q_rated·g(n)/(T_rated − Tw_rated), g(n) = n^0.7 the share of its output at
/// speed n (common practice, no published source). Solved: T − Tw falls exponentially with the time constant C/K, so from T0 to T1 it takes
/// t = C/K·ln((T0 − Tw)/(T1 − Tw)). No other heat is counted (sun, people, walls), nor the surface: with them it takes longer or shorter,
/// but two limits compare as here.
/// </summary>
public static class Recovery
{
    /// <summary>How much too warm the room is when the door shuts, K (project choice: a summer's day with a wide door open).</summary>
    public const double FromAboveK = 4;

    /// <summary>How near to its set point counts as recovered, K.</summary>
    public const double ToAboveK = 0.5;

    /// <summary>Minutes from <see cref="FromAboveK"/> to <see cref="ToAboveK"/> above cool_above with the fan at a speed; infinite when the coil does not run.</summary>
    /// <param name="house">The house.</param>
    /// <param name="room">Index of the room.</param>
    /// <param name="fanPercent">Speed of its fans, % of full speed.</param>
    public static double Minutes(House house, int room, double fanPercent)
    {
        var target = house.Rooms[room].Household.CoolAboveC;
        var wattsPerK = 0.0;
        var waterC = double.NaN;
        foreach (var coil in house.Coils)
        {
            if (coil.Room != room || fanPercent < coil.Kind.StartSpeedPercent)
                continue;
            waterC = house.Loops[coil.Loop].ColdestC;
            wattsPerK += Emitters.CoilFullOutput(coil.Kind, waterC + 1, waterC, heats: false) * Emitters.CoilShare(fanPercent);
        }
        if (!(wattsPerK > 0) || target + ToAboveK <= waterC)
            return double.PositiveInfinity;
        var capacity = 1000 * house.Rooms[room].Settings.AirCapacityKJPerK;
        return capacity / wattsPerK * Math.Log((target + FromAboveK - waterC) / (target + ToAboveK - waterC)) / 60;
    }

    /// <summary>Speed that a limit comes to beside the noise limit and the draught limit of the room, % of full speed.</summary>
    public static double Speed(House house, int room, HouseholdRoom asked, double percent)
    {
        foreach (var coil in house.Coils)
        {
            if (coil.Room != room)
                continue;
            percent = Math.Min(percent, coil.Settings.DraughtAtMostPercent);
            if (!double.IsNaN(asked.NoiseAtMostDb) && !double.IsNaN(coil.Kind.SoundLevelDb) && FanSound.TrySpeedForLevel(coil.Kind.SoundLevelDb, asked.NoiseAtMostDb, out var quiet, out _))
                percent = Math.Min(percent, quiet);
        }
        return percent;
    }

    /// <summary>How much louder a fan is at another speed, dB; negative: quieter. See <see cref="FanSound"/>: 50·log10 of the speed ratio, ±2 dB.</summary>
    /// <param name="fromPercent">Speed before, 1 to 100 %.</param>
    /// <param name="toPercent">Speed after, 1 to 100 %.</param>
    public static double LouderDb(double fromPercent, double toPercent)
        => FanSound.TryLevelChange(fromPercent / 100, out var before, out _) && FanSound.TryLevelChange(toPercent / 100, out var after, out _) ? after - before : double.NaN;
}

// Section 2, rule 7: what a limit on a room's fan costs, by what was measured of the room. For people only: no rule of the sequence uses it, and nothing is said of data that are not believed.
using RoomSupervisor.Sequence.RoomData;
using RoomSupervisor.Sequence.Rooms;

namespace RoomSupervisor.Sequence;

/// <summary>
/// A pull-down played with the balance that was measured (see <see cref="RoomDataMemory"/>): dT/dt = −r·Q(n)/C + k·(S − T) + load, with r the measured coil over capacity, Q(n) the typed-in output at speed n (power law 0.7) with the
/// coldest water of its loop, k walls and furniture, S their first-order mean of 25 min, and the load that the squares ended the last pull-down with. Steps of 10 s.
/// </summary>
public static class CapPrice
{
    /// <summary>Longer than this is not told in minutes.</summary>
    public const double LongestMin = 240;

    private const double StepS = 10;

    /// <summary>A door of half an hour: walls and furniture have come so large a share of the way of the air, 1 − exp(−30/25).</summary>
    private const double StoredShare = 0.6988057880877978;

    /// <summary>True where the data are believed and sure enough to reckon with.</summary>
    public static bool IsTrusted(in RoomDataMemory data) => !data.Dropped && data.PullDowns >= RoomDataUse.FromPullDowns && data.Ratio.Deviation < RoomDataUse.SureRatio;

    /// <summary>Minutes from <see cref="Recovery.FromAboveK"/> to <see cref="Recovery.ToAboveK"/> above cool_above; infinite: not within <see cref="LongestMin"/>, or the coil does not run.</summary>
    /// <param name="house">The house.</param>
    /// <param name="room">Index of the room.</param>
    /// <param name="data">What was measured of it.</param>
    /// <param name="fanPercent">Speed of its fans, % of full speed.</param>
    /// <param name="deviations">So many deviations off: 1 for the strong end of what was measured, −1 for the weak one.</param>
    public static double Minutes(House house, int room, in RoomDataMemory data, double fanPercent, double deviations = 0)
    {
        ArgumentNullException.ThrowIfNull(house);
        var target = house.Rooms[room].Household.CoolAboveC;
        return Minutes(house, room, data, fanPercent, deviations, target + Recovery.FromAboveK, target + StoredShare * Recovery.FromAboveK);
    }

    /// <summary>The same from another beginning.</summary>
    /// <param name="house">The house.</param>
    /// <param name="room">Index of the room.</param>
    /// <param name="data">What was measured of it.</param>
    /// <param name="fanPercent">Speed of its fans, % of full speed.</param>
    /// <param name="deviations">So many deviations off.</param>
    /// <param name="airC">Air at the beginning, °C.</param>
    /// <param name="storedC">Walls and furniture at the beginning, °C.</param>
    public static double Minutes(House house, int room, in RoomDataMemory data, double fanPercent, double deviations, double airC, double storedC)
    {
        ArgumentNullException.ThrowIfNull(house);
        var part = house.Rooms[room];
        var ratio = Math.Exp(data.Ratio.Log + deviations * data.Ratio.Deviation);
        var (wattsPerK, waterC) = Coils(house, part, fanPercent);
        var load = Measuring.LoadKPerS(part, data);
        var reached = part.Household.CoolAboveC + Recovery.ToAboveK;
        if (!(wattsPerK > 0))
            return double.PositiveInfinity;
        for (var s = 0.0; s < 60 * LongestMin; s += StepS)
        {
            if (airC <= reached)
                return s / 60;
            var fall = ratio * wattsPerK * Math.Max(0, airC - waterC) / Measuring.Capacity(part) - data.NowWalls / 100 * (storedC - airC) - load;
            storedC += (airC - storedC) * StepS / (StepS + Measuring.StoredS);
            airC -= StepS * fall;
        }
        return double.PositiveInfinity;
    }

    /// <summary>Typed-in output for each kelvin over the water, W/K, and that water, °C; a coil of several rooms counts by its share of floor.</summary>
    private static (double WattsPerK, double WaterC) Coils(House house, Room part, double fanPercent)
    {
        var (sum, waterC) = (0.0, double.NaN);
        foreach (var index in part.Coils)
        {
            var coil = house.Coils[index];
            if (fanPercent < coil.Kind.StartSpeedPercent)
                continue;
            waterC = house.Loops[coil.Loop].ColdestC;
            sum += RoomCoils.Share(house, part, coil) * Emitters.CoilFullOutput(coil.Kind, waterC + 1, waterC, heats: false) * Emitters.CoilShare(fanPercent);
        }
        return (sum, waterC);
    }
}

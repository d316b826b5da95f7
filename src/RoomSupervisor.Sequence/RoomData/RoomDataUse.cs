// Section 2, rule 7: what control may take from the measured data where a comparison asks for it: the lower end of the coil, the upper end of the capacity, the lag where it is sure. Never anything that is doubted, never more than within the bounds.
namespace RoomSupervisor.Sequence.RoomData;

/// <summary>Uses, each behind its flag.</summary>
internal static class RoomDataUse
{
    /// <summary>Nothing is used before so many pull-downs, nor a lag or a capacity that is less sure than these, in logarithms.</summary>
    public const int FromPullDowns = 3;

    private const double SureLag = 0.4;

    public const double SureRatio = 0.35;

    /// <summary>A lag that was told is told within a third (section 10): a measured one within that says nothing better and is left alone.</summary>
    private const double AThird = 0.2876820724517809;

    /// <summary>Lag of an input for control, s.</summary>
    public static double LagS(in Scan scan, Room room, in RoomMemory m, int input)
    {
        var told = scan.House.Inputs[input].Sensor.LagS;
        return m.LagFactor > 0 && input == room.AirTemperature ? told * m.LagFactor : told;
    }

    /// <summary>True where the measured lag is another than the one that was told, and sure.</summary>
    public static bool IsSureOfOtherLag(in RoomDataMemory d) => d.Lag.Deviation < SureLag && Math.Abs(d.Lag.Log) > AThird;

    /// <summary>What may be used now; not changed in the middle of a pull-down, where a step would be taken for the room's.</summary>
    public static void Set(in Scan scan, Room room, in RoomDataMemory d, ref RoomMemory m)
    {
        if (d.InPullDown)
            return;
        var uses = d.Dropped || d.PullDowns < FromPullDowns ? RoomDataUses.None : scan.Memory.RoomDataFor;
        m.LagFactor = (uses & RoomDataUses.SensorLag) != 0 && IsSureOfOtherLag(d) ? d.Lag.Factor : 0;
        var sure = d.Ratio.Deviation < SureRatio;
        m.DataCapacityJPerK = (uses & RoomDataUses.StopDistance) != 0 && sure ? Measuring.Capacity(room) / d.Ratio.Low : 0;
        m.CoilLow = (uses & RoomDataUses.HandOver) != 0 ? Math.Min(1, d.Coil.Low) : 0;
    }
}

// What the loop hands over to the trends: plain numbers. And how far a value must move to be worth a sample. No text, no files.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Records;

/// <summary>One value that is followed over time.</summary>
/// <param name="Name">A point's id, or what the sequence worked out: <c>weaving-room.stage</c>, <c>ceiling-loop.set_point</c>.</param>
/// <param name="Quantity">Its quantity; its base unit is the unit of the samples.</param>
/// <param name="States">Names of its states by number, separated by commas; "" for a figure.</param>
public sealed record TrendSeries(string Name, Quantity Quantity, string States = "")
{
    /// <summary>How far it must move to be worth a sample, base unit.</summary>
    public double DeadBand { get; init; } = TrendRule.DeadBand(Quantity);
}

/// <summary>One sample.</summary>
/// <param name="Utc">Wall time.</param>
/// <param name="Series">Index of its series.</param>
/// <param name="Value">In the base unit; NaN where there is none.</param>
/// <param name="Reason">Of a command: what bound it; of a reading that is not good: why.</param>
public readonly record struct TrendSample(DateTime Utc, int Series, double Value, Reason Reason)
{
    /// <summary>Of a command: what would have bound next, with the value it would allow as its first figure; none where that says nothing.</summary>
    public Reason Next { get; init; }
}

/// <summary>Samples from the loop to the Records thread.</summary>
/// <param name="capacity">Samples held.</param>
public sealed class TrendRing(int capacity) : Ring<TrendSample>(capacity);

/// <summary>When a value is worth a sample.</summary>
public static class TrendRule
{
    /// <summary>A value that does not move has a sample this often, s.</summary>
    public const double AtLeastEveryS = 900;

    /// <summary>For whoever reads samples back: what is older than one sample's time and two minutes is not known any more.</summary>
    public static readonly TimeSpan Holds = TimeSpan.FromSeconds(AtLeastEveryS + 120);

    /// <summary>
    /// A figure that only creeps is worth a sample this often at most, s; one that jumps (<see cref="Jump"/>) or has another reason, in half that time. A valve that swings is seen to swing, but not with each of its
    /// turns: measured on six rooms, five samples of six said nothing that the sixth did not. Temperatures twice as often: water is compared with the dew point by them.
    /// </summary>
    public static double CreepsEveryS(Quantity quantity) => quantity is Quantity.Temperature or Quantity.TemperatureDifference ? 60 : 120;

    /// <summary>How many times its dead band a figure must move to be a jump: three tenths of a kelvin, a fifth of a valve's way.</summary>
    public static double Jump(Quantity quantity) => quantity is Quantity.Temperature or Quantity.TemperatureDifference ? 3 : 20;

    /// <summary>How far it must move, base unit: about what its sensor can tell, or what somebody would hear or feel.</summary>
    public static double DeadBand(Quantity quantity) => quantity switch
    {
        Quantity.Temperature or Quantity.TemperatureDifference => 0.1,
        Quantity.Percent => 1,
        Quantity.Power => 25,
        Quantity.Pressure => 2,
        Quantity.Flow => 0.2,
        _ => 0.5,
    };
}

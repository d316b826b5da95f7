// What a device delivers and what the sequence makes of it. A sample is a fact (value, when, fault);
// a reading is a judgement (value, age, quality, cause). Nothing here judges: the Sequence does.
namespace RoomSupervisor.Terms;

/// <summary>Why a device delivered no value. The names in lockstep files are in <see cref="Names"/>.</summary>
public enum Fault : byte
{
    None, NotRead, BusError, Crc, NoAcknowledge, Timeout, OutOfRange,
}

/// <summary>One value as a device delivered it.</summary>
/// <param name="Value">In the point's own unit (°C, %, V …); a switch is 1 when made (open door, tripped limit), else 0. NaN when there is none.</param>
/// <param name="TakenAtS">Monotonic seconds at which it was taken, on the clock of <see cref="ScanTime.ElapsedS"/>.</param>
/// <param name="Fault"><see cref="Fault.None"/> when the value counts.</param>
public readonly record struct Sample(double Value, double TakenAtS, Fault Fault)
{
    /// <summary>No device has delivered anything.</summary>
    public static Sample Nothing { get; } = new(double.NaN, double.NegativeInfinity, Fault.NotRead);
}

/// <summary>How far a reading may be trusted.</summary>
public enum Quality : byte
{
    Missing, LastGood, Good,
}

/// <summary>A value the sequence may use.</summary>
/// <param name="Value">In the point's own unit after offset and filter; NaN when missing.</param>
/// <param name="AgeS">Seconds since the sample was taken.</param>
/// <param name="Quality">Good, last good (older than the device's own interval) or missing.</param>
/// <param name="Cause">Why it is not good; <see cref="Cause.None"/> when it is.</param>
public readonly record struct Reading(double Value, double AgeS, Quality Quality, Cause Cause)
{
    /// <summary>A reading nobody ever delivered.</summary>
    public static Reading Never { get; } = new(double.NaN, double.PositiveInfinity, Quality.Missing, Cause.NeverRead);

    /// <summary>True when there is a value, fresh or not.</summary>
    public bool Exists => Quality != Quality.Missing;
}

/// <summary>The two clocks of one scan. Timers use elapsed time only; wall time serves schedules and stamps.</summary>
/// <param name="ElapsedS">Monotonic seconds since an arbitrary zero.</param>
/// <param name="StepS">Seconds since the scan before; 0 on the first.</param>
/// <param name="Utc">Wall time for stamps.</param>
/// <param name="Local">Wall time at the site, for schedules.</param>
public readonly record struct ScanTime(double ElapsedS, double StepS, DateTime Utc, DateTime Local);

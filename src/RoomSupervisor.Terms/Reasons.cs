// Why a reading is not good and why a command has its value. Numbers travel as they are; the words are in CauseWords.cs
// and are put together outside the loop.
using System.Runtime.InteropServices;

namespace RoomSupervisor.Terms;

/// <summary>Every reason a reading or a command can carry.</summary>
public enum Cause : byte
{
    None,

    // Readings.
    NeverRead, Stale, OutOfRange, Jumped, Flat, Disagreement, BusError, Crc, NoAcknowledge, Timeout,
    TemperaturesDiffer, HumiditiesDiffer, DewPointsSpread, SupplyAboveReturn, SupplyOffMixing, ProbablyOpen, ProbablyOpenStage, ShowerOrCooking,

    // Rooms.
    StartingUp, SwitchedOff, AirTemperatureMissing, Satisfied, PullDown, Opening, EasingOff, CoilCarries, CoilNotNeeded,
    SurfaceCarries, SurfaceNotNeeded, SurfaceWaits, StartsInTurn, WarmUp, NotInSeason, NoColdBlow, Dehumidifying,

    // Why a stage changed.
    TooWarmFor, TooColdFor, OpeningLongEnough, OpeningShut, StopDistance, FadeDone, SurfaceAtLimit, SurfaceTooLittle, HandOverProven, HandOverTime, NoDemand, CoilMayNotRun, ReadingsBack, Resumed,

    // Why the air is dried or not.
    DewPointOverTarget, HumidityOverLimit, GuardLimitsSurface, StageComesFirst, CoilWaterTooWarm, OverCooled, DryEnough,

    // Fan and coil.
    HouseholdLimit, QuietHours, NoiseLimit, DraughtLimit, StartSpeed, LimitUnderStartSpeed, RisingSlowly, FallingSlowly,
    StartKick, DripTrayFull, DripTrayUnread, QuietHoursComing, NearestStep, CoilWet, CoilValveShut, StartStopWait, CoilNotAsked, CoilServesOther, CoilAgainstRoom,

    // Condensation guard.
    WaterTooCold, WaterFarTooCold, DewPointRising, SupplyMissing, CondensationSwitch, CondensationUnread, DewPointUnknown, WaitingForSteadyAir, WaitingForWarmWater, WarmThrough, WarmWater, WarmingThrough,
    Isolated, OutdoorReserve, FloorForFeet, SurfaceLimit, SurfaceTooHot, PastCircuits, ContactDoubted,

    // Loops and source.
    LowestSafeSupply, SupplyOld, SourceTooWarm, SourceTooCold, Recirculating, MixingForSetPoint, NoCircuitOpen, CircuitOpening, CircuitOpen,
    RoomsAsk, NobodyAsks, MinimumRun, MinimumOff, RoomsWantHeat, RoomsWantCold, HighLimit, HighLimitUnread, Leak, PressureLow,

    // Source, change-over, hot water, buffer.
    RequestWaits, OpeningAsks, StartsInHour, SourceFault, UtilityLock, BufferCharges, BufferCarries, DryingWaits,
    ChangingOver, WaitsForCold, WaitsForHeat, RestsFromOpposite,
    HotWater, TankMissing, TankWaits, TankPrepares, TankWarm, RoomsTurn, HotWaterFirst, MakingHotWater, Defrosting, TooHotToCool, HotSlug, InHand,

    // Loops: pumps, mixing, exercise, frost.
    PostRun, StandbyRuns, StandsBy, PumpNotProven, StandbyNotProven, PumpSpeed, MixingToSafe, MixingToReserve, MixingToFloor, MixingToSurface, Resynchronising, Exercise, StaysShut, StaysOpen, EndSwitchAgrees, SurfaceRests,
    FanNotProven, FanTurns, FrostWater, FrostRoom, FrostCalls, FrostStops,

    // People and machines.
    HandValue, Healthy, ReadingsMissing,

    // Weather that allows no change-over.
    TooColdToCool, TooWarmToHeat,

    // A loop held by a programme.
    Held, HeldWaits, HeldTooHot,
}

/// <summary>A cause with up to three numbers, in the quantities that <see cref="CauseWords"/> declares for it.</summary>
/// <param name="Cause">What bound the value.</param>
/// <param name="A">
/// By convention, for a limit or a wish: the value it would allow or ask for, in the unit of the command.
/// </param>
/// <param name="B">See <see cref="CauseWords"/>.</param>
/// <param name="C">See <see cref="CauseWords"/>.</param>
[StructLayout(LayoutKind.Sequential)]
public readonly record struct Reason(Cause Cause, float A = 0, float B = 0, float C = 0)
{
    // Four words without a gap: no byte of a saved memory is left to chance, and a copy is one move.
    private readonly int cause = (int)Cause;

    /// <summary>What bound the value.</summary>
    public Cause Cause
    {
        get => (Cause)cause;
        init => cause = (int)value;
    }

    /// <summary>A reason whose numbers come from double arithmetic.</summary>
    public static Reason Of(Cause cause, double a = 0, double b = 0, double c = 0) => new(cause, (float)a, (float)b, (float)c);
}

/// <summary>A value for an output with the reason that bound it, the one that would bind next, and what follows when its life ends.</summary>
/// <param name="Value">Percent for fans and valves, °C for set points, 1 or 0 for switches.</param>
/// <param name="Binding">Why the value is what it is.</param>
/// <param name="RunnerUp">What would have bound next; <see cref="Cause.None"/> if nothing.</param>
/// <param name="ThenValue">The value the hardware takes when this command is not renewed in time.</param>
public readonly record struct Command(double Value, Reason Binding, Reason RunnerUp, double ThenValue)
{
    /// <summary>
    /// Lowers the value to <paramref name="cap"/> where it is above it. The lowest cap becomes the binding reason, the next lowest the runner-up.
    /// <paramref name="why"/> must carry the cap in its A.
    /// </summary>
    public Command CapAt(double cap, in Reason why)
    {
        if (cap < Value)
            return new Command(cap, why, Binding, ThenValue);
        return RunnerUp.Cause == Cause.None || cap < RunnerUp.A ? this with { RunnerUp = why } : this;
    }
}

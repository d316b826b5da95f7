// What kind of thing every cause is: a setting somebody may change, a machine that can no more, water, source, sensor, opening, or time. A table and nothing else;
// it must name every cause, so that none is ever explained as something it is not.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Explain;

/// <summary>Where the answer to "why" lies.</summary>
public enum VerdictKind : byte
{
    /// <summary>Nothing is short.</summary>
    Content,

    /// <summary>A value somebody has set, in a file or by hand.</summary>
    Setting,

    /// <summary>Everything gives what it can.</summary>
    Capacity,

    /// <summary>The water is too cold, too warm, or does not flow.</summary>
    Water,

    /// <summary>What makes the water.</summary>
    Source,

    /// <summary>A reading is missing or not believed.</summary>
    Sensor,

    /// <summary>A door or window.</summary>
    Opening,

    /// <summary>It is on its way, or waits for a time that ends.</summary>
    Waiting,

    /// <summary>A protection holds: tray, leak, high limit, pressure, frost. Somebody must look.</summary>
    Protection,
}

/// <summary>The kind of each cause, and its word.</summary>
public static class Verdicts
{
    /// <summary>The word in answers; never changes.</summary>
    public static string Name(VerdictKind kind) => kind switch
    {
        VerdictKind.Content => "content",
        VerdictKind.Setting => "setting",
        VerdictKind.Capacity => "capacity",
        VerdictKind.Water => "water",
        VerdictKind.Source => "source",
        VerdictKind.Sensor => "sensor",
        VerdictKind.Opening => "opening",
        VerdictKind.Waiting => "waiting",
        _ => "protection",
    };

    /// <summary>Kind of a cause that binds.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The table does not know it.</exception>
    public static VerdictKind Of(Cause cause) => cause switch
    {
        Cause.None or Cause.Satisfied or Cause.CoilNotNeeded or Cause.SurfaceNotNeeded or Cause.CoilNotAsked or Cause.NobodyAsks or Cause.NoDemand or Cause.DryEnough
            or Cause.NoCircuitOpen or Cause.Healthy or Cause.TankWarm or Cause.EndSwitchAgrees or Cause.FanTurns or Cause.StandsBy or Cause.CircuitOpen or Cause.RoomsAsk
            or Cause.PumpSpeed or Cause.MixingForSetPoint => VerdictKind.Content,
        Cause.SwitchedOff or Cause.HouseholdLimit or Cause.QuietHours or Cause.QuietHoursComing or Cause.NoiseLimit or Cause.DraughtLimit or Cause.LimitUnderStartSpeed
            or Cause.HandValue or Cause.InHand or Cause.FloorForFeet or Cause.SurfaceLimit or Cause.MixingToFloor or Cause.MixingToSurface or Cause.OutdoorReserve
            or Cause.MixingToReserve or Cause.HumidityOverLimit or Cause.DewPointOverTarget or Cause.NearestStep or Cause.StartSpeed
            or Cause.Held => VerdictKind.Setting,
        Cause.PullDown or Cause.WarmUp or Cause.SurfaceAtLimit or Cause.SurfaceTooLittle or Cause.CoilCarries or Cause.SurfaceCarries or Cause.Dehumidifying => VerdictKind.Capacity,
        Cause.NotInSeason or Cause.NoColdBlow or Cause.CoilWaterTooWarm or Cause.GuardLimitsSurface or Cause.WaterTooCold or Cause.WaterFarTooCold or Cause.DewPointRising
            or Cause.CondensationSwitch or Cause.WaitingForWarmWater or Cause.WarmWater or Cause.Isolated or Cause.PastCircuits or Cause.LowestSafeSupply or Cause.Recirculating
            or Cause.MixingToSafe or Cause.CoilWet or Cause.CoilValveShut => VerdictKind.Water,
        Cause.SourceTooWarm or Cause.SourceTooCold or Cause.SourceFault or Cause.UtilityLock or Cause.RoomsWantHeat or Cause.RoomsWantCold or Cause.WaitsForCold
            or Cause.WaitsForHeat or Cause.HotWater or Cause.HotWaterFirst or Cause.MakingHotWater or Cause.Defrosting or Cause.TooHotToCool or Cause.HotSlug or Cause.TooColdToCool
            or Cause.TooWarmToHeat or Cause.ChangingOver or Cause.RoomsTurn or Cause.TankWaits or Cause.TankPrepares or Cause.BufferCharges or Cause.BufferCarries
            or Cause.HeldWaits => VerdictKind.Source,
        Cause.NeverRead or Cause.Stale or Cause.OutOfRange or Cause.Jumped or Cause.Flat or Cause.Disagreement or Cause.BusError or Cause.Crc or Cause.NoAcknowledge or Cause.Timeout
            or Cause.TemperaturesDiffer or Cause.HumiditiesDiffer or Cause.DewPointsSpread or Cause.SupplyAboveReturn or Cause.SupplyOffMixing or Cause.AirTemperatureMissing
            or Cause.SupplyMissing or Cause.CondensationUnread or Cause.DewPointUnknown or Cause.SupplyOld or Cause.DripTrayUnread or Cause.HighLimitUnread or Cause.TankMissing
            or Cause.ContactDoubted or Cause.ReadingsMissing => VerdictKind.Sensor,
        Cause.Opening or Cause.ProbablyOpen or Cause.ProbablyOpenStage or Cause.OpeningLongEnough or Cause.OpeningAsks => VerdictKind.Opening,
        Cause.DripTrayFull or Cause.HighLimit or Cause.Leak or Cause.PressureLow or Cause.SurfaceTooHot or Cause.PumpNotProven or Cause.StandbyNotProven or Cause.StandbyRuns
            or Cause.StaysShut or Cause.StaysOpen or Cause.FanNotProven or Cause.FrostWater or Cause.FrostRoom or Cause.FrostCalls or Cause.FrostStops or Cause.CoilMayNotRun
            or Cause.HeldTooHot => VerdictKind.Protection,
        Cause.StartingUp or Cause.StartsInTurn or Cause.EasingOff or Cause.SurfaceWaits or Cause.ShowerOrCooking or Cause.TooWarmFor or Cause.TooColdFor or Cause.OpeningShut
            or Cause.StopDistance or Cause.FadeDone or Cause.HandOverProven or Cause.HandOverTime or Cause.ReadingsBack or Cause.Resumed or Cause.StageComesFirst or Cause.OverCooled
            or Cause.RisingSlowly or Cause.FallingSlowly or Cause.StartKick or Cause.StartStopWait or Cause.CoilServesOther or Cause.CoilAgainstRoom or Cause.WaitingForSteadyAir
            or Cause.WarmThrough or Cause.WarmingThrough or Cause.CircuitOpening or Cause.MinimumRun or Cause.MinimumOff or Cause.RequestWaits or Cause.StartsInHour
            or Cause.DryingWaits or Cause.RestsFromOpposite or Cause.PostRun or Cause.Resynchronising or Cause.Exercise or Cause.SurfaceRests => VerdictKind.Waiting,
        _ => throw new ArgumentOutOfRangeException(nameof(cause), cause, "no kind is declared for this cause: give it one in Verdicts.cs"),
    };
}

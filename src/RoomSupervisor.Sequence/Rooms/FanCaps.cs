// Section 4, rule 2: every limit on a fan, all met at once. Caps come last in the chain, so a new cap is met in the same scan. Quiet hours that are coming
// are a cap already: it falls as fast as a fan gets quieter, so that nobody hears the minute at which they begin.
using RoomSupervisor.Physics;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>The limits of a coil's fan.</summary>
internal static class FanCaps
{
    /// <summary>Works out the lowest cap of every coil, once a scan.</summary>
    public static void All(in Scan scan)
    {
        for (var i = 0; i < scan.House.Coils.Length; i++)
        {
            var any = new Command(100, default, default, 0);
            ref var m = ref scan.Memory.Coils[i];
            Apply(scan, scan.House.Coils[i], m.SlewPercent, ref any);
            if (any.Value != m.CapPercent)
                (m.CapPercent, m.CapShare) = (any.Value, Emitters.CoilShare(any.Value));
        }
    }

    /// <summary>Lowers a command to every cap, those of all its rooms; the lowest binds, the next lowest is the runner-up.</summary>
    /// <param name="scan">The scan.</param>
    /// <param name="coil">The coil.</param>
    /// <param name="before">Speed of the scan before, percent.</param>
    /// <param name="command">What is asked of its fan; lowered. In place: these are asked three times a coil and scan, and seldom change anything.</param>
    public static void Apply(in Scan scan, Coil coil, double before, ref Command command)
    {
        if (command.Value <= 0)
            return;   // what stands still has no limit worth telling
        foreach (var room in coil.Rooms)
            OfRoom(scan, scan.House.Rooms[room].Household, coil, before, ref command);
        var draught = coil.Settings.DraughtAtMostPercent;
        if (draught < 100)
            command = command.CapAt(draught, Reason.Of(Cause.DraughtLimit, draught));
    }

    private static void OfRoom(in Scan scan, HouseholdRoom household, Coil coil, double before, ref Command command)
    {
        if (household.FanAtMostPercent < 100)
            command = command.CapAt(household.FanAtMostPercent, Reason.Of(Cause.HouseholdLimit, household.FanAtMostPercent));
        Quiet(scan, household, coil, before, ref command);
        if (NoiseCap(household, coil.Kind, out var noise) && noise < 100)
            command = command.CapAt(noise, Reason.Of(Cause.NoiseLimit, noise, household.NoiseAtMostDb));
    }

    /// <summary>Quiet hours, and before them what leads down to them. A coming limit under the start speed leads down to that speed; the fan stops with the minute.</summary>
    private static void Quiet(in Scan scan, HouseholdRoom household, Coil coil, double before, ref Command command)
    {
        var minutes = household.MinutesToQuiet(scan.Local);
        var most = household.QuietFanAtMostPercent;
        if (minutes == 0)
            command = command.CapAt(most, Reason.Of(Cause.QuietHours, most));
        // When clocks go back the clock of schedules stands for an hour at its last moment: what begins then does not begin an hour early.
        if (!(minutes > StandsStillMinutes && minutes < LongestFadeMinutes))
            return;
        var now = Slew.Decibels(Math.Max(most, coil.StartSpeedPercent), scan.Settings.FallDbPerMin, minutes * 60);
        // Told too late, by an edit or a start: the fan falls at its rate until the minute, and there to the limit at once.
        now = Math.Max(now, Slew.Decibels(before, -scan.Settings.FallDbPerMin, scan.Dt));
        if (now < 100)
            command = command.CapAt(now, Reason.Of(Cause.QuietHoursComing, now, household.QuietBeginsMinutes, most));
    }

    /// <summary>A fade from full speed to the slowest step there may be (5 %), at the slowest rate that may be set (1 dB/min), min.</summary>
    private const double LongestFadeMinutes = 66;

    private const double StandsStillMinutes = 1e-5;

    /// <summary>The speed at which the fan is as loud as the household lets it be, by the fan's sound data.</summary>
    private static bool NoiseCap(HouseholdRoom household, CoilKind kind, out double percent)
    {
        percent = 100;
        return !double.IsNaN(household.NoiseAtMostDb) && !double.IsNaN(kind.SoundLevelDb)
            && FanSound.TrySpeedForLevel(kind.SoundLevelDb, household.NoiseAtMostDb, out percent, out _);
    }
}

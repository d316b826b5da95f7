// Section 4, rule 4: how fast a fan may become louder and quieter, in decibels. Must never hold back a protection: what stops a fan at once does not come here.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>A fan's slew.</summary>
internal static class FanHurry
{
    /// <summary>Rule 4.4: louder and quieter only so fast, in decibels; from rest a fan starts at its start speed, to rest it goes from there.</summary>
    public static Command Slewed(in Scan scan, Coil coil, in RoomMemory roomMemory, in Command wish, double start, in CoilMemory m)
    {
        var s = scan.Settings;
        var before = m.SlewPercent;
        var (rise, fall) = Hurry(s, coil, roomMemory, wish.Binding.Cause == Cause.Dehumidifying);
        if (before <= 0)
            return wish.Value > start ? new Command(start, Reason.Of(Cause.RisingSlowly, start, rise), wish.Binding, 0) : wish;
        if (wish.Value > before)
        {
            var most = Slew.Decibels(before, rise, scan.Dt);
            return wish.Value > most && m.CapPercent > most ? new Command(most, Reason.Of(Cause.RisingSlowly, most, rise), wish.Binding, 0) : wish;
        }
        if (wish.Value == before)
            return wish;
        var least = Slew.Decibels(before, -fall, scan.Dt);
        if (wish.Value >= least || least <= start)
            return wish;
        return new Command(least, Reason.Of(Cause.FallingSlowly, least, fall), wish.Binding, 0);
    }

    /// <summary>
    /// How fast a fan may become louder and quieter, dB/min. Drying is in no hurry at all: what the room can spare moves with the last digit of its sensor. Nor is a room that has been held
    /// for a while within a digit or two of where it is wanted. A stepped fan has its own patience.
    /// </summary>
    private static (double Rise, double Fall) Hurry(SequenceSettings s, Coil coil, in RoomMemory m, bool dries)
    {
        if (dries)
            return (DryingDbPerMin, DryingDbPerMin);
        if (coil.Kind.FanSignal != CoilKind.Steps && (m.Stage is Stage.CoilHelps or Stage.CoilHold) && m.StageForS > HeldForS && Math.Abs(m.ErrorK) < HeldWithinK)
            return (HeldDbPerMin, HeldDbPerMin);
        return (Rise(s, m), m.Stage == Stage.EasingOff ? s.FallEasingOffDbPerMin : s.FallDbPerMin);
    }

    /// <summary>Project choices: what nobody notices, dB/min; what a sensor with a tenth of a kelvin shows of nothing, K; a pull-down's end is over, s.</summary>
    private const double DryingDbPerMin = 1, HeldDbPerMin = 2, HeldWithinK = 0.15, HeldForS = 900;

    /// <summary>A room near its set point is in no hurry: its fan rises as it falls there, or the noise of a slow sensor, which its lead multiplies, is heard as gusts.</summary>
    private static double Rise(SequenceSettings s, in RoomMemory m) => m.Stage switch
    {
        Stage.PullDown or Stage.WarmUp when m.AfterOpening => s.RiseAfterOpeningDbPerMin,
        Stage.CoilHelps or Stage.CoilHold when m.ErrorK < s.CoilHelpsAboveK => Math.Min(s.RiseDbPerMin, s.FallDbPerMin),
        _ => s.RiseDbPerMin,
    };
}

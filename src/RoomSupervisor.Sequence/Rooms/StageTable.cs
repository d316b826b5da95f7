// Section 2: every way from one stage to another, in one ordered table: of the rows of a stage the first that holds wins. The stage diagram and the table
// of shared/reference/sequence.md are written from these rows. Decides only which stage comes next, never what a stage does.
using System.Collections.Immutable;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>Where a way leads; pull stands for pull-down in cooling and warm-up in heating, resume for the stage before a pause.</summary>
internal enum Towards : byte
{
    Off, Satisfied, Pull, EasingOff, CoilHelps, RadiantHold, CoilHold, Opening, Resume,
}

/// <summary>True when a room goes this way now, with the reason that its log line tells.</summary>
internal delegate bool GoesThisWay(in Scan scan, Room room, in RoomMemory m, out Reason why);

/// <summary>One way from a stage to another.</summary>
/// <param name="From">The stage it leads out of; null: out of every stage, looked at first.</param>
/// <param name="To">The stage it leads to.</param>
/// <param name="When">Its condition.</param>
/// <param name="Words">The same in words; {key} stands for the default of a parameter of <c>sequence:</c>.</param>
internal sealed record StageWay(Towards? From, Towards To, GoesThisWay When, string Words)
{
    /// <summary>Words that follow where a room has a heated slab.</summary>
    public string WithSlab { get; init; } = "";

    /// <summary>Words that follow where a room has a surface.</summary>
    public string WithSurface { get; init; } = "";

    /// <summary>True for a way that only water of the other season opens: a loop for both seasons.</summary>
    public bool ByTheOtherSeason { get; init; }
}

/// <summary>The table of stages.</summary>
internal static class StageTable
{
    /// <summary>Every way, in the order in which they are looked at. Lambdas, not method groups: a delegate of a static method moves its arguments aside at every call, and these are called for every room at every scan.</summary>
    public static ImmutableArray<StageWay> All { get; } =
    [
        new(null, Towards.Off, (in s, r, in m, out why) => MustBeOff(s, r, m, out why), "switched off by the household; starting up; air temperature missing"),
        new(null, Towards.Opening, (in s, r, in m, out why) => IsOpen(s, r, m, out why), "a contact open longer than {opening_wait}; until it says that it is shut, or is no longer believed"),
        new(null, Towards.Opening, (in s, r, in m, out why) => IsProbablyOpen(s, r, m, out why), "no contact, or one that is not read, and the air moves as with a door open; until it is steady or moves back, at most {probably_open_at_most}, not again within {probably_open_rest}"),

        new(Towards.Off, Towards.Resume, (in s, r, in m, out why) => GoesOn(s, r, m, out why), "the air temperature was missing for less than {pause}, or a restart found everything as it was"),
        new(Towards.Off, Towards.Satisfied, (in s, r, in m, out why) => ReadingsAreThere(s, r, m, out why), "readings are there"),

        new(Towards.Opening, Towards.Satisfied, (in s, r, in m, out why) => ShutAndNearEnough(s, r, m, out why), "shut, and at most {pull_down_after_opening} on the wrong side"),
        new(Towards.Opening, Towards.Pull, (in s, r, in m, out why) => ShutAndCoilMayRun(s, r, m, out why), "shut, further on the wrong side, a coil may run"),
        new(Towards.Opening, Towards.RadiantHold, (in s, r, in m, out why) => ShutAndSurface(s, r, m, out why), "shut, further on the wrong side, no coil may run, there is a surface"),
        new(Towards.Opening, Towards.Satisfied, (in s, r, in m, out why) => Shut(s, r, m, out why), "shut, further on the wrong side, with neither"),

        new(Towards.Satisfied, Towards.Pull, (in s, r, in m, out why) => WantsPull(s, r, m, out why), PullWords),
        new(Towards.Satisfied, Towards.RadiantHold, (in s, r, in m, out why) => WantsSurface(s, r, m, out why), SurfaceWords) { WithSlab = "; with a heated slab, as it will be in an hour and a half if the air goes on falling" },
        new(Towards.Satisfied, Towards.CoilHold, (in s, r, in m, out why) => WantsCoil(s, r, m, out why), SurfaceWords) { WithSurface = NoSurface },

        new(Towards.Pull, Towards.RadiantHold, (in s, r, in m, out why) => CoilMayNotRunSurface(s, r, m, out why), "no coil may run any more"),
        new(Towards.Pull, Towards.CoilHold, (in s, r, in m, out why) => CoilMayNotRun(s, r, m, out why), "no coil may run any more") { WithSurface = NoSurface },
        new(Towards.Pull, Towards.EasingOff, (in s, r, in m, out why) => WithinStopDistance(s, r, m, out why), "within the stop distance"),

        new(Towards.EasingOff, Towards.RadiantHold, (in s, r, in m, out why) => CoilMayNotRunSurface(s, r, m, out why), "no coil may run any more"),
        new(Towards.EasingOff, Towards.CoilHold, (in s, r, in m, out why) => CoilMayNotRun(s, r, m, out why), "no coil may run any more") { WithSurface = NoSurface },
        new(Towards.EasingOff, Towards.Pull, (in s, r, in m, out why) => WantsPull(s, r, m, out why), PullWords),
        new(Towards.EasingOff, Towards.CoilHelps, (in s, r, in m, out why) => FadeDoneSurface(s, r, m, out why), "the fade is done"),
        new(Towards.EasingOff, Towards.CoilHold, (in s, r, in m, out why) => FadeDone(s, r, m, out why), "the fade is done") { WithSurface = NoSurface },

        new(Towards.CoilHelps, Towards.RadiantHold, (in s, r, in m, out why) => CoilMayNotRunSurface(s, r, m, out why), "no coil may run any more"),
        new(Towards.CoilHelps, Towards.CoilHold, (in s, r, in m, out why) => CoilMayNotRun(s, r, m, out why), "no coil may run any more") { WithSurface = NoSurface },
        new(Towards.CoilHelps, Towards.Pull, (in s, r, in m, out why) => WantsPull(s, r, m, out why), PullWords),
        new(Towards.CoilHelps, Towards.Satisfied, (in s, r, in m, out why) => NoDemand(s, r, m, out why), NoDemandWords),
        new(Towards.CoilHelps, Towards.RadiantHold, (in s, r, in m, out why) => HandOverProven(s, r, m, out why), "handing over, and {hand_over_proven_below} on the right side: the surface has proven itself"),
        new(Towards.CoilHelps, Towards.RadiantHold, (in s, r, in m, out why) => HandOverOver(s, r, m, out why), "handing over for {hand_over_at_most}"),

        new(Towards.CoilHold, Towards.Pull, (in s, r, in m, out why) => WantsPull(s, r, m, out why), PullWords),
        new(Towards.CoilHold, Towards.Satisfied, (in s, r, in m, out why) => NoDemand(s, r, m, out why), NoDemandWords),
        new(Towards.CoilHold, Towards.Satisfied, (in s, r, in m, out why) => CoilNotInSeason(s, r, m, out why), "its loop carries water for the other season") { ByTheOtherSeason = true },

        new(Towards.RadiantHold, Towards.Pull, (in s, r, in m, out why) => WantsPull(s, r, m, out why), PullWords),
        new(Towards.RadiantHold, Towards.Satisfied, (in s, r, in m, out why) => NoDemand(s, r, m, out why), NoDemandWords),
        new(Towards.RadiantHold, Towards.Satisfied, (in s, r, in m, out why) => SurfaceNotInSeason(s, r, m, out why), "its loops carry water for the other season") { ByTheOtherSeason = true },
        new(Towards.RadiantHold, Towards.CoilHelps, (in s, r, in m, out why) => WantsHelp(s, r, m, out why), "over {coil_helps_at_once} on the wrong side at once; over {coil_helps_above}, or {coil_helps_at_limit} with the surface at its limit, for {coil_helps_wait} and the coil rested; a coil may run"),
    ];

    private const string SurfaceWords = "over {surface_from} on the wrong side for {surface_wait}";

    private const string NoSurface = ", and no surface works in the season";

    private const string PullWords = "over {pull_down_above} on the wrong side for {pull_down_wait}, a coil may run";

    private const string NoDemandWords = "demand 0 W and {satisfied_below} on the right side for {satisfied_wait}";

    private static readonly StageWay[] OutOfAll = [.. All.Where(way => way.From is null)];

    private static readonly StageWay[][] OutOf = [.. Enum.GetValues<Stage>().Select(stage => All.Where(way => way.From == Of(stage)).ToArray())];

    /// <summary>A stage as the table names it.</summary>
    public static Towards Of(Stage stage) => stage switch
    {
        Stage.Off => Towards.Off,
        Stage.Satisfied => Towards.Satisfied,
        Stage.PullDown or Stage.WarmUp => Towards.Pull,
        Stage.EasingOff => Towards.EasingOff,
        Stage.CoilHelps => Towards.CoilHelps,
        Stage.RadiantHold => Towards.RadiantHold,
        Stage.CoilHold => Towards.CoilHold,
        Stage.Opening => Towards.Opening,
        _ => throw new ArgumentOutOfRangeException(nameof(stage), stage, "no such stage"),
    };

    /// <summary>The stage that follows, which may be the one that is, and why.</summary>
    public static Stage Next(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        foreach (var way in OutOfAll)
        {
            if (way.When(scan, room, m, out why))
                return StageOf(way.To, m);
        }
        foreach (var way in OutOf[(int)m.Stage])
        {
            if (way.When(scan, room, m, out why))
                return StageOf(way.To, m);
        }
        why = default;
        return m.Stage;
    }

    private static Stage StageOf(Towards to, in RoomMemory m) => to switch
    {
        Towards.Off => Stage.Off,
        Towards.Satisfied => Stage.Satisfied,
        Towards.Pull => m.Heats ? Stage.WarmUp : Stage.PullDown,
        Towards.EasingOff => Stage.EasingOff,
        Towards.CoilHelps => Stage.CoilHelps,
        Towards.RadiantHold => Stage.RadiantHold,
        Towards.CoilHold => Stage.CoilHold,
        Towards.Opening => Stage.Opening,
        _ => m.ResumeStage,
    };

    // Out of every stage.
    private static bool MustBeOff(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        var cause = !room.Household.Control ? Cause.SwitchedOff
            : !m.Started ? Cause.StartingUp
            : !scan.Reading(room.AirTemperature).Exists ? Cause.AirTemperatureMissing
            : Cause.None;
        why = new Reason(cause == Cause.StartingUp && m.TurnInS > 0 ? Cause.StartsInTurn : cause);
        return cause != Cause.None;
    }

    /// <summary>Once open it stays open until the contact says that it is shut: an unread contact says nothing.</summary>
    private static bool IsOpen(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        why = Reason.Of(Cause.OpeningLongEnough, m.OpenForS);
        return m.OpenForS > scan.Settings.OpeningWaitS || (m.Stage == Stage.Opening && (m.OpenForS > 0 || (m.ContactWasOpen && scan.IsUnread(room.OpeningContact))));
    }

    private static bool IsProbablyOpen(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        why = Reason.Of(Cause.ProbablyOpen, m.DewPointC, scan.Memory.OutdoorDewPointC);
        return Inferred.IsOpen(m);
    }

    // Out of off.
    private static bool GoesOn(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        why = new Reason(Cause.Resumed);
        return m.ResumeStage != Stage.Off && m.OpenForS <= 0;
    }

    private static bool ReadingsAreThere(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        why = new Reason(Cause.ReadingsBack);
        return true;
    }

    // Out of an opening.
    private static bool Shut(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        why = Reason.Of(Cause.OpeningShut, Math.Max(0, m.ErrorK));
        return true;
    }

    private static bool ShutAndNearEnough(in Scan scan, Room room, in RoomMemory m, out Reason why)
        => Shut(scan, room, m, out why) && m.ErrorK <= scan.Settings.PullDownAfterOpeningK;

    private static bool ShutAndCoilMayRun(in Scan scan, Room room, in RoomMemory m, out Reason why)
        => Shut(scan, room, m, out why) && CoilMayRun(scan, room, m);

    private static bool ShutAndSurface(in Scan scan, Room room, in RoomMemory m, out Reason why)
        => Shut(scan, room, m, out why) && HasSurface(scan, room, m);

    // Out of the stages at rest and at work.
    private static bool WantsPull(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        why = WrongSide(m, m.HotForS);
        return m.HotForS > scan.Settings.PullDownWaitS && MayRaise(scan, m) && CoilMayRun(scan, room, m);
    }

    private static bool WantsQuiet(in Scan scan, in RoomMemory m, out Reason why)
    {
        why = WrongSide(m, m.SurfaceForS);
        return m.SurfaceForS > scan.Settings.SurfaceWaitS && MayRaise(scan, m);
    }

    private static bool WantsSurface(in Scan scan, Room room, in RoomMemory m, out Reason why) => WantsQuiet(scan, m, out why) && HasSurface(scan, room, m);

    private static bool WantsCoil(in Scan scan, Room room, in RoomMemory m, out Reason why)
        => WantsQuiet(scan, m, out why) && !HasSurface(scan, room, m) && CoilMayRun(scan, room, m);

    private static bool CoilMayNotRun(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        why = new Reason(Cause.CoilMayNotRun);
        return !CoilMayRun(scan, room, m);
    }

    private static bool CoilMayNotRunSurface(in Scan scan, Room room, in RoomMemory m, out Reason why)
        => CoilMayNotRun(scan, room, m, out why) && HasSurface(scan, room, m);

    private static bool WithinStopDistance(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        var distance = Pulling.StopDistance(scan, room, m);
        why = Reason.Of(Cause.StopDistance, Math.Max(0, m.ErrorK), distance);
        return m.ErrorK <= distance;
    }

    private static bool FadeDone(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        why = new Reason(Cause.FadeDone);
        return Pulling.FadeDone(scan, room, m);
    }

    private static bool FadeDoneSurface(in Scan scan, Room room, in RoomMemory m, out Reason why)
        => FadeDone(scan, room, m, out why) && HasSurface(scan, room, m);

    private static bool NoDemand(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        why = Reason.Of(Cause.NoDemand, -m.ErrorK);
        return m.LowForS > scan.Settings.SatisfiedWaitS;
    }

    private static bool HandOverProven(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        why = Reason.Of(Cause.HandOverProven, -m.ErrorK);
        return m.HandingOver && m.ErrorK < -scan.Settings.HandOverProvenBelowK && m.SurfaceOutputW >= ProvenShare * m.DemandW;
    }

    /// <summary>A room that is cool because both work proves nothing: the surface gives so much of the demand by then (project choice).</summary>
    private const double ProvenShare = 0.8;

    private static bool HandOverOver(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        why = Reason.Of(Cause.HandOverTime, m.HandingOverForS);
        return m.HandingOverForS > scan.Settings.HandOverAtMostS;
    }

    private static bool CoilNotInSeason(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        why = new Reason(Cause.NotInSeason);
        return !RoomCoils.AnyInSeason(scan, room, m.Heats);
    }

    private static bool SurfaceNotInSeason(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        why = new Reason(Cause.NotInSeason);
        return !HasSurface(scan, room, m);
    }

    private static bool WantsHelp(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        var s = scan.Settings;
        var limited = RoomSurfaces.AtLimit(scan, room) && m.ErrorK <= s.CoilHelpsAboveK;
        why = Reason.Of(limited ? Cause.SurfaceAtLimit : Cause.SurfaceTooLittle, m.ErrorK);
        var helped = m.HelpForS > s.CoilHelpsWaitS && m.CoilRestS <= 0;
        return (m.ErrorK > s.CoilHelpsAtOnceK || helped) && MayRaise(scan, m) && CoilMayRun(scan, room, m);
    }

    // What several conditions ask.
    private static bool CoilMayRun(in Scan scan, Room room, in RoomMemory m) => RoomCoils.AnyMayRun(scan, room, m.Heats);

    private static bool HasSurface(in Scan scan, Room room, in RoomMemory m) => RoomSurfaces.Any(scan, room, m.Heats);

    /// <summary>Dwell: changes that raise the output keep apart.</summary>
    private static bool MayRaise(in Scan scan, in RoomMemory m) => m.SinceRaisedS >= scan.Settings.DwellS;

    private static Reason WrongSide(in RoomMemory m, double forS) => Reason.Of(m.Heats ? Cause.TooColdFor : Cause.TooWarmFor, m.ErrorK, forS);
}

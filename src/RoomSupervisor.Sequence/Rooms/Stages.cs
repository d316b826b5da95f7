// Section 2: the sensible stages of a room. One stage at a time; every change carries its reason. Decides nothing about volts or
// valves: those follow from the stage.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>The stage machine of a room.</summary>
internal static class Stages
{
    public static void Step(in Scan scan, int index)
    {
        var room = scan.House.Rooms[index];
        ref var m = ref scan.Memory.Rooms[index];
        var s = scan.Settings;
        var temperature = Air.ControlTemperature(scan, room);
        Direction(scan, room, ref m, temperature);
        m.SinceRaisedS += scan.Dt;
        m.CoilRestS = Math.Max(0, m.CoilRestS - scan.Dt);
        m.HandingOverForS = m.HandingOver ? m.HandingOverForS + scan.Dt : 0;
        Blocks.Hold(ref m.OpenForS, scan.IsMade(room.OpeningContact), scan.Dt);
        m.StageForS += scan.Dt;
        if (!double.IsNaN(m.ErrorK))
            HowLong(scan, room, ref m);
        StartUp(scan, room, ref m);
        if (m.Stage == Stage.Off && m.Started && m.StageForS > s.PauseS)
            m.ResumeStage = Stage.Off;   // too long ago: begin again
        var next = Next(scan, room, m, temperature, out var why);
        if (next != m.Stage)
            Enter(scan, index, ref m, next, why);
    }

    /// <summary>
    /// How far the room is on the wrong side of its active set point. A room at rest looks to the set point it is nearer to; one at work keeps its
    /// direction until it is satisfied.
    /// </summary>
    private static void Direction(in Scan scan, Room room, ref RoomMemory m, double temperature)
    {
        var wanted = Schedule.Now(room.Household, scan.Local);
        // While the air is dried the room may be a little cooler (rule 3.4).
        var tooWarm = temperature - wanted.CoolAboveC + (m.Moisture == Moisture.Dehumidifying ? scan.Settings.DryShiftK : 0);
        var tooCold = wanted.HeatBelowC - temperature;
        if (m.Stage is Stage.Off or Stage.Satisfied or Stage.Opening && m.ResumeStage == Stage.Off && !double.IsNaN(temperature))
            m.Heats = tooCold > tooWarm || double.IsNaN(tooWarm);
        m.ErrorK = m.Heats ? tooCold : tooWarm;
        m.WantedC = m.Heats ? wanted.HeatBelowC : wanted.CoolAboveC;
    }

    /// <summary>How long the conditions have held that stages wait for; a missing temperature neither adds nor takes away.</summary>
    private static void HowLong(in Scan scan, Room room, ref RoomMemory m)
    {
        var s = scan.Settings;
        Blocks.Hold(ref m.HotForS, m.ErrorK > s.PullDownAboveK, scan.Dt);
        Blocks.Hold(ref m.SurfaceForS, m.ErrorK > s.SurfaceFromK, scan.Dt);
        Blocks.Hold(ref m.HelpForS, m.ErrorK > s.CoilHelpsAboveK || (m.ErrorK > s.CoilHelpsAtLimitK && RoomSurfaces.AtLimit(scan, room)), scan.Dt);
        Blocks.Hold(ref m.LowForS, m.ErrorK < -s.SatisfiedBelowK && m.DemandW <= 0, scan.Dt);
    }

    /// <summary>True when nothing forbids all coils of the room altogether.</summary>
    private static bool CoilMayRun(in Scan scan, Room room, in RoomMemory m) => RoomCoils.AnyMayRun(scan, room, m.Heats);

    /// <summary>Section 8, rule 1: safe states until the room's required readings are there, or declared missing after a while.</summary>
    private static void StartUp(in Scan scan, Room room, ref RoomMemory m)
    {
        if (m.Started)
            return;
        m.WaitedForStartS += scan.Dt;
        var there = scan.Reading(room.AirTemperature).Quality == Quality.Good && (!scan.NeedsHumidity(room) || scan.Reading(room.AirHumidity).Quality == Quality.Good);
        m.Started = there || m.WaitedForStartS >= scan.Settings.DeclaredMissingAfterS;
        if (m.Started && m.ResumePending)
            Resume.Room(scan, room, ref m);
    }

    private static Stage Next(in Scan scan, Room room, in RoomMemory m, double temperature, out Reason why)
    {
        var s = scan.Settings;
        why = Off(room, m, temperature);
        if (why.Cause != Cause.None)
            return Stage.Off;
        why = Reason.Of(Cause.OpeningLongEnough, m.OpenForS);
        // Once open it stays open until the contact says that it is shut: an unread contact says nothing.
        var unread = scan.IsUnread(room.OpeningContact);
        if (m.OpenForS > s.OpeningWaitS || (m.Stage == Stage.Opening && (m.OpenForS > 0 || unread)))
            return Stage.Opening;
        return m.Stage switch
        {
            Stage.Off when m.ResumeStage != Stage.Off && m.OpenForS <= 0 => Change(m.ResumeStage, new Reason(Cause.Resumed), out why),
            Stage.Off => Change(Stage.Satisfied, new Reason(Cause.ReadingsBack), out why),
            Stage.Opening => AfterOpening(scan, room, m, out why),
            Stage.Satisfied => FromSatisfied(scan, room, m, out why),
            Stage.PullDown or Stage.WarmUp => FromPull(scan, room, m, out why),
            Stage.EasingOff => FromEasingOff(scan, room, m, out why),
            Stage.CoilHelps => FromCoilHelps(scan, room, m, out why),
            Stage.RadiantHold => FromRadiantHold(scan, room, m, out why),
            Stage.CoilHold => FromCoilHold(scan, room, m, out why),
            _ => Change(Stage.Satisfied, new Reason(Cause.Satisfied), out why),
        };
    }

    private static Reason Off(Room room, in RoomMemory m, double temperature)
    {
        if (!room.Household.Control)
            return new Reason(Cause.SwitchedOff);
        if (!m.Started)
            return new Reason(Cause.StartingUp);
        return double.IsNaN(temperature) ? new Reason(Cause.AirTemperatureMissing) : default;
    }

    private static Stage Change(Stage to, in Reason reason, out Reason why)
    {
        why = reason;
        return to;
    }

    private static Stage AfterOpening(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        why = Reason.Of(Cause.OpeningShut, Math.Max(0, m.ErrorK));
        if (m.ErrorK <= scan.Settings.PullDownAfterOpeningK)
            return Stage.Satisfied;
        if (CoilMayRun(scan, room, m))
            return Pulled(m);
        return RoomSurfaces.Any(scan, room, m.Heats) ? Stage.RadiantHold : Stage.Satisfied;
    }

    /// <summary>The stage of the coil at its limits, by direction.</summary>
    private static Stage Pulled(in RoomMemory m) => m.Heats ? Stage.WarmUp : Stage.PullDown;

    /// <summary>The quiet stage: the surface alone, or a room without one on its coil.</summary>
    private static Stage Held(in Scan scan, Room room, in RoomMemory m) => RoomSurfaces.Any(scan, room, m.Heats) ? Stage.RadiantHold : Stage.CoilHold;

    private static bool MayRaise(in Scan scan, in RoomMemory m) => m.SinceRaisedS >= scan.Settings.DwellS;

    private static Reason WrongSide(in RoomMemory m, double forS) => Reason.Of(m.Heats ? Cause.TooColdFor : Cause.TooWarmFor, m.ErrorK, forS);

    private static bool WantsPull(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        why = WrongSide(m, m.HotForS);
        return m.HotForS > scan.Settings.PullDownWaitS && MayRaise(scan, m) && CoilMayRun(scan, room, m);
    }

    private static Stage FromSatisfied(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        if (WantsPull(scan, room, m, out why))
            return Pulled(m);
        why = WrongSide(m, m.SurfaceForS);
        var can = RoomSurfaces.Any(scan, room, m.Heats) || CoilMayRun(scan, room, m);
        return m.SurfaceForS > scan.Settings.SurfaceWaitS && MayRaise(scan, m) && can ? Held(scan, room, m) : Stage.Satisfied;
    }

    private static Stage FromPull(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        if (!CoilMayRun(scan, room, m))
            return Change(Held(scan, room, m), new Reason(Cause.CoilMayNotRun), out why);
        var distance = Pulling.StopDistance(scan, room, m);
        why = Reason.Of(Cause.StopDistance, Math.Max(0, m.ErrorK), distance);
        return m.ErrorK <= distance ? Stage.EasingOff : m.Stage;
    }

    private static Stage FromEasingOff(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        if (!CoilMayRun(scan, room, m))
            return Change(Held(scan, room, m), new Reason(Cause.CoilMayNotRun), out why);
        if (WantsPull(scan, room, m, out why))
            return Pulled(m);
        why = new Reason(Cause.FadeDone);
        if (!Pulling.FadeDone(scan, room, m))
            return Stage.EasingOff;
        return RoomSurfaces.Any(scan, room, m.Heats) ? Stage.CoilHelps : Stage.CoilHold;
    }

    private static Stage FromCoilHelps(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        var s = scan.Settings;
        if (!CoilMayRun(scan, room, m))
            return Change(Held(scan, room, m), new Reason(Cause.CoilMayNotRun), out why);
        if (WantsPull(scan, room, m, out why))
            return Pulled(m);
        if (m.LowForS > s.SatisfiedWaitS)
            return Change(Stage.Satisfied, Reason.Of(Cause.NoDemand, -m.ErrorK), out why);
        if (m.HandingOver && m.ErrorK < -s.HandOverProvenBelowK)
            return Change(Stage.RadiantHold, Reason.Of(Cause.HandOverProven, -m.ErrorK), out why);
        why = Reason.Of(Cause.HandOverTime, m.HandingOverForS);
        return m.HandingOverForS > s.HandOverAtMostS ? Stage.RadiantHold : Stage.CoilHelps;
    }

    private static Stage FromCoilHold(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        if (WantsPull(scan, room, m, out why))
            return Pulled(m);
        if (m.LowForS > scan.Settings.SatisfiedWaitS)
            return Change(Stage.Satisfied, Reason.Of(Cause.NoDemand, -m.ErrorK), out why);
        why = new Reason(Cause.NotInSeason);
        return RoomCoils.AnyInSeason(scan, room, m.Heats) ? Stage.CoilHold : Stage.Satisfied;
    }

    private static Stage FromRadiantHold(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        var s = scan.Settings;
        if (WantsPull(scan, room, m, out why))
            return Pulled(m);
        if (m.LowForS > s.SatisfiedWaitS)
            return Change(Stage.Satisfied, Reason.Of(Cause.NoDemand, -m.ErrorK), out why);
        if (!RoomSurfaces.Any(scan, room, m.Heats))
            return Change(Stage.Satisfied, new Reason(Cause.NotInSeason), out why);
        var limited = RoomSurfaces.AtLimit(scan, room) && m.ErrorK <= s.CoilHelpsAboveK;
        why = Reason.Of(limited ? Cause.SurfaceAtLimit : Cause.SurfaceTooLittle, m.ErrorK);
        var atOnce = m.ErrorK > s.CoilHelpsAtOnceK;
        var helped = m.HelpForS > s.CoilHelpsWaitS && m.CoilRestS <= 0;
        return (atOnce || helped) && MayRaise(scan, m) && CoilMayRun(scan, room, m) ? Stage.CoilHelps : Stage.RadiantHold;
    }

    private static void Enter(in Scan scan, int index, ref RoomMemory m, Stage next, in Reason why)
    {
        var from = m.Stage;
        if (why.Cause == Cause.AirTemperatureMissing)
            m.ResumeStage = scan.Dt <= scan.Settings.PauseS ? from : Stage.Off;
        else if (why.Cause != Cause.Resumed)
            Begin(scan, ref m, from, next);
        if (why.Cause != Cause.AirTemperatureMissing)
            m.ResumeStage = Stage.Off;
        m.Stage = next;
        m.StageForS = 0;
        // A surface that already gives all it may goes on: taking it away would make a hot room hotter.
        if (next == Stage.PullDown && from is (Stage.RadiantHold or Stage.CoilHelps) && why.Cause == Cause.TooWarmFor)
            m.SurfaceHelps = RoomSurfaces.AtLimit(scan, scan.House.Rooms[index]);
        if (why.Cause is not (Cause.AirTemperatureMissing or Cause.Resumed))
            Demand.OnEnter(scan, index, ref m, from);
        scan.Happened(SequenceEvents.StageChanged, Owner.Room, index, why, (byte)from, (byte)next);
    }

    /// <summary>A stage that begins, begins from nothing; one that goes on after a pause keeps what it had.</summary>
    private static void Begin(in Scan scan, ref RoomMemory m, Stage from, Stage next)
    {
        var raises = next is Stage.PullDown or Stage.WarmUp or Stage.CoilHelps or Stage.RadiantHold or Stage.CoilHold;
        var eases = (from is Stage.PullDown or Stage.WarmUp && next is not Stage.Off) || (from is Stage.EasingOff && next is Stage.CoilHelps or Stage.CoilHold)
            || (from is Stage.CoilHelps && next is Stage.RadiantHold);
        if (raises && !eases)
            m.SinceRaisedS = 0;
        m.AfterOpening = from == Stage.Opening && next is Stage.PullDown or Stage.WarmUp;
        if (from == Stage.CoilHelps && next == Stage.RadiantHold && m.HandingOver)
            m.CoilRestS = scan.Settings.CoilRestS;
        m.HandingOver = false;
        m.SurfaceHelps = false;
        m.HandOverForS = 0;
        if (next is not (Stage.RadiantHold or Stage.CoilHelps or Stage.CoilHold))
            m.HotForS = 0;   // a room that grows hot on its way through these is still growing hot
        m.SurfaceForS = 0;
        m.LowForS = 0;
        m.HelpForS = 0;
    }
}

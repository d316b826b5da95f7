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
        m.ErrorK = temperature - Schedule.Now(room.Household, scan.Local).CoolAboveC;
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

    /// <summary>How long the conditions have held that stages wait for; a missing temperature neither adds nor takes away.</summary>
    private static void HowLong(in Scan scan, Room room, ref RoomMemory m)
    {
        var s = scan.Settings;
        Blocks.Hold(ref m.HotForS, m.ErrorK > s.PullDownAboveK, scan.Dt);
        Blocks.Hold(ref m.SurfaceForS, m.ErrorK > s.SurfaceFromK, scan.Dt);
        Blocks.Hold(ref m.HelpForS, m.ErrorK > s.CoilHelpsAboveK || (m.ErrorK > s.CoilHelpsAtLimitK && SurfaceAtLimit(scan, room, m)), scan.Dt);
        Blocks.Hold(ref m.LowForS, m.ErrorK < -s.SatisfiedBelowK && m.DemandW <= 0, scan.Dt);
    }

    /// <summary>True when the surface gives all that the guard's water lets it.</summary>
    public static bool SurfaceAtLimit(in Scan scan, Room room, in RoomMemory m)
    {
        ref readonly var circuit = ref scan.Memory.Circuits[room.Circuit];
        return circuit.Level == GuardLevel.Shut || circuit.AskedW >= 0.98 * circuit.MayGiveW;
    }

    /// <summary>True when nothing forbids the coil altogether: its tray is not full, its water is cold and its limits let it turn.</summary>
    public static bool CoilMayRun(in Scan scan, Room room)
    {
        var coil = scan.House.Coils[room.Coil];
        return !scan.Memory.Coils[room.Coil].DripTrayFull && scan.Memory.Coils[room.Coil].WarmWaterRestS <= 0 && FanCaps.Lowest(scan, room, coil) >= coil.Kind.StartSpeedPercent;
    }

    /// <summary>Section 8, rule 1: safe states until the room's required readings are there, or declared missing after a while.</summary>
    private static void StartUp(in Scan scan, Room room, ref RoomMemory m)
    {
        if (m.Started)
            return;
        m.WaitedForStartS += scan.Dt;
        var there = scan.Reading(room.AirTemperature).Quality == Quality.Good && scan.Reading(room.AirHumidity).Quality == Quality.Good;
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
            Stage.PullDown => FromPullDown(scan, room, m, out why),
            Stage.EasingOff => FromEasingOff(scan, room, m, out why),
            Stage.CoilHelps => FromCoilHelps(scan, room, m, out why),
            Stage.RadiantHold => FromRadiantHold(scan, room, m, out why),
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
        return m.ErrorK > scan.Settings.PullDownAfterOpeningK && CoilMayRun(scan, room) ? Stage.PullDown : Stage.Satisfied;
    }

    private static bool MayRaise(in Scan scan, in RoomMemory m) => m.SinceRaisedS >= scan.Settings.DwellS;

    private static bool WantsPullDown(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        why = Reason.Of(Cause.TooWarmFor, m.ErrorK, m.HotForS);
        return m.HotForS > scan.Settings.PullDownWaitS && MayRaise(scan, m) && CoilMayRun(scan, room);
    }

    private static Stage FromSatisfied(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        if (WantsPullDown(scan, room, m, out why))
            return Stage.PullDown;
        why = Reason.Of(Cause.TooWarmFor, m.ErrorK, m.SurfaceForS);
        return m.SurfaceForS > scan.Settings.SurfaceWaitS && MayRaise(scan, m) ? Stage.RadiantHold : Stage.Satisfied;
    }

    private static Stage FromPullDown(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        if (!CoilMayRun(scan, room))
            return Change(Stage.RadiantHold, new Reason(Cause.CoilMayNotRun), out why);
        var distance = Pulling.StopDistance(scan, room);
        why = Reason.Of(Cause.StopDistance, Math.Max(0, m.ErrorK), distance);
        return m.ErrorK <= distance ? Stage.EasingOff : Stage.PullDown;
    }

    private static Stage FromEasingOff(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        if (!CoilMayRun(scan, room))
            return Change(Stage.RadiantHold, new Reason(Cause.CoilMayNotRun), out why);
        if (WantsPullDown(scan, room, m, out why))
            return Stage.PullDown;
        why = new Reason(Cause.FadeDone);
        return Pulling.FadeDone(scan, room, m) ? Stage.CoilHelps : Stage.EasingOff;
    }

    private static Stage FromCoilHelps(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        var s = scan.Settings;
        if (!CoilMayRun(scan, room))
            return Change(Stage.RadiantHold, new Reason(Cause.CoilMayNotRun), out why);
        if (WantsPullDown(scan, room, m, out why))
            return Stage.PullDown;
        if (m.LowForS > s.SatisfiedWaitS)
            return Change(Stage.Satisfied, Reason.Of(Cause.NoDemand, -m.ErrorK), out why);
        if (m.HandingOver && m.ErrorK < -s.HandOverProvenBelowK)
            return Change(Stage.RadiantHold, Reason.Of(Cause.HandOverProven, -m.ErrorK), out why);
        why = Reason.Of(Cause.HandOverTime, m.HandingOverForS);
        return m.HandingOverForS > s.HandOverAtMostS ? Stage.RadiantHold : Stage.CoilHelps;
    }

    private static Stage FromRadiantHold(in Scan scan, Room room, in RoomMemory m, out Reason why)
    {
        var s = scan.Settings;
        if (WantsPullDown(scan, room, m, out why))
            return Stage.PullDown;
        if (m.LowForS > s.SatisfiedWaitS)
            return Change(Stage.Satisfied, Reason.Of(Cause.NoDemand, -m.ErrorK), out why);
        var limited = SurfaceAtLimit(scan, room, m) && m.ErrorK <= s.CoilHelpsAboveK;
        why = Reason.Of(limited ? Cause.SurfaceAtLimit : Cause.SurfaceTooLittle, m.ErrorK);
        var atOnce = m.ErrorK > s.CoilHelpsAtOnceK;
        var helped = m.HelpForS > s.CoilHelpsWaitS && m.CoilRestS <= 0;
        return (atOnce || helped) && MayRaise(scan, m) && CoilMayRun(scan, room) ? Stage.CoilHelps : Stage.RadiantHold;
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
            m.SurfaceHelps = SurfaceAtLimit(scan, scan.House.Rooms[index], m);
        if (why.Cause is not (Cause.AirTemperatureMissing or Cause.Resumed))
            Demand.OnEnter(scan, index, ref m, from);
        scan.Happened(SequenceEvents.StageChanged, Owner.Room, index, why, (byte)from, (byte)next);
    }

    /// <summary>A stage that begins, begins from nothing; one that goes on after a pause keeps what it had.</summary>
    private static void Begin(in Scan scan, ref RoomMemory m, Stage from, Stage next)
    {
        var raises = next is Stage.PullDown or Stage.CoilHelps or Stage.RadiantHold;
        var eases = (from is Stage.PullDown && next is not Stage.Off) || (from is Stage.EasingOff && next is Stage.CoilHelps)
            || (from is Stage.CoilHelps && next is Stage.RadiantHold);
        if (raises && !eases)
            m.SinceRaisedS = 0;
        m.AfterOpening = from == Stage.Opening && next == Stage.PullDown;
        if (from == Stage.CoilHelps && next == Stage.RadiantHold && m.HandingOver)
            m.CoilRestS = scan.Settings.CoilRestS;
        m.HandingOver = false;
        m.SurfaceHelps = false;
        m.HandOverForS = 0;
        if (next is not (Stage.RadiantHold or Stage.CoilHelps))
            m.HotForS = 0;   // a room that grows hot on its way through these is still growing hot
        m.SurfaceForS = 0;
        m.LowForS = 0;
        m.HelpForS = 0;
    }
}

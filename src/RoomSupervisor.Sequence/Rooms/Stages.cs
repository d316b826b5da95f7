// Section 2: the sensible stages of a room: what they wait for, and what a change of stage begins anew. Which stage follows stands in StageTable. Decides nothing
// about volts or valves: those follow from the stage.
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
        var temperature = m.ControlC;
        Direction(scan, index, room, ref m, temperature);
        m.SinceRaisedS += scan.Dt;
        m.CoilRestS = Math.Max(0, m.CoilRestS - scan.Dt);
        m.HandingOverForS = m.HandingOver ? m.HandingOverForS + scan.Dt : 0;
        Contacts.Step(scan, index, room, ref m);
        m.StageForS += scan.Dt;
        Pulling.Follow(scan, room, ref m);
        if (!double.IsNaN(m.ErrorK))
            HowLong(scan, room, ref m);
        StartUp(scan, room, index, ref m);
        if (m.Stage == Stage.Off && m.Started && m.StageForS > s.PauseS)
            m.ResumeStage = Stage.Off;   // too long ago: begin again
        var next = StageTable.Next(scan, room, m, out var why);
        if (next != m.Stage)
            Enter(scan, index, ref m, next, why);
    }

    /// <summary>
    /// How far the room is on the wrong side of its active set point. A room at rest looks to the set point it is nearer to; one at work keeps its
    /// direction until it is satisfied.
    /// </summary>
    private static void Direction(in Scan scan, int index, Room room, ref RoomMemory m, double temperature)
    {
        var (coolAboveC, heatBelowC) = Schedule.TemperaturesNow(room.Household, scan.Local);
        EarlyStart.Step(scan, index, room, ref m, ref coolAboveC, ref heatBelowC);
        // While the air is dried the room may be a little cooler (rule 3.4).
        var tooWarm = temperature - coolAboveC + m.DryShiftK;
        var tooCold = heatBelowC - temperature;
        if (m.Stage is Stage.Off or Stage.Satisfied or Stage.Opening && m.ResumeStage == Stage.Off && !double.IsNaN(temperature))
            m.Heats = tooCold > tooWarm || double.IsNaN(tooWarm);
        m.ErrorK = m.Heats ? tooCold : tooWarm;
        m.WantedC = m.Heats ? heatBelowC : coolAboveC;
        // Past its other set point there is no load left to go on for: what a slab's integral has gathered would take an hour to run down.
        if (m.Heats ? tooWarm > 0 : tooCold > 0)
            m.IntegralW = Math.Min(m.IntegralW, 0);
    }

    /// <summary>How long the conditions have held that stages wait for; a missing temperature neither adds nor takes away.</summary>
    private static void HowLong(in Scan scan, Room room, ref RoomMemory m)
    {
        var s = scan.Settings;
        Blocks.Hold(ref m.HotForS, m.ErrorK > s.PullDownAboveK, scan.Dt);
        Blocks.Hold(ref m.SurfaceForS, m.ErrorK + Loops.HeatLoad.ComesK(s, m) > s.SurfaceFromK, scan.Dt);
        Blocks.Hold(ref m.HelpForS, m.ErrorK > s.CoilHelpsAboveK || (m.ErrorK > s.CoilHelpsAtLimitK && RoomSurfaces.AtLimit(scan, room)), scan.Dt);
        Blocks.Hold(ref m.LowForS, m.ErrorK < -s.SatisfiedBelowK && m.DemandW <= 0, scan.Dt);
    }

    /// <summary>
    /// Section 8, rule 1: safe states until the room's required readings are there, or declared missing after a while, and until it is the room's turn: not
    /// every fan and pump of a house at once.
    /// </summary>
    private static void StartUp(in Scan scan, Room room, int index, ref RoomMemory m)
    {
        if (m.Started)
            return;
        m.WaitedForStartS += scan.Dt;
        m.TurnInS = Math.Max(0, TurnS(scan, index) - m.WaitedForStartS);
        if (m.TurnInS > 0)
            return;
        var there = scan.Reading(room.AirTemperature).Quality == Quality.Good && (!scan.NeedsHumidity(room) || scan.Reading(room.AirHumidity).Quality == Quality.Good);
        m.Started = there || m.WaitedForStartS >= scan.Settings.DeclaredMissingAfterS;
        if (m.Started && m.ResumePending)
            Resume.Room(scan, room, ref m);
    }

    /// <summary>When a room's turn to start has come, s after the first scan: [20 s] apart, closer in a large house, so that all are back within [120 s].</summary>
    private static double TurnS(in Scan scan, int index)
    {
        var s = scan.Settings;
        var apart = scan.House.Rooms.Length > 1 ? Math.Min(s.StartApartS, s.AllStartedWithinS / (scan.House.Rooms.Length - 1)) : 0;
        return index * apart;
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
        {
            m.CoilRestS = scan.Settings.CoilRestS;
            Bounce.Begin(ref m);
        }
        if (next is Stage.PullDown or Stage.WarmUp && from is not Stage.EasingOff)
            m.Air.FromC = double.NaN;   // seen anew in each
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

// Section 1, rule 3: a door or a shower that no contact tells of, read off the room's own air. The reading stays good. An inferred opening ends by itself:
// it must never keep a room without cooling for long.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>Openings and showers inferred from the air.</summary>
internal static class Inferred
{
    /// <summary>
    /// Movements are counted against the air of the last ten minutes (first order, s): an open door exchanges a room's air five times an hour and more, so
    /// its dew point goes a third of the way in that time; infiltration of 0.4 an hour goes 6 %, four people in a small room 9 % (mass balance).
    /// </summary>
    private const double SlowS = 600;

    /// <summary>
    /// Least movements, K: of the dew point, five times what ±0.3 % of noise leaves after the filter; of the air, of which furniture and walls hold back
    /// four fifths and the sensor's lag the rest of the first minutes (project choices).
    /// </summary>
    private const double LeastDewK = 0.7, LeastAirK = 0.3;

    /// <summary>Share of the way to the outdoor temperature that the air must go (project choice: a quarter of the moisture's).</summary>
    private const double AirShare = 0.04;

    /// <summary>Outdoors nearer than this, K, draws neither temperature nor moisture so that anybody could see it.</summary>
    private const double NearK = 2;

    /// <summary>Every so long the air must have gone on by so much, or it is steady, or on its way back (project choice).</summary>
    private const double CheckS = 180, StillDewK = 0.15, StillAirK = 0.1;

    /// <summary>A coil that gives less than this share of what it gave, and less by so many watts, lets air and moisture come back by itself.</summary>
    private const double SlowedShare = 0.8, SlowedW = 30;

    /// <summary>How long what a coil gave is remembered, s; a wet coil gives back its water within 1,000 s.</summary>
    private const double PeakS = 600;

    /// <summary>Until so much of the room's air has been seen nothing is inferred, s.</summary>
    private const double SeenS = 300;

    /// <summary>One shower is told once, s.</summary>
    private const double ShowerRestS = 3600;

    public static void All(in Scan scan)
    {
        var share = Blocks.FilterShare(scan.Dt, SlowS);
        var peak = Math.Exp(-scan.Dt / PeakS);
        for (var i = 0; i < scan.House.Rooms.Length; i++)
            Step(scan, i, scan.House.Rooms[i], ref scan.Memory.Rooms[i], share, peak);
    }

    /// <summary>True while the room counts as open although no contact says so.</summary>
    public static bool IsOpen(in RoomMemory m) => m.ProbablyOpen;

    private static void Step(in Scan scan, int index, Room room, ref RoomMemory m, double share, double peak)
    {
        var contact = scan.Reading(room.OpeningContact);
        if (contact.Exists)
            m.ContactWasOpen = contact.Value > 0.5;
        m.ProbablyRestS = Math.Max(0, m.ProbablyRestS - scan.Dt);
        m.ShowerRestS = Math.Max(0, m.ShowerRestS - scan.Dt);
        m.CoilPeakW = Math.Max(m.CoilLaggedW, m.CoilPeakW * peak);
        var air = scan.Reading(room.AirTemperature);
        if (!m.HumidityKnown || air.Quality != Quality.Good)
        {
            // Nobody sees the room any more: nothing is inferred, and what was ends.
            m.HasSlow = false;
            End(ref m, scan.Settings);
            return;
        }
        var slowed = m.CoilLaggedW < SlowedShare * m.CoilPeakW - SlowedW;
        if (!m.HasSlow || slowed && !m.ProbablyOpen)
        {
            (m.HasSlow, m.SlowC, m.SlowDewC, m.SlowForS) = (true, air.Value, m.DewPointC, 0);
            return;
        }
        m.SlowForS += scan.Dt;
        if (m.ProbablyOpen)
            GoOn(scan, air.Value, contact.Exists, ref m);
        else if (m.SlowForS >= SeenS)
            MayBegin(scan, index, air.Value, contact.Exists, ref m);
        m.SlowC += (air.Value - m.SlowC) * share;
        m.SlowDewC += (m.DewPointC - m.SlowDewC) * share;
    }

    private static void MayBegin(in Scan scan, int index, double airC, bool hasContact, ref RoomMemory m)
    {
        var moved = m.DewPointC - m.SlowDewC;
        if (Math.Abs(moved) < LeastDewK)
            return;
        if (!hasContact && m.ProbablyRestS <= 0 && scan.Settings.ProbablyOpenAtMostS > 0 && GoesOutdoors(scan, airC, m))
        {
            m.ProbablyOpen = true;
            m.ProbablyForS = 0;
            (m.CheckForS, m.CheckC, m.CheckDewC) = (0, airC, m.DewPointC);
            scan.Happened(SequenceEvents.ProbablyOpen, Owner.Room, index, Reason.Of(Cause.ProbablyOpen, m.DewPointC, scan.Memory.OutdoorDewPointC));
        }
        else if (moved > scan.Settings.ShowerRiseK && m.ShowerRestS <= 0)
        {
            m.ShowerRestS = ShowerRestS;
            scan.Happened(SequenceEvents.ShowerOrCooking, Owner.Room, index, Reason.Of(Cause.ShowerOrCooking, moved, m.DewPointC));
        }
    }

    /// <summary>Temperature and moisture both on their way to what is outdoors, neither past it, and the temperature not where coil or surface push it.</summary>
    private static bool GoesOutdoors(in Scan scan, double airC, in RoomMemory m)
    {
        var outdoors = scan.Reading(scan.House.Points.OutdoorTemperature);
        var outdoorDew = scan.Memory.OutdoorDewPointC;
        if (!outdoors.Exists || double.IsNaN(outdoorDew))
            return false;
        var pushes = m.CoilLaggedW + m.SurfaceOutputW > SlowedW;
        var withThem = airC > m.SlowC == m.Heats;
        return !(pushes && withThem)
            && Goes(m.SlowC, airC, outdoors.Value, LeastAirK, AirShare)
            && Goes(m.SlowDewC, m.DewPointC, outdoorDew, LeastDewK, scan.Settings.ProbablyOpenSharePercent / 100);
    }

    private static bool Goes(double from, double now, double to, double least, double share)
    {
        var way = to - from;
        var gone = way > 0 ? now - from : from - now;
        return Math.Abs(way) >= NearK && gone >= Math.Max(least, share * Math.Abs(way)) && gone <= Math.Abs(way) + LeastDewK;
    }

    /// <summary>Ends with a contact that can be read, with steady air, with air on its way back, and in any case after a while.</summary>
    private static void GoOn(in Scan scan, double airC, bool hasContact, ref RoomMemory m)
    {
        m.ProbablyForS += scan.Dt;
        m.CheckForS += scan.Dt;
        var outdoors = scan.Reading(scan.House.Points.OutdoorTemperature);
        if (hasContact || !outdoors.Exists || m.ProbablyForS >= scan.Settings.ProbablyOpenAtMostS)
        {
            End(ref m, scan.Settings);
            return;
        }
        if (m.CheckForS < CheckS)
            return;
        var air = outdoors.Value > m.CheckC ? airC - m.CheckC : m.CheckC - airC;
        var dew = scan.Memory.OutdoorDewPointC > m.CheckDewC ? m.DewPointC - m.CheckDewC : m.CheckDewC - m.DewPointC;
        if (air < StillAirK || !(dew >= StillDewK))
            End(ref m, scan.Settings);
        (m.CheckForS, m.CheckC, m.CheckDewC) = (0, airC, m.DewPointC);
    }

    private static void End(ref RoomMemory m, SequenceSettings s)
    {
        if (!m.ProbablyOpen)
            return;
        m.ProbablyOpen = false;
        m.ProbablyRestS = s.ProbablyOpenRestS;
        m.HasSlow = false;
    }
}

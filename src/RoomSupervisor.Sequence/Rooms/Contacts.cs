// Section 5, rules 6 and 7 for one room: how long its door or window has been open, a contact that says so against all appearance, and whether another opening is likely.
// Never overrules a contact that nobody can check: without outdoor readings it is believed.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>The opening contact of a room.</summary>
internal static class Contacts
{
    /// <summary>How long temperature and dew point must have looked shut, s (project choice).</summary>
    private const double LooksShutS = 1800;

    public static void Step(in Scan scan, int index, Room room, ref RoomMemory m)
    {
        var made = scan.IsMade(room.OpeningContact);
        var shut = scan.Reading(room.OpeningContact).Exists && !made;
        m.ContactForS = shut ? 0 : made ? m.ContactForS + scan.Dt : m.ContactForS;
        Blocks.Hold(ref m.LooksShutForS, made && LooksShut(scan, room, m), scan.Dt);
        if (!m.ContactIgnored && m.ContactForS > scan.Settings.ContactBelievedS && m.LooksShutForS > LooksShutS)
        {
            m.ContactIgnored = true;
            scan.Happened(SequenceEvents.ContactIgnored, Owner.Room, index, Reason.Of(Cause.ContactDoubted, m.ContactForS, m.DewPointC, scan.Memory.OutdoorDewPointC));
        }
        else if (m.ContactIgnored && shut)
        {
            m.ContactIgnored = false;
            scan.Happened(SequenceEvents.ContactBelieved, Owner.Room, index, new Reason(Cause.OpeningShut));
        }
        // A contact that is lost says nothing: the door that stood open goes on standing open, and its time goes on.
        var lost = m.Stage == Stage.Opening && m.OpenForS > 0 && scan.IsUnread(room.OpeningContact);
        Blocks.Hold(ref m.OpenForS, (made || lost) && !m.ContactIgnored, scan.Dt);
        m.OpeningsLikelyForS = m.OpenForS > scan.Settings.OpeningWaitS ? scan.Settings.OpeningsLastS : Math.Max(0, m.OpeningsLikelyForS - scan.Dt);
    }

    /// <summary>Air and dew point both well away from outdoors, and the air nearer to the set point than to outdoors.</summary>
    private static bool LooksShut(in Scan scan, Room room, in RoomMemory m)
    {
        var air = scan.Reading(room.AirTemperature);
        var outdoors = scan.Reading(scan.House.Points.OutdoorTemperature);
        var apart = scan.Settings.ContactApartK;
        return air.Exists && outdoors.Exists && Math.Abs(air.Value - outdoors.Value) > Math.Max(apart, m.ErrorK)
            && Math.Abs(m.DewPointC - scan.Memory.OutdoorDewPointC) > apart;
    }
}

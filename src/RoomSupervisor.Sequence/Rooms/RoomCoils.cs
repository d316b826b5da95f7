// The coils of one room taken together: what they give at full speed, at their slowest and under their limits, and how a wish is shared
// among them. A coil of several rooms counts in each by its share of floor.
using RoomSupervisor.Sequence.Loops;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>Coils of a room.</summary>
internal static class RoomCoils
{
    /// <summary>A further coil joins when the demand is this much over what all of them give at their slowest; it leaves at 1 (project choice).</summary>
    private const double JoinsAt = 1.25;

    /// <summary>Loop whose water the coil uses in this direction; −1: it cannot work in it.</summary>
    public static int LoopOf(Coil coil, bool heats) => heats && coil.HeatingLoop >= 0 ? coil.HeatingLoop : coil.Loop;

    /// <summary>True when the coil's loop has, or may be given, water of the direction now.</summary>
    public static bool InSeason(in Scan scan, Coil coil, bool heats) => LoopWater.InSeason(scan, LoopOf(coil, heats), heats);

    /// <summary>True when nothing forbids a coil altogether: its tray is not full, its water is right, its limits let it turn and no other room has it the other way.</summary>
    public static bool MayRun(in Scan scan, int coil, bool heats) => scan.Memory.Coils[coil].WarmWaterRestS <= 0 && MayRunWithRightWater(scan, coil, heats);

    /// <summary>The same but for the temperature of its water.</summary>
    public static bool MayRunWithRightWater(in Scan scan, int coil, bool heats)
    {
        ref readonly var m = ref scan.Memory.Coils[coil];
        return !m.MayNotRun && m.CapPercent >= scan.House.Coils[coil].StartSpeedPercent && InSeason(scan, scan.House.Coils[coil], heats)
            && SharedCoil.MayServe(scan.House.Coils[coil], m, heats);
    }

    /// <summary>True when the room has a coil whose loop works in this direction now.</summary>
    public static bool AnyInSeason(in Scan scan, Room room, bool heats)
    {
        foreach (var coil in room.Coils)
        {
            if (InSeason(scan, scan.House.Coils[coil], heats))
                return true;
        }
        return false;
    }

    /// <summary>The first coil that may run, or −1.</summary>
    public static int Leading(in Scan scan, Room room, bool heats)
    {
        foreach (var coil in room.Coils)
        {
            if (MayRun(scan, coil, heats))
                return coil;
        }
        return -1;
    }

    /// <summary>True when any coil of the room may run.</summary>
    public static bool AnyMayRun(in Scan scan, Room room, bool heats) => Leading(scan, room, heats) >= 0;

    /// <summary>Sensible output of one coil for a room at full speed with its present water, W.</summary>
    public static double FullOf(in Scan scan, Room room, int coil, bool heats)
    {
        ref var kept = ref scan.Memory.CoilFullW[2 * coil + (heats ? 1 : 0)];
        if (!double.IsNaN(kept))
            return kept;
        var part = scan.House.Coils[coil];
        var watts = FullFor(scan, room, part, heats);
        if (part.Rooms.Length == 1)
            kept = watts;
        return watts;
    }

    private static double FullFor(in Scan scan, Room room, Coil part, bool heats)
    {
        ref readonly var air = ref scan.Reading(room.AirTemperature);
        return air.Exists ? Share(scan.House, room, part) * Emitters.CoilFullOutput(part.Kind, air.Value, LoopWater.Expected(scan, LoopOf(part, heats)), heats) : 0;
    }

    /// <summary>The same with water of this temperature, W.</summary>
    public static double FullWith(in Scan scan, Room room, Coil coil, double airC, double waterC, bool heats) => Share(scan.House, room, coil) * Emitters.CoilFullOutput(coil.Kind, airC, waterC, heats);

    /// <summary>All coils at full speed, W; those that may not run left out.</summary>
    public static double Full(in Scan scan, Room room, bool heats)
    {
        var sum = 0.0;
        foreach (var coil in room.Coils)
            sum += MayRun(scan, coil, heats) ? FullOf(scan, room, coil, heats) : 0;
        return sum;
    }

    /// <summary>All coils at their limits, W.</summary>
    public static double MayGive(in Scan scan, Room room, bool heats)
    {
        var sum = 0.0;
        foreach (var coil in room.Coils)
            sum += MayRun(scan, coil, heats) ? FullOf(scan, room, coil, heats) * scan.Memory.Coils[coil].CapShare : 0;
        return sum;
    }

    /// <summary>What the coils give now by their fans, W.</summary>
    public static double Now(in Scan scan, Room room, bool heats)
    {
        var sum = 0.0;
        foreach (var coil in room.Coils)
        {
            ref readonly var m = ref scan.Memory.Coils[coil];
            sum += m.ValvePercent > 0 && SharedCoil.Serves(scan.House.Coils[coil], m, heats) ? FullOf(scan, room, coil, heats) * m.FanShare : 0;
        }
        return sum;
    }

    /// <summary>The least the room's coils can give: the leading one that may run, at its slowest, W.</summary>
    public static double Minimum(in Scan scan, Room room, bool heats)
    {
        var coil = Leading(scan, room, heats);
        return coil < 0 ? 0 : MinimumOf(scan, room, coil, heats);
    }

    /// <summary>Output of one coil at its slowest, W.</summary>
    public static double MinimumOf(in Scan scan, Room room, int coil, bool heats)
        => FullOf(scan, room, coil, heats) * scan.House.Coils[coil].ShareAtStart;

    /// <summary>
    /// Whether a coil takes part: the leading one as soon as something is asked of it, each further one when all of them at their slowest give no more
    /// than is asked. Two fans at half the work are quieter than one: 50·log10 of the speed ratio against 3 dB.
    /// </summary>
    public static bool TakesPart(in Scan scan, Room room, int coil, double askedW, bool carries, bool handingOver, bool heats)
    {
        var atSlowest = 0.0;
        var leads = true;
        foreach (var other in room.Coils)
        {
            if (!MayRun(scan, other, heats))
                continue;
            atSlowest += MinimumOf(scan, room, other, heats);
            if (other == coil)
                break;
            leads = false;
        }
        if (!leads)
            return askedW >= atSlowest * (carries ? 1 : JoinsAt);
        return handingOver || (askedW > (carries ? 0.1 : 0.2) * atSlowest);
    }

    /// <summary>
    /// One digit of a sensor may be worth more watts than the coil's least: a run and a rest last a while, unless the room is too cold for the one or too warm for the other by more than that. By the sensor itself:
    /// its lead makes three tenths of one.
    /// </summary>
    public static bool Runs(in Scan scan, Room room, int coil, bool takesPart, in RoomMemory roomMemory, in CoilMemory m)
    {
        var s = scan.Settings;
        if (roomMemory.HandingOver)
            return takesPart;
        return m.Carrying
            ? MayGoOn(scan, room, coil, roomMemory) && (takesPart || m.CarryForS < s.CoilRunAtLeastS)
            : takesPart && (m.CarryForS >= s.CoilRestAtLeastS || IsTooWarm(scan, room, roomMemory));
    }

    /// <summary>True when the sensor itself, not its lead, says that the room is [0.3 K] on the wrong side.</summary>
    public static bool IsTooWarm(in Scan scan, Room room, in RoomMemory m) => OffK(scan, room, m) >= scan.Settings.CoilHelpsAboveK;

    /// <summary>True while nothing forbids it and the sensor does not say as much on the right side: too cold in cooling.</summary>
    private static bool MayGoOn(in Scan scan, Room room, int coil, in RoomMemory m) => MayRun(scan, coil, m.Heats) && !(OffK(scan, room, m) <= -scan.Settings.CoilHelpsAboveK);

    private static double OffK(in Scan scan, Room room, in RoomMemory m)
        => (scan.Reading(ControlAir.Input(room, m)).Value - m.WantedC) * (m.Heats ? -1 : 1);

    /// <summary>What is asked of one coil that takes part: its share by output, W.</summary>
    public static double AskedOf(in Scan scan, Room room, int coil, double askedW, bool heats)
    {
        var sum = 0.0;
        foreach (var other in room.Coils)
            sum += other == coil || scan.Memory.Coils[other].Carrying ? FullOf(scan, room, other, heats) : 0;
        return sum > 0 ? askedW * FullOf(scan, room, coil, heats) / sum : askedW;
    }

    /// <summary>A room's share of a coil: all of its own, of one of several rooms by its share of their floor.</summary>
    public static double Share(House house, Room room, Coil coil)
    {
        if (coil.Rooms.Length == 1)
            return 1;
        var floor = 0.0;
        foreach (var other in coil.Rooms)
            floor += house.Rooms[other].Settings.FloorAreaM2;
        return room.Settings.FloorAreaM2 / floor;
    }
}

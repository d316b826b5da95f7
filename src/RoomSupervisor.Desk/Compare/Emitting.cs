// What every rival does alike: takes the place of our room rules in memory, keeps the fans' caps and start speeds, and asks the guard before it opens a circuit. Cooling only.
// Must never give one rival a help that another has not.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Compare;

/// <summary>Moves emitters for rivals.</summary>
internal static class Emitting
{
    // A value by hand that is renewed at every scan.
    private const double RenewedForS = 3600;

    /// <summary>Every room is at work and has no stage of ours: what its emitters are told is all there is.</summary>
    public static void Rooms(in RoomsNow now)
    {
        for (var i = 0; i < now.House.Rooms.Length; i++)
        {
            ref var m = ref now.Memory.Rooms[i];
            (m.Started, m.Heats, m.Stage) = (true, false, now.House.Rooms[i].Coils.Length > 0 ? Stage.CoilHold : Stage.RadiantHold);
            (m.Moisture, m.DryWishForS, m.DryShiftK, m.DryFades) = (Moisture.Resting, 0, 0, false);
            (m.WantedC, m.DemandW) = (Schedule.Now(now.House.Rooms[i].Household, now.Local).CoolAboveC, 0);
            var input = now.House.Rooms[i].AirTemperature;
            m.ErrorK = input >= 0 && now.Readings[input].Exists ? now.Readings[input].Value - m.WantedC : double.NaN;
        }
    }

    /// <summary>How far a room's sensor is over its set point, as <see cref="Rooms"/> has found it, K; NaN: not known.</summary>
    public static double TooWarmK(in RoomsNow now, int room) => now.Memory.Rooms[room].ErrorK;

    /// <summary>How far the warmest of a coil's rooms is over its set point, K; NaN: not known.</summary>
    public static double TooWarmOf(in RoomsNow now, int coil)
    {
        var most = double.NaN;
        foreach (var room in now.House.Coils[coil].Rooms)
        {
            var error = TooWarmK(now, room);
            most = !(error <= most) && !double.IsNaN(error) ? error : most;
        }
        return most;
    }

    /// <summary>A coil with its valve open and its fan at a speed, or at rest; never over a cap nor under the start speed.</summary>
    /// <param name="now">The scan.</param>
    /// <param name="coil">The coil.</param>
    /// <param name="share">0: rest; 1: as fast as the caps allow; between them from the start speed up.</param>
    public static void Coil(in RoomsNow now, int coil, double share)
    {
        var part = now.House.Coils[coil];
        var cap = now.Memory.Coils[coil].CapPercent;
        var percent = share > 0 && cap >= part.StartSpeedPercent ? part.StartSpeedPercent + (cap - part.StartSpeedPercent) * Math.Min(share, 1) : 0;
        if (part.Kind.StepsPercent.Count > 0 && percent > 0)
            percent = part.Kind.StepsPercent.Where(step => step <= percent + 1e-6).DefaultIfEmpty(part.StartSpeedPercent).Max();
        Set(now, part.Fan, percent);
        Set(now, part.Valve, percent > 0 ? 100 : 0);
        foreach (var room in part.Rooms)
            now.Memory.Rooms[room].DemandW += percent > 0 ? part.Kind.OutputW * Math.Pow(percent / 100, 0.7) / part.Rooms.Length : 0;
    }

    /// <summary>A circuit at an opening; it stays shut while its loop flows with water that the guard would shut it for.</summary>
    /// <param name="now">The scan.</param>
    /// <param name="circuit">The circuit.</param>
    /// <param name="share">0…1.</param>
    public static void Surface(in RoomsNow now, int circuit, double share)
    {
        var part = now.House.Circuits[circuit];
        ref var m = ref now.Memory.Circuits[circuit];
        var loop = now.House.Loops[part.Loop];
        var supply = loop.Supply >= 0 ? now.Readings[loop.Supply] : Reading.Never;
        if (m.ValvePercent <= 0 && now.Memory.Loops[part.Loop].PumpOn && supply.Exists && supply.Value < m.LowestSafeC - now.House.Settings.OpenBelowK)
            share = 0;
        var rated = part.Kind.OutputWPerM2 * part.Settings.AreaM2;
        (m.AskedW, m.MayGiveW) = (Math.Clamp(share, 0, 1) * rated, rated);
        now.Memory.Rooms[part.Room].DemandW += m.AskedW;
        Set(now, part.Valve, 100 * Math.Clamp(share, 0, 1));
    }

    private static void Set(in RoomsNow now, int output, double value)
    {
        if (output >= 0)
            HandValues.Set(now.Memory, output, value, RenewedForS);
    }
}

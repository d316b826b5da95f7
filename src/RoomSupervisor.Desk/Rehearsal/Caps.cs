// How fast each fan may turn at a moment: household, quiet hours, noise and draught, worked out from the settings alone.
// Must never ask the sequence what it thinks the cap is: this judges it.
using RoomSupervisor.Physics;
using RoomSupervisor.Sequence;
using RoomSupervisor.VirtualHouse;
using Coil = RoomSupervisor.Sequence.Coil;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>Caps and wanted bands of a house by the minute.</summary>
public sealed class Caps(House house)
{
    private DateTime minute = DateTime.MinValue;

    /// <summary>By coil, % of full speed.</summary>
    public double[] CapPercent { get; } = new double[house.Coils.Length];

    /// <summary>By room.</summary>
    public Wanted[] Wanted { get; } = new Wanted[house.Rooms.Length];

    /// <summary>Works them out for a moment of schedule time; nothing to do within a minute.</summary>
    public void At(DateTime local)
    {
        var now = new DateTime(local.Ticks - local.Ticks % TimeSpan.TicksPerMinute);
        if (now == minute)
            return;
        minute = now;
        for (var i = 0; i < house.Rooms.Length; i++)
            Wanted[i] = Schedule.Now(house.Rooms[i].Household, local);
        for (var i = 0; i < house.Coils.Length; i++)
            CapPercent[i] = Of(house.Coils[i]);
    }

    /// <summary>Volts at which a fan turns with a speed; 0 under its start speed.</summary>
    internal static double Volts(FanPlan fan, double percent)
    {
        var speed = percent / 100;
        return speed < fan.StartSpeed ? 0 : fan.StartVolts + (Math.Min(speed, 1) - fan.StartSpeed) / Math.Max(1 - fan.StartSpeed, 1e-9) * (fan.FullVolts - fan.StartVolts);
    }

    private double Of(Coil coil)
    {
        var cap = coil.Settings.DraughtAtMostPercent;
        foreach (var room in coil.Rooms)
        {
            cap = Math.Min(cap, Wanted[room].FanAtMostPercent);
            if (double.IsFinite(Wanted[room].NoiseAtMostDb) && double.IsFinite(coil.Kind.SoundLevelDb)
                && FanSound.TrySpeedForLevel(coil.Kind.SoundLevelDb, Wanted[room].NoiseAtMostDb, out var speed, out _))
                cap = Math.Min(cap, speed);
        }
        // A stepped fan turns with a step or not at all, and a cap under the start speed means off.
        if (cap < coil.StartSpeedPercent - 1e-6)
            return 0;
        return coil.Kind.StepsPercent.Count > 0 ? coil.Kind.StepsPercent.Where(step => step <= cap + 1e-6).DefaultIfEmpty(0).Max() : cap;
    }
}

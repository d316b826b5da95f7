// How fast each fan may turn at a moment: household, quiet hours, noise and draught, worked out from the settings alone.
// Must never ask the sequence what it thinks the cap is: this judges it.
using RoomSupervisor.Physics;
using RoomSupervisor.Sequence;
using RoomSupervisor.VirtualHouse;
using Coil = RoomSupervisor.Sequence.Coil;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>Caps and wanted bands of a house by the minute. Times are those of the board's own clock: a household cannot ask for more than the board can know.</summary>
public sealed class Caps(House house)
{
    /// <summary>A cap that has just fallen does not count for this time, s: a rotor has mass.</summary>
    public const double RunsOnS = 20;

    private readonly double[] before = new double[house.Coils.Length], fellForS = new double[house.Coils.Length];
    private DateTime minute = DateTime.MinValue;

    /// <summary>True when a fan turns faster than it may, by over 1 % of full speed.</summary>
    /// <param name="coil">Index of its coil.</param>
    /// <param name="percent">Its true speed.</param>
    public bool IsOver(int coil, double percent) => percent > (fellForS[coil] < RunsOnS ? Math.Max(before[coil], CapPercent[coil]) : CapPercent[coil]) + 1;

    /// <summary>By coil, % of full speed.</summary>
    public double[] CapPercent { get; } = new double[house.Coils.Length];

    /// <summary>By room.</summary>
    public Wanted[] Wanted { get; } = new Wanted[house.Rooms.Length];

    /// <summary>Works them out for a moment of schedule time; nothing to do within a minute.</summary>
    /// <param name="stepS">Seconds since the last call.</param>
    public void At(DateTime local, double stepS)
    {
        for (var i = 0; i < fellForS.Length; i++)
            fellForS[i] += stepS;
        var now = new DateTime(local.Ticks - local.Ticks % TimeSpan.TicksPerMinute);
        if (now == minute)
            return;
        minute = now;
        for (var i = 0; i < house.Rooms.Length; i++)
            Wanted[i] = Schedule.Now(house.Rooms[i].Household, local);
        for (var i = 0; i < house.Coils.Length; i++)
        {
            var cap = Of(house.Coils[i]);
            if (cap < CapPercent[i])
                (before[i], fellForS[i]) = (CapPercent[i], 0);
            CapPercent[i] = cap;
        }
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

// Section 2, rule 7: what a pull-down says of the room: how much heat its air holds and how much more walls and furniture give for every kelvin the air falls. Recursive least
// squares from a prior by the floor's area or from the pull-down before. In believed coil watts throughout. Never moves an output by itself.
using RoomSupervisor.Sequence.Loops;
using RoomSupervisor.Sequence.RoomData;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>
/// Heat balance of the air, output = C·rate + K·come + load at the start: rate and how far the air has come by the sensor, the output of coils and surfaces as late as the sensor and its filters make
/// them, so that a slow sensor falsifies none of the three.
/// </summary>
internal static class AirModel
{
    /// <summary>Prior of C a square metre of floor: the air's own 3.1 kJ/K (2.6 m) and what follows it within a minute (project choice), J/K; off by so large a share.</summary>
    private const double PriorCapacity = 4500, CapacityShare = 0.4;

    /// <summary>Prior of K a square metre of floor: three square metres of walls and ceiling at 3 W/m²K (ISO 6946 convective, from memory), furniture and air change, W/K; off by so large a share.</summary>
    private const double PriorWalls = 15, WallsShare = 0.4;

    /// <summary>Prior of the load at the start a square metre of floor, W, and how far off.</summary>
    private const double PriorLoad = 15, LoadOff = 20;

    /// <summary>The balance is off by so many watts a square metre of floor, over so many seconds in one direction (project choice).</summary>
    private const double Off = 3, OffForS = 60;

    /// <summary>Bounds of C and K, as shares of their priors.</summary>
    private const double Least = 0.4, Most = 3;

    /// <summary>
    /// Furniture and the first centimetres of the walls follow the air by so many seconds (200 to 300 kJ/K behind 100 to 200 W/K, plaster before masonry), and so large a share of K is theirs; the rest is masonry and
    /// windows, which give the same all day. Common practice of lumped rooms, no published source.
    /// </summary>
    private const double StoredTimeS = 1500, StoredShare = 0.4;

    /// <summary>A pull-down begins, or goes on by another sensor.</summary>
    public static void Begin(in Scan scan, Room room, ref RoomMemory m)
    {
        ref var a = ref m.Air;
        var floor = room.Settings.FloorAreaM2;
        var input = ControlAir.Input(room, m);
        var (capacity, walls) = (m.DataCapacityJPerK > 0 ? m.DataCapacityJPerK : a.CapacityJPerK > 0 ? a.CapacityJPerK : PriorCapacity * floor, a.WallsWPerK > 0 ? a.WallsWPerK : PriorWalls * floor);
        var given = m.CoilLaggedW + m.SurfaceOutputW;
        a = new AirModelMemory
        {
            CapacityJPerK = capacity,
            WallsWPerK = walls,
            Input = input,
            FromC = scan.Reading(input).Value,
            StoredC = a.StoredC,
            HasStored = a.HasStored,
            StoredFromC = a.StoredC,
            GivenW = given,
            LaggedW = given,
        };
        Add(ref a, Square(1 / (CapacityShare * PriorCapacity * floor)), 1, 0, 0, capacity);
        Add(ref a, Square(1 / (WallsShare * PriorWalls * floor)), 0, 1, 0, walls);
        Add(ref a, Square(1 / (LoadOff * floor)), 0, 0, 1, PriorLoad * floor);
    }

    /// <summary>One scan of a pull-down or of easing off.</summary>
    public static void Follow(in Scan scan, Room room, ref RoomMemory m)
    {
        if (m.Stage is not (Stage.PullDown or Stage.WarmUp or Stage.EasingOff))
            return;
        if (m.Air.Input != ControlAir.Input(room, m) || double.IsNaN(m.Air.FromC))
            Begin(scan, room, ref m);
        ref var a = ref m.Air;
        var s = scan.Settings;
        // As late as the sensor makes the air's temperature, and then as late as the filters make its rate; the coil's own metal on top.
        a.GivenW += (Given(scan, room, m.Heats) + m.SurfaceOutputW - a.GivenW) * Blocks.FilterShare(scan.Dt, RoomDataUse.LagS(scan, room, m, a.Input));
        a.LaggedW += (a.GivenW - a.LaggedW) * Blocks.FilterShare(scan.Dt, s.AirFilterS + s.SlopeFilterS + s.StopLagS);
        var reading = scan.Reading(a.Input);
        if (reading.Quality != Quality.Good)
            return;
        var rate = Rate(scan, m);
        Add(ref a, scan.Dt / OffForS * Square(1 / (Off * room.Settings.FloorAreaM2)), rate, Come(reading.Value, rate, s, m), 1, a.LaggedW);
        Solve(room, ref a);
    }

    /// <summary>Furniture and the skin of the walls follow the air; in every stage, for what they have taken up while a door stood open is what a room gives away for an hour.</summary>
    public static void Store(in Scan scan, ref RoomMemory m)
    {
        ref var a = ref m.Air;
        if (double.IsNaN(m.ControlC))
            return;
        a.StoredC = a.HasStored ? a.StoredC + (m.ControlC - a.StoredC) * scan.Dt / (scan.Dt + StoredTimeS) : m.ControlC;
        a.HasStored = true;
    }

    /// <summary>
    /// What they give (take) at the set point beyond what they will in an hour, W; under 0 where the room comes from its other side. Counted while a coil carries: a slab follows more slowly than this fades,
    /// and by the time a panel has the room alone it is gone.
    /// </summary>
    public static double FadingW(Room room, in RoomMemory m, Stage stage)
    {
        var walls = m.Air.WallsWPerK > 0 ? m.Air.WallsWPerK : PriorWalls * room.Settings.FloorAreaM2;
        return m.Air.HasStored && stage is Stage.CoilHelps or Stage.CoilHold ? StoredShare * walls * (m.Heats ? m.WantedC - m.Air.StoredC : m.Air.StoredC - m.WantedC) : 0;
    }

    /// <summary>The load seen now, as late as the sensor, W.</summary>
    public static double LoadW(in Scan scan, in RoomMemory m) => m.Air.LaggedW - m.Air.CapacityJPerK * Rate(scan, m);

    /// <summary>Rate at which the room comes by its sensor, K/s.</summary>
    public static double Rate(in Scan scan, in RoomMemory m) => scan.Memory.Inputs[m.Air.Input].SlopePerS * (m.Heats ? 1 : -1);

    /// <summary>How far it has come, as late as the rate is: the temperature, put through the rate's filter, less what stored heat has followed, K.</summary>
    private static double Come(double value, double rate, SequenceSettings s, in RoomMemory m)
        => (m.Heats ? 1 : -1) * (value - m.Air.FromC - StoredShare * (m.Air.StoredC - m.Air.StoredFromC)) - s.SlopeFilterS * rate;

    /// <summary>What the coils give by their fans, W; from their pump's start on, growing while its water is on the way.</summary>
    private static double Given(in Scan scan, Room room, bool heats)
    {
        var sum = 0.0;
        foreach (var index in room.Coils)
        {
            ref readonly var c = ref scan.Memory.Coils[index];
            var loop = RoomCoils.LoopOf(scan.House.Coils[index], heats);
            ref readonly var l = ref scan.Memory.Loops[loop];
            if (c.ValvePercent <= 0 || !l.PumpOn || l.Pump.ToldUnproven)
                continue;
            sum += RoomCoils.FullOf(scan, room, index, heats) * c.FanShare * Math.Min(1, l.PumpForS / scan.House.Loops[loop].Settings.LagS);
        }
        return sum;
    }

    private static double Square(double value) => value * value;

    /// <summary>One equation output = C·rate + K·come + L·one into the normal matrix.</summary>
    private static void Add(ref AirModelMemory a, double weight, double rate, double come, double one, double output)
    {
        a.CC += weight * rate * rate;
        a.CK += weight * rate * come;
        a.CL += weight * rate * one;
        a.KK += weight * come * come;
        a.KL += weight * come * one;
        a.LL += weight * one * one;
        a.CB += weight * rate * output;
        a.KB += weight * come * output;
        a.LB += weight * one * output;
    }

    /// <summary>Normal equations, the load eliminated first; the priors keep them solvable.</summary>
    private static void Solve(Room room, ref AirModelMemory a)
    {
        var cc = a.CC - a.CL * a.CL / a.LL;
        var ck = a.CK - a.CL * a.KL / a.LL;
        var kk = a.KK - a.KL * a.KL / a.LL;
        var cb = a.CB - a.CL * a.LB / a.LL;
        var kb = a.KB - a.KL * a.LB / a.LL;
        var determinant = cc * kk - ck * ck;
        var floor = room.Settings.FloorAreaM2;
        a.CapacityJPerK = Math.Clamp((cb * kk - kb * ck) / determinant, Least * PriorCapacity * floor, Most * PriorCapacity * floor);
        a.WallsWPerK = Math.Clamp((kb * cc - cb * ck) / determinant, Least * PriorWalls * floor, Most * PriorWalls * floor);
    }
}

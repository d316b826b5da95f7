// Section 2, rule 7: measures a room while its coil pulls it to its set point: every ten seconds a sample, every thirty an equation. Never moves an output, never learns from what it cannot know: openings, hand
// values, bad readings, water that has not come.
using RoomSupervisor.Sequence.Loops;
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.RoomData;

/// <summary>
/// Heat balance of the air, C·dT/dt = −α·Q + K·(S − T) + load, put through the sensor's lag so that the sensor's own reading stands on both sides and no rate is needed: over a window of 30 s its change is
/// −θ1·∫Q' + θ2·∫(S − Ts) + θ3·t + θ4·∫d, with Q' the typed-in output as late as metal and sensor, S what furniture and the skin of walls have (a first-order mean of 25 min), d = exp(−t/lag) what a door leaves
/// of itself in the sensor. Once for each of five guesses at the lag; those that foresee well count. Signs are those of cooling, for heating too: a heating coil gives negative watts.
/// </summary>
internal static class Measuring
{
    /// <summary>A sample and an equation so often, s.</summary>
    public const double SampleS = 10, WindowS = 30;

    /// <summary>A scan longer than this leaves a hole: what was under way is dropped, s.</summary>
    private const double LongS = 15;

    /// <summary>Furniture and skin of the walls follow the air by so much (as in <see cref="AirModel"/>), s.</summary>
    private const double StoredS = 1500;

    /// <summary>Reading of a window is off by so much: noise of the sensor and what the balance leaves out (project choice), K, and a share of its change.</summary>
    private const double OffK = 0.012, OffShare = 0.03;

    /// <summary>The load wanders by so much a window (in 20 W/m²): sun, people and what walls store; else hours of slow change would speak of the coil.</summary>
    private const double LoadWalk = 0.06;

    /// <summary>After easing off the coil carries: what it does then still tells of the room, for so long, s (project choice).</summary>
    private const double AfterS = 900;

    /// <summary>λ of an equation: after some 150 of them, five pull-downs, a third is left.</summary>
    private const double Keeps = 0.993;

    /// <summary>Share of a surface's output that reaches the air and not the walls (EN 1264-5: under a ceiling about half is radiant), 0–1.</summary>
    public const double SurfaceToAir = 0.5;

    /// <summary>Fan and coil follow by so much, s.</summary>
    private const double MetalS = 8;

    /// <summary>Shares of the typed-in lag that are tried.</summary>
    private static ReadOnlySpan<double> Shares => [0.4, 0.63, 1, 1.6, 2.5];

    /// <summary>Natural logarithms of them.</summary>
    public static ReadOnlySpan<double> Logs => [-0.916290731874155, -0.46203545959655867, 0, 0.47000362924573563, 0.9162907318741551];

    /// <summary>Prior of walls over capacity, 1/(100 s): 3 m² of walls and as much of furniture a square metre of floor at 3 W/m²K (ISO 6946 convective, from memory) against the air.</summary>
    public const double WallsPer100S = 0.6;

    // Coil over capacity as a share of what is typed in; walls over capacity in 1/(100 s); load in 20 W/m²; door in K/min.
    private static ReadOnlySpan<double> PriorAt => [1, WallsPer100S, 0.5, 0];

    private static ReadOnlySpan<double> PriorOff => [0.35, 0.08, 1.5, 0.001];

    private static ReadOnlySpan<double> MostOff => [0.35, 0.08, 3, 6];

    /// <summary>Capacity of the air a square metre of floor and what follows it within seconds, J/K: air of 2.5 m at 1.2 kg/m³ and 1,006 J/kgK.</summary>
    public const double CapacityJPerM2K = 3000;

    public static double Capacity(Room room) => CapacityJPerM2K * room.Settings.FloorAreaM2;

    /// <summary>Once a scan; does its work every ten seconds, room after room.</summary>
    public static void Step(in Scan scan, int index)
    {
        ref var d = ref scan.Memory.RoomData[index];
        d.SinceSampleS += scan.Dt;
        if (d.PullDowns > 0)
            (d.SinceFirstS, d.SinceLastS) = (d.SinceFirstS + scan.Dt, d.SinceLastS + scan.Dt);
        if (d.SinceSampleS < SampleS)
            return;
        var room = scan.House.Rooms[index];
        if (!d.Begun)
            Begin(room, index, ref d);
        var since = d.SinceSampleS;
        d.SinceSampleS = 0;
        Sample(scan, room, index, ref d, since);
        Losing.Sample(scan, room, index, ref d, since);
        RoomDataUse.Set(scan, room, d, ref scan.Memory.Rooms[index]);
    }

    /// <summary>Nothing measured yet; rooms take turns within the ten seconds.</summary>
    public static void Begin(Room room, int index, ref RoomDataMemory d)
    {
        d = new RoomDataMemory { Begun = true, SinceSampleS = d.SinceSampleS - (index % 10), LastC = double.NaN };
        Anew(ref d);
        Losing.Begin(room, ref d);
    }

    private static void Sample(in Scan scan, Room room, int index, ref RoomDataMemory d, double since)
    {
        ref readonly var m = ref scan.Memory.Rooms[index];
        var reading = scan.Reading(room.AirTemperature);
        if (reading.Quality != Quality.Good || since > LongS || scan.Samples.Length == 0)
        {
            Hole(ref d);
            return;
        }
        var (coil, known) = CoilW(scan, room, m);
        var surface = m.SurfaceOutputW * (m.Heats ? -1 : 1);
        var opening = m.Stage == Stage.Opening || m.OpenForS > 0;
        var before = double.IsNaN(d.LastC) ? reading.Value : d.LastC;
        Follow(scan, room, ref d, coil, surface, (before + reading.Value) / 2, since, opening);
        d.LastC = reading.Value;
        Learning(scan, index, ref d, known && !opening && !RoomWatch.ByHand(scan, room));
        Watching.Sample(scan, room, index, ref d, since);
        if (d.WindowForS < WindowS - 0.5)
            return;
        if (d.Learns)
            Equation(room, ref d, reading.Value);
        Window(ref d, reading.Value);
    }

    /// <summary>Filters and integrals of one sample; they run in every stage.</summary>
    private static void Follow(in Scan scan, Room room, ref RoomDataMemory d, double coilW, double surfaceW, double airC, double since, bool opening)
    {
        d.StoredC = d.StoredC == 0 ? airC : d.StoredC + (airC - d.StoredC) * since / (since + StoredS);
        if (d.WindowForS == 0)
            d.WindowFromC = double.IsNaN(d.LastC) ? airC : d.LastC;
        // The coil's output as it was in the middle of the sample.
        d.MetalW += ((coilW + d.LastCoilW) / 2 - d.MetalW) * Blocks.FilterShare(since, MetalS);
        d.LastCoilW = coilW;
        d.SumStored += (d.StoredC - airC) * since;
        var told = scan.House.Inputs[room.AirTemperature].Sensor.LagS;
        for (var g = 0; g < RoomDataMemory.Guesses; g++)
        {
            ref var guess = ref d.Lags[g];
            var share = Blocks.FilterShare(since, Shares[g] * told + scan.Settings.AirFilterS);
            guess.CoilW += (d.MetalW - guess.CoilW) * share;
            guess.SurfaceW += (surfaceW - guess.SurfaceW) * share;
            guess.Door = opening ? 1 : guess.Door * (1 - share);
            guess.SumCoil += guess.CoilW * since;
            guess.SumSurface += guess.SurfaceW * since;
            guess.SumDoor += guess.Door * since;
        }
        d.WindowForS += since;
    }

    /// <summary>When equations are taken: a pull-down with what it needs known, its easing off and a while of carrying.</summary>
    private static void Learning(in Scan scan, int index, ref RoomDataMemory d, bool known)
    {
        ref readonly var m = ref scan.Memory.Rooms[index];
        var pulls = m.Stage is Stage.PullDown or Stage.WarmUp or Stage.EasingOff;
        var carries = d.InPullDown && m.Stage is Stage.CoilHelps or Stage.CoilHold && m.StageForS < AfterS;
        if (pulls && !d.InPullDown)
        {
            (d.InPullDown, d.Windows) = (true, 0);
            for (var g = 0; g < RoomDataMemory.Guesses; g++)
            {
                d.Lags[g].PullMisses = 0;
                LeastSquares.Anew(ref d.Lags[g].Squares, 2, d.Lags[g].Squares.At[2], PriorOff[2]);
                LeastSquares.Anew(ref d.Lags[g].Squares, 3, 0, d.Lags[g].Door > 0.02 ? MostOff[3] : PriorOff[3]);
            }
            Window(ref d, d.LastC);
        }
        else if (d.InPullDown && !pulls && !carries)
        {
            d.InPullDown = false;
            Believing.Over(scan, index, ref d);
        }
        var learns = known && d.InPullDown;
        if (learns && !d.Learns)
            Window(ref d, d.LastC);
        d.Learns = learns;
    }

    private static void Equation(Room room, ref RoomDataMemory d, double airC)
    {
        var capacity = Capacity(room);
        var floor = room.Settings.FloorAreaM2;
        Span<double> x = stackalloc double[4];
        var change = airC - d.WindowFromC;
        var off = OffK + OffShare * Math.Abs(change);
        for (var g = 0; g < RoomDataMemory.Guesses; g++)
        {
            ref var guess = ref d.Lags[g];
            x[0] = -guess.SumCoil / capacity / off;
            x[1] = d.SumStored / 100 / off;
            x[2] = 20 * floor * d.WindowForS / capacity / off;
            x[3] = guess.SumDoor / 60 / off;
            LeastSquares.Loosen(ref guess.Squares, 2, LoadWalk * LoadWalk);
            var y = (change + SurfaceToAir * guess.SumSurface / (capacity * d.Capacity.Factor)) / off;
            var missed = LeastSquares.Add(ref guess.Squares, x, y, Keeps, MostOff, out var variance);
            guess.PullMisses += missed * missed;
            guess.Misses = Keeps * guess.Misses + missed * missed + Math.Log(variance);
        }
        d.Windows++;
    }

    private static void Window(ref RoomDataMemory d, double fromC)
    {
        (d.WindowForS, d.SumStored, d.WindowFromC) = (0, 0, fromC);
        for (var g = 0; g < RoomDataMemory.Guesses; g++)
            (d.Lags[g].SumCoil, d.Lags[g].SumSurface, d.Lags[g].SumDoor) = (0, 0, 0);
    }

    /// <summary>What was measured foresees badly, or the room has changed: it is measured anew from nothing, and not used before it is known again.</summary>
    public static void Anew(ref RoomDataMemory d)
    {
        for (var g = 0; g < RoomDataMemory.Guesses; g++)
        {
            LeastSquares.Begin(ref d.Lags[g].Squares, PriorAt, PriorOff);
            (d.Lags[g].Misses, d.Lags[g].PullMisses) = (0, 0);
        }
        (d.PullDowns, d.SinceFirstS, d.UsualMiss) = (0, 0, 0);
        Believing.Begin(ref d);
    }

    /// <summary>Something was not seen: filters start from what comes next.</summary>
    public static void Hole(ref RoomDataMemory d)
    {
        (d.LastC, d.Learns, d.StoredC, d.InPullDown, d.Now.Runs) = (double.NaN, false, 0, false, false);
        Window(ref d, double.NaN);
    }

    /// <summary>Typed-in output of the coils by speed, throttling and water, W, negative in heating; and whether their water is known.</summary>
    private static (double Watts, bool Known) CoilW(in Scan scan, Room room, in RoomMemory m)
    {
        var sum = 0.0;
        var known = true;
        foreach (var index in room.Coils)
        {
            ref readonly var c = ref scan.Memory.Coils[index];
            if (c.ValvePercent <= 0 || c.FanPercent <= 0)
                continue;
            var loop = RoomCoils.LoopOf(scan.House.Coils[index], m.Heats);
            ref readonly var l = ref scan.Memory.Loops[loop];
            known &= !l.Pump.ToldUnproven && scan.Reading(scan.House.Loops[loop].Supply).Exists;
            if (l.PumpOn)
                sum += RoomCoils.FullOf(scan, room, index, m.Heats) * c.FanShare * Emitters.ShareOfValve(c.ValvePercent) * Math.Min(1, l.PumpForS / scan.House.Loops[loop].Settings.LagS);
        }
        return (m.Heats ? -sum : sum, known);
    }
}

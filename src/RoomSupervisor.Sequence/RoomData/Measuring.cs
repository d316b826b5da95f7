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
    /// <summary>Fan and coil follow by so much, s (common practice 10 to 60, no published source; the shorter end: a supply sensor that is late itself makes up for the rest).</summary>
    private const double MetalS = 12;

    /// <summary>A sample and an equation so often, s.</summary>
    public const double SampleS = 10, WindowS = 30;

    /// <summary>A scan longer than this leaves a hole: what was under way is dropped, s.</summary>
    private const double LongS = 15;

    /// <summary>Furniture and skin of the walls follow the air by so much (as in <see cref="AirModel"/>), s.</summary>
    public const double StoredS = 1500;

    /// <summary>Reading of a window is off by so much: noise of the sensor and what the balance leaves out (project choice), K, and a share of its change.</summary>
    private const double OffK = 0.012, OffShare = 0.03;

    /// <summary>The load wanders by so much a window (in 20 W/m²): sun, people and what walls store; else hours of slow change would speak of the coil.</summary>
    private const double LoadWalk = 0.1;

    /// <summary>After easing off the coil carries: what it does then still tells of the room, for so long, s (project choice). Longer, and the room's coming back, which walls and furniture make, is taken for the coil's.</summary>
    private const double AfterS = 240;

    /// <summary>λ of an equation: after some 150 of them, five pull-downs, a third is left.</summary>
    private const double Keeps = 0.993;

    /// <summary>Share of a surface's output that reaches the air and not the walls (EN 1264-5: under a ceiling about half is radiant), 0–1.</summary>
    public const double SurfaceToAir = 0.5;

    /// <summary>Shares of the typed-in lag that are tried.</summary>
    private static ReadOnlySpan<double> Shares => [0.4, 0.63, 1, 1.6, 2.5];

    /// <summary>Natural logarithms of them.</summary>
    public static ReadOnlySpan<double> Logs => [-0.916290731874155, -0.46203545959655867, 0, 0.47000362924573563, 0.9162907318741551];

    /// <summary>Prior of walls over capacity, 1/(100 s): 3 m² of walls and as much of furniture a square metre of floor at 1.3 to 3 W/m²K (natural convection by Walton 1983, ISO 6946 convective, from memory) against the air.</summary>
    public const double WallsPer100S = 0.45;

    // Coil over capacity as a share of what is typed in; walls over capacity in 1/(100 s); load in 20 W/m²; door in K/min.
    private static ReadOnlySpan<double> PriorAt => [1, WallsPer100S, 0.5, 0];

    private static ReadOnlySpan<double> PriorOff => [0.35, 0.2, 1.5, 0.001];

    private static ReadOnlySpan<double> MostOff => [0.35, 0.2, 3, 6];

    /// <summary>
    /// What a cubic metre of room holds, J/K: five sixths of its air's own 1,207 (1.2 kg/m³, 1,006 J/kgK). Skins of walls answer in less than the 25 minutes of the balance, and more for every kelvin the farther they are from
    /// the air; least squares of the balance in rooms without noise find 0.8 to 0.9 of the air (closed test rooms and the virtual house).
    /// </summary>
    private const double AirJPerM3K = 1010;

    /// <summary>Height taken for a room, m.</summary>
    private const double HeightM = 2.6;

    /// <summary>Load over capacity as the squares of the told lag have it after the last pull-down, K/s.</summary>
    public static double LoadKPerS(Room room, in RoomDataMemory d) => LoadWPerM2 * room.Settings.FloorAreaM2 * d.Lags[ToldLag].Squares.At[2] / Capacity(room);

    /// <summary>Unit of the load in the squares, W/m²; which guess is the told lag.</summary>
    private const double LoadWPerM2 = 20;

    private const int ToldLag = 2;

    public static double Capacity(Room room) => AirJPerM3K * HeightM * room.Settings.FloorAreaM2;

    /// <summary>Once a scan; rooms take turns within ten seconds, and nothing of the others is touched but their time.</summary>
    public static void All(in Scan scan)
    {
        var all = scan.Memory.RoomData;
        for (var i = 0; i < all.Length; i++)
        {
            if ((all[i].SinceSampleS += scan.Dt) >= SampleS)
                Step(scan, i, ref all[i]);
        }
    }

    private static void Step(in Scan scan, int index, ref RoomDataMemory d)
    {
        if (d.PullDowns > 0)
            (d.SinceFirstS, d.SinceLastS) = (d.SinceFirstS + d.SinceSampleS, d.SinceLastS + d.SinceSampleS);
        var room = scan.House.Rooms[index];
        if (!d.Begun)
        {
            Begin(room, index, ref d);
            return;
        }
        var since = d.SinceSampleS;
        d.SinceSampleS = 0;
        Sample(scan, room, index, ref d, since);
        Losing.Sample(scan, room, index, ref d, since);
        RoomDataUse.Set(scan, room, d, ref scan.Memory.Rooms[index]);
    }

    /// <summary>Nothing measured yet; from here on rooms take turns within the ten seconds.</summary>
    private static void Begin(Room room, int index, ref RoomDataMemory d)
    {
        d = new RoomDataMemory { Begun = true, SinceSampleS = -(index % 10), LastC = double.NaN };
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
        var (coil, known) = CoilW(scan, room, m, reading.Value, since, ref d.StemShare);
        var surface = m.SurfaceOutputW * (m.Heats ? -1 : 1);
        var opening = m.Stage == Stage.Opening || m.OpenForS > 0;
        var before = double.IsNaN(d.LastC) ? reading.Value : d.LastC;
        Follow(scan, room, ref d, coil, surface, (before + reading.Value) / 2, since, opening);
        d.LastC = reading.Value;
        Learning(scan, index, ref d, known && !opening && !RoomWatch.ByHand(scan, room));
        Watching.Sample(scan, room, index, ref d, since);
        if (!d.InPullDown || d.WindowForS < WindowS - 0.5)
            return;
        if (d.Learns)
            Equation(room, ref d, reading.Value);
        Window(ref d, reading.Value);
    }

    /// <summary>Filters of one sample, which run in every stage, and its integrals, which only a pull-down needs.</summary>
    private static void Follow(in Scan scan, Room room, ref RoomDataMemory d, double coilW, double surfaceW, double airC, double since, bool opening)
    {
        d.StoredC = d.StoredC == 0 ? airC : d.StoredC + (airC - d.StoredC) * since / (since + StoredS);
        // The coil's output as it was in the middle of the sample.
        d.MetalW += ((coilW + d.LastCoilW) / 2 - d.MetalW) * Share(since, MetalS);
        d.LastCoilW = coilW;
        var told = scan.House.Inputs[room.AirTemperature].Sensor.LagS;
        for (var g = 0; g < RoomDataMemory.Guesses; g++)
        {
            ref var guess = ref d.Lags[g];
            var share = Share(since, Shares[g] * told + scan.Settings.AirFilterS);
            guess.CoilW += (d.MetalW - guess.CoilW) * share;
            guess.SurfaceW += (surfaceW - guess.SurfaceW) * share;
            guess.Door = opening ? 1 : guess.Door * (1 - share);
        }
        if (d.InPullDown)
            Integrate(ref d, airC, since);
    }

    private static void Integrate(ref RoomDataMemory d, double airC, double since)
    {
        d.SumStored += (d.StoredC - airC) * since;
        d.WindowForS += since;
        for (var g = 0; g < RoomDataMemory.Guesses; g++)
        {
            ref var guess = ref d.Lags[g];
            guess.SumCoil += guess.CoilW * since;
            guess.SumSurface += guess.SurfaceW * since;
            guess.SumDoor += guess.Door * since;
        }
    }

    /// <summary>Share a first-order filter moves in a sample: 1 − e^−x by x/(1 + x/2), within 1.5 % of itself up to x = 0.45, without an exponential for every guess of every room.</summary>
    public static double Share(double since, double timeS) => since / (timeS + since / 2);

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
        var held = capacity * d.Capacity.Factor;
        for (var g = 0; g < RoomDataMemory.Guesses; g++)
        {
            ref var guess = ref d.Lags[g];
            x[0] = -guess.SumCoil / capacity / off;
            x[1] = d.SumStored / 100 / off;
            x[2] = LoadWPerM2 * floor * d.WindowForS / capacity / off;
            x[3] = guess.SumDoor / 60 / off;
            LeastSquares.Loosen(ref guess.Squares, 2, LoadWalk * LoadWalk);
            var y = (change + SurfaceToAir * guess.SumSurface / held) / off;
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

    /// <summary>
    /// Typed-in output of the coils by speed, the valve's stem and the water the supply sensor sees, W, negative in heating; and whether their water is known. By the sensor and not by
    /// what is expected: while the pipe still holds warm water a coil gives nothing. And while it holds cold water of the run before, the coil and its branch do not: a coil that is counted before its water has come looks
    /// weak, and the room's sensor slow.
    /// </summary>
    private static (double Watts, bool Known) CoilW(in Scan scan, Room room, in RoomMemory m, double airC, double since, ref double stemShare)
    {
        var sum = 0.0;
        var known = true;
        // The stems go their way at the actuators' pace, to and fro; those of a room are told alike.
        var (target, openingS) = (0.0, 0.0);
        foreach (var index in room.Coils)
        {
            var valve = scan.Memory.Coils[index].ValvePercent;
            (target, openingS) = (Math.Max(target, valve <= 0 ? 0 : Emitters.ShareOfValve(valve)), Math.Max(openingS, scan.House.Coils[index].OpeningTimeS));
        }
        var step = openingS > since ? since / openingS : 1;
        stemShare += Math.Clamp(target - stemShare, -step, step);
        foreach (var index in room.Coils)
        {
            ref readonly var c = ref scan.Memory.Coils[index];
            if (stemShare <= 0 || c.FanPercent <= 0)
                continue;
            var coil = scan.House.Coils[index];
            var loop = RoomCoils.LoopOf(coil, m.Heats);
            ref readonly var l = ref scan.Memory.Loops[loop];
            ref readonly var supply = ref scan.Reading(scan.House.Loops[loop].Supply);
            known &= !l.Pump.ToldUnproven && supply.Exists;
            if (l.PumpOn && supply.Exists && l.PumpForS >= BranchShare * scan.House.Loops[loop].Settings.LagS)
                sum += RoomCoils.FullWith(scan, room, coil, airC, supply.Value, m.Heats) * c.FanShare * stemShare;
        }
        return (m.Heats ? -sum : sum, known);
    }

    /// <summary>Share of a loop's lag that is its branches, behind the supply sensor (project choice: a manifold stands half way).</summary>
    private const double BranchShare = 0.5;
}

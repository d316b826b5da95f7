// Section 2, rule 7: wrong data must not be worse than none. Each pull-down is foreseen at its beginning, once with what was measured and once with what is typed in; whoever foresees worse is not used. Never changes what
// was measured: it only says whether to believe it.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.RoomData;

/// <summary>Foreseen against what came.</summary>
internal static class Watching
{
    /// <summary>The load is a mean of so much time held, and is believed after half of it, s.</summary>
    private const double LoadOverS = 1800;

    /// <summary>Between two points of the picture, s.</summary>
    private const double PointS = 60;

    /// <summary>A pull-down that fell by less says nothing, K.</summary>
    private const double LeastFallK = 0.8;

    /// <summary>Weight of a pull-down in the mean of misses.</summary>
    private const double Newest = 0.5;

    /// <summary>Dropped when the data's miss is over what is typed in by so large a share, and so many parts of the fall besides; used again under it (project choice).</summary>
    private const double WorseBy = 1.15, WorseAtLeast = 0.04;

    /// <summary>
    /// Data that were never better than what is typed in say nothing of a change in the room: they are not believed, and nobody is warned. A warning takes data that have stood so many pull-downs. In healthy closed rooms what is
    /// typed in foresees the end of a pull-down better as often as not, for its too strong coil makes up for walls that give more than one mean of 25 min.
    /// </summary>
    private const int WarnsFrom = 4;

    /// <summary>A change of coil or capacity over so much, in logarithms, is told again.</summary>
    private const double ToldAgainLog = 0.15;

    /// <summary>Every ten seconds.</summary>
    public static void Sample(in Scan scan, Room room, int index, ref RoomDataMemory d, double since)
    {
        ref readonly var m = ref scan.Memory.Rooms[index];
        var held = m.Stage is Stage.CoilHelps or Stage.CoilHold or Stage.RadiantHold && !d.InPullDown && m.OpenForS <= 0;
        if (held)
            Load(room, ref d, since);
        var pulls = d.Learns && m.Stage is Stage.PullDown or Stage.WarmUp or Stage.EasingOff;
        if (!d.Now.Runs)
        {
            if (pulls && d.Now.Count == 0 && m.Stage != Stage.EasingOff && m.StageForS >= Math.Max(60, Told(scan, room)) && d.HeldForS >= LoadOverS / 2)
                Begin(scan, room, ref d);
            return;
        }
        if (!pulls)
        {
            d.Now.Runs = false;
            return;
        }
        ref var n = ref d.Now;
        Foresee(scan, room, d, Data(d), since, n.DataLoadKPerS, ref n.DataAirC, ref n.DataSensorC);
        Foresee(scan, room, d, TypedIn, since, n.TypedLoadKPerS, ref n.TypedAirC, ref n.TypedSensorC);
        n.SinceS += since;
        if (n.SinceS >= PointS - 0.5 && n.Count < Foreseen.Most)
            Point(ref d);
    }

    /// <summary>Coil over capacity and lag as factors of what is typed in; walls over capacity, 1/(100 s).</summary>
    private readonly record struct Model(double Ratio, double Walls, double Lag);

    private static Model TypedIn => new(1, Measuring.WallsPer100S, 1);

    private static Model Data(in RoomDataMemory d) => d.PullDowns == 0 ? TypedIn : new Model(d.NowRatio, d.NowWalls, d.NowLag);

    private static double Told(in Scan scan, Room room) => scan.House.Inputs[room.AirTemperature].Sensor.LagS;

    /// <summary>What the room takes in besides coil and surface, K/s, as each believes.</summary>
    private static void Load(Room room, ref RoomDataMemory d, double since)
    {
        var share = Measuring.Share(since, LoadOverS);
        d.Now.DataLoadKPerS += (-Cooling(room, d, Data(d), d.LastC) - d.Now.DataLoadKPerS) * share;
        d.Now.TypedLoadKPerS += (-Cooling(room, d, TypedIn, d.LastC) - d.Now.TypedLoadKPerS) * share;
        d.HeldForS = Math.Min(86_400, d.HeldForS + since);
    }

    /// <summary>Rate of the air without its load, K/s.</summary>
    private static double Cooling(Room room, in RoomDataMemory d, in Model by, double airC)
    {
        var capacity = Measuring.Capacity(room);
        return (-by.Ratio * d.MetalW - Measuring.SurfaceToAir * d.Lags[0].SurfaceW) / capacity + by.Walls / 100 * (d.StoredC - airC);
    }

    private static void Begin(in Scan scan, Room room, ref RoomDataMemory d)
    {
        ref var n = ref d.Now;
        var slope = scan.Memory.Inputs[room.AirTemperature].SlopePerS;
        (n.Runs, n.FromC, n.DataSensorC, n.TypedSensorC, n.EveryS) = (true, d.LastC, d.LastC, d.LastC, PointS);
        n.DataAirC = d.LastC + slope * Told(scan, room) * Data(d).Lag;
        n.TypedAirC = d.LastC + slope * Told(scan, room);
        Point(ref d);
    }

    private static void Foresee(in Scan scan, Room room, in RoomDataMemory d, in Model by, double since, double load, ref double airC, ref double sensorC)
    {
        airC += since * (Cooling(room, d, by, airC) + load);
        sensorC += (airC - sensorC) * Measuring.Share(since, Told(scan, room) * by.Lag + scan.Settings.AirFilterS);
    }

    private static void Point(ref RoomDataMemory d)
    {
        ref var n = ref d.Now;
        (n.Came[n.Count], n.ByData[n.Count], n.ByTyped[n.Count]) = ((float)d.LastC, (float)n.DataSensorC, (float)n.TypedSensorC);
        n.Count++;
        n.SinceS = 0;
    }

    /// <summary>A pull-down that taught something is over: how well was it foreseen?</summary>
    public static void Over(in Scan scan, int index, ref RoomDataMemory d)
    {
        Verdict(scan, index, ref d);
        var (load, typedLoad) = (d.Now.DataLoadKPerS, d.Now.TypedLoadKPerS);
        if (d.Now.Count > 2)
            d.Last = d.Now;
        d.Now = new Foreseen { DataLoadKPerS = load, TypedLoadKPerS = typedLoad };
        d.HeldForS = 0;
        // Measured anew and found the same is no news.
        var first = d.ToldCoilLog == 0 && d.ToldCapacityLog == 0;
        if (d.PullDowns >= ToldAfter && (first || Math.Max(Math.Abs(d.Coil.Log - d.ToldCoilLog), Math.Abs(d.Capacity.Log - d.ToldCapacityLog)) > ToldAgainLog))
        {
            (d.ToldCoilLog, d.ToldCapacityLog) = (d.Coil.Log, d.Capacity.Log);
            scan.Happened(SequenceEvents.RoomMeasured, Owner.Room, index, Reason.Of(Cause.None, 100 * d.Coil.Factor, 100 * d.Capacity.Factor));
        }
    }

    /// <summary>Told after so many pull-downs.</summary>
    private const int ToldAfter = 3;

    private static void Verdict(in Scan scan, int index, ref RoomDataMemory d)
    {
        ref readonly var n = ref d.Now;
        var last = n.Count - 1;
        if (last < 2 || d.PullDowns <= RoomDataUse.FromPullDowns)
            return;
        var fell = Math.Abs(n.FromC - n.Came[last]);
        if (fell < LeastFallK)
            return;
        Square(ref d.DataMiss, Math.Abs(n.ByData[last] - n.Came[last]) / fell, d.Watched);
        Square(ref d.TypedMiss, Math.Abs(n.ByTyped[last] - n.Came[last]) / fell, d.Watched);
        d.Watched++;
        if (d.Watched < 2)
            return;   // one pull-down is chance
        var worse = Math.Sqrt(d.DataMiss) > Math.Sqrt(d.TypedMiss) * WorseBy + WorseAtLeast;
        if (worse == d.Dropped || (d.Dropped && d.DataMiss > d.TypedMiss))
            return;
        d.Dropped = worse;
        if (!worse || d.Watched >= WarnsFrom)
            scan.Happened(worse ? SequenceEvents.RoomDataDropped : SequenceEvents.RoomDataUsed, Owner.Room, index, Reason.Of(Cause.None, 100 * Math.Sqrt(d.DataMiss), 100 * Math.Sqrt(d.TypedMiss)));
        if (worse)
            Measuring.Anew(ref d);
    }

    private static void Square(ref double mean, double miss, int times) => mean += (miss * miss - mean) * (times == 0 ? 1 : Newest);
}

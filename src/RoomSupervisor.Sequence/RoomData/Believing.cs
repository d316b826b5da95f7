// Section 2, rule 7: from what the guesses say to what is believed of the room. A thermometer alone tells how strong the coil is for the room's capacity, not either of them: the typed-in output (four tenths off) and the
// air over the floor (an eighth off) share what is left between them. Never leaves the bounds.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.RoomData;

/// <summary>What is believed, and how sure it is.</summary>
internal static class Believing
{
    /// <summary>One deviation of what is typed in, in logarithms: a coil's output (dirt, air in the pipe, wet air), the air over a floor of unknown height, walls, a sensor's lag (project choice).</summary>
    public const double CoilOff = 0.4, CapacityOff = 0.12, WallsOff = 0.35, LagOff = 1;

    /// <summary>
    /// The same of the lag while the coil is asked for: told within a third (section 10), 0.2. A sensor taken for slower and a coil taken for stronger foresee almost alike, so a coil asked for together with a lag that nobody
    /// told comes out as far off as the lag: a fifth too strong in the virtual house, where metal and pipes make the coil late.
    /// </summary>
    private const double LagToldOff = 0.2;

    /// <summary>What a coil in its place usually gives of its rating, as a logarithm (0.85: filter, dust, and air wetter than the rating's, whose drying takes from its cooling; common practice, no published source).</summary>
    private const double CoilUsualLog = -0.16251892949777494;

    /// <summary>Bounds of each as a factor: a third to three times; a sensor's lag a quarter to four times.</summary>
    private const double MostLog = 1.0986122886681098, MostLagLog = 1.3862943611198906;

    /// <summary>The balance itself is off by so much whatever the squares say, in logarithms (project choice).</summary>
    private const double BalanceOff = 0.08;

    /// <summary>A pull-down with fewer equations teaches nothing.</summary>
    public const int LeastWindows = 10;

    public static void Begin(ref RoomDataMemory d)
    {
        d.Coil = new Measured { Deviation = CoilOff };
        d.Capacity = new Measured { Deviation = CapacityOff };
        d.Walls = new Measured { Deviation = WallsOff };
        d.Lag = new Measured { Deviation = LagOff };
        d.Ratio = new Measured { Deviation = 0.4 };
        (d.NowRatio, d.NowWalls, d.NowLag) = (1, Measuring.WallsPer100S, 1);
    }

    /// <summary>A pull-down is over.</summary>
    public static void Over(in Scan scan, int index, ref RoomDataMemory d)
    {
        if (d.Windows < LeastWindows)
            return;
        if (d.PullDowns == 0)
            d.SinceFirstS = 0;
        (d.PullDowns, d.SinceLastS) = (d.PullDowns + 1, 0);
        if (HasChanged(ref d, out var times))
        {
            scan.Happened(SequenceEvents.RoomChanged, Owner.Room, index, Reason.Of(Cause.None, times));
            Measuring.Anew(ref d);
        }
        else
            Believe(ref d);
        Watching.Over(scan, index, ref d);
    }

    /// <summary>A pull-down whose windows even the best guess foresaw much worse than usual speaks of a room that has changed.</summary>
    private static bool HasChanged(ref RoomDataMemory d, out double times)
    {
        var best = double.PositiveInfinity;
        for (var g = 0; g < RoomDataMemory.Guesses; g++)
            best = Math.Min(best, d.Lags[g].PullMisses / d.Windows);
        times = d.UsualMiss > 0 ? Math.Sqrt(best / d.UsualMiss) : 1;
        d.UsualMiss = d.PullDowns == 1 ? best : d.UsualMiss + 0.3 * (best - d.UsualMiss);
        return d.PullDowns > KnownAfter && times * times > ChangedOver;
    }

    /// <summary>What is usual is known after so many pull-downs.</summary>
    private const int KnownAfter = 4;

    /// <summary>So many times the usual mean square (project choice).</summary>
    private const double ChangedOver = 3;

    /// <summary>Weighs the guesses by what they foresaw and the lag's prior, a narrow one for the ratio, and shares the ratio between coil and capacity.</summary>
    private static void Believe(ref RoomDataMemory d)
    {
        Span<double> weights = stackalloc double[RoomDataMemory.Guesses], told = stackalloc double[RoomDataMemory.Guesses];
        Weigh(d, LagOff, weights);
        Weigh(d, LagToldOff, told);
        double lag = 0, lagSquare = 0, ratio = 0, ratioSquare = 0, walls = 0, foresees = 0;
        for (var g = 0; g < RoomDataMemory.Guesses; g++)
        {
            ref readonly var squares = ref d.Lags[g].Squares;
            var one = Math.Clamp(squares.At[0], 0.25, 4);
            var log = Math.Log(one);
            var off = LeastSquares.Deviation(squares, 0) / one;
            lag += weights[g] * Measuring.Logs[g];
            lagSquare += weights[g] * Measuring.Logs[g] * Measuring.Logs[g];
            ratio += told[g] * log;
            ratioSquare += told[g] * (log * log + off * off);
            foresees += weights[g] * log;
            walls += weights[g] * Math.Log(Math.Clamp(squares.At[1], 0.1, 1.5) / Measuring.WallsPer100S);
        }
        d.Lag = new Measured { Log = Math.Clamp(lag, -MostLagLog, MostLagLog), Deviation = Math.Sqrt(Math.Max(0, lagSquare - lag * lag) + 0.15 * 0.15) };
        var ratioVariance = Math.Max(0, ratioSquare - ratio * ratio) + BalanceOff * BalanceOff;
        d.Ratio = new Measured { Log = ratio, Deviation = Math.Sqrt(ratioVariance) };
        var (coil, capacity) = (CoilOff * CoilOff, CapacityOff * CapacityOff);
        var all = coil + capacity + ratioVariance;
        var apart = ratio - CoilUsualLog;
        d.Coil = new Measured { Log = Math.Clamp(CoilUsualLog + apart * coil / all, -MostLog, MostLog), Deviation = Math.Sqrt(coil - coil * coil / all) };
        d.Capacity = new Measured { Log = Math.Clamp(-apart * capacity / all, -MostLog, MostLog), Deviation = Math.Sqrt(capacity - capacity * capacity / all) };
        d.Walls = new Measured { Log = Math.Clamp(walls + d.Capacity.Log, -MostLog, MostLog), Deviation = 0.25 };
        // The watch foresees with what belongs together: the lag, coil and walls of the guesses that foresaw best.
        (d.NowRatio, d.NowWalls, d.NowLag) = (Math.Exp(foresees), Measuring.WallsPer100S * Math.Exp(d.Walls.Log - d.Capacity.Log), d.Lag.Factor);
    }

    private static void Weigh(in RoomDataMemory d, double lagOff, Span<double> weights)
    {
        var least = double.PositiveInfinity;
        for (var g = 0; g < weights.Length; g++)
        {
            weights[g] = d.Lags[g].Misses + Measuring.Logs[g] * Measuring.Logs[g] / (lagOff * lagOff);
            least = Math.Min(least, weights[g]);
        }
        var sum = 0.0;
        for (var g = 0; g < weights.Length; g++)
            sum += weights[g] = Math.Exp(-(weights[g] - least) / 2);
        for (var g = 0; g < weights.Length; g++)
            weights[g] /= sum;
    }
}

// What is remembered of the measuring of one room (section 2, rule 7). Plain and packed like the rest of the memory; written by the files of this folder only.
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace RoomSupervisor.Sequence;

/// <summary>A measured value: natural logarithm of its ratio to what is typed in, and one standard deviation of that; 0 and the prior's deviation: nothing measured.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct Measured
{
    public double Log;
    public double Deviation;

    /// <summary>Times what is typed in.</summary>
    public readonly double Factor => Math.Exp(Log);

    /// <summary>The lower and the upper end, one deviation away.</summary>
    public readonly double Low => Math.Exp(Log - Deviation);

    public readonly double High => Math.Exp(Log + Deviation);
}

/// <summary>Recursive least squares of four parameters: the estimate, the upper half of its covariance (row by row), in units of the noise.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct FourSquares
{
    public Four At;
    public Ten Cover;

    [InlineArray(4)]
    public struct Four
    {
        private double first;
    }

    [InlineArray(10)]
    public struct Ten
    {
        private double first;
    }
}

/// <summary>One guess at the sensor's lag: what the room would be if it were right, and how badly it has foreseen.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct LagGuess
{
    public FourSquares Squares;
    /// <summary>Coil and surfaces as late as this lag makes the sensor, W.</summary>
    public double CoilW, SurfaceW;
    /// <summary>What a door leaves of itself in the sensor, 1 when it shuts.</summary>
    public double Door;
    /// <summary>Integrals over the window under way.</summary>
    public double SumCoil, SumSurface, SumDoor;
    /// <summary>Forgetting sum of what it foresaw wrongly.</summary>
    public double Misses;
    /// <summary>The same of this pull-down alone, a mean of squares once divided by its equations.</summary>
    public double PullMisses;
}

/// <summary>A pull-down as it was foreseen at its beginning and as it came.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct Foreseen
{
    /// <summary>Points of the picture, one a minute at most.</summary>
    public const int Most = 40;

    public int Count;
    /// <summary>Between two points, s.</summary>
    public double EveryS;
    public double SinceS;
    public Points Came, ByData, ByTyped;
    /// <summary>Air and sensor of the two predictions that are under way, °C, and the load each believes, K/s.</summary>
    public double DataAirC, DataSensorC, TypedAirC, TypedSensorC, DataLoadKPerS, TypedLoadKPerS;
    public bool Runs;
    public double FromC;

    [InlineArray(Most)]
    public struct Points
    {
        private float first;
    }
}

/// <summary>Everything measured of one room.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct RoomDataMemory
{
    /// <summary>
    /// Version of this layout alone: measured data outlive the rest of a memory. What is added at the end leaves it as it is: an older file has nothing there, and an older program leaves it out. Raise it by one with any
    /// other change.
    /// </summary>
    public const int Version = 2;

    /// <summary>Guesses at the lag: shares of what is typed in.</summary>
    public const int Guesses = 5;

    public bool Begun;
    public double SinceSampleS, WindowForS, LastC, WindowFromC, StoredC, SumStored, MetalW, LastCoilW;
    public Bank Lags;
    public bool Learns, InPullDown;
    public double HeldForS, LearnedForS;
    public int Windows;
    /// <summary>Pull-downs that taught something since the room was measured anew.</summary>
    public int PullDowns;
    /// <summary>How long ago the first and the last of them were, s.</summary>
    public double SinceFirstS, SinceLastS;
    public Measured Coil, Capacity, Walls, Lag, Ratio;
    /// <summary>The same as factors, worked out once a pull-down: coil over capacity, walls over capacity in 1/(100 s), lag.</summary>
    public double NowRatio, NowWalls, NowLag;
    /// <summary>Output that the stems of its coils' valves let through by now, as a share of the open ones', 0–1.</summary>
    public double StemShare;
    /// <summary>Loss to outdoors by nights in which the room was heated: normal equations and what they say.</summary>
    public LossMemory Loss;
    /// <summary>Watch: how far off the pull-downs were foreseen with the data and with what is typed in, as shares of the fall (forgetting means of squares).</summary>
    public double DataMiss, TypedMiss;
    public int Watched;
    /// <summary>How badly the best guess usually foresees the windows of a pull-down (mean of squares).</summary>
    public double UsualMiss;
    /// <summary>True while the data are not used because they foresee worse than what is typed in.</summary>
    public bool Dropped;
    /// <summary>What was told last of coil and capacity.</summary>
    public double ToldCoilLog, ToldCapacityLog;
    public Foreseen Now, Last;
    /// <summary>What starts ahead of a weekly period have taught, in cooling and in heating.</summary>
    public EarlyLearned EarlyCooling, EarlyHeating;

    [InlineArray(Guesses)]
    public struct Bank
    {
        private LagGuess first;
    }
}

/// <summary>Loss coefficient by least squares: watts = loss × difference − gains.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct LossMemory
{
    public double ForS, SumW, SumK, FirstC;
    public double LossWPerK, GainsW, PLL, PLG, PGG;
    public int Hours;
    public readonly double DeviationWPerK => Math.Sqrt(Math.Max(0, PLL));
}

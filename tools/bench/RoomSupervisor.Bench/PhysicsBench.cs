// The functions the control loop and the virtual house call most, against one logarithm and one exponential.
// Must never measure a constant: each call takes another of a thousand seeded states.
using BenchmarkDotNet.Attributes;
using RoomSupervisor.Physics;

namespace RoomSupervisor.Bench;

/// <summary>Limits: dew point at most 4 times, wet bulb at most 12 times the baseline; wet coil at most 1 µs; nothing allocated.</summary>
[MemoryDiagnoser]
public class PhysicsBench
{
    private const int Count = 1000;

    private readonly double[] _dryBulb = new double[Count];
    private readonly double[] _humidity = new double[Count];
    private readonly CoilInput[] _wet = new CoilInput[Count];
    private readonly CoilInput[] _partWet = new CoilInput[Count];

    /// <summary>A thousand states of a house's air, seeded.</summary>
    [GlobalSetup]
    public void Setup()
    {
#pragma warning disable CA5394 // a seeded sequence is what a benchmark needs
        Random random = new(20260101);
        for (int i = 0; i < Count; i++)
        {
            _dryBulb[i] = 5 + 35 * random.NextDouble();
            _humidity[i] = 15 + 80 * random.NextDouble();
            _wet[i] = Input(26 + 3 * random.NextDouble(), 50 + 20 * random.NextDouble(), 6 + 3 * random.NextDouble());
            _partWet[i] = Input(26, 52, 13.3 + 0.8 * random.NextDouble());
        }
#pragma warning restore CA5394
    }

    private static CoilInput Input(double dryBulb, double humidity, double water)
    {
        if (!AirState.TryFromRelativeHumidity(dryBulb, humidity, 101325, out AirState air, out Impossible why))
            throw new InvalidOperationException(why.ToString());
        return new CoilInput(air, 0.1, water, 0.124, 4.19);
    }

    /// <summary>The yardstick.</summary>
    [Benchmark(Baseline = true, OperationsPerInvoke = Count)]
    public double LogAndExp()
    {
        double sum = 0;
        for (int i = 0; i < Count; i++) sum += Math.Log(_humidity[i]) + Math.Exp(_dryBulb[i] * 0.01);
        return sum;
    }

    /// <summary>Dew point.</summary>
    [Benchmark(OperationsPerInvoke = Count)]
    public double DewPoint()
    {
        double sum = 0;
        for (int i = 0; i < Count; i++)
            if (MoistAir.TryDewPoint(_dryBulb[i], _humidity[i], out double result, out _)) sum += result;
        return sum;
    }

    /// <summary>Wet bulb.</summary>
    [Benchmark(OperationsPerInvoke = Count)]
    public double WetBulb()
    {
        double sum = 0;
        for (int i = 0; i < Count; i++)
            if (MoistAir.TryWetBulb(_dryBulb[i], _humidity[i], 101325, out double result, out _)) sum += result;
        return sum;
    }

    /// <summary>A whole state.</summary>
    [Benchmark(OperationsPerInvoke = Count)]
    public double State()
    {
        double sum = 0;
        for (int i = 0; i < Count; i++)
            if (AirState.TryFromRelativeHumidity(_dryBulb[i], _humidity[i], 101325, out AirState result, out _)) sum += result.EnthalpyKJPerKg;
        return sum;
    }

    /// <summary>A coil that is wet all over.</summary>
    [Benchmark(OperationsPerInvoke = Count)]
    public double WetCoil() => Solve(_wet);

    /// <summary>A coil around the border of dry and wet.</summary>
    [Benchmark(OperationsPerInvoke = Count)]
    public double PartWetCoil() => Solve(_partWet);

    private static double Solve(CoilInput[] inputs)
    {
        double sum = 0;
        CoilConductances coil = new(300, 600);
        for (int i = 0; i < Count; i++)
            if (Coil.TrySolve(inputs[i], coil, out CoilResult result, out _)) sum += result.TotalW;
        return sum;
    }
}

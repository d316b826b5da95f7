// Flows through circuits in parallel behind one pump.
// Must never give a circuit its flow whatever the others do: they share one pump.
namespace RoomSupervisor.VirtualHouse;

/// <summary>What a pump and its circuits are.</summary>
/// <param name="ShutHeadPa">Head at full speed without flow, 1,000…200,000 Pa.</param>
/// <param name="FreeFlowKgPerS">Flow at full speed without head, kg/s: the curve is H = H0·(s² − (m/m0)²).</param>
/// <param name="CommonPa">Loss in the common path at its rated flow, Pa.</param>
/// <param name="CommonKgPerS">That rated flow, kg/s.</param>
public sealed record PumpPlan(double ShutHeadPa, double FreeFlowKgPerS, double CommonPa, double CommonKgPerS)
{
    /// <summary>Time constant of starting and stopping, s.</summary>
    public double LagS { get; init; } = 2;

    /// <summary>Electrical power at full speed, W.</summary>
    public double FullPowerW { get; init; } = 45;

    /// <summary>Power of the electronics while it runs, W.</summary>
    public double ElectronicsW { get; init; } = 3;
}

/// <summary>One circuit behind the pump.</summary>
/// <param name="RatedKgPerS">Flow with its valve open at the rated loss, kg/s.</param>
/// <param name="RatedPa">That loss, Pa.</param>
/// <param name="Authority">Part of it in the open valve, 0.05…0.95.</param>
public readonly record struct CircuitPlan(double RatedKgPerS, double RatedPa, double Authority);

/// <summary>A pump and its circuits. Losses go with the square of flow, heads with the square of speed (textbook); solved in closed form.</summary>
public sealed class Circuits
{
    private readonly PumpPlan _pump;
    private readonly CircuitPlan[] _circuits;
    private readonly double _approach;

    /// <summary>A pump at rest.</summary>
    /// <param name="pump">The pump.</param>
    /// <param name="circuits">Its circuits.</param>
    /// <param name="stepS">Step, s.</param>
    public Circuits(PumpPlan pump, CircuitPlan[] circuits, double stepS)
    {
        ArgumentNullException.ThrowIfNull(pump);
        ArgumentNullException.ThrowIfNull(circuits);
        PlanChecks.Demand("pump's head", pump.ShutHeadPa, 1000, 200_000, "Pa");
        PlanChecks.Demand("pump's free flow", pump.FreeFlowKgPerS, 1e-3, 50, "kg/s");
        foreach (CircuitPlan circuit in circuits)
        {
            PlanChecks.Demand("circuit's rated flow", circuit.RatedKgPerS, 1e-4, 20, "kg/s");
            PlanChecks.Demand("circuit's rated loss", circuit.RatedPa, 100, 100_000, "Pa");
            PlanChecks.Demand("valve's authority", circuit.Authority, 0.05, 0.95, "");
        }

        (_pump, _circuits) = (pump, circuits);
        _approach = Matter.Approach(stepS, pump.LagS);
        FlowKgPerS = new double[circuits.Length];
    }

    /// <summary>State: speed, share of full.</summary>
    public double[] State { get; } = new double[1];

    /// <summary>Fault: the pump is seized.</summary>
    public bool Seized { get; set; }

    /// <summary>Fault: share of the flow that air in the pipes takes, 0…1.</summary>
    public double AirLock { get; set; }

    /// <summary>Flow of each circuit, kg/s.</summary>
    public double[] FlowKgPerS { get; }

    /// <summary>Flow of all, kg/s.</summary>
    public double TotalKgPerS { get; private set; }

    /// <summary>Electrical power, W.</summary>
    public double PowerW { get; private set; }

    /// <summary>Turns fast enough for its proof.</summary>
    public bool Proof => State[0] > 0.1;

    /// <summary>One step.</summary>
    /// <param name="speed">Commanded, 0…1.</param>
    /// <param name="open">Open share of each circuit's valve, 0…1.</param>
    public void Step(double speed, ReadOnlySpan<double> open)
    {
        double target = Seized ? 0 : Math.Clamp(speed, 0, 1);
        State[0] += (target - State[0]) * _approach;
        if (target == 0 && State[0] < 1e-3) State[0] = 0;
        double conductance = 0;
        for (int i = 0; i < _circuits.Length; i++)
        {
            FlowKgPerS[i] = Conductance(_circuits[i], open[i]);
            conductance += FlowKgPerS[i];
        }

        TotalKgPerS = 0;
        if (conductance > 0 && State[0] > 0)
        {
            double own = _pump.ShutHeadPa / (_pump.FreeFlowKgPerS * _pump.FreeFlowKgPerS);
            double common = _pump.CommonPa / (_pump.CommonKgPerS * _pump.CommonKgPerS);
            TotalKgPerS = (1 - AirLock) * State[0] * Math.Sqrt(_pump.ShutHeadPa / (own + common + 1 / (conductance * conductance)));
        }

        for (int i = 0; i < _circuits.Length; i++) FlowKgPerS[i] *= conductance > 0 ? TotalKgPerS / conductance : 0;
        double s = State[0];
        PowerW = target > 0 || s > 0 ? _pump.ElectronicsW + (_pump.FullPowerW - _pump.ElectronicsW) * s * s * s : 0;
    }

    // kg/(s·√Pa): the circuit's own resistance in series with its valve's.
    private static double Conductance(in CircuitPlan circuit, double open)
    {
        if (open <= 1e-6) return 0;
        return circuit.RatedKgPerS / Math.Sqrt(circuit.RatedPa * (1 - circuit.Authority + circuit.Authority / (open * open)));
    }
}

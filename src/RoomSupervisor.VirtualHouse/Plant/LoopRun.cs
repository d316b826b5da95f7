// One loop that runs: mixing valve, pump, pipes, circuits, return.
// Must never lose heat between its parts: each stream is booked at the temperature it had when it left.
namespace RoomSupervisor.VirtualHouse;

/// <summary>A loop, stepped by <see cref="PlantModel"/>.</summary>
public sealed class LoopRun
{

    private readonly LoopPlan _plan;
    private readonly BuildingModel _building;
    private readonly Pipe _supply;
    private readonly Pipe[] _pipes;
    private readonly double[] _open, _in;
    private readonly double _stepS, _returnKg;
    private double _share;

    internal LoopRun(LoopPlan plan, double startC, BuildingModel building)
    {
        foreach (LoopCircuitPlan circuit in plan.Circuits)
        {
            if (circuit.Surface >= 0 == circuit.FanCoil >= 0) throw new ArgumentException("A circuit runs through one surface or one fan coil.");
            if (circuit.Surface >= 0 && building.Plan.Surfaces[circuit.Surface].Water is null)
                throw new ArgumentException($"{building.Plan.Surfaces[circuit.Surface].Name}: a circuit runs through it, but it has no pipes.");
        }

        (_plan, _building, _stepS) = (plan, building, building.StepS);
        Circuits = new Circuits(plan.Pump, [.. plan.Circuits.Select(c => c.Flow)], _stepS);
        Mixing = new Valve(plan.Mixing, _stepS);
        Valves = [.. plan.Circuits.Select(c => new Valve(c.Valve, _stepS))];
        _supply = new Pipe(plan.Supply, startC, _stepS);
        _pipes = [.. plan.Circuits.Select(c => new Pipe(c.Pipe, startC, _stepS))];
        (_open, _in) = (new double[_pipes.Length], new double[_pipes.Length]);
        ValveCommand = new double[_pipes.Length];
        // The water on its way back, one mixed volume, never shorter than a few steps of full flow.
        _returnKg = Math.Max(3, 4 * plan.Pump.FreeFlowKgPerS * _stepS);
        Return = [startC, startC];
    }

    /// <summary>Pump and flows; faults are set here.</summary>
    public Circuits Circuits { get; }

    /// <summary>Mixing valve; faults are set here.</summary>
    public Valve Mixing { get; }

    /// <summary>Circuits' valves; faults are set here.</summary>
    public IReadOnlyList<Valve> Valves { get; }

    /// <summary>Pipes from the manifold.</summary>
    public IReadOnlyList<Pipe> Pipes => _pipes;

    /// <summary>Supply pipe.</summary>
    public Pipe Supply => _supply;

    /// <summary>Fault: no electricity. Pumps stop, motors stay, wax grows cold.</summary>
    public bool Powerless { get; set; }

    /// <summary>Command: pump's speed, 0…1.</summary>
    public double PumpCommand { get; set; }

    /// <summary>Command: mixing valve, 0 for full recirculation … 1.</summary>
    public double MixingCommand { get; set; }

    /// <summary>Command by circuit, 0…1.</summary>
    public double[] ValveCommand { get; }

    /// <summary>State: water coming back and water at the supply probe, °C.</summary>
    public double[] Return { get; }

    /// <summary>Water behind the mixing valve, °C.</summary>
    public double MixedC => Return[1];

    /// <summary>Water at the manifold, °C.</summary>
    public double SupplyC => _supply.OutC;

    /// <summary>Water coming back, °C.</summary>
    public double ReturnC => Return[0];

    /// <summary>Sensible heat its pipes took from their room in the last step, W.</summary>
    public double GainW { get; private set; }

    /// <summary>Vapour its pipes took, kg/s.</summary>
    public double VapourKgPerS { get; private set; }

    internal double PipeHeatW { get; private set; }

    internal double SurfaceW { get; private set; }

    internal void GoOut(double primaryC, double[] coilIn, double[] coilFlow)
    {
        for (int i = 0; i < _open.Length; i++)
        {
            if (!Powerless || _plan.Circuits[i].Valve.Kind == ActuatorKind.Wax) Valves[i].Step(Powerless ? 0 : ValveCommand[i]);
            _open[i] = Valves[i].Open;
        }

        if (!Powerless) Mixing.Step(MixingCommand);
        Circuits.Step(Powerless ? 0 : PumpCommand, _open);
        _share = _plan.Mixed ? Mixing.Open : 1;
        double mixed = _share * primaryC + (1 - _share) * Return[0];
        Return[1] = mixed;
        double air = _building.AirC[_plan.ManifoldRoom], ratio = _building.HumidityRatio[_plan.ManifoldRoom], pressure = _building.Plan.PressurePa;
        PipeHeatW = _supply.VapourW;
        _supply.Step(mixed, Circuits.TotalKgPerS, air, ratio, pressure);
        (GainW, VapourKgPerS) = (_supply.GainW, _supply.VapourKgPerS);
        for (int i = 0; i < _pipes.Length; i++)
        {
            double flow = Circuits.FlowKgPerS[i];
            PipeHeatW += _pipes[i].VapourW;
            _pipes[i].Step(_supply.OutC, flow, air, ratio, pressure);
            GainW += _pipes[i].GainW;
            VapourKgPerS += _pipes[i].VapourKgPerS;
            _in[i] = _pipes[i].OutC;
            LoopCircuitPlan plan = _plan.Circuits[i];
            if (plan.Surface >= 0) (_building.WaterInC[plan.Surface], _building.WaterKgPerS[plan.Surface]) = (_in[i], flow);
            else (coilIn[plan.FanCoil], coilFlow[plan.FanCoil]) = (_in[i], flow);
        }

        PipeHeatW += GainW;
    }

    internal void ComeBack(CoilUnit[] coils, ref double load, ref double back)
    {
        double total = Circuits.TotalKgPerS, heat = 0;
        SurfaceW = 0;
        for (int i = 0; i < _pipes.Length; i++)
        {
            double flow = Circuits.FlowKgPerS[i];
            LoopCircuitPlan plan = _plan.Circuits[i];
            double given = plan.Surface >= 0 ? -_building.WaterW[plan.Surface] : coils[plan.FanCoil].WaterW;
            if (plan.Surface >= 0) SurfaceW += _building.WaterW[plan.Surface];
            heat += flow * _in[i] + given / Matter.WaterJPerKgK;
        }

        load += _share * total;
        back += _share * total * Return[0];
        Return[0] += (heat - total * Return[0]) * _stepS / _returnKg;
    }

    internal double StoredJ()
    {
        double sum = _supply.StoredJ() + _returnKg * Matter.WaterJPerKgK * Return[0];
        foreach (Pipe pipe in _pipes) sum += pipe.StoredJ();
        return sum;
    }

    internal double FilmKg()
    {
        double sum = _supply.FilmKg;
        foreach (Pipe pipe in _pipes) sum += pipe.FilmKg;
        return sum;
    }

    internal IEnumerable<double[]> States()
    {
        yield return Return;
        yield return Circuits.State;
        yield return Mixing.State;
        yield return _supply.State;
        foreach (Pipe pipe in _pipes) yield return pipe.State;
        foreach (Valve valve in Valves) yield return valve.State;
    }
}

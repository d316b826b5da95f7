// The heat pump as the house meets it: called with a set point, it does the rest by its own rules.
// Must never obey at once or below its least output: it ramps, cycles, defrosts and makes hot water when it wants to.
using RoomSupervisor.Physics;

namespace RoomSupervisor.VirtualHouse;

/// <summary>What a machine is. Numbers without a source are common practice.</summary>
/// <param name="CoolingW">Cold at 35 °C outdoors and 18 °C leaving water, 500…100,000 W.</param>
/// <param name="HeatingW">Heat at 7 °C outdoors and 35 °C leaving water, 500…100,000 W.</param>
/// <param name="LeastShare">Least output it can hold, share of the full one, 0.1…1.</param>
public sealed record MachinePlan(double CoolingW, double HeatingW, double LeastShare)
{
    /// <summary>A boiler's heat for each unit of fuel, 0.5…1.1; NaN for a heat pump or chiller. Fuel and electricity are counted apart.</summary>
    public double BoilerEfficiency { get; init; } = double.NaN;

    /// <summary>It burns fuel.</summary>
    public bool IsBoiler => !double.IsNaN(BoilerEfficiency);

    /// <summary>Most heat it can give, W: a heat pump's changes by about 2 % a kelvin of outdoor air against the rated (common practice, no published source), a boiler's does not.</summary>
    public double HeatingAtW(double outdoorC) => IsBoiler ? HeatingW : HeatingW * Math.Clamp(1 + 0.02 * (outdoorC - 7), 0.4, 1.2);

    /// <summary>Share of the ideal cycle, 0.1…0.9.</summary>
    public double ShareOfIdeal { get; init; } = 0.42;

    /// <summary>Approach at each exchanger, K.</summary>
    public double ApproachK { get; init; } = 5;

    /// <summary>Stops when the leaving water is past the set point by this, starts again when it is short by it, K.</summary>
    public double BandK { get; init; } = 2;

    /// <summary>Shortest stop, s.</summary>
    public double LeastStopS { get; init; } = 240;

    /// <summary>Shortest run, s.</summary>
    public double LeastRunS { get; init; } = 180;

    /// <summary>From start to full output, s.</summary>
    public double RampS { get; init; } = 120;

    /// <summary>Water in it, kg.</summary>
    public double WaterKg { get; init; } = 6;

    /// <summary>Needs this flow to run, kg/s.</summary>
    public double LeastFlowKgPerS { get; init; } = 0.05;

    /// <summary>Runs this long in frosty air until it defrosts, s.</summary>
    public double FrostS { get; init; } = 2700;

    /// <summary>A defrost lasts this long, s.</summary>
    public double DefrostS { get; init; } = 300;

    /// <summary>Heat a defrost takes from the water, share of full heat.</summary>
    public double DefrostShare { get; init; } = 0.3;
}

/// <summary>A machine that runs; performance by <see cref="HeatPump"/> (share of the ideal cycle).</summary>
public sealed class Machine
{
    private const int Running = 0, Share = 1, Since = 2, Frost = 3, Defrost = 4, Water = 5, Starts = 6;

    private readonly MachinePlan _plan;
    private readonly double _stepS;

    /// <summary>A machine at rest, ready to start.</summary>
    /// <param name="plan">What it is.</param>
    /// <param name="waterC">Water in it, °C.</param>
    /// <param name="stepS">Step, s.</param>
    public Machine(MachinePlan plan, double waterC, double stepS)
    {
        ArgumentNullException.ThrowIfNull(plan);
        PlanChecks.Demand("machine's cold", plan.CoolingW, 500, 100_000, "W");
        PlanChecks.Demand("machine's heat", plan.HeatingW, 500, 100_000, "W");
        PlanChecks.Demand("machine's least share", plan.LeastShare, 0.1, 1, "");
        PlanChecks.Demand("machine's water", plan.WaterKg, 0.5, 200, "kg");
        (_plan, _stepS) = (plan, stepS);
        State = new double[7];
        (State[Since], State[Water]) = (1e6, waterC);
    }

    /// <summary>State: running, share of full output, seconds since the last start or stop, frost (s), defrost left (s), leaving water (°C), starts.</summary>
    public double[] State { get; }

    /// <summary>Fault: locked out (grid operator, error).</summary>
    public bool LockedOut { get; set; }

    /// <summary>It makes hot water for itself: nothing for the house.</summary>
    public bool MakingHotWater { get; set; }

    /// <summary>Compressor runs.</summary>
    public bool IsRunning => State[Running] > 0;

    /// <summary>It defrosts.</summary>
    public bool IsDefrosting => State[Defrost] > 0;

    /// <summary>Water leaving, °C.</summary>
    public double OutC => State[Water];

    /// <summary>Water leaving, mean of the last step, °C: what the books need.</summary>
    public double LeavingC { get; private set; }

    /// <summary>Heat given to the house's water in the last step, W; negative in cooling and while defrosting.</summary>
    public double HeatW { get; private set; }

    /// <summary>Electrical power in the last step, W.</summary>
    public double PowerW { get; private set; }

    /// <summary>Fuel burnt in the last step, W (net calorific value); 0 for a heat pump or chiller.</summary>
    public double FuelW { get; private set; }

    /// <summary>Starts so far.</summary>
    public int StartsSoFar => (int)State[Starts];

    /// <summary>One step.</summary>
    /// <param name="call">Called.</param>
    /// <param name="cooling">To cool.</param>
    /// <param name="setPointC">Leaving water wanted, °C.</param>
    /// <param name="inC">Water entering, °C.</param>
    /// <param name="flowKgPerS">Flow, kg/s.</param>
    /// <param name="outdoorC">Outdoor air, °C.</param>
    /// <param name="outdoorHumidityPercent">Its humidity, %.</param>
    public void Step(bool call, bool cooling, double setPointC, double inC, double flowKgPerS, double outdoorC, double outdoorHumidityPercent)
    {
        State[Since] += _stepS;
        double shortBy = cooling ? State[Water] - setPointC : setPointC - State[Water];
        bool may = call && !LockedOut && !MakingHotWater && flowKgPerS >= _plan.LeastFlowKgPerS;
        if (IsRunning && (!may || shortBy < -_plan.BandK) && (LockedOut || MakingHotWater || flowKgPerS < _plan.LeastFlowKgPerS || State[Since] >= _plan.LeastRunS)) Switch(0);
        else if (!IsRunning && may && shortBy > _plan.BandK && State[Since] >= _plan.LeastStopS) Switch(1);
        double full = cooling ? FullCold(outdoorC) : _plan.HeatingAtW(outdoorC);
        Regulate(shortBy, full, inC, flowKgPerS, cooling, setPointC);
        double heat = IsRunning ? State[Share] * full * (cooling ? -1 : 1) : 0;
        if (!cooling && !_plan.IsBoiler) heat = Icing(heat, full, outdoorC, outdoorHumidityPercent);
        HeatW = heat;
        PowerW = IsRunning ? (_plan.IsBoiler ? 0 : Power(Math.Abs(heat), cooling, outdoorC)) + 20 : 8;
        FuelW = _plan.IsBoiler ? Math.Abs(heat) / _plan.BoilerEfficiency : 0;
        // The machine's own water, one mixed volume, exactly for constant inputs over the step.
        double stream = flowKgPerS * Matter.WaterJPerKgK, mass = _plan.WaterKg * Matter.WaterJPerKgK, before = State[Water];
        if (stream <= 0) State[Water] += heat * _stepS / mass;
        else State[Water] += (inC + heat / stream - before) * (1 - Math.Exp(-stream * _stepS / mass));
        LeavingC = stream <= 0 ? State[Water] : inC + (heat - mass * (State[Water] - before) / _stepS) / stream;
    }

    private void Switch(double to)
    {
        if (to > 0) State[Starts]++;
        (State[Running], State[Since], State[Share]) = (to, 0, 0);
    }

    // Output towards what brings the entering water to the set point, not faster than the ramp, within least and full.
    private void Regulate(double shortBy, double full, double inC, double flow, bool cooling, double setPointC)
    {
        if (!IsRunning) return;
        double need = flow * Matter.WaterJPerKgK * (cooling ? inC - setPointC : setPointC - inC) + 0.5 * flow * Matter.WaterJPerKgK * shortBy;
        double target = Math.Clamp(need / full, _plan.LeastShare, 1);
        State[Share] += Math.Clamp(target - State[Share], -_stepS / _plan.RampS, _stepS / _plan.RampS);
    }

    // Frost gathers while it runs in air of −15 to 6 °C above 60 %; then a defrost takes heat from the water.
    private double Icing(double heat, double full, double outdoorC, double humidity)
    {
        if (State[Defrost] > 0)
        {
            State[Defrost] = Math.Max(State[Defrost] - _stepS, 0);
            return IsRunning ? -_plan.DefrostShare * full : 0;
        }

        if (!IsRunning || outdoorC > 6 || outdoorC < -15 || humidity < 60) return heat;
        State[Frost] += _stepS;
        if (State[Frost] < _plan.FrostS) return heat;
        (State[Frost], State[Defrost]) = (0, _plan.DefrostS);
        return heat;
    }

    // Full output falls by about 1 % a kelvin against the rated outdoor air (common practice, no published source).
    private double FullCold(double outdoorC) => _plan.CoolingW * Math.Clamp(1 - 0.01 * (outdoorC - 35), 0.6, 1.2);

    private double Power(double heat, bool cooling, double outdoorC)
    {
        double performance = double.NaN;
        bool possible = cooling
            ? HeatPump.TryCooling(Math.Clamp(outdoorC, -10, 55), Math.Clamp(State[Water], 4, 25), _plan.ShareOfIdeal, _plan.ApproachK, out performance, out _)
            : HeatPump.TryHeating(Math.Clamp(outdoorC, -30, 45), Math.Clamp(State[Water], 15, 75), _plan.ShareOfIdeal, _plan.ApproachK, out performance, out _);
        return possible ? heat / performance : heat;
    }
}

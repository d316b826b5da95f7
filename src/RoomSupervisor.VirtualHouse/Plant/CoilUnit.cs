// A coil in its housing: what it takes from the air, what it holds, what drips, what it gives back.
// Must never stop at once or forget its water: metal and water have mass, a wet coil with the valve shut wets the room.
using RoomSupervisor.Physics;

namespace RoomSupervisor.VirtualHouse;

/// <summary>What a coil unit is.</summary>
/// <param name="Coil">Conductances and their flows.</param>
/// <param name="HeldKg">Water it holds before it drips, kg: about 1,000 s of its rated condensate (Henderson and Rengarajan, ASHRAE Trans. 102 (1996), from memory).</param>
public sealed record CoilUnitPlan(CoilModel Coil, double HeldKg)
{
    /// <summary>Time constant of metal and water, s (20 to 60: common practice, no published source).</summary>
    public double LagS { get; init; } = 30;

    /// <summary>Air that passes a still fan by itself while the coil is colder or warmer, share of the rated air, 0…0.1.</summary>
    public double StillShare { get; init; } = 0.01;
}

/// <summary>
/// The coil of Physics (dry, wet, part wet) with retained water. The water gives at once what the steady coil would; the air gets it behind one lag,
/// and metal and water in the coil hold the difference. A kilogram of condensate carries 2,501 kJ, so the books close.
/// </summary>
public sealed class CoilUnit
{

    private readonly CoilUnitPlan _plan;
    private readonly double _stepS, _approach;

    /// <summary>A dry coil at rest.</summary>
    /// <param name="plan">What it is.</param>
    /// <param name="stepS">Step, s.</param>
    public CoilUnit(CoilUnitPlan plan, double stepS)
    {
        ArgumentNullException.ThrowIfNull(plan);
        PlanChecks.Demand("water a coil holds", plan.HeldKg, 1e-4, 10, "kg");
        PlanChecks.Demand("coil's lag", plan.LagS, 1, 600, "s");
        (_plan, _stepS) = (plan, stepS);
        _approach = Matter.Approach(stepS, plan.LagS);
    }

    /// <summary>State: sensible heat and vapour taken now (W, kg/s), water held (kg), water leaving (°C), vapour being given back (kg/s), heat in the metal (J).</summary>
    public double[] State { get; } = [0, 0, 0, 20, 0, 0];

    /// <summary>Sensible heat taken from the air, W (negative: given).</summary>
    public double SensibleW => State[0] + State[4] * Matter.HeatOfVapourJPerKg;

    /// <summary>Vapour taken from the air, kg/s (negative: given back).</summary>
    public double VapourKgPerS => State[1] - State[4];

    /// <summary>Heat to the water in the last step, W.</summary>
    public double WaterW { get; private set; }

    /// <summary>Heat in metal and standing water since the start, J.</summary>
    public double MetalJ => State[5];

    /// <summary>Water leaving, °C.</summary>
    public double WaterOutC => State[3];

    /// <summary>Water held, kg.</summary>
    public double HeldKg => State[2];

    /// <summary>Water that dripped in the last step, kg/s.</summary>
    public double DripKgPerS { get; private set; }

    /// <summary>One step.</summary>
    /// <param name="air">Entering air.</param>
    /// <param name="airM3PerH">Air by the fan, m³/h.</param>
    /// <param name="waterC">Entering water, °C.</param>
    /// <param name="waterKgPerS">Water, kg/s.</param>
    public void Step(in AirState air, double airM3PerH, double waterC, double waterKgPerS)
    {
        double dry = airM3PerH / 3600 / air.SpecificVolumeM3PerKg, still = _plan.StillShare * _plan.Coil.DryAirKgPerS;
        dry = Math.Max(dry, still);
        double sensible = 0, vapour = 0;
        bool flows = waterKgPerS > 1e-4 && dry > 1e-5;
        if (flows) Steady(air, dry, waterC, waterKgPerS, out sensible, out vapour);
        State[0] += (sensible - State[0]) * _approach;
        State[1] += (vapour - State[1]) * _approach;
        if (vapour == 0 && State[1] < 1e-9) State[1] = 0;
        WaterW = sensible + vapour * Matter.HeatOfVapourJPerKg;
        State[5] += (State[0] + State[1] * Matter.HeatOfVapourJPerKg - WaterW) * _stepS;
        State[3] = waterKgPerS > 1e-4 ? waterC + WaterW / (waterKgPerS * Matter.WaterJPerKgK) : State[3] + (air.DryBulbC - State[3]) * _stepS / 600;
        GiveBack(air, dry, vapour);
        double water = State[2] + (State[1] - State[4]) * _stepS;
        DripKgPerS = Math.Max(water - _plan.HeldKg, 0) / _stepS;
        State[2] = Math.Clamp(water, 0, _plan.HeldKg);
    }

    private void Steady(in AirState air, double dry, double waterC, double waterKgPerS, out double sensible, out double vapour)
    {
        CoilInput input = new(air, dry, Math.Clamp(waterC, 0.5, 95), waterKgPerS, 4.19);
        if (!_plan.Coil.TryAt(dry, waterKgPerS, out CoilConductances conductances, out Impossible why)
            || !Coil.TrySolve(input, Limited(conductances), out CoilResult result, out why))
            throw new InvalidOperationException("A coil left the range of its model: " + why);
        sensible = result.SensibleW;
        vapour = result.CondensateKgPerH / 3600;
    }

    private static CoilConductances Limited(in CoilConductances c) => new(Math.Max(c.AirWPerK, 1), Math.Max(c.WaterWPerK, 1));

    // Water stands on the coil and nothing condenses: the air takes it up again and is cooled by it.
    private void GiveBack(in AirState air, double dry, double vapour)
    {
        State[4] = 0;
        if (State[2] <= 0 || vapour > 0 || State[1] > 1e-7) return;
        if (!_plan.Coil.TryAt(dry, _plan.Coil.WaterKgPerS, out CoilConductances conductances, out _)) return;
        if (CoilWater.TryEvaporate(State[2], _plan.HeldKg, air, dry, Math.Max(conductances.AirWPerK, 1), _stepS, out CoilWaterStep step, out _))
            State[4] = step.EvaporatedKg / _stepS;
    }
}

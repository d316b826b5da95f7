// The machine's own hot water: a tank, taps, and the hours in which the house gets nothing.
// Must never ask the house: a cold tank comes first.
using RoomSupervisor.Physics;

namespace RoomSupervisor.VirtualHouse;

/// <summary>What the hot-water side is.</summary>
/// <param name="Tank">The tank.</param>
/// <param name="SetC">Charged until its upper third has this, 40…65 °C.</param>
public sealed record HotWaterPlan(StorePlan Tank, double SetC)
{
    /// <summary>Charging begins this much below, K.</summary>
    public double BandK { get; init; } = 6;

    /// <summary>Through the tank's coil, kg/s.</summary>
    public double FlowKgPerS { get; init; } = 0.25;

    /// <summary>Water from the main, °C.</summary>
    public double ColdC { get; init; } = 12;
}

/// <summary>Hot water that runs.</summary>
public sealed class HotWater
{
    private readonly HotWaterPlan _plan;
    private readonly MachinePlan _machine;

    /// <summary>A full tank.</summary>
    /// <param name="plan">What it is.</param>
    /// <param name="machine">Who heats it.</param>
    /// <param name="stepS">Step, s.</param>
    public HotWater(HotWaterPlan plan, MachinePlan machine, double stepS)
    {
        ArgumentNullException.ThrowIfNull(plan);
        PlanChecks.Demand("hot water's set point", plan.SetC, 40, 65, "°C");
        PlanChecks.Demand("hot water's band", plan.BandK, 1, 20, "K");
        (_plan, _machine) = (plan, machine);
        Tank = new Store(plan.Tank, plan.SetC, stepS);
    }

    /// <summary>The tank.</summary>
    public Store Tank { get; }

    /// <summary>State: 1 while it charges.</summary>
    public double[] State { get; } = new double[1];

    /// <summary>Input: taps, kg/s of water from the tank.</summary>
    public double TapKgPerS { get; set; }

    /// <summary>Command: charging is allowed.</summary>
    public bool ChargeAllowed { get; set; } = true;

    /// <summary>It charges.</summary>
    public bool IsCharging => State[0] > 0;

    /// <summary>Tank's sensor, a third from the top, °C.</summary>
    public double SensorC => Tank.State[3];

    /// <summary>Heat to the tank in the last step, W.</summary>
    public double HeatW { get; private set; }

    /// <summary>Electrical power for it, W.</summary>
    public double PowerW { get; private set; }

    /// <summary>Fuel for it, W; 0 where a heat pump makes it.</summary>
    public double FuelW { get; private set; }

    /// <summary>One step.</summary>
    /// <param name="outdoorC">Outdoor air, °C.</param>
    /// <param name="lockedOut">The machine cannot run.</param>
    /// <param name="aroundC">Surroundings, °C.</param>
    public void Step(double outdoorC, bool lockedOut, double aroundC)
    {
        if (lockedOut || !ChargeAllowed || SensorC >= _plan.SetC) State[0] = 0;
        else if (SensorC < _plan.SetC - _plan.BandK) State[0] = 1;
        HeatW = PowerW = FuelW = 0;
        double bottom = Tank.BottomC, source = bottom;
        if (IsCharging)
        {
            HeatW = _machine.HeatingAtW(outdoorC);
            source = bottom + HeatW / (_plan.FlowKgPerS * Matter.WaterJPerKgK);
            double water = Math.Clamp(source, 15, 75);
            if (_machine.IsBoiler) FuelW = HeatW / _machine.BoilerEfficiency;
            else if (HeatPump.TryHeating(Math.Clamp(outdoorC, -30, 45), water, _machine.ShareOfIdeal, _machine.ApproachK, out double performance, out _)) PowerW = HeatW / performance;
        }

        Tank.Step(source, IsCharging ? _plan.FlowKgPerS : 0, _plan.ColdC, TapKgPerS, false, aroundC);
    }
}

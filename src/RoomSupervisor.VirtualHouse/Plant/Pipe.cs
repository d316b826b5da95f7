// A pipe: what goes in comes out later, warmer or colder, and its skin may be wet.
// Must never mix what lies in it: water moves as a plug.
using RoomSupervisor.Physics;

namespace RoomSupervisor.VirtualHouse;

/// <summary>What a pipe is.</summary>
/// <param name="LengthM">0.1…500 m.</param>
/// <param name="OutsideDiameterM">0.008…0.2 m.</param>
/// <param name="InsideDiameterM">Less than that, m.</param>
/// <param name="InsulationM">0…0.1 m.</param>
public sealed record PipePlan(double LengthM, double OutsideDiameterM, double InsideDiameterM, double InsulationM)
{
    /// <summary>Of the insulation, W/(m·K).</summary>
    public double InsulationWPerMK { get; init; } = 0.036;

    /// <summary>Film of still air outside, W/(m²·K), convection and radiation.</summary>
    public double FilmWPerM2K { get; init; } = 8;
}

/// <summary>
/// Plug flow in equal cells with a fraction carried over, each cell drifting to the surroundings by ISO 12241's cylinder. The skin stands off the air in
/// the proportion of film to whole resistance; below the dew point it takes water by the Lewis relation (convective part half of the film), above it gives it back.
/// </summary>
public sealed class Pipe
{
    private const int Cells = 24;

    private readonly double _cellKg, _lossPerCell, _share, _mass, _stepS, _areaM2;

    /// <summary>A pipe full of water at a temperature.</summary>
    /// <param name="plan">What it is.</param>
    /// <param name="startC">°C.</param>
    /// <param name="stepS">Step, s.</param>
    public Pipe(PipePlan plan, double startC, double stepS)
    {
        ArgumentNullException.ThrowIfNull(plan);
        PlanChecks.Demand("pipe's length", plan.LengthM, 0.1, 500, "m");
        PlanChecks.Demand("pipe's diameter", plan.OutsideDiameterM, 0.008, 0.2, "m");
        PlanChecks.Demand("pipe's bore", plan.InsideDiameterM, 0.004, plan.OutsideDiameterM, "m");
        PlanChecks.Demand("pipe's insulation", plan.InsulationM, 0, 0.1, "m");
        _stepS = stepS;
        _cellKg = 998 * Math.PI / 4 * plan.InsideDiameterM * plan.InsideDiameterM * plan.LengthM / Cells;
        double outer = plan.OutsideDiameterM + 2 * plan.InsulationM, film = 1 / (plan.FilmWPerM2K * Math.PI * outer);
        double layer = Math.Log(outer / plan.OutsideDiameterM) / (2 * Math.PI * plan.InsulationWPerMK);
        _share = film / (film + layer);
        _lossPerCell = plan.LengthM / Cells / (film + layer);
        _areaM2 = Math.PI * outer * plan.LengthM;
        _mass = plan.FilmWPerM2K / 2 * Matter.MassPerHeat * _areaM2;
        State = new double[Cells + 5];
        Array.Fill(State, startC, 0, Cells);
        State[Cells + 4] = startC;
    }

    /// <summary>State: water in each cell from the inlet, °C; mass that waits to be the next cell, kg; water on the skin, kg; heat of what waits, kg·K; heat of vapour on its way into the water, W; water leaving, °C.</summary>
    public double[] State { get; }

    /// <summary>Water leaving, °C.</summary>
    public double OutC => State[Cells + 4];

    /// <summary>Sensible heat from the surroundings in the last step, W.</summary>
    public double GainW { get; private set; }

    /// <summary>Heat of vapour that condensed on the skin and went into the water in the last step, W.</summary>
    public double VapourW => State[Cells + 3];

    /// <summary>Vapour taken from the room's air in the last step, kg/s (negative: given).</summary>
    public double VapourKgPerS { get; private set; }

    /// <summary>Coldest skin, °C.</summary>
    public double SkinC { get; private set; }

    /// <summary>Water on the skin, kg.</summary>
    public double FilmKg => State[Cells + 1];

    /// <summary>Water on the skin, kg/m².</summary>
    public double FilmKgPerM2 => State[Cells + 1] / _areaM2;

    /// <summary>One step.</summary>
    /// <param name="inC">Water entering, °C.</param>
    /// <param name="flowKgPerS">Flow, 0…20 kg/s.</param>
    /// <param name="airC">Surroundings, °C.</param>
    /// <param name="ratio">Their humidity ratio, kg/kg.</param>
    /// <param name="pressurePa">Their pressure, Pa.</param>
    public void Step(double inC, double flowKgPerS, double airC, double ratio, double pressurePa)
    {
        // Whole cells move on; a fraction waits. What leaves is the mean of the cells that left, and of the part of the next one.
        double moved = flowKgPerS * _stepS, left = 0, heat = 0;
        while (moved - left > 1e-12)
        {
            double part = Math.Min(_cellKg - State[Cells], moved - left);
            heat += part * State[Cells - 1];
            left += part;
            State[Cells] += part;
            State[Cells + 2] += part * inC;
            if (State[Cells] < _cellKg * (1 - 1e-12)) break;
            Array.Copy(State, 0, State, 1, Cells - 1);
            State[0] = State[Cells + 2] / State[Cells];
            State[Cells] = State[Cells + 2] = 0;
        }

        State[Cells + 4] = left > 0 ? heat / left : State[Cells - 1];
        double decay = 1 - Math.Exp(-_lossPerCell * _stepS / (_cellKg * Matter.WaterJPerKgK)), gain = 0, coldest = double.MaxValue;
        double warmth = VapourW * _stepS / (Cells * _cellKg * Matter.WaterJPerKgK), waiting = State[Cells] / _cellKg;
        for (int i = 0; i < Cells; i++)
        {
            double change = (airC - State[i]) * decay, weight = i == Cells - 1 ? 1 - waiting : 1;
            // What has left of the last cell gains nothing any more; the heat of vapour lands on what is still there.
            State[i] += change + (i == 0 ? warmth * (1 + waiting) : warmth);
            gain += change * weight;
            coldest = Math.Min(coldest, State[i]);
        }

        GainW = gain * _cellKg * Matter.WaterJPerKgK / _stepS;
        SkinC = airC - (airC - coldest) * _share;
        Skin(ratio, pressurePa);
    }

    private void Skin(double ratio, double pressurePa)
    {
        VapourKgPerS = State[Cells + 3] = 0;
        MoistAir.TrySaturationPressure(SkinC, out double vapour, out _);
        double saturated = 0.621945 * vapour / (pressurePa - vapour), change = _mass * (ratio - saturated) * _stepS;
        if (change < 0) change = -Math.Min(-change, State[Cells + 1]);
        if (change == 0) return;
        State[Cells + 1] += change;
        VapourKgPerS = change / _stepS;
        State[Cells + 3] = VapourKgPerS * 2_501_000;
    }

    /// <summary>Heat of its water above 0 °C, J; the heat of vapour is counted in the step after it condensed.</summary>
    public double StoredJ()
    {
        double sum = State[Cells + 2] - State[Cells] * State[Cells - 1];
        for (int i = 0; i < Cells; i++) sum += _cellKg * State[i];
        return sum * Matter.WaterJPerKgK + VapourW * _stepS;
    }
}

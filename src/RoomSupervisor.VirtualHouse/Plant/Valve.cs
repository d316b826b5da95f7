// A valve with its actuator: command in, open share out.
// Must never be where it was told at once, nor quite shut: strokes take time, stems have play, seats leak.
namespace RoomSupervisor.VirtualHouse;

/// <summary>How an actuator moves.</summary>
public enum ActuatorKind
{
    /// <summary>A motor that follows a position.</summary>
    Motor,

    /// <summary>Wax heated on and off: first nothing, then the stroke.</summary>
    Wax,
}

/// <summary>What a valve is.</summary>
/// <param name="Kind">Its actuator.</param>
/// <param name="StrokeS">Motor: full stroke; wax: from full heat to fully open, 1…1,200 s.</param>
public sealed record ValvePlan(ActuatorKind Kind, double StrokeS)
{
    /// <summary>Play between motor and stem, share of the stroke, 0…0.2.</summary>
    public double Play { get; init; } = 0.02;

    /// <summary>Flow of the shut valve, share of the open one's, 0…0.2. IEC 60534-4's class II allows 0.005 (from memory).</summary>
    public double Leakage { get; init; } = 0.002;

    /// <summary>Ratio of an equal-percentage valve, 10…100; 1 for a linear one.</summary>
    public double Rangeability { get; init; } = 1;

    /// <summary>Normally open: wax without heat, or a motor at 0, leaves it open.</summary>
    public bool NormallyOpen { get; init; }
}

/// <summary>A valve that runs.</summary>
public sealed class Valve
{
    private readonly ValvePlan _plan;
    private readonly double _travel, _warming;

    /// <summary>A valve at its rest position.</summary>
    /// <param name="plan">What it is.</param>
    /// <param name="stepS">Step, s.</param>
    public Valve(ValvePlan plan, double stepS)
    {
        ArgumentNullException.ThrowIfNull(plan);
        PlanChecks.Demand("valve's stroke", plan.StrokeS, 1, 1200, "s");
        PlanChecks.Demand("valve's play", plan.Play, 0, 0.2, "");
        PlanChecks.Demand("valve's leakage", plan.Leakage, 0, 0.2, "");
        PlanChecks.Demand("valve's rangeability", plan.Rangeability, 1, 100, "");
        _plan = plan;
        _travel = stepS / plan.StrokeS;
        // Wax: the stem moves between 35 and 65 % of the way to full heat; 65 % is reached after 1.05 time constants (common practice, no published source).
        _warming = 1 - Math.Exp(-stepS * 1.05 / plan.StrokeS);
    }

    /// <summary>State: actuator (or heat of the wax) and stem, 0…1.</summary>
    public double[] State { get; } = new double[2];

    /// <summary>Fault: the stem stays where it is.</summary>
    public bool Stuck { get; set; }

    /// <summary>Fault: leakage added, 0…1.</summary>
    public double ExtraLeakage { get; set; }

    /// <summary>Stem, 0…1, as the valve sees it.</summary>
    public double Stem => _plan.NormallyOpen ? 1 - State[1] : State[1];

    /// <summary>Open share of the full flow coefficient, leakage included, 0…1.</summary>
    public double Open
    {
        get
        {
            double leak = Math.Min(_plan.Leakage + ExtraLeakage, 1), stem = Stem;
            double share = _plan.Rangeability > 1 ? (Math.Pow(_plan.Rangeability, stem) - 1) / (_plan.Rangeability - 1) : stem;
            return leak + (1 - leak) * share;
        }
    }

    /// <summary>One step under a command.</summary>
    /// <param name="command">0…1: position, or for wax heat on (over 0.5) and off.</param>
    public void Step(double command)
    {
        if (_plan.Kind == ActuatorKind.Wax)
        {
            State[0] += ((command > 0.5 ? 1 : 0) - State[0]) * _warming;
            if (!Stuck) State[1] = Math.Clamp((State[0] - 0.35) / 0.3, 0, 1);
            return;
        }

        State[0] += Math.Clamp(Math.Clamp(command, 0, 1) - State[0], -_travel, _travel);
        // The stem follows when the play is used up; at the ends the motor presses it home.
        double half = _plan.Play / 2, target = Math.Clamp(State[1], State[0] - half, State[0] + half);
        if (State[0] <= 0) target = 0;
        if (State[0] >= 1) target = 1;
        if (!Stuck) State[1] = Math.Clamp(target, 0, 1);
    }
}

// What goes wrong with one point, from one moment to another.
// Must never touch the truth: the house goes on, only what is told of it is spoilt.
namespace RoomSupervisor.VirtualHouse;

/// <summary>How a point fails.</summary>
public enum PointFaultKind
{
    /// <summary>Nothing is told.</summary>
    Off,

    /// <summary>The value of the beginning is told for ever.</summary>
    Stuck,

    /// <summary>Wrong by an amount, in the point's unit.</summary>
    WrongBy,

    /// <summary>Wrong by an amount more every hour.</summary>
    Drifting,

    /// <summary>Trembles with an amount as standard deviation.</summary>
    Noisy,

    /// <summary>Follows with an amount as time constant, s.</summary>
    Slow,

    /// <summary>Told an amount of seconds later, at most 3,600 s.</summary>
    Delayed,

    /// <summary>Off for an amount, 0…1, of all stretches of ten seconds, by chance.</summary>
    Intermittent,
}

/// <summary>One fault of one point.</summary>
/// <param name="Kind">How it fails.</param>
/// <param name="FromS">From this second of the run.</param>
/// <param name="ToS">Until this one.</param>
/// <param name="Amount">How much; see <see cref="PointFaultKind"/>.</param>
public sealed record PointFaultPlan(PointFaultKind Kind, double FromS, double ToS, double Amount);

/// <summary>A fault that runs.</summary>
public sealed class PointFault
{
    private const double StretchS = 10;

    private readonly PointFaultPlan _plan;
    private readonly double _stepS, _approach;
    private readonly ulong _seed;
    private readonly int _place, _delay;

    /// <summary>A fault that waits for its time.</summary>
    /// <param name="plan">What it is.</param>
    /// <param name="stepS">Step, s.</param>
    /// <param name="seed">Of the run.</param>
    /// <param name="place">The point's own number.</param>
    public PointFault(PointFaultPlan plan, double stepS, ulong seed, int place)
    {
        ArgumentNullException.ThrowIfNull(plan);
        PlanChecks.Demand("fault's beginning", plan.FromS, 0, 1e10, "s");
        PlanChecks.Demand("fault's end", plan.ToS, plan.FromS, 1e10, "s");
        if (plan.Kind == PointFaultKind.Delayed) PlanChecks.Demand("fault's delay", plan.Amount, stepS, 3600, "s");
        if (plan.Kind == PointFaultKind.Slow) PlanChecks.Demand("fault's time constant", plan.Amount, stepS, 1e6, "s");
        if (plan.Kind == PointFaultKind.Intermittent) PlanChecks.Demand("fault's share", plan.Amount, 0, 1, "");
        if (plan.Kind == PointFaultKind.Noisy) PlanChecks.Demand("fault's noise", plan.Amount, 0, 1e6, "");
        (_plan, _stepS, _seed, _place) = (plan, stepS, seed, place);
        _approach = plan.Kind == PointFaultKind.Slow ? Matter.Approach(stepS, plan.Amount) : 1;
        _delay = plan.Kind == PointFaultKind.Delayed ? (int)Math.Round(plan.Amount / stepS) : 0;
        State = new double[2 + _delay];
    }

    /// <summary>State: value held, 1 once it began, and the values of the delay.</summary>
    public double[] State { get; }

    /// <summary>One step.</summary>
    /// <param name="value">What the point would tell.</param>
    /// <param name="step">Number of the step since the start.</param>
    /// <param name="told">What it tells.</param>
    /// <returns>False when nothing is told.</returns>
    public bool Step(double value, long step, out double told)
    {
        double second = step * _stepS;
        told = value;
        if (second < _plan.FromS || second >= _plan.ToS)
        {
            State[1] = 0;
            return true;
        }

        if (State[1] == 0) Array.Fill(State, value);
        State[1] = 1;
        switch (_plan.Kind)
        {
            case PointFaultKind.Off: return false;
            case PointFaultKind.Stuck: told = State[0]; return true;
            case PointFaultKind.WrongBy: told = value + _plan.Amount; return true;
            case PointFaultKind.Drifting: told = value + _plan.Amount * (second - _plan.FromS) / 3600; return true;
            case PointFaultKind.Noisy: told = value + _plan.Amount * Chance.Normal(_seed, _place, step); return true;
            case PointFaultKind.Slow: told = State[0] += (value - State[0]) * _approach; return true;
            case PointFaultKind.Delayed: told = Later(value, step); return true;
            default: return Chance.Even(_seed, _place, (long)(second / StretchS)) >= _plan.Amount;
        }
    }

    private double Later(double value, long step)
    {
        int at = 2 + (int)(step % _delay);
        double before = State[at];
        State[at] = value;
        return before;
    }
}

// A coil's fan: volts in; speed, air, power, sound and proof out.
// Must never move at once: rotors have mass, and electronics start only above a voltage.
namespace RoomSupervisor.VirtualHouse;

/// <summary>What a fan is.</summary>
/// <param name="FullAirM3PerH">Air at full speed on its clean coil, 10…20,000 m³/h.</param>
/// <param name="FullPowerW">Electrical power at full speed, 1…2,000 W.</param>
/// <param name="FullLevelDb">Level at full speed at the ear, 10…90 dB(A).</param>
public sealed record FanPlan(double FullAirM3PerH, double FullPowerW, double FullLevelDb)
{
    /// <summary>It starts at this voltage, 0…10 V (1 to 2 V: common practice, no published source).</summary>
    public double StartVolts { get; init; } = 1.8;

    /// <summary>A running one stops under this voltage, V.</summary>
    public double StopVolts { get; init; } = 1.5;

    /// <summary>Full speed at this voltage, V.</summary>
    public double FullVolts { get; init; } = 10;

    /// <summary>Share of full speed at the start voltage, 0.05…1.</summary>
    public double StartSpeed { get; init; } = 0.2;

    /// <summary>Time constant of the rotor, s.</summary>
    public double LagS { get; init; } = 4;

    /// <summary>Power the electronics draw while anything turns, W.</summary>
    public double ElectronicsW { get; init; } = 3;

    /// <summary>Level that motor and bearings add at any speed, dB(A).</summary>
    public double FloorLevelDb { get; init; } = 12;

    /// <summary>Volts at which it turns with a share of full speed, 0…1; 0 at 0, and never under the start voltage else.</summary>
    public double VoltsFor(double share)
        => share <= 0 ? 0 : StartVolts + (Math.Clamp(share, StartSpeed, 1) - StartSpeed) / Math.Max(1 - StartSpeed, 1e-9) * (FullVolts - StartVolts);
}

/// <summary>A fan that runs. Flow ~ N, power ~ N³ on a floor (affinity laws, textbook), level 50·lg N (fan law, from memory) on a floor.</summary>
public sealed class Fan
{
    private readonly FanPlan _plan;
    private readonly double _approach;

    /// <summary>A fan at rest.</summary>
    /// <param name="plan">What it is.</param>
    /// <param name="stepS">Step, s.</param>
    public Fan(FanPlan plan, double stepS)
    {
        ArgumentNullException.ThrowIfNull(plan);
        PlanChecks.Demand("fan's air at full speed", plan.FullAirM3PerH, 10, 20_000, "m³/h");
        PlanChecks.Demand("fan's start voltage", plan.StartVolts, 0, plan.FullVolts, "V");
        PlanChecks.Demand("fan's speed at start", plan.StartSpeed, 0.05, 1, "");
        _plan = plan;
        _approach = Matter.Approach(stepS, plan.LagS);
    }

    /// <summary>State: speed as a share of full, 1 while the electronics run.</summary>
    public double[] State { get; } = new double[2];

    /// <summary>Fault: the rotor is blocked.</summary>
    public bool Seized { get; set; }

    /// <summary>Fault: share of the air that dust keeps off, 0…1.</summary>
    public double Dust { get; set; }

    /// <summary>Speed, share of full.</summary>
    public double Speed => State[0];

    /// <summary>Air, m³/h.</summary>
    public double AirM3PerH => State[0] * _plan.FullAirM3PerH * (1 - Dust);

    /// <summary>Electrical power, W.</summary>
    public double PowerW => State[1] > 0 ? _plan.ElectronicsW + (_plan.FullPowerW - _plan.ElectronicsW) * State[0] * State[0] * State[0] : 0;

    /// <summary>Turns fast enough for its proof contact.</summary>
    public bool Proof => State[0] > 0.05;

    /// <summary>Level at the ear, dB(A); negative infinity at rest.</summary>
    public double LevelDb
    {
        get
        {
            if (State[0] <= 0.01) return double.NegativeInfinity;
            double fan = Math.Pow(State[0], 5) * Math.Pow(10, _plan.FullLevelDb / 10);
            return 10 * Math.Log10(fan + Math.Pow(10, _plan.FloorLevelDb / 10));
        }
    }

    /// <summary>One step under a voltage, 0…10 V.</summary>
    /// <param name="volts">V.</param>
    public void Step(double volts)
    {
        if (State[1] > 0 ? volts < _plan.StopVolts : volts < _plan.StartVolts) State[1] = 0;
        else State[1] = 1;
        double over = Math.Clamp((volts - _plan.StartVolts) / (_plan.FullVolts - _plan.StartVolts), 0, 1);
        double target = Seized || State[1] <= 0 ? 0 : _plan.StartSpeed + (1 - _plan.StartSpeed) * over;
        State[0] += (target - State[0]) * _approach;
        if (target == 0 && State[0] < 1e-4) State[0] = 0;
    }
}

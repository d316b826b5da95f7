// What a sensor says of what is there.
// Must never say the truth: it lags, is off, drifts, trembles and counts in steps.
using RoomSupervisor.Physics;

namespace RoomSupervisor.VirtualHouse;

/// <summary>What a sensor is.</summary>
/// <param name="LagS">Time constant, 0…3,600 s.</param>
public sealed record SensorPlan(double LagS)
{
    /// <summary>Off by this from the start, in its unit.</summary>
    public double Bias { get; init; }

    /// <summary>Off by this more every 30 days, in its unit.</summary>
    public double DriftPerMonth { get; init; }

    /// <summary>Standard deviation of its trembling, in its unit.</summary>
    public double Noise { get; init; }

    /// <summary>Smallest step it tells, in its unit; 0 for none.</summary>
    public double Resolution { get; init; }
}

/// <summary>A sensor that runs. The noise of a step is a function of seed, place and step, so a resumed run trembles alike.</summary>
public sealed class Sensor
{
    private readonly SensorPlan _plan;
    private readonly double _approach, _stepS;
    private readonly ulong _seed;
    private readonly int _place;

    /// <summary>A sensor that has settled at a value.</summary>
    /// <param name="plan">What it is.</param>
    /// <param name="start">Settled value.</param>
    /// <param name="stepS">Step, s.</param>
    /// <param name="seed">Of the run.</param>
    /// <param name="place">Its own number.</param>
    public Sensor(SensorPlan plan, double start, double stepS, ulong seed, int place)
    {
        ArgumentNullException.ThrowIfNull(plan);
        PlanChecks.Demand("sensor's lag", plan.LagS, 0, 3600, "s");
        (_plan, _stepS, _seed, _place) = (plan, stepS, seed, place);
        _approach = Matter.Approach(stepS, plan.LagS);
        State = [start];
    }

    /// <summary>State: what the sensing element has.</summary>
    public double[] State { get; }

    /// <summary>One step; tells what the sensor says.</summary>
    /// <param name="truth">What is there.</param>
    /// <param name="step">Number of the step since the start.</param>
    public double Step(double truth, long step)
    {
        State[0] += (truth - State[0]) * _approach;
        double value = State[0] + _plan.Bias + _plan.DriftPerMonth * step * _stepS / (30 * 86_400);
        if (_plan.Noise > 0) value += _plan.Noise * Chance.Normal(_seed, _place, step);
        return _plan.Resolution > 0 ? Math.Round(value / _plan.Resolution) * _plan.Resolution : value;
    }
}

/// <summary>
/// An air sensor of temperature and humidity. Temperature lags by its mass, vapour by its own filter; relative humidity is what that vapour
/// is at the sensor's own temperature: after a quick change of temperature it is wrong until both have come.
/// </summary>
public sealed class AirSensor
{
    private readonly Sensor _temperature, _vapour;
    private readonly SensorPlan _humidity;
    private readonly double _stepS;
    private readonly ulong _seed;
    private readonly int _place;

    /// <summary>A sensor that has settled.</summary>
    /// <param name="temperature">Its temperature.</param>
    /// <param name="humidity">Its humidity: lag of the vapour, the rest in %.</param>
    /// <param name="airC">Settled temperature, °C.</param>
    /// <param name="vapourPa">Settled vapour pressure, Pa.</param>
    /// <param name="stepS">Step, s.</param>
    /// <param name="seed">Of the run.</param>
    /// <param name="place">Its own even number; the next one is its too.</param>
    public AirSensor(SensorPlan temperature, SensorPlan humidity, double airC, double vapourPa, double stepS, ulong seed, int place)
    {
        ArgumentNullException.ThrowIfNull(humidity);
        _temperature = new Sensor(temperature, airC, stepS, seed, place);
        _vapour = new Sensor(new SensorPlan(humidity.LagS), vapourPa, stepS, seed, place + 1);
        (_humidity, _stepS, _seed, _place) = (humidity, stepS, seed, place + 1);
    }

    /// <summary>Told temperature, °C.</summary>
    public double AirC { get; private set; }

    /// <summary>Told relative humidity, %, held within 0…100.</summary>
    public double HumidityPercent { get; private set; }

    /// <summary>State: temperature of the sensor, °C.</summary>
    public double[] TemperatureState => _temperature.State;

    /// <summary>State: vapour at the element, Pa.</summary>
    public double[] VapourState => _vapour.State;

    /// <summary>One step.</summary>
    /// <param name="airC">True temperature, °C.</param>
    /// <param name="vapourPa">True vapour pressure, Pa.</param>
    /// <param name="step">Number of the step since the start.</param>
    public void Step(double airC, double vapourPa, long step)
    {
        AirC = _temperature.Step(airC, step);
        double vapour = _vapour.Step(vapourPa, step);
        MoistAir.TrySaturationPressure(_temperature.State[0], out double saturated, out _);
        double value = 100 * vapour / saturated + _humidity.Bias + _humidity.DriftPerMonth * step * _stepS / (30 * 86_400);
        if (_humidity.Noise > 0) value += _humidity.Noise * Chance.Normal(_seed, _place, step);
        if (_humidity.Resolution > 0) value = Math.Round(value / _humidity.Resolution) * _humidity.Resolution;
        HumidityPercent = Math.Clamp(value, 0, 100);
    }
}

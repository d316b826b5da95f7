// A house that runs under a scenario: weather, household, plant faults, building and plant, step by step.
// Must never decide a command nor spoil a reading: those belong to whoever stands between it and a controller.
namespace RoomSupervisor.VirtualHouse;

/// <summary>The whole virtual house in time. Weather goes by universal time and the file's standard time; the site's zone rules only when the household does what.</summary>
public sealed class HouseRun
{
    private readonly Weather _weather;
    private readonly HouseholdPlay _household;
    private readonly Breakage[] _breakages;
    private readonly bool[] _broken;
    private readonly TimeZoneInfo _zone;
    private readonly DateTime _firstMidnight;
    private TimeSpan _offset;
    private long _offsetUntil = -1;

    /// <summary>A house at the scenario's first midnight.</summary>
    /// <param name="scenario">What happens.</param>
    /// <param name="weather">The weather it names.</param>
    /// <param name="building">The building, at its start.</param>
    /// <param name="plant">The plant, at its start.</param>
    /// <param name="zone">The site's time zone.</param>
    /// <exception cref="ArgumentException">The scenario speaks of something that is not there.</exception>
    public HouseRun(Scenario scenario, Weather weather, BuildingModel building, PlantModel plant, TimeZoneInfo zone)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        ArgumentNullException.ThrowIfNull(plant);
        ArgumentNullException.ThrowIfNull(zone);
        (Scenario, _weather, Building, Plant, _zone) = (scenario, weather, building, plant, zone);
        _household = new HouseholdPlay(scenario, building);
        HeldOpen = new double[building.OpeningOpen.Length];
        _breakages = [.. scenario.Breakages.Where(b => Breakage.PlantWords.Contains(b.What) && b.What != "clock-jump")];
        _broken = new bool[_breakages.Length];
        foreach (Breakage breakage in _breakages) plant.Break(breakage.Where, breakage.What, breakage.SharePercent / 100, false);
        _firstMidnight = Terms.DateText.TimeOf(scenario.FromMinutes);
        // A midnight that a change of clocks skips begins an hour later.
        DateTime start = _zone.IsInvalidTime(_firstMidnight) ? _firstMidnight.AddHours(1) : _firstMidnight;
        Start = new DateTimeOffset(start, _zone.GetUtcOffset(start)).ToUniversalTime();
    }

    /// <summary>The scenario.</summary>
    public Scenario Scenario { get; }

    /// <summary>The building.</summary>
    public BuildingModel Building { get; }

    /// <summary>The plant.</summary>
    public PlantModel Plant { get; }

    /// <summary>How far somebody holds each opening open beside what the scenario says, 0…1.</summary>
    public double[] HeldOpen { get; }

    /// <summary>First moment, universal time.</summary>
    public DateTimeOffset Start { get; }

    /// <summary>Moment now, universal time.</summary>
    public DateTimeOffset Now => Start.AddSeconds(Building.StepsTaken * Building.StepS);

    /// <summary>Weather of the last step.</summary>
    public ref readonly WeatherNow Weather => ref _now;

    private WeatherNow _now;

    /// <summary>The weather at the moment now, before a step was taken.</summary>
    /// <param name="now">It.</param>
    public void WeatherNow(out WeatherNow now) => _weather.At(Now, out now);

    /// <summary>Sets the household's doors, people and things of the moment without a step.</summary>
    public void SetHousehold() => _household.Set(WallSeconds());

    /// <summary>The scenario is over.</summary>
    public bool IsOver => Building.StepsTaken * Building.StepS >= Scenario.Days * 86_400.0;

    /// <summary>Seconds of wall time since the first midnight; across a change of clocks it jumps by an hour.</summary>
    public double WallSeconds()
    {
        if (Building.StepsTaken >= _offsetUntil)
        {
            _offset = _zone.GetUtcOffset(Now);
            _offsetUntil = Building.StepsTaken + (long)Math.Max(60 / Building.StepS, 1);
        }

        return (Now.UtcDateTime + _offset - _firstMidnight).TotalSeconds;
    }

    /// <summary>One step: household and plant faults of the moment, weather of the step's end, building and plant. Commands are those set on <see cref="Plant"/>.</summary>
    public void Step()
    {
        double wall = WallSeconds();
        _household.Set(wall);
        for (int i = 0; i < HeldOpen.Length; i++)
            Building.OpeningOpen[i] = Math.Max(Building.OpeningOpen[i], HeldOpen[i]);
        if (Plant.HotWater is { } hot) hot.TapKgPerS = _household.TapKgPerS;
        for (int i = 0; i < _breakages.Length; i++)
        {
            bool on = _breakages[i].IsOn(wall);
            if (on == _broken[i]) continue;
            _broken[i] = on;
            Plant.Break(_breakages[i].Where, _breakages[i].What, _breakages[i].SharePercent / 100, on);
        }

        _weather.At(Now.AddSeconds(Building.StepS), out _now);
        Plant.Step(_now);
    }

    /// <summary>The whole state of building and plant.</summary>
    public double[] Save() => [Building.Save().Length, .. Building.Save(), .. Plant.Save()];

    /// <summary>Takes up a saved state; faults that should be on come on with the next step.</summary>
    /// <param name="state">From <see cref="Save"/> of the same house.</param>
    /// <exception cref="ArgumentException">It is of another house.</exception>
    public void Restore(ReadOnlySpan<double> state)
    {
        if (state.Length < 1 || !(state[0] >= 0 && state[0] < state.Length)) throw new ArgumentException("This is no saved state of a house.");
        int length = (int)state[0];
        Building.Restore(state.Slice(1, length));
        Plant.Restore(state[(1 + length)..]);
        _offsetUntil = -1;
    }
}

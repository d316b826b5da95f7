// What was read of a weather file: place, hourly columns, and every repair by its rule.
// Must never hold a value that is neither the file's nor a named repair.
namespace RoomSupervisor.VirtualHouse;

/// <summary>A repair made to a weather file.</summary>
/// <param name="Line">Line of the file, from 1.</param>
/// <param name="Field">What was repaired.</param>
/// <param name="Was">As it stood there.</param>
/// <param name="Now">What is used.</param>
/// <param name="Rule">By which rule.</param>
public sealed record WeatherRepair(int Line, string Field, string Was, string Now, string Rule);

/// <summary>A mistake that no rule repairs.</summary>
/// <param name="Line">Line of the file, from 1; 0 for the file as a whole.</param>
/// <param name="Field">Which field.</param>
/// <param name="Value">As it stands there.</param>
/// <param name="Allowed">What may stand there.</param>
/// <param name="Advice">What to do.</param>
public sealed record WeatherProblem(int Line, string Field, string Value, string Allowed, string Advice)
{
    /// <summary>The problem in one sentence, with the file's name.</summary>
    /// <param name="file">Name of the file.</param>
    public string In(string file) => $"{file}{(Line > 0 ? $", line {Line}" : "")}: {Field} is “{Value}”; allowed {Allowed}. {Advice}";
}

/// <summary>A weather file cannot be used; the message lists what is wrong, one line each.</summary>
public sealed class WeatherFileException : Exception
{
    /// <summary>From the problems of a file.</summary>
    /// <param name="file">Name of the file.</param>
    /// <param name="problems">At least one.</param>
    public WeatherFileException(string file, IReadOnlyList<WeatherProblem> problems)
        : base(string.Join('\n', problems.Take(20).Select(p => p.In(file)).Concat(problems.Count > 20 ? [$"… and {problems.Count - 20} more."] : Array.Empty<string>()))) =>
        Problems = problems;

    /// <summary>All of them.</summary>
    public IReadOnlyList<WeatherProblem> Problems { get; }
}

/// <summary>An hourly weather year as read. Columns hold the value of hour 1 at index 0: instants at the end of the hour, sun summed over the hour.</summary>
public sealed class EpwFile
{
    /// <summary>Name of the place as the file gives it.</summary>
    public required string Place { get; init; }

    /// <summary>Degrees, north positive.</summary>
    public required double LatitudeDegrees { get; init; }

    /// <summary>Degrees, east positive.</summary>
    public required double LongitudeDegrees { get; init; }

    /// <summary>Standard time of the file, hours ahead of universal time; never daylight saving.</summary>
    public required double StandardTimeH { get; init; }

    /// <summary>Height above the sea, m.</summary>
    public required double AltitudeM { get; init; }

    /// <summary>Dry bulb, °C.</summary>
    public required double[] AirC { get; init; }

    /// <summary>Humidity ratio, kg/kg dry air.</summary>
    public required double[] HumidityRatio { get; init; }

    /// <summary>Pressure, Pa.</summary>
    public required double[] PressurePa { get; init; }

    /// <summary>Sky temperature, °C.</summary>
    public required double[] SkyC { get; init; }

    /// <summary>Global horizontal over the hour, W/m² (for checks only).</summary>
    public required double[] GlobalWPerM2 { get; init; }

    /// <summary>Direct normal over the hour, W/m².</summary>
    public required double[] BeamWPerM2 { get; init; }

    /// <summary>Diffuse horizontal over the hour, W/m².</summary>
    public required double[] DiffuseWPerM2 { get; init; }

    /// <summary>Wind, m/s.</summary>
    public required double[] WindMPerS { get; init; }

    /// <summary>Wind direction, degrees from north through east.</summary>
    public required double[] WindFromDegrees { get; init; }

    /// <summary>Temperature of the ground, °C; NaN: the mean of the air over the year.</summary>
    public double GroundC { get; init; } = double.NaN;

    /// <summary>Every repair made.</summary>
    public required IReadOnlyList<WeatherRepair> Repairs { get; init; }

    /// <summary>Hours whose dew point column held a frost point (below 0 °C): known practice of some months, not a repair.</summary>
    public required int FrostPointHours { get; init; }
}

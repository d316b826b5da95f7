// The days an estimate is made for: the coldest night and the hardest summer day of a weather file, or those a designer gives.
// Must never take a typical year for an extreme one: what was chosen and how is told beside every load.
using System.Globalization;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.VirtualHouse;
using HouseWeather = RoomSupervisor.VirtualHouse.Weather;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>Design conditions of a place.</summary>
/// <param name="Summer">Weather of the summer day: a year, or one day.</param>
/// <param name="SummerName">What a scenario calls it.</param>
/// <param name="SummerDate">The day.</param>
/// <param name="SummerText">The design day as a file beside the scenarios; null where a weather file is used.</param>
/// <param name="WinterC">Design outdoor temperature, °C.</param>
/// <param name="Winter">A sunless day at it.</param>
/// <param name="WinterText">The same as a file.</param>
/// <param name="MeanC">Mean of the year, °C.</param>
/// <param name="AltitudeM">m.</param>
public sealed record DesignDays(
    HouseWeather Summer, string SummerName, DateOnly SummerDate, string? SummerText, double WinterC, HouseWeather Winter, string WinterText, double MeanC, double AltitudeM)
{
    /// <summary>Wind of the winter design night, m/s (common practice, no published source).</summary>
    public const double WinterWindMPerS = 4;

    /// <summary>Names of the files beside the scenarios.</summary>
    public const string SummerFile = "design-summer.yaml", WinterFile = "design-winter.yaml";

    // Hours of a year that may be colder: 0.4 % (ASHRAE Handbook Fundamentals' 99.6 % dry bulb).
    private const int ColderHours = 35;

    /// <summary>A day of the coldest month, for scenarios of the winter night.</summary>
    public DateOnly WinterDate { get; private init; }

    /// <summary>How the winter temperature was found, for people.</summary>
    public string WinterHow { get; private init; } = "";

    /// <summary>How the summer day was found, for people.</summary>
    public string SummerHow { get; private init; } = "";

    /// <summary>Reads the place; the hardest day of a year is found afterwards.</summary>
    /// <param name="file">The estimate.</param>
    /// <param name="folder">Where its own weather file lies.</param>
    /// <exception cref="ArgumentException">The weather file cannot be used.</exception>
    public static DesignDays Of(EstimateFile file, string folder)
    {
        var (place, epw) = (file.Place, (EpwFile?)null);
        if (place.Weather.Length > 0)
            epw = RehearsalReader.WeatherOf("place", place.Weather, folder);
        // What a source cannot do needs no day for it: a mild one stands in.
        var winter = double.IsFinite(place.WinterC) ? place.WinterC : epw is null ? 0 : Math.Round(epw.AirC.Order().ElementAt(Math.Min(ColderHours, epw.AirC.Length - 1)), 1);
        var mean = double.IsFinite(place.MeanC) ? place.MeanC : epw is { AirC.Length: > 24 } ? Math.Round(epw.AirC.Average(), 1) : 12;
        var altitude = double.IsFinite(place.AltitudeM) ? place.AltitudeM : epw?.AltitudeM ?? 0;
        var (latitude, longitude) = (Said(place.LatitudeDegrees, epw?.LatitudeDegrees), Said(place.LongitudeDegrees, epw?.LongitudeDegrees));
        var zone = epw?.StandardTimeH ?? TimeZoneInfo.FindSystemTimeZoneById(file.TimeZone).BaseUtcOffset.TotalHours;
        var date = new DateOnly(2026, latitude >= 0 ? 7 : 1, 21);
        var night = new DesignDayPlan(latitude, longitude, zone, altitude, winter, 0, winter - 3, WinterWindMPerS, 315, new DateOnly(2026, latitude >= 0 ? 1 : 7, 21)) { Sunless = true, GroundC = mean };
        var given = double.IsFinite(place.SummerC) || epw is null;
        var day = given ? new DesignDayPlan(latitude, longitude, zone, altitude, Said(place.SummerC, 25), place.SummerRangeK, Said(place.SummerDewC, 15), 3, 225, date) { GroundC = mean } : null;
        return new DesignDays(
            day is null ? new HouseWeather(epw!) : DesignDay.Make(day), day is null ? place.Weather : SummerFile, date, day is null ? null : Text(day), winter, DesignDay.Make(night), Text(night), mean, altitude)
        {
            WinterDate = night.Date,
            WinterHow = double.IsFinite(place.WinterC) ? "as written" : $"all but {ColderHours} hours of the weather file's year are warmer",
            SummerHow = given ? "a day by formulas, as written" : "",
        };
    }

    /// <summary>What is wrong with the name of a weather file, to be said after the name; empty: it can be read.</summary>
    /// <param name="weather">As in the estimate's file.</param>
    /// <param name="folder">Where the estimate's own weather file lies.</param>
    public static string WeatherFault(string weather, string folder)
    {
        if (weather.Length == 0)
            return "is no weather file";
        try
        {
            RehearsalReader.WeatherOf("place", weather, folder);
            return "";
        }
        catch (Exception e) when (e is ArgumentException or IOException or UnauthorizedAccessException or NotSupportedException)
        {
            var file = Path.Combine(folder, weather);
            return File.Exists(file) ? $"cannot be used: {e.Message.Replace("place: error: weather: ", "", StringComparison.Ordinal)}" : $"is no weather file: there is no {file}";
        }
    }

    /// <summary>Finds the day of the weather file that asks most of the house, heat and moisture together.</summary>
    /// <param name="drafted">The house.</param>
    internal DesignDays WithHardestDay(Drafted drafted)
    {
        if (SummerText is not null || Summer.File.AirC.Length <= 24)
            return this;
        var run = new LoadRun(drafted, this, 1800, Dried.All);
        DateOnly first = new(2026, 1, 1), hardest = first;
        var most = double.NegativeInfinity;
        for (var day = 0; day < 365; day++)
        {
            var joules = run.Day(first.AddDays(day));
            if (joules > most)
                (most, hardest) = (joules, first.AddDays(day));
        }
        return this with { SummerDate = hardest, SummerHow = string.Create(CultureInfo.InvariantCulture, $"of all days of the weather file ({Summer.File.Place}) this house asks most on it") };
    }

    /// <summary>The moment a day of the site begins; where a change of clocks skips midnight, an hour later.</summary>
    internal static DateTimeOffset Midnight(DateOnly date, TimeZoneInfo zone)
    {
        var midnight = date.ToDateTime(TimeOnly.MinValue);
        return new DateTimeOffset(midnight, zone.GetUtcOffset(zone.IsInvalidTime(midnight) ? midnight.AddHours(1) : midnight)).ToUniversalTime();
    }

    private static double Said(double written, double? file) => double.IsFinite(written) ? written : file ?? double.NaN;

    private static string Text(DesignDayPlan plan) => string.Create(CultureInfo.InvariantCulture, $"""
        # A design day by formulas, written with an estimate. It repeats; the sun is that of its date.
        latitude: {plan.LatitudeDegrees}
        longitude: {plan.LongitudeDegrees}
        standard_time: {plan.StandardTimeH}
        altitude: {plan.AltitudeM} m
        highest: {plan.HighestC} °C
        range: {plan.DailyRangeK} K
        dew_point: {plan.DewPointC} °C
        wind: {plan.WindMPerS}
        wind_from: {plan.WindFromDegrees}
        ground: {plan.GroundC} °C
        sunless: {(plan.Sunless ? "true" : "false")}
        date: {plan.Date:yyyy-MM-dd}

        """);
}

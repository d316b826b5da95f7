// The weather at any moment: an hourly year or a design day, interpolated, with the sun where it stands.
// Must never use the site's clock or daylight saving: moments are universal time, the file's standard time finds its rows.
using RoomSupervisor.Physics;

namespace RoomSupervisor.VirtualHouse;

/// <summary>Weather in time.</summary>
public sealed class Weather
{
    private static readonly int[] DaysBefore = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334];

    private readonly EpwFile _file;
    private readonly bool _leap;

    /// <summary>From a file or a design day.</summary>
    /// <param name="file">Hourly columns of a year (8,760 or 8,784) or of one day (24), which then repeats.</param>
    public Weather(EpwFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        _file = file;
        _leap = file.AirC.Length == 8784;
    }

    /// <summary>The file.</summary>
    public EpwFile File => _file;

    /// <summary>Hours since the file's first row began, at a moment: by month, day and time of the file's standard time; 29 February repeats the 28th where the file has none.</summary>
    /// <param name="moment">Any moment.</param>
    public double Hour(DateTimeOffset moment)
    {
        DateTime local = moment.UtcDateTime.AddHours(_file.StandardTimeH);
        double time = local.TimeOfDay.TotalHours;
        if (_file.AirC.Length == 24) return time;
        int day = local.Day;
        if (local.Month == 2 && day == 29 && !_leap) day = 28;
        return 24.0 * (DaysBefore[local.Month - 1] + day - 1 + (_leap && local.Month > 2 ? 1 : 0)) + time;
    }

    /// <summary>
    /// The weather at a moment. Temperature, humidity, pressure and wind on a straight line between the hours' ends (EPW gives instants there);
    /// sun on a straight line between the hours' middles (EPW gives sums of the hour), nothing while the sun is down.
    /// </summary>
    /// <param name="moment">1950 to 2050.</param>
    /// <param name="now">The weather.</param>
    public void At(DateTimeOffset moment, out WeatherNow now)
    {
        double hour = Hour(moment);
        Place(hour - 1, out int a, out int b, out double part);
        now = default;
        now.AirC = Between(_file.AirC, a, b, part);
        now.HumidityRatio = Between(_file.HumidityRatio, a, b, part);
        now.PressurePa = Between(_file.PressurePa, a, b, part);
        now.SkyC = Between(_file.SkyC, a, b, part);
        now.WindMPerS = Between(_file.WindMPerS, a, b, part);
        double from = _file.WindFromDegrees[a], turn = (_file.WindFromDegrees[b] - from + 540) % 360 - 180;
        now.WindFromDegrees = (from + part * turn + 360) % 360;
        if (!Sun.TryPosition(Sun.UniversalDays(moment), _file.LatitudeDegrees, _file.LongitudeDegrees, out SunPosition sun, out Impossible why))
            throw new ArgumentOutOfRangeException(nameof(moment), moment, $"The sun's position is known from 1950 to 2050 only ({why}).");
        now.SunElevationDegrees = sun.ElevationDegrees;
        now.SunAzimuthDegrees = sun.AzimuthDegrees;
        if (sun.ElevationDegrees <= 0) return;
        Place(hour - 0.5, out a, out b, out part);
        now.BeamWPerM2 = Between(_file.BeamWPerM2, a, b, part);
        now.DiffuseWPerM2 = Between(_file.DiffuseWPerM2, a, b, part);
    }

    private static double Between(double[] column, int a, int b, double part) => column[a] + part * (column[b] - column[a]);

    private void Place(double hours, out int a, out int b, out double part)
    {
        int count = _file.AirC.Length;
        double floor = Math.Floor(hours);
        part = hours - floor;
        a = ((int)floor % count + count) % count;
        b = a + 1 == count ? 0 : a + 1;
    }
}

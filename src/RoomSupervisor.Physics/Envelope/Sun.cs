// Where the sun stands.
// Must never ask what time it is: the moment is given, in universal time.
namespace RoomSupervisor.Physics;

/// <summary>Position of the sun.</summary>
/// <param name="ElevationDegrees">Above the horizon, without refraction, °; negative below it.</param>
/// <param name="AzimuthDegrees">From north through east, 0…360°.</param>
public readonly record struct SunPosition(double ElevationDegrees, double AzimuthDegrees)
{
    /// <summary>No position: NaN.</summary>
    public static readonly SunPosition Unknown = new(double.NaN, double.NaN);
}

/// <summary>
/// The Astronomical Almanac's low-precision formula as given by Michalsky, Solar Energy 40 (1988) 227: 0.01° for 1950…2050 (from memory, held
/// by a published worked example).
/// </summary>
public static class Sun
{
    /// <summary>Position seen from a place at a moment.</summary>
    /// <param name="universalDays">Days since 2000-01-01 12:00 UTC, −18,262…18,628 (1950…2050); fractions are time of day.</param>
    /// <param name="latitudeDegrees">−90…90°, north positive.</param>
    /// <param name="longitudeDegrees">−180…180°, east positive.</param>
    /// <param name="position">Position; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryPosition(
        double universalDays, double latitudeDegrees, double longitudeDegrees, out SunPosition position, out Impossible why)
    {
        position = SunPosition.Unknown;
        if (!Allowed.Range(nameof(universalDays), universalDays, -18_262, 18_628, out why)) return false;
        if (!Allowed.Range(nameof(latitudeDegrees), latitudeDegrees, -90, 90, out why)) return false;
        if (!Allowed.Range(nameof(longitudeDegrees), longitudeDegrees, -180, 180, out why)) return false;
        double meanLongitude = 280.460 + 0.9856474 * universalDays, anomaly = Radians(357.528 + 0.9856003 * universalDays);
        double ecliptic = Radians(meanLongitude + 1.915 * Math.Sin(anomaly) + 0.020 * Math.Sin(2 * anomaly));
        double oblique = Radians(23.439 - 4e-7 * universalDays);
        double ascension = Math.Atan2(Math.Cos(oblique) * Math.Sin(ecliptic), Math.Cos(ecliptic));
        double declination = Math.Asin(Math.Sin(oblique) * Math.Sin(ecliptic));
        // Greenwich mean sidereal time, degrees.
        double sidereal = 280.46062 + 360.98564737 * universalDays;
        double hour = Radians((sidereal + longitudeDegrees) % 360) - ascension, latitude = Radians(latitudeDegrees);
        double up = Math.Sin(latitude) * Math.Sin(declination) + Math.Cos(latitude) * Math.Cos(declination) * Math.Cos(hour);
        double east = -Math.Cos(declination) * Math.Sin(hour);
        double north = Math.Cos(latitude) * Math.Sin(declination) - Math.Sin(latitude) * Math.Cos(declination) * Math.Cos(hour);
        double azimuth = Math.Atan2(east, north) * 180 / Math.PI;
        position = new SunPosition(Math.Asin(Math.Clamp(up, -1, 1)) * 180 / Math.PI, azimuth < 0 ? azimuth + 360 : azimuth);
        return true;
    }

    /// <summary>Days since 2000-01-01 12:00 UTC of a moment, for <see cref="TryPosition"/>.</summary>
    /// <param name="moment">Any moment; its offset is taken into account.</param>
    public static double UniversalDays(DateTimeOffset moment) => (moment.UtcTicks - Epoch) / (double)TimeSpan.TicksPerDay;

    private static readonly long Epoch = new DateTime(2000, 1, 1, 12, 0, 0, DateTimeKind.Utc).Ticks;

    internal static double Radians(double degrees) => degrees * (Math.PI / 180);
}

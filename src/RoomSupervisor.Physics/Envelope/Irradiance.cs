// Sunshine on a tilted plane, and what glass lets through of it.
// Must never be fed local clock time: the sun's position comes from Sun, in universal time.
namespace RoomSupervisor.Physics;

/// <summary>Irradiance on a plane, W/m².</summary>
/// <param name="BeamWPerM2">Direct.</param>
/// <param name="SkyWPerM2">Diffuse from the sky.</param>
/// <param name="GroundWPerM2">Reflected from the ground.</param>
/// <param name="IncidenceDegrees">Angle of the beam to the plane's normal, 0…180°; over 90° the beam is behind the plane.</param>
public readonly record struct PlaneIrradiance(double BeamWPerM2, double SkyWPerM2, double GroundWPerM2, double IncidenceDegrees)
{
    /// <summary>All three together.</summary>
    public double TotalWPerM2 => BeamWPerM2 + SkyWPerM2 + GroundWPerM2;
}

/// <summary>Irradiance on tilted planes.</summary>
public static class Irradiance
{
    /// <summary>
    /// Beam by the cosine of incidence, sky as an even dome, ground even: Liu and Jordan 1963 (isotropic). The isotropic sky gives a little too
    /// little on planes that face the sun.
    /// </summary>
    /// <param name="sun">Position of the sun.</param>
    /// <param name="tiltDegrees">0 horizontal … 90 vertical … 180°.</param>
    /// <param name="azimuthDegrees">Where the plane faces, from north through east, 0…360°.</param>
    /// <param name="beamWPerM2">Direct normal, 0…1500 W/m².</param>
    /// <param name="diffuseWPerM2">Diffuse horizontal, 0…1000 W/m².</param>
    /// <param name="groundReflectance">0…1; about 0.2.</param>
    /// <param name="irradiance">On the plane; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryOnPlane(
        SunPosition sun, double tiltDegrees, double azimuthDegrees, double beamWPerM2, double diffuseWPerM2, double groundReflectance,
        out PlaneIrradiance irradiance, out Impossible why)
    {
        irradiance = new PlaneIrradiance(double.NaN, double.NaN, double.NaN, double.NaN);
        if (!Allowed.Range("sun.ElevationDegrees", sun.ElevationDegrees, -90, 90, out why)) return false;
        if (!Allowed.Range("sun.AzimuthDegrees", sun.AzimuthDegrees, 0, 360, out why)) return false;
        if (!Allowed.Range(nameof(tiltDegrees), tiltDegrees, 0, 180, out why)) return false;
        if (!Allowed.Range(nameof(azimuthDegrees), azimuthDegrees, 0, 360, out why)) return false;
        if (!Allowed.Range(nameof(beamWPerM2), beamWPerM2, 0, 1500, out why)) return false;
        if (!Allowed.Range(nameof(diffuseWPerM2), diffuseWPerM2, 0, 1000, out why)) return false;
        if (!Allowed.Range(nameof(groundReflectance), groundReflectance, 0, 1, out why)) return false;
        double up = Math.Sin(Sun.Radians(sun.ElevationDegrees)), along = Math.Cos(Sun.Radians(sun.ElevationDegrees));
        double tilt = Sun.Radians(tiltDegrees), lean = Math.Cos(tilt);
        double incidence = Math.Clamp(up * lean + along * Math.Sin(tilt) * Math.Cos(Sun.Radians(sun.AzimuthDegrees - azimuthDegrees)), -1, 1);
        double beam = up > 0 ? beamWPerM2 : 0;
        irradiance = new PlaneIrradiance(
            beam * Math.Max(incidence, 0),
            diffuseWPerM2 * (1 + lean) / 2,
            (beam * up + diffuseWPerM2) * groundReflectance * (1 - lean) / 2,
            Math.Acos(incidence) * 180 / Math.PI);
        return true;
    }
}

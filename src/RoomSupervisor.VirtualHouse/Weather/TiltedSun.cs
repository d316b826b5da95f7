// Sunshine on a tilted plane under a real sky: brighter round the sun and at the horizon.
// Must never be fed a clock time: position and irradiances are given.
namespace RoomSupervisor.VirtualHouse;

/// <summary>
/// Perez and others, Modeling daylight availability and irradiance components from direct and global irradiance, Solar Energy 44 (1990)
/// 271–289: the coefficients "all sites composite 1990", as in several public implementations that agree. What comes from round the sun is
/// counted as beam, because it goes through glass at the sun's own angle.
/// </summary>
public readonly struct TiltedSun
{
    private static readonly double[] Bounds = [1.065, 1.230, 1.500, 1.950, 2.800, 4.500, 6.200];

    // Rows of clearness; F11, F12, F13, F21, F22, F23.
    private static readonly double[] Factors =
    [
        -0.0083117, 0.5877285, -0.0620636, -0.0596012, 0.0721249, -0.0220216,
        0.1299457, 0.6825954, -0.1513752, -0.0189325, 0.0659650, -0.0288748,
        0.3296958, 0.4868735, -0.2210958, 0.0554140, -0.0639588, -0.0260542,
        0.5682053, 0.1874525, -0.2951290, 0.1088631, -0.1519229, -0.0139754,
        0.8730280, -0.3920403, -0.3616149, 0.2255647, -0.4620442, 0.0012448,
        1.1326077, -1.2367284, -0.4118494, 0.2877813, -0.8230357, 0.0558651,
        1.0601591, -1.5999137, -0.3589221, 0.2642124, -1.1272340, 0.1310694,
        0.6777470, -0.3272588, -0.2504286, 0.1561313, -1.3765031, 0.2506212,
    ];

    private readonly double _beam, _diffuse, _up, _along, _azimuth, _round, _horizon;

    private const double Radian = Math.PI / 180;

    /// <summary>Takes the sky of a moment; planes are asked afterwards.</summary>
    /// <param name="elevationDegrees">Of the sun, −90…90°.</param>
    /// <param name="azimuthDegrees">Of the sun, from north through east.</param>
    /// <param name="beamWPerM2">Direct normal, W/m².</param>
    /// <param name="diffuseWPerM2">Diffuse horizontal, W/m².</param>
    public TiltedSun(double elevationDegrees, double azimuthDegrees, double beamWPerM2, double diffuseWPerM2)
    {
        _up = Math.Sin(elevationDegrees * Radian);
        _along = Math.Cos(elevationDegrees * Radian);
        _azimuth = azimuthDegrees * Radian;
        _diffuse = diffuseWPerM2;
        _beam = _up > 0 ? beamWPerM2 : 0;
        _round = _horizon = 0;
        if (!(_up > 0) || !(diffuseWPerM2 > 0)) return;
        double zenith = (90 - elevationDegrees) * Radian, cube = 1.041 * zenith * zenith * zenith;
        double clearness = ((diffuseWPerM2 + _beam) / diffuseWPerM2 + cube) / (1 + cube);
        // Air mass after Kasten and Young, Applied Optics 28 (1989) 4735.
        double mass = 1 / (_up + 0.50572 * Math.Pow(elevationDegrees + 6.07995, -1.6364));
        double brightness = Math.Min(diffuseWPerM2 * mass / 1367, 1);
        int row = 0;
        while (row < Bounds.Length && clearness >= Bounds[row]) row++;
        ReadOnlySpan<double> f = Factors.AsSpan(row * 6, 6);
        _round = Math.Max(f[0] + f[1] * brightness + f[2] * zenith, 0);
        _horizon = f[3] + f[4] * brightness + f[5] * zenith;
    }

    /// <summary>Irradiance on a plane.</summary>
    /// <param name="tiltDegrees">0 faces the sky, 90 upright, 180 faces the ground.</param>
    /// <param name="azimuthDegrees">Where it faces, from north through east.</param>
    /// <param name="groundReflectance">0…1.</param>
    /// <param name="beam">Beam and the glow round the sun, W/m².</param>
    /// <param name="spread">From the rest of the sky and the ground, W/m².</param>
    /// <param name="cosine">Cosine of incidence of the beam, 0 when it is behind.</param>
    public void On(double tiltDegrees, double azimuthDegrees, double groundReflectance, out double beam, out double spread, out double cosine)
    {
        double lean = Math.Cos(tiltDegrees * Radian), stand = Math.Sin(tiltDegrees * Radian);
        cosine = Math.Max(_up * lean + _along * stand * Math.Cos(_azimuth - azimuthDegrees * Radian), 0);
        double round = _round * cosine / Math.Max(_up, 0.087156);
        double sky = Math.Max((1 - _round) * (1 + lean) / 2 + _horizon * stand, 0);
        beam = _beam * cosine + _diffuse * round;
        spread = _diffuse * sky + (_beam * Math.Max(_up, 0) + _diffuse) * groundReflectance * (1 - lean) / 2;
    }
}

// How much of the sun a window lets in at an angle, and what it loses by conduction.
// Must never be used for coated panes' own angular curves: clear glass stands for all, scaled by the stated g value.
namespace RoomSupervisor.Physics;

/// <summary>Clear panes by Fresnel's equations (Duffie and Beckman, Solar Engineering of Thermal Processes, ch. 5), refractive index 1.526.</summary>
public static class Glazing
{
    private const double Index = 1.526;

    /// <summary>
    /// Transmittance of a stack of panes for the beam: reflections of each polarisation between 2N faces, times absorption exp(−K·L/cos).
    /// </summary>
    /// <param name="panes">1…4.</param>
    /// <param name="absorptionPerPane">K·L of one pane at normal incidence, 0…1 (clear 4 mm about 0.05).</param>
    /// <param name="incidenceDegrees">0…90°.</param>
    /// <param name="transmittance">0…1; 0 at 90°; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryTransmittance(
        int panes, double absorptionPerPane, double incidenceDegrees, out double transmittance, out Impossible why)
    {
        transmittance = double.NaN;
        if (!Allowed.Range(nameof(panes), panes, 1, 4, out why)) return false;
        if (!Allowed.Range(nameof(absorptionPerPane), absorptionPerPane, 0, 1, out why)) return false;
        if (!Allowed.Range(nameof(incidenceDegrees), incidenceDegrees, 0, 90, out why)) return false;
        transmittance = Transmittance(panes, absorptionPerPane, Math.Cos(Sun.Radians(incidenceDegrees)));
        return true;
    }

    /// <summary>Sun let in per W/m² of beam on the pane: the stated g value times clear glass's fall with angle.</summary>
    /// <param name="normalGValue">g at normal incidence, 0…1 (EN 410).</param>
    /// <param name="panes">1…4.</param>
    /// <param name="incidenceDegrees">0…90°.</param>
    /// <param name="gValue">g at the angle; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryGValue(double normalGValue, int panes, double incidenceDegrees, out double gValue, out Impossible why)
    {
        gValue = double.NaN;
        if (!Allowed.Range(nameof(normalGValue), normalGValue, 0, 1, out why)) return false;
        if (!TryTransmittance(panes, 0.05, incidenceDegrees, out double oblique, out why)) return false;
        gValue = normalGValue * oblique / Transmittance(panes, 0.05, 1);
        return true;
    }

    /// <summary>Inside surface of a window, °C: inside − U·(inside − outside)/h. Heat balance.</summary>
    /// <param name="uValue">0.2…7 W/(m²·K), below the inside film.</param>
    /// <param name="insideC">−40…60 °C.</param>
    /// <param name="outsideC">−60…60 °C.</param>
    /// <param name="insideFilm">7.1…12 W/(m²·K); 7.69 (= 1/0.13) in ISO 6946.</param>
    /// <param name="surfaceC">°C; NaN when impossible.</param>
    /// <param name="why">What was impossible.</param>
    public static bool TryInsideSurface(
        double uValue, double insideC, double outsideC, double insideFilm, out double surfaceC, out Impossible why)
    {
        surfaceC = double.NaN;
        if (!Allowed.Range(nameof(uValue), uValue, 0.2, 7, out why)) return false;
        if (!Allowed.Range(nameof(insideC), insideC, -40, 60, out why)) return false;
        if (!Allowed.Range(nameof(outsideC), outsideC, -60, 60, out why)) return false;
        if (!Allowed.Range(nameof(insideFilm), insideFilm, 7.1, 12, out why)) return false;
        surfaceC = insideC - uValue * (insideC - outsideC) / insideFilm;
        return true;
    }

    private static double Transmittance(int panes, double absorption, double cosine)
    {
        if (cosine <= 1e-9) return 0;
        double inner = Math.Sqrt(1 - (1 - cosine * cosine) / (Index * Index));
        double across = (cosine - Index * inner) / (cosine + Index * inner), along = (Index * cosine - inner) / (Index * cosine + inner);
        double reflections = (Stack(across * across, panes) + Stack(along * along, panes)) / 2;
        return reflections * Math.Exp(-panes * absorption / inner);
    }

    // N panes of two faces each, one polarisation.
    private static double Stack(double reflectance, int panes) => (1 - reflectance) / (1 + (2 * panes - 1) * reflectance);
}

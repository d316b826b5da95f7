// Sun through one or two panes by angle: what is let through and what each pane keeps.
// Must never be used for light-bending or patterned glass: plane clear panes, scaled where a coating changes the stated g.
namespace RoomSupervisor.VirtualHouse;

/// <summary>
/// Glass. Angle dependence by Fresnel's equations with absorption, each polarisation by itself, panes combined by ray tracing (Duffie and
/// Beckman, Solar Engineering of Thermal Processes, ch. 5).
/// </summary>
/// <param name="Panes">1 or 2 panes that count for the sun.</param>
/// <param name="PaneTransmittance">Solar transmittance of one pane at normal incidence, 0.3…0.95.</param>
/// <param name="PaneReflectance">Solar reflectance of one pane at normal incidence, 0.05…0.3.</param>
/// <param name="GapResistanceM2KPerW">From pane to pane, 0…2 m²K/W.</param>
public sealed record GlassPlan(int Panes, double PaneTransmittance, double PaneReflectance, double GapResistanceM2KPerW)
{
    /// <summary>Capacity of one pane, J/(m²·K): thickness × 2,500 kg/m³ × 750 J/(kg·K).</summary>
    public double PaneJPerM2K { get; init; } = 0.004 * 2500 * 750;

    /// <summary>Resistance of one pane, m²K/W.</summary>
    public double PaneResistanceM2KPerW { get; init; } = 0.004;

    /// <summary>Highest U value of glass, W/(m²·K); where one pane begins (EN 673: two panes 6 mm apart have 3.3, from memory).</summary>
    public const double HighestU = 5.7, OnePaneOverU = 3.3;

    /// <summary>Thermal emissivity of the outer and inner face, 0.02…1.</summary>
    public double Emissivity { get; init; } = 0.84;

    /// <summary>Everything the sun does is multiplied by this: coatings and frames, 0…1.5.</summary>
    public double Scale { get; init; } = 1;

    /// <summary>
    /// Glass from its two usual numbers. U by EN 673 films (7.7 inside, 25 outside, W/(m²·K)), g by EN 410: clear double glass is scaled until
    /// its g at normal incidence is the stated one. Over 3.3 W/(m²·K), what two panes with the narrowest gap have, it is one pane.
    /// </summary>
    /// <param name="uValue">0.4…5.7 W/(m²·K): one pane of 4 mm has 5.75.</param>
    /// <param name="gValue">0.1…0.8.</param>
    public static GlassPlan FromUg(double uValue, double gValue)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(uValue, 0.4);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(uValue, HighestU);
        ArgumentOutOfRangeException.ThrowIfLessThan(gValue, 0.1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(gValue, 0.8);
        double resistance = 1 / uValue - 1 / 7.7 - 1 / 25.0;
        GlassPlan clear = uValue > OnePaneOverU ? new GlassPlan(1, 0.82, 0.075, 0) { PaneResistanceM2KPerW = resistance } : new(2, 0.82, 0.075, resistance - 2 * 0.004);
        return clear with { Scale = gValue / clear.NormalG() };
    }

    /// <summary>g at normal incidence with EN 673 films: transmitted, plus what the warm panes pass inwards.</summary>
    public double NormalG()
    {
        GlassOptics optics = new(this);
        optics.At(1, out double through, out double outer, out double inner);
        double pane = PaneResistanceM2KPerW, gap = Panes == 1 ? 0 : GapResistanceM2KPerW, films = 1 / 7.7 + 1 / 25.0;
        double total = films + gap + Panes * pane;
        double fromOuter = 1 / 25.0 + pane / 2, fromInner = Panes == 1 ? fromOuter : 1 / 25.0 + pane + gap + pane / 2;
        return through + outer * fromOuter / total + inner * fromInner / total;
    }
}

/// <summary>Optics of a glass, made once, looked up by the cosine of incidence.</summary>
internal sealed class GlassOptics
{
    private const int Steps = 100;

    private readonly double[] _through = new double[Steps + 1], _outer = new double[Steps + 1], _inner = new double[Steps + 1];

    internal GlassOptics(GlassPlan glass)
    {
        (double index, double absorption) = Fit(glass.PaneTransmittance, glass.PaneReflectance);
        for (int i = 0; i <= Steps; i++)
        {
            (double through, double outer, double inner) = Stack(glass.Panes, index, absorption, (double)i / Steps);
            (_through[i], _outer[i], _inner[i]) = (through * glass.Scale, outer * glass.Scale, inner * glass.Scale);
        }

        // Mean over a hemisphere of even brightness: 2·∫ τ(c)·c dc.
        for (int i = 0; i < Steps; i++)
        {
            double c = (i + 0.5) / Steps, weight = 2 * c / Steps;
            At(c, out double t, out double o, out double n);
            DiffuseThrough += weight * t;
            DiffuseOuter += weight * o;
            DiffuseInner += weight * n;
        }
    }

    internal double DiffuseThrough { get; }

    internal double DiffuseOuter { get; }

    internal double DiffuseInner { get; }

    /// <summary>Shares of beam let through, kept by the outer and by the inner pane, at the cosine of incidence.</summary>
    internal void At(double cosine, out double through, out double outer, out double inner)
    {
        double place = Math.Clamp(cosine, 0, 1) * Steps;
        int at = Math.Min((int)place, Steps - 1);
        double part = place - at;
        through = _through[at] + part * (_through[at + 1] - _through[at]);
        outer = _outer[at] + part * (_outer[at + 1] - _outer[at]);
        inner = _inner[at] + part * (_inner[at + 1] - _inner[at]);
    }

    // Index and absorption of a pane from its normal transmittance and reflectance: bisection on the surface reflectance.
    private static (double Index, double Absorption) Fit(double transmittance, double reflectance)
    {
        double low = 0.001, high = reflectance;
        for (int round = 0; round < 60; round++)
        {
            double r = (low + high) / 2, a = Passing(transmittance, r);
            double whole = r + (1 - r) * (1 - r) * a * a * r / (1 - r * r * a * a);
            if (whole > reflectance) high = r;
            else low = r;
        }

        double root = Math.Sqrt(low);
        return ((1 + root) / (1 - root), -Math.Log(Passing(transmittance, low)));
    }

    // Internal transmittance a of one pass, from t = (1−r)²·a/(1−r²a²).
    private static double Passing(double t, double r)
    {
        double b = (1 - r) * (1 - r), k = t * r * r;
        return Math.Min(k < 1e-12 ? t / b : (-b + Math.Sqrt(b * b + 4 * k * t)) / (2 * k), 0.999999);
    }

    private static (double Through, double Outer, double Inner) Stack(int panes, double index, double absorption, double cosine)
    {
        if (cosine <= 1e-9) return default;
        double inside = Math.Sqrt(1 - (1 - cosine * cosine) / (index * index)), pass = Math.Exp(-absorption / inside);
        double across = (cosine - index * inside) / (cosine + index * inside), along = (index * cosine - inside) / (index * cosine + inside);
        var one = Polarised(panes, across * across, pass);
        var two = Polarised(panes, along * along, pass);
        return ((one.Through + two.Through) / 2, (one.Outer + two.Outer) / 2, (one.Inner + two.Inner) / 2);
    }

    private static (double Through, double Outer, double Inner) Polarised(int panes, double r, double a)
    {
        double t = (1 - r) * (1 - r) * a / (1 - r * r * a * a), rho = r + r * a * t, kept = 1 - t - rho;
        if (panes == 1) return (t, kept, 0);
        double between = 1 - rho * rho;
        return (t * t / between, kept * (1 + t * rho / between), kept * t / between);
    }
}

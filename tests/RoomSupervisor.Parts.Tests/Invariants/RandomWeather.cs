// Weather by chance: a day's swing, damp or dry, and now and then a front. Figures are a northern European year (common practice, no published
// source): they have to reach every season, not to be anybody's climate.
using CsCheck;

namespace RoomSupervisor.Parts.Tests.Invariants;

/// <summary>Outdoor air over one life.</summary>
/// <param name="MeanC">Mean temperature, °C.</param>
/// <param name="SwingK">Half the day's swing, K.</param>
/// <param name="DewPointC">Dew point, °C; never over the temperature.</param>
/// <param name="FrontAtS">When a front comes, s; past the end: none.</param>
/// <param name="FrontK">What it changes, K.</param>
/// <param name="Sun">Sun on the glass, W/m² of floor.</param>
internal sealed record RandomWeather(double MeanC, double SwingK, double DewPointC, double FrontAtS, double FrontK, double Sun)
{
    private static readonly Gen<(double Mean, double Dew)> Season = Gen.OneOf(
        Gen.Select(Even.Between(26, 33), Even.Between(14, 21)), Gen.Select(Even.Between(26, 33), Even.Between(17, 24)), Gen.Select(Even.Between(26, 34), Even.Between(8, 16)), Gen.Select(Even.Between(13, 22), Even.Between(6, 15)), Gen.Select(Even.Between(-12, 8), Even.Between(-14, 4)));

    public static Gen<RandomWeather> Weathers { get; } = Gen.Select(
        Season, Even.Between(0, 6), Even.Between(0, 60_000), Even.Between(-16, 16), Even.Between(0, 45),
        (season, swing, at, front, sun) => new RandomWeather(season.Mean, swing, season.Dew, at, front, sun));

    /// <summary>Outdoor temperature, °C.</summary>
    public double TemperatureC(double s) => MeanC + SwingK * Math.Sin(2 * Math.PI * (s - 8 * 3600) / 86_400) + FrontK * Math.Clamp((s - FrontAtS) / 1200, 0, 1);

    /// <summary>Outdoor vapour pressure, Pa.</summary>
    public double VapourPa(double s) => Vapour.SaturationPa(Math.Min(TemperatureC(s) - 0.3, DewPointC + 0.5 * FrontK * Math.Clamp((s - FrontAtS) / 1200, 0, 1)));
}

/// <summary>Numbers drawn evenly: the library's own doubles prefer special values, most of them next to nothing.</summary>
internal static class Even
{
    public static Gen<double> Between(double low, double high) => Gen.Int[0, 1_000_000].Select(share => low + (high - low) * share / 1e6);
}

/// <summary>
/// Saturation of moist air by Magnus' formula over water, 611.2 Pa, 17.62, 243.12 K (WMO guide no. 8, annex 4.B, from memory): not the product's formula,
/// within 0.1 K of it between 0 and 40 °C.
/// </summary>
internal static class Vapour
{
    public static double SaturationPa(double c) => 611.2 * Math.Exp(17.62 * c / (243.12 + c));

    public static double DewPointC(double pa)
    {
        var ln = Math.Log(Math.Max(pa, 1) / 611.2);
        return 243.12 * ln / (17.62 - ln);
    }
}

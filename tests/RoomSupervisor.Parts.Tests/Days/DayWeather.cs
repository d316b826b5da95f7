// Weather of the closed two-day runs: a daily swing of temperature and dew point, a sun, and a seeded restlessness on each. Never knows what a controller does.
namespace RoomSupervisor.Parts.Tests.Days;

/// <summary>Weather at one moment: temperature and dew point in °C, humidity ratio in kg/kg, sun on vertical glass to the east, south and west in W/m².</summary>
internal readonly record struct Outdoors(double AirC, double DewPointC, double Ratio, double EastWPerM2, double SouthWPerM2, double WestWPerM2);

/// <summary>Coldest at half past three, warmest twelve hours later; the dew point follows an hour and a half behind (a humid afternoon by the sea; invented).</summary>
internal sealed record DayWeather(double MeanC, double SwingK, double MeanDewC, double SwingDewK, double SunWPerM2, int Seed)
{
    private readonly double[] phases = Phases(Seed);

    /// <param name="second">Seconds since the first midnight.</param>
    public Outdoors At(double second)
    {
        var hour = second / 3600;
        var air = MeanC + SwingK * Daily(hour - 15.5) + 0.5 * Restless(second, 0);
        var dew = Math.Min(MeanDewC + SwingDewK * Daily(hour - 17) + 0.4 * Restless(second, 3), air - 0.5);
        var clouds = SunWPerM2 * Math.Clamp(0.8 + 0.25 * Restless(second, 6), 0, 1);
        return new Outdoors(air, dew, Closed.TrueAir.Ratio(dew), clouds * Sun(hour, 9), 0.7 * clouds * Sun(hour, 12.5), clouds * Sun(hour, 16));
    }

    /// <summary>Three slow waves of seeded phases, about ±1: no state, so that any moment can be asked for.</summary>
    private double Restless(double second, int from)
        => (Math.Sin(second / 900 + phases[from]) + Math.Sin(second / 2300 + phases[from + 1]) + Math.Sin(second / 5100 + phases[from + 2])) / 2;

    private static double Daily(double hours) => Math.Cos(2 * Math.PI * hours / 24);

    private static double Sun(double hour, double peak)
    {
        var ofDay = hour % 24;
        return ofDay is < 5.5 or > 20.5 ? 0 : Math.Max(0, Math.Cos((ofDay - peak) * Math.PI / 9));
    }

    private static double[] Phases(int seed)
    {
        var draw = new Random(7907 * seed + 5);
        return [.. Enumerable.Range(0, 9).Select(_ => 2 * Math.PI * draw.NextDouble())];
    }
}

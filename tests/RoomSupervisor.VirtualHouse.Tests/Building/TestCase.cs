// ASHRAE Standard 140-2020's cases 600 and 900 as plans, and a year of them.
// Must never be tuned to the ranges: every number is the standard's, as an open implementation of its cases writes it down.
namespace RoomSupervisor.VirtualHouse.Tests;

/// <summary>
/// Geometry, layers, glass, gains and infiltration of the 2020 edition (8 × 6 × 2.7 m, 12 m² of glass to the south), read in an open library's own models of the
/// cases (BSD-3); 120 W radiant and 80 W convective inside. Infiltration is half an air change an hour of the place's own thin air; the standard's 0.414
/// is for programs that reckon with air of sea level (from memory; 0.414/0.5 is the ratio of the densities, and thin air with 0.414 would count the height twice).
/// </summary>
internal static class TestCase
{
    internal static BuildingPlan Plan(bool heavy)
    {
        Layer siding = new(0.009, 0.14, 530, 900), deck = new(0.019, 0.14, 530, 900);
        Layer[] wall = heavy
            ? [new(0.1, 0.51, 1400, 1000), new(0.0615, 0.04, 10, 1400), siding]
            : [new(0.012, 0.16, 950, 840), new(0.066, 0.04, 12, 840), siding];
        Layer[] roof = [new(0.010, 0.16, 950, 840), new(0.1118, 0.04, 12, 840), deck];
        Layer[] floor = heavy ? [new(0.08, 1.13, 1400, 1000), new(1.007, 0.04, 0, 0)] : [new(0.025, 0.14, 650, 1200), new(1.003, 0.04, 0, 0)];
        // Air gap of 12 mm: conduction of air at 10 °C (0.0249 W/(m·K)) and radiation between faces of 0.84.
        GlassPlan glass = new(2, 0.834, 0.075, 1 / (0.0249 / 0.012 + 4 * 5.670374e-8 * Math.Pow(283, 3) / (2 / 0.84 - 1)))
        {
            PaneJPerM2K = 0.003048 * 2500 * 750,
            PaneResistanceM2KPerW = 0.003048 / 1.0,
            Emissivity = 0.84,
        };
        RoomPlan room = new("room", 48, 129.6)
        {
            InfiltrationPerH = 0.5,
            FastFurnitureJPerM2K = 0,
            SlowFurnitureJPerM2K = 0,
            FastMoistureGPerPercentM2 = 0,
            SlowMoistureGPerPercentM2 = 0,
            StartC = 20,
            StartHumidityPercent = 30,
        };
        SurfacePlan Wall(string name, double area, double azimuth) =>
            new(name, 0, area, Lie.Wall, Beyond.Outside, wall) { AzimuthDegrees = azimuth };
        return new BuildingPlan(
            [room],
            [
                Wall("north", 21.6, 0), Wall("east", 16.2, 90), Wall("south", 9.6, 180), Wall("west", 16.2, 270),
                new("roof", 0, 48, Lie.Ceiling, Beyond.Outside, roof) { TiltDegrees = 0 },
                new("floor", 0, 48, Lie.Floor, Beyond.Outside, floor) { TiltDegrees = 180, Exposed = false },
            ],
            [new("south glass 1", 0, 6, 180, glass), new("south glass 2", 0, 6, 180, glass)], [], [])
        {
            PressurePa = 83_000,
            WindFactor = 0.76,
        };
    }

    /// <summary>Figures of a year.</summary>
    internal sealed record Year(
        double HeatingMWh, double CoolingMWh, double PeakHeatingKW, double PeakCoolingKW, double HighestC, double LowestC, double MeanC, double[] HourlyC, double[] HourlyKWh);

    /// <summary>Runs the year, after two weeks of its own January to settle, at the step given; extremes and peaks are of hourly means, as the standard asks.</summary>
    internal static Year Run(bool heavy, bool floating, double stepS) => Run(Plan(heavy), floating, stepS);

    /// <summary>The same of a changed plan.</summary>
    internal static Year Run(BuildingPlan plan, bool floating, double stepS)
    {
        BuildingModel building = new(plan, stepS);
        building.ConvectiveW[0] = 80;
        building.RadiantW[0] = 120;
        if (!floating) (building.IdealHeatC[0], building.IdealCoolC[0]) = (20, 27);
        DateTimeOffset start = new(2001, 1, 1, 7, 0, 0, TimeSpan.Zero);
        int perHour = (int)Math.Round(3600 / stepS);
        for (int i = 0; i < 14 * 24 * perHour; i++) Step(building, start.AddSeconds((i + 1) * stepS));
        double[] temperature = new double[8760], load = new double[8760];
        double heating = 0, cooling = 0, peakHeating = 0, peakCooling = 0;
        for (int hour = 0; hour < 8760; hour++)
        {
            double sum = 0, heat = 0, cool = 0;
            for (int i = 1; i <= perHour; i++)
            {
                Step(building, start.AddSeconds(hour * 3600.0 + i * stepS));
                sum += building.AirC[0] / perHour;
                heat += Math.Max(building.IdealW[0], 0) / perHour / 1000;
                cool += Math.Max(-building.IdealW[0], 0) / perHour / 1000;
            }

            (temperature[hour], load[hour]) = (sum, heat - cool);
            heating += heat / 1000;
            cooling += cool / 1000;
            peakHeating = Math.Max(peakHeating, heat);
            peakCooling = Math.Max(peakCooling, cool);
        }

        return new Year(heating, cooling, peakHeating, peakCooling, temperature.Max(), temperature.Min(), temperature.Average(), temperature, load);
    }

    private static void Step(BuildingModel building, DateTimeOffset moment)
    {
        Data.Denver.Value.At(moment, out WeatherNow now);
        building.Step(now);
    }
}

// Moisture: openings, films and buffers against closed solutions, and the books.
// Must never compare the model with its own formulas: closed solutions and bookkeeping are worked out here.
using RoomSupervisor.Physics;
using Xunit.Abstractions;

namespace RoomSupervisor.VirtualHouse.Tests;

public class MoistureTests(ITestOutputHelper output)
{
    private static double Ratio(double airC, double percent)
    {
        Assert.True(MoistAir.TryHumidityRatio(airC, percent, 101_325, out double ratio, out Impossible why), why.ToString());
        return ratio;
    }

    /// <summary>
    /// Check values, section 3: minutes until the dew point has risen from 14 to 15 and to 16 °C with n air changes of outdoor air, fully mixed, no buffers:
    /// t = −(60/n)·ln((Wo−Wb)/(Wo−Wa)).
    /// </summary>
    [Theory]
    [InlineData(30, 70, 1, 4.8, 10.3)]
    [InlineData(30, 70, 5, 1.0, 2.1)]
    [InlineData(30, 70, 10, 0.5, 1.0)]
    [InlineData(32, 50, 1, 8.8, 19.7)]
    [InlineData(32, 50, 3, 2.9, 6.6)]
    [InlineData(32, 50, 5, 1.8, 3.9)]
    public void The_dew_point_rises_as_in_a_mixed_room(double airC, double percent, double changes, double toFifteen, double toSixteen)
    {
        BuildingPlan plan = Samples.Box(infiltration: changes);
        Assert.True(MoistAir.TryRelativeHumidity(24, 14, out double start, out _));
        plan = plan with { Rooms = [plan.Rooms[0] with { StartHumidityPercent = start }] };
        BuildingModel building = new(plan, 1);
        WeatherNow weather = Data.Still(airC, Ratio(airC, percent));
        double fifteen = 0, sixteen = 0;
        for (int second = 1; second < 3000 && sixteen == 0; second++)
        {
            building.Step(weather);
            if (fifteen == 0 && building.DewPointC[0] >= 15) fifteen = second / 60.0;
            if (building.DewPointC[0] >= 16) sixteen = second / 60.0;
        }

        output.WriteLine($"{fifteen:F2} and {sixteen:F2} min");
        // 0.06 min covers the table's rounding; the mass of air in the room is that of 24 °C, the flow's that of its own warming air: under 3 %.
        Data.Near(toFifteen, fifteen, 0.06 + 0.03 * toFifteen);
        Data.Near(toSixteen, sixteen, 0.06 + 0.03 * toSixteen);
    }

    [Fact] // the same closed solution behind a wide opening, whose flow is de Gids and Phaff's worked out here
    public void A_slipway_door_lets_moisture_in_at_the_published_rate()
    {
        BuildingModel building = new(Samples.Box(opening: new OpeningPlan("slipway", 0, 6, 2.4)), 1);
        building.OpeningOpen[0] = 1;
        building.IdealHeatC[0] = building.IdealCoolC[0] = 24;
        double outside = Ratio(30, 70), first = building.HumidityRatio[0];
        for (int second = 0; second < 60; second++) building.Step(Data.Still(30, outside, 2));
        // Virtual temperatures: 30 °C with 18.8 g/kg against 24 °C with 9.3 g/kg.
        double difference = 303.15 * (1 + 1.607858 * outside) / (1 + outside) - 297.15 * (1 + 1.607858 * first) / (1 + first);
        double flow = 6 / 2.0 * Math.Sqrt(0.01 + 0.001 * 4 + 0.0035 * 2.4 * difference);
        double closed = outside - (outside - first) * Math.Exp(-flow * 60 / 75);
        output.WriteLine($"{flow * 3600:F0} m³/h; after a minute {building.HumidityRatio[0] * 1000:F2} g/kg, closed {closed * 1000:F2}");
        Data.Near(closed - first, building.HumidityRatio[0] - first, 0.05 * (closed - first));
    }

    [Fact]
    public void Buffers_slow_the_rise_and_give_back()
    {
        double Rise(double buffers)
        {
            BuildingModel building = new(Samples.Box(buffers: buffers), 1);
            building.VapourKgPerS[0] = 0.5 / 3600;
            for (int second = 0; second < 1800; second++) building.Step(Data.Still(24));
            return building.HumidityRatio[0];
        }

        double dry = Rise(0), soft = Rise(1);
        // Without buffers 250 g in 75 m³ (about 88 kg dry air): 2.85 g/kg. NORDTEST's moderate class takes clearly more than a tenth of it in half an hour.
        Data.Near(0.25 / 88.2, dry - Ratio(24, 50), 0.00006);
        Assert.True(soft - Ratio(24, 50) < 0.8 * (dry - Ratio(24, 50)));
        BuildingModel building = new(Samples.Box(buffers: 1, infiltration: 5), 10);
        for (int i = 0; i < 360 * 24; i++) building.Step(Data.Still(24, Ratio(24, 70)));
        Data.Near(70, building.HumidityPercent(0), 0.5, "after a day of humid air");
        for (int i = 0; i < 30; i++) building.Step(Data.Still(24, Ratio(24, 40)));
        Assert.True(building.HumidityPercent(0) > 48, $"five minutes of dry air, and the buffers hold it at {building.HumidityPercent(0):F1} %");
    }

    [Fact] // a cold panel: the film grows only under the dew point, h·A/(cp·Le^⅔)·dW by hand, and evaporates again
    public void A_panel_under_the_dew_point_gets_wet_and_dries_again()
    {
        BuildingModel building = new(Samples.Box(Samples.Panel("panel", 0, 20), infiltration: 0.5), 1);
        (building.WaterInC[1], building.WaterKgPerS[1]) = (16, 0.2);
        WeatherNow humid = Data.Still(27, Ratio(27, 60));
        for (int i = 0; i < 1200; i++) building.Step(humid);
        Assert.Equal(0, building.FilmKgPerM2(1));
        building.WaterInC[1] = 6;
        for (int i = 0; i < 1200; i++) building.Step(humid);
        double wet = building.FilmKgPerM2(1), at = building.FrontC(1), dew = building.DewPointC[0];
        Assert.True(at < dew && wet > 0);
        double before = wet;
        building.Step(humid);
        Assert.True(MoistAir.TrySaturationPressure(building.FrontC(1), out double vapour, out _));
        double saturated = 0.621945 * vapour / (101_325 - vapour), law = 8.92 * Math.Pow(building.OperativeC(0) - building.FrontC(1), 0.1) - 5.5;
        double expected = law / (1006 * 0.908) * (building.HumidityRatio[0] - saturated);
        output.WriteLine($"panel {at:F2} °C, dew point {dew:F2} °C, {wet * 1000:F2} g/m²; rate {(building.FilmKgPerM2(1) - before) * 3.6e6:F1} g/(m²·h), by hand {expected * 3.6e6:F1}");
        Data.Near(expected, building.FilmKgPerM2(1) - before, 0.05 * expected);
        building.WaterKgPerS[1] = 0;
        int minutes = 0;
        while (building.FilmKgPerM2(1) > 0 && minutes++ < 600)
            for (int i = 0; i < 60; i++) building.Step(Data.Still(27, Ratio(27, 40)));
        output.WriteLine($"dry again after {minutes} min");
        Assert.InRange(minutes, 5, 599);
    }

    [Fact] // slow water: the inlet stands below the dew point while the mean of the panel does not
    public void The_inlet_wets_before_the_mean()
    {
        BuildingModel building = new(Samples.Box(Samples.Panel("panel", 0, 20), infiltration: 0.5), 1);
        (building.WaterInC[1], building.WaterKgPerS[1]) = (16, 0.04);
        WeatherNow humid = Data.Still(27, Ratio(27, 68));
        for (int i = 0; i < 7200; i++) building.Step(humid);
        output.WriteLine($"mean {building.FrontC(1):F2}, inlet {building.ExtremeFrontC(1):F2}, dew point {building.DewPointC[0]:F2} °C; water {building.WaterInC[1]:F1} → {building.WaterOutC[1]:F2}; {building.SpotFilmKgPerM2(1) * 1000:F1} g/m²");
        Assert.True(building.FrontC(1) > building.DewPointC[0] && building.ExtremeFrontC(1) < building.DewPointC[0]);
        Assert.True(building.ExtremeFrontC(1) >= building.WaterInC[1]);
        Assert.Equal(0, building.FilmKgPerM2(1));
        Assert.True(building.SpotFilmKgPerM2(1) > 0.0005);
    }

    [Fact]
    public void Every_gram_and_joule_of_a_week_is_in_the_books()
    {
        BuildingModel building = new(Samples.SixRooms(), 5);
        DateTimeOffset start = new(2026, 7, 12, 4, 0, 0, TimeSpan.Zero);
        double heat = building.StoredJ(), water = building.StoredKg(), turned = 0, moved = 0;
        double[] last = new double[8];
        for (int i = 0; i < 7 * 17_280; i++)
        {
            Data.NewYork.Value.At(start.AddSeconds(5 * (i + 1)), out WeatherNow now);
            Life(building, i);
            building.Step(now);
            for (int k = 0; k < 8; k++)
            {
                double change = Math.Abs(building.Booked(k) - last[k]);
                last[k] = building.Booked(k);
                if (k < 7) turned += change;
                else moved += change;
            }
        }

        double booked = 0;
        for (int k = 0; k < 7; k++) booked += building.Booked(k);
        double error = building.StoredJ() - heat - booked;
        double moisture = building.StoredKg() - water - building.Booked(Account.MoistureIn) + building.Booked(Account.Dripped);
        output.WriteLine($"heat: turned over {turned / 3.6e6:F1} kWh, unaccounted {error:G3} J; moisture: {moved:F1} kg, unaccounted {moisture * 1e6:G3} mg; owed {building.Booked(Account.MoistureOwed) * 1e6:G3} mg; dripped {building.Booked(Account.Dripped):F3} kg");
        Assert.True(Math.Abs(error) < 1e-3 * turned);
        Assert.True(Math.Abs(moisture) < 1e-3 * moved);
        // Far closer than the 0.1 % asked for, since nothing is left on one side only.
        Assert.True(Math.Abs(error) < 1e-8 * turned);
        Assert.True(Math.Abs(moisture) < 1e-5 * moved);
    }

    internal static void Life(BuildingModel building, int step)
    {
        for (int room = 0; room < 6; room++)
        {
            building.ConvectiveW[room] = step / 720 % 3 == room % 3 ? 150 : 20;
            building.RadiantW[room] = 40;
            building.VapourKgPerS[room] = step / 720 % 3 == room % 3 ? 0.12 / 3600 : 0;
            building.DoorOpen[room] = step / 360 % 2 == 0 ? 1 : 0;
        }

        building.OpeningOpen[0] = step % 17_280 / 720 == 14 ? 1 : 0;
        for (int i = 0; i < building.Plan.Surfaces.Length; i++)
        {
            if (building.Plan.Surfaces[i].Water is null) continue;
            bool on = step / 1000 % 3 != 0;
            building.WaterKgPerS[i] = on ? 0.005 * building.Plan.Surfaces[i].AreaM2 : 0;
            building.WaterInC[i] = step / 5000 % 2 == 0 ? 17 : 10;
        }
    }
}

// Openings, moisture buffer, sun, irradiance and glazing against published examples and measured irradiance.
// Must never check the sun against itself: the position is held by a worked example and by a weather file's own beam.
using System.Globalization;
using CsCheck;
using Xunit;
using Xunit.Abstractions;
using static RoomSupervisor.Physics.Tests.Reference;

namespace RoomSupervisor.Physics.Tests;

public class EnvelopeTests(ITestOutputHelper output)
{
    private static SunPosition SunAt(DateTimeOffset moment, double latitude, double longitude)
    {
        Assert.True(Sun.TryPosition(Sun.UniversalDays(moment), latitude, longitude, out SunPosition p, out Impossible why), why.ToString());
        return p;
    }

    // Reda and Andreas, Solar Energy 76 (2004), worked example: zenith 50.11162°, azimuth 194.34024°, of which refraction 0.0163° (figures from memory).
    [Fact]
    public void The_sun_stands_where_the_published_example_puts_it()
    {
        SunPosition p = SunAt(new DateTimeOffset(2003, 10, 17, 12, 30, 30, TimeSpan.FromHours(-7)), 39.742476, -105.1786);
        Near(90 - 50.11162 - 0.0163, p.ElevationDegrees, 0.01, "elevation");
        Near(194.34024, p.AzimuthDegrees, 0.02, "azimuth");
    }

    [Fact] // NREL TMY3, Chicago: global = beam·sin(elevation) + diffuse in every hour with the sun well up; the sun taken at mid-hour
    public void A_weather_file_adds_up_with_our_sun()
    {
        List<double> off = [];
        foreach (string[] c in Rows("data/weather/USA_IL_Chicago-OHare.725300_TMY3.epw", headers: 8))
        {
            int month = int.Parse(c[1], CultureInfo.InvariantCulture), day = int.Parse(c[2], CultureInfo.InvariantCulture);
            int hour = int.Parse(c[3], CultureInfo.InvariantCulture);
            DateTimeOffset middle = new DateTimeOffset(2001, month, day, 0, 0, 0, TimeSpan.FromHours(-6)).AddHours(hour - 0.5);
            SunPosition sun = SunAt(middle, 41.98, -87.92);
            double global = Number(c[13]);
            if (sun.ElevationDegrees < 15 || global < 100) continue;
            Assert.True(Irradiance.TryOnPlane(sun, 0, 180, Number(c[14]), Number(c[15]), 0.2, out PlaneIrradiance flat, out Impossible why), why.ToString());
            off.Add(flat.TotalWPerM2 / global - 1);
        }

        off.Sort();
        output.WriteLine($"{off.Count} hours: median {off[off.Count / 2]:P2}, 5 % {off[off.Count / 20]:P2}, 95 % {off[off.Count * 19 / 20]:P2}");
        Assert.True(off.Count > 2500);
        Assert.InRange(off[off.Count / 2], -0.01, 0.01);
        Assert.True(off[off.Count / 20] > -0.03 && off[off.Count * 19 / 20] < 0.03);
    }

    [Fact]
    public void Planes_share_the_sky_and_the_beam_as_geometry_says()
    {
        SunPosition sun = new(30, 180);
        Assert.True(Irradiance.TryOnPlane(sun, 90, 180, 800, 100, 0.2, out PlaneIrradiance south, out _));
        Near(800 * Math.Cos(Math.PI / 6), south.BeamWPerM2, 1e-9);
        Near(50, south.SkyWPerM2, 1e-9);
        Near((800 * 0.5 + 100) * 0.2 / 2, south.GroundWPerM2, 1e-9);
        Near(30, south.IncidenceDegrees, 1e-9);
        Assert.True(Irradiance.TryOnPlane(sun, 90, 0, 800, 100, 0.2, out PlaneIrradiance north, out _));
        Assert.Equal(0, north.BeamWPerM2);
        Assert.True(Irradiance.TryOnPlane(new SunPosition(-5, 280), 90, 270, 300, 0, 0.2, out PlaneIrradiance night, out _));
        Assert.Equal(0, night.TotalWPerM2);
    }

    [Theory] // Duffie and Beckman ch. 5 (from memory): reflection alone, index 1.526: 1, 2, 3 covers at normal 0.92, 0.85, 0.79; 60° two covers 0.76
    [InlineData(1, 0, 0.92)]
    [InlineData(2, 0, 0.85)]
    [InlineData(3, 0, 0.79)]
    [InlineData(2, 60, 0.76)]
    public void Clear_panes_reflect_as_in_the_textbook(int panes, double angle, double transmittance)
    {
        Assert.True(Glazing.TryTransmittance(panes, 0, angle, out double result, out Impossible why), why.ToString());
        Near(transmittance, result, 0.006);
    }

    [Fact]
    public void Glass_lets_less_through_the_flatter_the_sun_and_nothing_at_ninety_degrees()
    {
        double before = 1;
        for (double angle = 0; angle <= 90; angle++)
        {
            Assert.True(Glazing.TryGValue(0.6, 2, angle, out double g, out Impossible why), why.ToString());
            Assert.InRange(g, 0, before + 0.002);
            before = g;
        }

        Assert.Equal(0, before);
        Assert.True(Glazing.TryGValue(0.6, 2, 0, out double normal, out _));
        Near(0.6, normal, 1e-12);
        Near(20 - 1.1 * 30 * 0.13, Of(Glazing.TryInsideSurface, 1.1, 20, -10, 1 / 0.13), 1e-9);
    }

    [Fact] // Brown and Solvason 1962 (from memory), worked by hand: Cd 0.6, 0.9 × 2 m, 2 K at 21 °C: 0.36·√(9.80665·2·2/294.15) = 0.1315 m³/s
    public void An_open_door_passes_its_air_both_ways()
    {
        bool possible = Openings.TryDoor(0.9, 2, 22, 20, 0.6, out double flow, out Impossible why);
        Near(473.3, Must(possible, flow, why), 1);
        possible = Openings.TryDoor(0.9, 2, 20, 20, 0.6, out flow, out why);
        Assert.Equal(0, Must(possible, flow, why));
        Assert.False(Openings.TryDoor(0.9, 2, 19, 20, 0.6, out flow, out why));
        Assert.Equal("warmC", why.Parameter);
    }

    [Fact] // EN 15242:2007 (from memory): a sash opened flat frees all; 8° about 14 %; 1 m² free, 1.2 m high, 10 K, 2 m/s worked by hand
    public void A_tilted_window_airs_as_the_standard_says()
    {
        Near(1, Of(Openings.TryTiltShare, 180), 0.01);
        Near(0.1413, Of(Openings.TryTiltShare, 8), 0.0005);
        bool possible = Openings.TryWindow(1, 1.2, 21, 11, 2, out double flow, out Impossible why);
        Near(1800 * Math.Sqrt(0.01 + 0.004 + 0.042), Must(possible, flow, why), 1e-9);
    }

    [Fact]
    public void A_moisture_buffer_takes_what_the_room_loses_and_gives_it_back() =>
        Gen.Select(Gen.Double[0.1, 3], Gen.Double[5, 200], Gen.Double[20, 80], Gen.Double[20, 80], Gen.Double[600, 50_000]).Each(51, 1000, s =>
        {
            double humidity = s.Item3, taken = 0;
            for (int i = 0; i < 600; i++)
            {
                double room = i < 300 ? s.Item4 : s.Item3;
                Assert.True(MoistureBuffer.TryStep(s.Item1, s.Item2, humidity, room, s.Item5, 600, out MoistureBufferStep step, out Impossible why), why.ToString());
                (humidity, taken) = (step.BufferHumidityPercent, taken + step.TakenGrams);
                Near(s.Item1 * s.Item2 * (humidity - s.Item3), taken, 1e-6, "what was taken is what is held");
                Assert.InRange(humidity, Math.Min(s.Item3, s.Item4) - 1e-9, Math.Max(s.Item3, s.Item4) + 1e-9);
            }
        });

    [Fact]
    public void One_step_of_an_hour_equals_sixty_of_a_minute()
    {
        Assert.True(MoistureBuffer.TryStep(1, 50, 40, 60, 7200, 3600, out MoistureBufferStep once, out _));
        double humidity = 40;
        for (int i = 0; i < 60; i++)
        {
            Assert.True(MoistureBuffer.TryStep(1, 50, humidity, 60, 7200, 60, out MoistureBufferStep step, out _));
            humidity = step.BufferHumidityPercent;
        }

        Near(once.BufferHumidityPercent, humidity, 1e-9);
    }
}

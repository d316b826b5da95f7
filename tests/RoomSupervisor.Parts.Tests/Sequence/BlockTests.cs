// The small blocks, each alone. Slew in decibels against the fan law, PI against the closed-form answer of a first-order plant; both worked out here.
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class BlockTests
{
    [Theory]
    [InlineData(5, 5)]
    [InlineData(-1, 0)]
    [InlineData(12, 10)]
    [InlineData(double.NaN, 0)]
    [InlineData(double.PositiveInfinity, 10)]
    public void Limit_keeps_a_value_between_its_bounds_and_no_number_at_the_lower(double value, double expected) => Assert.Equal(expected, Limit.Between(value, 0, 10));

    [Fact]
    public void Where_the_bounds_of_a_limit_cross_the_upper_one_holds() => Assert.Equal(15, Limit.Between(50, 20, 15));

    [Fact]
    public void Slew_moves_two_units_a_second_up_and_half_a_unit_down_and_never_past_the_wish()
    {
        var value = 10.0;
        for (var i = 0; i < 4; i++)
            value = Slew.Linear(value, 100, 2, 0.5, 0.25);
        Assert.Equal(12, value, 1e-12);
        for (var i = 0; i < 4; i++)
            value = Slew.Linear(value, 0, 2, 0.5, 0.25);
        Assert.Equal(11.5, value, 1e-12);
        Assert.Equal(11.6, Slew.Linear(value, 11.6, 2, 0.5, 1), 1e-12);
        Assert.Equal(11.4, Slew.Linear(value, 11.4, 2, 0.5, 1), 1e-12);
        Assert.Equal(value, Slew.Linear(value, double.NaN, 2, 0.5, 1));
    }

    /// <summary>Fan law (handbooks, from memory): level changes by 50·log10 of the speed ratio. 15.05 dB is twice the speed, in any number of steps.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(0.2)]
    [InlineData(10)]
    public void Slew_in_decibels_doubles_a_speed_in_fifteen_decibels_whatever_the_step(double dt)
    {
        var fifteen = 50 * Math.Log10(2);
        var speed = 20.0;
        for (var passed = 0.0; passed < 60 - 1e-9; passed += dt)
            speed = Slew.Decibels(speed, fifteen, dt);
        Assert.Equal(40, speed, 1e-9);
        Assert.Equal(20, Slew.Decibels(speed, -fifteen, 60), 1e-9);
    }

    [Fact]
    public void Hysteresis_stays_as_it_was_between_its_two_bounds()
    {
        var on = false;
        var said = "";
        foreach (var value in new[] { 17.0, 19.9, 20, 18, 17, 16.9, 18, 19.9, 20, double.NaN })
            said += (on = Hysteresis.Over(value, 20, 17, on)) ? "1" : "0";
        Assert.Equal("0011100010", said);
    }

    [Fact]
    public void On_delay_waits_for_a_condition_that_holds_without_a_break()
    {
        var forS = 0.0;
        var said = "";
        foreach (var condition in new[] { true, true, false, true, true, true, false })
            said += Blocks.OnDelay(ref forS, condition, 2, 1) ? "1" : "0";
        Assert.Equal("0000010", said);
    }

    [Fact]
    public void Off_delay_goes_on_for_its_time_after_the_condition_and_anew_after_each()
    {
        var leftS = 0.0;
        var said = "";
        foreach (var condition in new[] { false, true, false, false, true, false, false, false })
            said += Blocks.OffDelay(ref leftS, condition, 2.5, 1) ? "1" : "0";
        Assert.Equal("01111110", said);
    }

    [Fact]
    public void Latch_stays_set_until_it_is_freed_and_free_wins()
    {
        Assert.True(Blocks.Latch(false, set: true, reset: false));
        Assert.True(Blocks.Latch(true, set: false, reset: false));
        Assert.False(Blocks.Latch(true, set: true, reset: true));
        Assert.False(Blocks.Latch(false, set: false, reset: false));
    }

    /// <summary>
    /// Plant T·y' = K·u − y, PI with integral time T. With u = g·(e + ∫e/T) and e = r − y the loop gain is g·K·(s·T + 1)/(s·T·(s·T + 1)) = g·K/(s·T): the
    /// pole of the plant is gone, and from rest y(t) = r·(1 − exp(−g·K·t/T)).
    /// </summary>
    [Fact]
    public void Pi_on_a_first_order_plant_gives_the_closed_form_step_response()
    {
        const double t = 100, k = 2, g = 1.5, r = 10;
        var plant = new Plant(t, k, g, new PiLimits(-1e9, 1e9));
        for (var s = 0; s <= 400; s += 20)
        {
            Assert.Equal(r * (1 - Math.Exp(-g * k * s / t)), plant.Y, 0.01);
            plant.Run(20, r);
        }
    }

    /// <summary>
    /// The same plant with u ≤ U. From rest u would be g·r &gt; U, so the integral stands at 0 and y = K·U·(1 − exp(−t/T)) until g·(r − y) = U: y₁ = r − U/g at
    /// t₁ = −T·ln(1 − y₁/(K·U)). From then on, with I the integral and w = K·I − y: T·w' = −w, so w = −y₁·exp(−t/T); put into T·y' = K·g·(r − y) + w, and with
    /// a = K·g/T, y = r + A·exp(−a·t) + B·exp(−t/T), B = −y₁/(K·g − 1), A = y₁ − r − B. An integral that wound up behind the limit would be far over it.
    /// </summary>
    [Fact]
    public void Pi_behind_a_limit_does_not_wind_up_and_follows_the_closed_form_from_the_moment_it_leaves_it()
    {
        const double t = 100, k = 2, g = 1.5, r = 10, u = 6;
        var plant = new Plant(t, k, g, new PiLimits(0, u));
        const double y1 = r - u / g;
        var t1 = -t * Math.Log(1 - y1 / (k * u));
        const double b = -y1 / (k * g - 1);
        const double a = y1 - r - b;
        var most = 0.0;
        for (var s = 0; s <= 600; s += 10)
        {
            var after = s - t1;
            var expected = after < 0 ? k * u * (1 - Math.Exp(-s / t)) : r + a * Math.Exp(-k * g * after / t) + b * Math.Exp(-after / t);
            Assert.Equal(expected, plant.Y, 0.02);
            most = Math.Max(most, plant.Y);
            plant.Run(10, r);
        }
        Assert.True(most < r, $"{most} over {r}");
    }

    [Fact]
    public void Pi_without_a_number_keeps_its_integral_and_its_bounds()
    {
        var integral = 40.0;
        Assert.Equal(40, Pi.Step(ref integral, double.NaN, 3, 100, new PiLimits(0, 100), 1));
        Assert.Equal(40, integral);
        Assert.Equal(30, Pi.Step(ref integral, 0, 3, 100, new PiLimits(0, 100, -30, 30), 1));
        Assert.Equal(30, integral);
    }

    private sealed class Plant(double timeS, double gain, double controlGain, PiLimits limits)
    {
        private const double Dt = 0.05;
        private double integral;

        public double Y { get; private set; }

        public void Run(double seconds, double wanted)
        {
            for (var i = 0; i < (int)Math.Round(seconds / Dt); i++)
            {
                var u = Pi.Step(ref integral, wanted - Y, controlGain, timeS, limits, Dt);
                Y += (gain * u - Y) * (1 - Math.Exp(-Dt / timeS));
            }
        }
    }
}

// A relay against plants whose ultimate gain and period are known in closed form (any textbook of control; Åström and Hägglund 1984 for the relay). Integrator with dead time: Ku = π/(2KL), Pu = 4L.
// Three equal lags: Ku = 8/K, Pu = 2πT/√3. Steps against exact models.
using RoomSupervisor.Desk.Tuning;

namespace RoomSupervisor.VirtualHouse.Tests.Tuning;

public class RelayTests
{
    private const double Dt = 0.05;

    private static RelayFound Play(Func<double, double> plant, double step, double hysteresis, double seconds, Random? noise = null, double noiseK = 0, bool risesWith = true)
    {
        var relay = new Relay(0, step, hysteresis, risesWith);
        var output = 0.0;
        for (var i = 0; i < seconds / Dt && !relay.IsDone; i++)
            output = plant(relay.Step(i * Dt, output + (noise is null ? 0 : noiseK * (2 * noise.NextDouble() - 1))));
        Assert.True(relay.IsDone);
        return relay.Found()!.Value;
    }

    private static Func<double, double> Integrator(double gain, double dead)
    {
        var line = new double[(int)Math.Round(dead / Dt)];
        var (at, y) = (0, 0.0);
        return u =>
        {
            var late = line[at];
            line[at] = u;
            at = (at + 1) % line.Length;
            return y += gain * late * Dt;
        };
    }

    private static Func<double, double> ThreeLags(double gain, double lag)
    {
        double a = 0, b = 0, c = 0;
        var share = 1 - Math.Exp(-Dt / lag);
        return u =>
        {
            a += (gain * u - a) * share;
            b += (a - b) * share;
            return c += (b - c) * share;
        };
    }

    [Theory]
    [InlineData(0.01, 20)]
    [InlineData(0.002, 60)]
    public void An_integrator_with_dead_time_has_its_ultimate_gain_and_period(double gain, double dead)
    {
        var found = Play(Integrator(gain, dead), 5, 1e-6, 60 * dead);
        Assert.Equal(4 * dead, found.PeriodS, 0.02 * 4 * dead);
        Assert.Equal(Math.PI / (2 * gain * dead), found.UltimateGain, 0.02 * Math.PI / (2 * gain * dead));
        // The peaks of a triangle are no sine: the textbook's describing function is low by 1 − 8/π².
        Assert.Equal(8 / (Math.PI * Math.PI), found.ByPeaks / found.UltimateGain, 0.02);
    }

    [Theory]
    [InlineData(1, 30)]
    [InlineData(0.2, 100)]
    public void Three_equal_lags_have_their_ultimate_gain_and_period(double gain, double lag)
    {
        var found = Play(ThreeLags(gain, lag), 10, 1e-6, 60 * lag);
        var period = 2 * Math.PI * lag / Math.Sqrt(3);
        Assert.Equal(period, found.PeriodS, 0.03 * period);
        Assert.Equal(8 / gain, found.UltimateGain, 0.05 * 8 / gain);
    }

    [Fact]
    public void Noise_and_hysteresis_move_both_by_little_and_a_plant_that_falls_is_swung_too()
    {
        var found = Play(ThreeLags(1, 30), 10, 0.15, 4000, new Random(4), 0.05);
        Assert.Equal(2 * Math.PI * 30 / Math.Sqrt(3), found.PeriodS, 0.12 * 109);
        Assert.Equal(8, found.UltimateGain, 1.2);
        Assert.Equal(8, Play(ThreeLags(-1, 30), 10, 1e-6, 2000, risesWith: false).UltimateGain, 0.4);
    }

    [Theory]
    [InlineData(0.1, 45, 20)]
    [InlineData(0.05, 60, 0)]
    [InlineData(0.3, 10, 100)]
    public void First_order_with_dead_time_comes_back_out_of_ultimate_gain_and_period(double gain, double dead, double lag)
    {
        // Closed form at the ultimate frequency: ωL + atan(ωT) = π, solved by bisection here; K·Ku = √(1 + (ωT)²).
        var (low, high) = (1e-6, Math.PI / dead);
        for (var i = 0; i < 80; i++)
        {
            var middle = (low + high) / 2;
            if (middle * dead + Math.Atan(middle * lag) > Math.PI)
                high = middle;
            else
                low = middle;
        }
        var model = RelayModel.FirstOrder(gain, Math.Sqrt(1 + low * low * lag * lag) / gain, 2 * Math.PI / low);
        Assert.Equal(dead, model.DeadS, 0.01 * dead);
        Assert.Equal(lag, model.LagS, 0.01 * Math.Max(lag, 1));
    }

    private static List<TestSample> Step(ProcessModel model, double from, double to, double drift, Random? noise, double noiseK, double forS, double everyS = 2)
    {
        List<TestSample> samples = [];
        for (var t = -120.0; t <= forS; t += everyS)
            samples.Add(new TestSample(t, t < 0 ? from : to, 18 + drift * t + (to - from) * model.StepResponse(t) + (noise is null ? 0 : noiseK * (2 * noise.NextDouble() - 1))));
        return samples;
    }

    [Theory]
    [InlineData(-0.09, 45, 25, false)]
    [InlineData(0.2, 12, 90, false)]
    [InlineData(0.1, 60, 2, false)]
    [InlineData(-2e-6, 60, 140, true)]
    public void A_step_gives_its_exact_model_back(double gain, double dead, double lag, bool integrates)
    {
        var model = new ProcessModel(gain, dead, lag, integrates, 0);
        var (from, to) = integrates ? (300.0, 900.0) : (40.0, 25.0);
        var found = StepFit.Fit(Step(model, from, to, 1e-5, null, 0, integrates ? 1500 : 600), integrates)!.Value;
        Assert.Equal(gain, found.Gain, 0.02 * Math.Abs(gain));
        Assert.Equal(dead, found.DeadS, 2.5);
        Assert.Equal(lag, found.LagS, Math.Max(3, 0.05 * lag));
        Assert.True(found.ErrorShare < 0.01);
    }

    [Fact]
    public void With_a_sensors_noise_it_is_within_a_tenth_and_noise_alone_is_no_model()
    {
        var model = new ProcessModel(-0.09, 45, 25, false, 0);
        for (var seed = 1; seed <= 10; seed++)
        {
            var found = StepFit.Fit(Step(model, 40, 25, 0, new Random(seed), 0.05, 600), false)!.Value;
            Assert.Equal(-0.09, found.Gain, 0.009);
            Assert.Equal(70, found.DeadS + found.LagS, 7.0);
            var nothing = StepFit.Fit(Step(model with { Gain = 0 }, 40, 25, 0, new Random(seed), 0.05, 600), false);
            Assert.True(nothing is null || nothing.Value.ErrorShare > Tuned.WorstErrorShare);
        }
    }
}

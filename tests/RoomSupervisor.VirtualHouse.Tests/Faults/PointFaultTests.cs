// Each fault of the menu does what its name says, in its time only.
// Must never leave a trace after its end.
namespace RoomSupervisor.VirtualHouse.Tests;

public class PointFaultTests
{
    private static (double[] Told, bool[] Given) Play(PointFaultKind kind, double amount)
    {
        PointFault fault = new(new PointFaultPlan(kind, 100, 400, amount), 1, 11, 3);
        double[] told = new double[500];
        bool[] given = new bool[500];
        for (int i = 0; i < 500; i++) given[i] = fault.Step(i, i, out told[i]);
        for (int i = 0; i < 100; i++) Assert.True(given[i] && told[i] == i);
        for (int i = 400; i < 500; i++) Assert.True(given[i] && told[i] == i);
        return (told, given);
    }

    [Fact]
    public void Off_stuck_wrong_and_drifting()
    {
        Assert.All(Play(PointFaultKind.Off, 0).Given[100..400], g => Assert.False(g));
        Assert.All(Play(PointFaultKind.Stuck, 0).Told[100..400], t => Assert.Equal(100, t));
        Assert.Equal(250 + 1.5, Play(PointFaultKind.WrongBy, 1.5).Told[250]);
        Data.Near(280 + 36.0 * 180 / 3600, Play(PointFaultKind.Drifting, 36).Told[280], 1e-9);
    }

    [Fact]
    public void Noisy_slow_delayed_and_intermittent()
    {
        double[] noisy = Play(PointFaultKind.Noisy, 2).Told;
        double deviation = Math.Sqrt(Enumerable.Range(100, 300).Average(i => (noisy[i] - i) * (noisy[i] - i)));
        Assert.InRange(deviation, 1.6, 2.4);
        // A ramp behind a first-order lag trails by its time constant.
        Data.Near(399 - 20, Play(PointFaultKind.Slow, 20).Told[399], 1);
        Assert.Equal(300 - 30, Play(PointFaultKind.Delayed, 30).Told[300]);
        bool[] given = Play(PointFaultKind.Intermittent, 0.4).Given[100..400];
        Assert.InRange(given.Count(g => !g), 50, 200);
        // In stretches of ten seconds, not one by one.
        Assert.True(Enumerable.Range(1, 299).Count(i => given[i] != given[i - 1]) <= 30);
    }

    [Fact]
    public void Impossible_faults_are_refused()
    {
        Assert.Contains("delay", Assert.Throws<ArgumentException>(() => new PointFault(new(PointFaultKind.Delayed, 0, 1, 1e5), 1, 1, 1)).Message, StringComparison.Ordinal);
        Assert.Contains("end", Assert.Throws<ArgumentException>(() => new PointFault(new(PointFaultKind.Off, 10, 5, 0), 1, 1, 1)).Message, StringComparison.Ordinal);
    }
}

// The algebra behind a walk: two points, a way back to rest, levels at the ear. Each against values worked out by hand or by another way.
using RoomSupervisor.Desk.Checkout.Fits;

namespace RoomSupervisor.VirtualHouse.Tests.Desk.Checkout;

public class FitTests
{
    /// <summary>By hand: raw 2 and 22 where the reference says 1 and 25: gain 24/20 = 1.2, zero 1 − 1.2·2 = −1.4.</summary>
    [Fact]
    public void Two_points_make_a_straight_line_by_its_algebra()
    {
        Assert.True(TwoPoint.TryMake(2, 1, 22, 25, 8, out var line));
        Assert.Equal(1.2, line.Gain, 12);
        Assert.Equal(-1.4, line.Zero, 12);
        Assert.Equal(1, line.TrueOf(2), 12);
        Assert.Equal(25, line.TrueOf(22), 12);
        Assert.Equal(2, line.RawOf(1), 12);
        // At 10 °C true it says (10 + 1.4)/1.2 = 9.5: it wants +0.5. At 25 °C it says 22: it wants +3. One offset for 10 to 25 is their mean, 1.75, and leaves 1.25 at both ends.
        Assert.Equal(0.5, line.OffsetAt(10), 12);
        Assert.Equal(1.75, line.BestOffset(10, 25), 12);
        Assert.Equal(1.25, line.LeftBy(1.75, 10, 25), 12);
        Assert.Equal(3, line.LeftBy(0, 10, 25), 12);
    }

    [Fact]
    public void A_biased_stand_in_is_found_out_and_points_too_near_are_refused()
    {
        double Says(double real) => 0.96 * real - 0.7;
        Assert.True(TwoPoint.TryMake(Says(15), 15, Says(28), 28, 8, out var line));
        Assert.Equal(1 / 0.96, line.Gain, 9);
        Assert.Equal(0.7 / 0.96, line.Zero, 9);
        Assert.Equal(24, line.TrueOf(Says(24)), 9);
        Assert.False(TwoPoint.TryMake(Says(20), 20, Says(24), 24, 8, out _));
        Assert.False(TwoPoint.TryMake(20, 15, 20.5, 28, 8, out _));   // it does not tell them apart
    }

    [Theory]
    [InlineData(40)]
    [InlineData(140)]
    [InlineData(300)]
    public void The_time_constant_of_a_decay_is_found_through_noise_and_coarse_registers(double lagS)
    {
        List<double> times = [], values = [];
        for (var s = 5.0; s <= 4 * lagS; s += 5)
        {
            times.Add(s);
            values.Add(Math.Round((22.3 + 5.5 * Math.Exp(-s / lagS) + 0.03 * Chance.Normal(7, 3, (long)s)) * 10) / 10);
        }
        Assert.True(LagFit.TryFind([.. times], [.. values], 1, out var fit));
        Assert.InRange(fit.LagS, 0.95 * lagS, 1.05 * lagS);
        Assert.Equal(22.3, fit.End, 1);
    }

    /// <summary>A room that warms by 3 K an hour meanwhile bends the curve: taken for rest it makes the sensor too quick; taken as a drift it does not.</summary>
    [Fact]
    public void A_drifting_room_does_not_bend_the_time_constant()
    {
        double[] times = [.. Enumerable.Range(0, 100).Select(i => 5.0 * i)];
        double[] values = [.. times.Select(t => 22 + 3 * t / 3600 + 6 * Math.Exp(-t / 140))];
        Assert.True(LagFit.TryFind(times, values, 1, out var plain));
        Assert.True(LagFit.TryFind(times, values, 1, out var drifting, drifts: true));
        Assert.Equal(140, drifting.LagS, 1);
        Assert.True(plain.LagS < 133);
        Assert.False(LagFit.TryFind(times, [.. times.Select(t => 22 + 0.01 * t)], 1, out _, drifts: true));
    }

    [Fact]
    public void What_is_no_decay_has_no_time_constant()
    {
        double[] times = [.. Enumerable.Range(0, 60).Select(i => 5.0 * i)];
        Assert.False(LagFit.TryFind(times, [.. times.Select(t => 22 + 0.05 * Chance.Normal(1, 1, (long)t))], 1, out _));
        Assert.False(LagFit.TryFind(times, [.. times.Select(t => 22 + 2 * Math.Sin(t / 20))], 1, out _));
        Assert.False(LagFit.TryFind(times, [.. times.Select(t => 22 + 0.01 * t)], 1, out _));   // a straight line has no end
        Assert.False(LagFit.TryFind(times.AsSpan(0, 4), [1, 2, 3, 4], 1, out _));
    }

    /// <summary>Two equal levels are 3.01 dB more than one (energies added), so 40 dB over 37 dB of background is a fan of 36.98 dB; the fan law: half the speed is 50·log10(0.5) = −15.05 dB.</summary>
    [Fact]
    public void Levels_lose_their_background_and_become_one_at_full_speed()
    {
        Assert.Equal(36.98, FanLevels.Alone(40, 37), 2);
        Assert.True(double.IsNaN(FanLevels.Alone(39, 37)));
        double With(double fan) => 10 * Math.Log10(Math.Pow(10, fan / 10) + Math.Pow(10, 2.5));
        Assert.True(FanLevels.TryMake([(100, With(44)), (70, With(44 + 50 * Math.Log10(0.7))), (50, With(44 - 15.0515))], 25, out var found));
        Assert.Equal(44, found.FullDb, 3);
        Assert.InRange(found.OffDb, 0, 0.001);
        Assert.Equal(3, found.Counted);
        Assert.False(FanLevels.TryMake([(30, 26)], 25, out _));
        Assert.True(FanLevels.TryMake([(100, 44), (70, 44)], 20, out var odd));
        Assert.True(odd.OffDb > 3);   // does not follow the law
    }
}

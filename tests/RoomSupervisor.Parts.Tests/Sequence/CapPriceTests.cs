// Section 2, rule 7: what a limit on a fan costs by measured data, against how long the true room then takes. The data are measured under one limit and asked about another; rooms are of seeds that nothing was shaped with.
using RoomSupervisor.Parts.Tests.Closed;
using RoomSupervisor.Sequence;
using Xunit.Abstractions;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class CapPriceTests(ITestOutputHelper output)
{
    private sealed record Fall(double Min, double AirC, double StoredC, double Percent);

    /// <summary>Lives through three doors, and tells how long the fourth takes back, with the air and the walls as they are when it shuts.</summary>
    private static (RoomDataRun Run, Fall Fourth) Live(int cap, int seed)
    {
        var run = new RoomDataRun(new ClosedCase(cap, 1, 120, false, seed));
        run.Doors(3);
        var shut = (3 * RoomDataRun.EveryS) + RoomDataRun.EveryS - 7200;
        var (air, stored, back) = (0.0, 0.0, double.NaN);
        run.Each = (second, airC, stage) =>
        {
            if (second == shut)
                (air, stored) = (airC, run.Data.StoredC);
            if (second > shut && double.IsNaN(back) && airC <= ClosedHouse.WantedC + Recovery.ToAboveK)
                back = (second - shut) / 60.0;
        };
        run.Doors(1);
        return (run, new Fall(back, air, stored, cap));
    }

    [Fact]
    public void What_another_limit_would_cost_is_foreseen_from_what_was_measured_under_one()
    {
        const int rooms = 3;
        var (measured, typed) = (new List<double>(), new List<double>());
        for (var i = 0; i < rooms; i++)
        {
            var (slow, atSlow) = Live(60, 901 + i);
            var (fast, atFast) = Live(100, 901 + i);
            foreach (var (run, fall) in new[] { (slow, atFast), (fast, atSlow) })
            {
                if (!CapPrice.IsTrusted(run.Data))
                    continue;
                var foreseen = CapPrice.Minutes(run.House, 0, run.Data, fall.Percent, 0, fall.AirC, fall.StoredC);
                var asTyped = Recovery.Minutes(run.House, 0, fall.Percent);
                output.WriteLine(FormattableString.Invariant($"seed {901 + i} at {fall.Percent} %: {fall.Min:0.0} min from {fall.AirC:0.0} °C, walls {fall.StoredC:0.0}; foreseen {foreseen:0.0}; the estimate of the files from 4 K {asTyped:0.0}; usual load {3600 * run.Data.Now.DataLoadKPerS:0.0} K/h"));
                measured.Add(foreseen / fall.Min);
                typed.Add(asTyped / fall.Min);
            }
        }
        output.WriteLine(string.Join(" ", measured.Order().Select(one => one.ToString("0.00", System.Globalization.CultureInfo.InvariantCulture))));
        output.WriteLine(string.Join(" ", typed.Order().Select(one => one.ToString("0.00", System.Globalization.CultureInfo.InvariantCulture))));
        Assert.True(measured.Count >= 5, $"only {measured.Count} prices of {2 * rooms} could be asked for");
        Assert.All(measured, one => Assert.InRange(one, 0.6, 1.5));
        // Half as far off as what the files let expect, or it were not worth measuring.
        Assert.True(measured.Average(one => Math.Abs(Math.Log(one))) < 0.5 * typed.Average(one => Math.Abs(Math.Log(one))));
    }

    [Fact]
    public void What_is_not_believed_has_no_price_and_a_weaker_coil_a_higher_one()
    {
        var run = new RoomDataRun(new ClosedCase(100, 1, 120, false, 911));
        run.Doors(3);
        Assert.True(CapPrice.IsTrusted(run.Data));
        var data = run.Data;
        var (all, half) = (CapPrice.Minutes(run.House, 0, data, 100), CapPrice.Minutes(run.House, 0, data, 50));
        Assert.True(all < half, $"{all} min at full speed, {half} min at half");
        Assert.True(CapPrice.Minutes(run.House, 0, data, 50, 1) < half && half < CapPrice.Minutes(run.House, 0, data, 50, -1));
        data.Ratio.Log -= 0.3;
        Assert.True(CapPrice.Minutes(run.House, 0, data, 100) > 1.2 * all);
        Assert.True(double.IsInfinity(CapPrice.Minutes(run.House, 0, data, 1)));   // under the slowest speed it does not turn
        data.Dropped = true;
        Assert.False(CapPrice.IsTrusted(data));
        (data.Dropped, data.PullDowns) = (false, 2);
        Assert.False(CapPrice.IsTrusted(data));
        (data.PullDowns, data.Ratio.Deviation) = (3, 0.4);
        Assert.False(CapPrice.IsTrusted(data));
    }
}

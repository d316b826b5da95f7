// The source's cycle as the estimate plays it, and what of a recovery hangs on its moment. Must never take a moment that the sequence's shortest times rule out.
using RoomSupervisor.Desk.Estimate;
using RoomSupervisor.Sequence;
using Xunit.Abstractions;

namespace RoomSupervisor.VirtualHouse.Tests.Estimate;

public sealed class EstimateColdTests(ITestOutputHelper output)
{
    private const double StepS = 10;

    private static readonly Drawn Draws = new(2500, 0.22, 600);

    private static ColdPlay Ferry(double wantedC) => new(Asked.FerryHouse.Wish.Drafted, wantedC, StepS);

    // Lengths of the runs and rests of six hours, the first and the last left out, s; and the coldest and warmest water.
    private static (List<double> Runs, List<double> Rests, double LowC, double HighC) Cycles(ColdPlay cold, in Drawn drawn, Hurry hurry)
    {
        List<double> runs = [], rests = [];
        bool was = cold.Runs;
        double sinceS = double.NaN, low = 99, high = -99;
        for (double s = 0; s < 6 * 3600; s += StepS)
        {
            cold.Step(7, hurry, drawn, 30);
            sinceS += StepS;
            if (double.IsFinite(sinceS)) (low, high) = (Math.Min(low, cold.WaterC), Math.Max(high, cold.WaterC));
            if (cold.Runs == was) continue;
            if (double.IsFinite(sinceS)) (was ? runs : rests).Add(sinceS);
            (was, sinceS) = (cold.Runs, 0);
        }

        return (runs, rests, low, high);
    }

    /// <summary>Shortest run and rest are the sequence's own; the buffer swings from its full end to the weak one, 4 K as shipped, and past both by what ramp and rest cost.</summary>
    [Theory]
    [InlineData(2500, 0.22, 600)]
    [InlineData(1200, 0.10, 0)]
    [InlineData(4500, 0.40, 800)]
    public void The_source_runs_and_rests_as_long_as_the_sequence_has_it(double watts, double flow, double surfaceW)
    {
        SequenceSettings settings = Asked.FerryHouse.Wish.Drafted.Files.House.Settings;
        (List<double> runs, List<double> rests, double low, double high) = Cycles(Ferry(7), new Drawn(watts, flow, surfaceW), Hurry.None);
        output.WriteLine(FormattableString.Invariant($"runs {string.Join(' ', runs)}; rests {string.Join(' ', rests)}; {low:F1} to {high:F1} °C"));
        Assert.NotEmpty(rests);
        Assert.All(runs, one => Assert.True(one >= settings.SourceMinimumRunS - StepS, $"a run of {one} s"));
        Assert.All(rests, one => Assert.True(one >= settings.SourceMinimumOffS, $"a rest of {one} s"));
        Assert.InRange(low, 4.5, 7);
        Assert.InRange(high, 10.5, 14);
    }

    /// <summary>What a door that opens finds: the source at work or at rest, cold and warm water.</summary>
    [Fact]
    public void Moments_lie_all_over_the_cycle()
    {
        ColdPlay[] all = [.. Enumerable.Range(0, 8).Select(i => ColdPlay.Opening(Asked.FerryHouse.Wish.Drafted, i, 7, Draws, 30, StepS))];
        output.WriteLine(string.Join(' ', all.Select(one => FormattableString.Invariant($"{(one.Runs ? "runs" : "rests")} {one.WaterC:F1}"))));
        Assert.Contains(all, one => one.Runs);
        Assert.Contains(all, one => !one.Runs);
        Assert.True(all.Max(one => one.WaterC) - all.Min(one => one.WaterC) > 3);
    }

    /// <summary>When it shuts after forty minutes the source runs, whatever it did at first, and its water is as cold as it is asked for: one that adapts its output runs on past a full buffer. Where next to nothing is drawn it has come to its end and rests.</summary>
    [Fact]
    public void A_source_is_ready_when_the_door_shuts()
    {
        ColdPlay Shutting(int i, Drawn drawn) => ColdPlay.Shutting(Asked.FerryHouse.Wish.Drafted, i, double.NaN, drawn, 30, StepS);
        Assert.All(Enumerable.Range(0, 8).Select(i => Shutting(i, Draws)), one => Assert.True(one is { Runs: true, WaterC: > 4.9 and < 6 }));
        Assert.All(Enumerable.Range(0, 8).Select(i => Shutting(i, new Drawn(300, 0.05, 0))), one => Assert.InRange(one.WaterC, 4.5, 9.5));
        Assert.Contains(Enumerable.Range(0, 8).Select(i => Shutting(i, new Drawn(300, 0.05, 0))), one => !one.Runs);
    }

    /// <summary>A pump that serves one open coil gives it more than when all are open, as the rehearsed kitchen's got 1.2 times its rated water; at a fifth of its stroke a valve of equal percentage lets next to nothing through.</summary>
    [Fact]
    public void One_open_coil_has_more_water_than_beside_others()
    {
        Drafted drafted = Asked.FerryHouse.Wish.Drafted;
        for (int c = 0; c < drafted.Plant.FanCoils.Length; c++)
        {
            double rated = drafted.Plant.FanCoils[c].Coil.Coil.WaterKgPerS;
            double alone = CoilGives.WaterKgPerS(drafted, c, one => one == c ? 1 : 0) / rated, together = CoilGives.WaterKgPerS(drafted, c, _ => 1) / rated;
            double throttled = CoilGives.WaterKgPerS(drafted, c, one => one == c ? 0.2 : 0) / rated;
            output.WriteLine(FormattableString.Invariant($"{drafted.Plant.FanCoils[c].Name}: alone {alone:F2}, with all others {together:F2}, throttled {throttled:F3} of its rated water"));
            Assert.InRange(together, 0.95, 1.3);
            Assert.InRange(alone, together, 1.6);
            Assert.InRange(throttled, 0.02, 0.15);
        }
    }
}

// What each use of the measured data brings: closed rooms of unseen seeds with each use alone, with all and with none. Printed with ROOM_SUPERVISOR_ROOM_DATA=ablation; never judged by itself.
using RoomSupervisor.Parts.Tests.Closed;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using Xunit.Abstractions;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class RoomDataAblation(ITestOutputHelper output)
{
    /// <summary>Seeds that no rule of room data was shaped with.</summary>
    private const int FirstSeed = 401, Seeds = 36, Learned = 3, Judged = 3;

    private sealed record Result(double RecoveryMin, double OvershootK, double BounceK);

    [Fact]
    public void Table_of_uses()
    {
        if (Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_ROOM_DATA") is not ("ablation" or "ablation-default"))
            return;
        var isDefault = Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_ROOM_DATA") == "ablation-default";
        var none = All(RoomDataUses.None, isDefault);
        output.WriteLine($"none: recovery {Median(none.Select(r => r.RecoveryMin)):0.00} min, overshoot {Median(none.Select(r => r.OvershootK)):0.000} K (90th {Ninetieth(none.Select(r => r.OvershootK)):0.000}), bounce {Median(none.Select(r => r.BounceK)):0.000} K");
        foreach (var (words, uses) in new[] { ("stop distance", RoomDataUses.StopDistance), ("sensor lag", RoomDataUses.SensorLag), ("hand-over", RoomDataUses.HandOver), ("all", RoomDataUses.All) })
        {
            var with = All(uses, isDefault);
            var pairs = with.Zip(none).ToArray();
            output.WriteLine($"{words}: recovery {Median(with.Select(r => r.RecoveryMin)):0.00} ({Paired(pairs, r => r.RecoveryMin)}), overshoot {Median(with.Select(r => r.OvershootK)):0.000}, 90th {Ninetieth(with.Select(r => r.OvershootK)):0.000} ({Paired(pairs, r => r.OvershootK)}), bounce {Median(with.Select(r => r.BounceK)):0.000} ({Paired(pairs, r => r.BounceK)})");
        }
    }

    private static string Paired((Result With, Result Without)[] pairs, Func<Result, double> of)
    {
        var off = pairs.Select(pair => of(pair.With) - of(pair.Without)).ToArray();
        var error = Math.Sqrt(off.Select(x => (x - off.Average()) * (x - off.Average())).Sum() / (off.Length - 1) / off.Length);
        return FormattableString.Invariant($"paired median {Median(off):+0.000;-0.000;0.000}, mean {off.Average():+0.000;-0.000;0.000} ± {error:0.000}, better {off.Count(x => x < -1e-3)}, worse {off.Count(x => x > 1e-3)}");
    }

    private static double Median(IEnumerable<double> values) => Share(values, 0.5);

    private static double Ninetieth(IEnumerable<double> values) => Share(values, 0.9);

    private static double Share(IEnumerable<double> values, double share)
    {
        var sorted = values.Order().ToArray();
        return sorted[(int)(share * (sorted.Length - 1))];
    }

    private static Result[] All(RoomDataUses uses, bool isDefault) => [.. Enumerable.Range(FirstSeed, Seeds).Select(seed => Play(seed, uses, isDefault))];

    /// <summary>A room of a seed; its cap, coil and sensor go round with the seed. Told the lag within a third, or nothing (120 s).</summary>
    private static Result Play(int seed, RoomDataUses uses, bool isDefault)
    {
        var one = new ClosedCase(ClosedCase.Caps[1 + seed % 2], ClosedCase.Sizes[seed / 2 % 3], ClosedCase.Lags[seed / 6 % 3], seed % 2 == 0, seed);
        var run = new RoomDataRun(one, isDefault ? 120.0 / one.LagS : new TruthOfRoom(seed).LagToldFactor);
        run.Memory.RoomDataFor = uses;
        run.Doors(Learned);
        double[] recovery = new double[Judged], over = new double[Judged], bounce = new double[Judged];
        for (var i = 0; i < Judged; i++)
        {
            List<double> air = [];
            run.Each = (second, airC, stage) => air.Add(airC);
            run.Doors(1);
            var shut = RoomDataRun.EveryS - 7200;
            var reached = air.FindIndex(shut, t => t <= ClosedHouse.WantedC + ClosedFigures.ReachedAboveK);
            var at = reached < 0 ? air.Count : reached;
            recovery[i] = (at - shut) / 60.0;
            over[i] = at >= air.Count ? 0 : Math.Max(0, ClosedHouse.WantedC - air.Skip(at).Take(2700).Min());
            bounce[i] = at >= air.Count ? 0 : Math.Max(0, air.Skip(at).Take(5400).Max() - ClosedHouse.WantedC);
        }
        return new Result(recovery.Average(), over.Average(), bounce.Average());
    }
}

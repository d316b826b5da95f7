// Section 2, rule 7: what is measured of a room against what is true of it.
using RoomSupervisor.Parts.Tests.Closed;
using Xunit.Abstractions;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class RoomDataTests(ITestOutputHelper output)
{
    [Fact]
    public void Table_of_what_is_measured()
    {
        if (Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_ROOM_DATA") is not { } which)
            return;
        var told = which == "told" ? [0.5, 2.0] : new[] { 1.0 };
        foreach (var seed in which == "unseen" ? Enumerable.Range(101, 6) : Enumerable.Range(1, 6))
            foreach (var (size, lag, cap, floor) in new[] { (1.0, 120, 100, false), (0.6, 30, 100, true), (1.6, 300, 60, false), (1.0, 300, 100, true), (1.6, 120, 35, false), (0.6, 120, 60, false) })
                foreach (var factor in told)
                {
                    var run = new RoomDataRun(new ClosedCase(cap, size, lag, floor, seed), factor);
                    run.Doors(3);
                    var d = run.Data;
                    if (double.IsNaN(d.Coil.Factor)) { for (var g = 0; g < 5; g++) output.WriteLine($"{d.Lags[g].Misses} {d.Lags[g].Squares.At[0]} {d.Lags[g].Squares.Cover[0]} {d.Lags[g].Squares.Cover[9]} coil {d.Lags[g].CoilW} {d.Lags[g].Door} {d.Lags[g].SurfaceW} metal {d.MetalW} stored {d.StoredC}"); return; }
                    var (c, k) = run.TrueCapacity();
                    var share = run.TrueCoilShare();
                    output.WriteLine(FormattableString.Invariant($"seed {seed} size {size} lag {lag} cap {cap} told {factor}: n {d.PullDowns} coil {d.Coil.Factor:0.00} true {share:0.00} ({d.Coil.Factor / share - 1:+0%;-0%}) C {d.Capacity.Factor * 72:0} true {c / 1000:0} ({d.Capacity.Factor * 72000 / c - 1:+0%;-0%}) K {d.Walls.Factor * 432:0} true {k:0} ratio {d.Ratio.Factor:0.00} true {share / c * 72000:0.00} sd {d.Ratio.Deviation:0.00} lag {d.Lag.Factor * factor:0.00} sd {d.Lag.Deviation:0.00} miss data {Math.Sqrt(d.DataMiss):0.00} typed {Math.Sqrt(d.TypedMiss):0.00} watched {d.Watched} dropped {d.Dropped} windows {d.Windows}"));
                }
    }
}

// The promises of section 10 of the sequence of operation, measured in the closed test room. A slice of the grid runs with the other tests; the
// whole of it with ROOM_SUPERVISOR_CLOSED=all (seen: two thirds; unseen: the rest, not to be looked at while rules are shaped), which prints a table.
using Xunit.Abstractions;

namespace RoomSupervisor.Parts.Tests.Closed;

public class ClosedGridTests(ITestOutputHelper output)
{
    [Fact]
    public void The_whole_grid_prints_its_table()
    {
        var which = Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_CLOSED");
        if (which is not ("seen" or "unseen" or "all"))
            return;
        foreach (var unseen in new[] { false, true })
        {
            if (which == (unseen ? "seen" : "unseen"))
                continue;
            var figures = ClosedCase.Grid().Where(one => one.IsUnseen == unseen).Select(ClosedFigures.Of).ToList();
            foreach (var one in figures)
                output.WriteLine(ClosedTable.Of(one));
            output.WriteLine(ClosedTable.Of(unseen ? "unseen third" : "seen two thirds", figures));
        }
    }

    [Fact]
    public void One_case_told_minute_by_minute()
    {
        if (Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_CLOSED_CASE") is not { } name)
            return;
        var run = ClosedRun.Play(ClosedCase.Grid().Single(one => one.Name == name && !one.IsUnseen));
        for (var minute = 0; minute < run.Moments.Count / 60; minute++)
        {
            var m = run.Moments[60 * minute];
            output.WriteLine(FormattableString.Invariant(
                $"{minute - ClosedRun.ShutsAtS / 60,5} min {m.Stage,-12} {m.Guard,-7} air {m.AirC:0.00} sensor {m.WallC:0.00} dew {m.DewPointC:0.0} fan {m.FanPercent:0} valve {m.ValvePercent:0} coil {m.CoilW:0} W, {m.CoilWaterC:0.0} °C; surface {m.SurfaceValvePercent:0} mixing {m.MixingPercent:0} {m.SurfaceW:0} W, {m.SupplyC:0.0} °C; demand {m.DemandW:0} film {m.FilmGPerM2:0.0}"));
        }
    }
}

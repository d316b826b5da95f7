// The watchdog is fed while the loop is fresh and for no other reason: one that stands still is not fed, however alive the watching thread is.
using RoomSupervisor.Runtime.Board;

namespace RoomSupervisor.House.Tests.Board;

public sealed class WatchdogTests : IDisposable
{
    private readonly Manager manager = new();
    private readonly ServiceNotes notes;
    private int sounds;

    public WatchdogTests() => notes = manager.Notes();

    public void Dispose()
    {
        notes.Dispose();
        manager.Dispose();
    }

    [Fact]
    public void A_loop_that_stands_still_is_not_fed_and_is_told_of()
    {
        using var watch = new ServiceWatch(notes, () => sounds++, "");
        var fed = new List<string>();
        for (var s = 0; s <= 60; s += 5)
        {
            watch.Look(s, s, "controls");   // a scan a second
            fed.AddRange(manager.All());
        }
        Assert.Equal(12, fed.Count(word => word == "WATCHDOG=1"));   // at 0 no scan has been taken
        Assert.Single(fed, word => word.StartsWith("READY=1", StringComparison.Ordinal));
        for (var s = 65; s <= 300; s += 5)
            watch.Look(60, s, "controls");
        var still = manager.All();
        Assert.DoesNotContain("WATCHDOG=1", still);
        Assert.Equal(["STATUS=the loop stands still: not fed, the service manager will end it"], still);
        watch.Look(61, 305, "controls");
        Assert.Equal(["WATCHDOG=1", "STATUS=controls"], manager.All());
    }

    [Fact]
    public void The_slowest_loop_that_may_be_set_is_fed_in_time()
    {
        // scan_period is 10 s at most; the unit's patience is 20 s.
        using var watch = new ServiceWatch(notes, () => sounds++, "");
        var (lastS, longest) = (0.0, 0.0);
        for (var s = 0.0; s < 600; s += FreshRule.EveryS(20))
        {
            watch.Look(1 + (long)(s / 10), s, "controls");
            if (manager.All().Contains("WATCHDOG=1"))
                (longest, lastS) = (Math.Max(longest, s - lastS), s);
        }
        Assert.InRange(longest, 9, 15);
    }

    [Fact]
    public void Before_the_first_scan_it_is_neither_ready_nor_fed()
    {
        using var watch = new ServiceWatch(notes, () => sounds++, "");
        for (var s = 0; s < 30; s++)
            watch.Look(0, s, "controls");
        Assert.Empty(manager.All());
    }

    [Fact]
    public void A_run_is_sound_after_ten_fresh_minutes_once()
    {
        using var watch = new ServiceWatch(notes, () => sounds++, "");
        watch.Look(1, 595, "controls");
        Assert.Equal(0, sounds);
        watch.Look(1, 605, "controls");   // ten minutes, but it stands still
        Assert.Equal(0, sounds);
        watch.Look(2, 610, "controls");
        watch.Look(3, 615, "controls");
        Assert.Equal(1, sounds);
    }

    [Fact]
    public void Stopping_is_said_once()
    {
        using (var watch = new ServiceWatch(notes, () => sounds++, ""))
            watch.End();
        Assert.Equal(["STOPPING=1"], manager.All());
    }
}

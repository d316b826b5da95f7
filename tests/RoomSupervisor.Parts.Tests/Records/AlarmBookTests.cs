// Standing, acknowledged, cleared, shelved, chattering. The words and the figure of three a minute are those of alarm systems management (IEC 62682,
// ISA-18.2; from memory, the standards themselves were not at hand).
using RoomSupervisor.Records;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Records;

public sealed class AlarmBookTests
{
    private static readonly DateTime Noon = new(2026, 7, 14, 16, 0, 0, DateTimeKind.Utc);
    private static readonly EventKey Tray = new(SequenceEvents.DripTrayFull.Id, Owner.Room, 2);

    private readonly AlarmBook book = new(SequenceEvents.All.Concat(RecordsEvents.All).ToDictionary(definition => definition.Id));

    private Telling Take(EventDefinition what, double nowS, int index = 2, Owner owner = Owner.Room, byte from = 0, byte to = 0)
        => book.Take(new Happening(what.Id, owner, index, new Reason(Cause.DripTrayFull, (float)nowS), from, to), Noon.AddSeconds(nowS), nowS, () => "tray full");

    private IReadOnlyList<BookNotice> Turn(double nowS) => book.Turn(Noon.AddSeconds(nowS), nowS);

    [Fact]
    public void An_alarm_stands_from_its_coming_and_stays_in_the_list_until_it_has_gone_and_somebody_has_seen_it()
    {
        Take(SequenceEvents.DripTrayFull, 10);
        var entry = Assert.Single(book.Open);
        Assert.Equal((Tray, Priority.Alarm, Noon.AddSeconds(10), true, "tray full"), (entry.Key, entry.Priority, entry.SinceUtc, entry.Stands, entry.Text));
        Take(SequenceEvents.DripTrayEmpty, 200);
        entry = Assert.Single(book.Open);
        Assert.Equal((false, Noon.AddSeconds(200)), (entry.Stands, entry.ClearedUtc!.Value));
        Assert.True(book.Acknowledge(Tray, "Ada", Noon));
        Assert.Empty(book.Open);
        Assert.False(book.Acknowledge(Tray, "Ada", Noon));
    }

    [Fact]
    public void One_that_was_seen_while_it_stood_says_by_whom_and_when_and_leaves_when_it_goes()
    {
        Take(SequenceEvents.DripTrayFull, 10);
        book.Acknowledge(Tray, "Ada", Noon.AddSeconds(60));
        var entry = Assert.Single(book.Open);
        Assert.Equal(("Ada", Noon.AddSeconds(60), true), (entry.AcknowledgedBy, entry.AcknowledgedUtc!.Value, entry.Stands));
        Take(SequenceEvents.DripTrayEmpty, 200);
        Assert.Empty(book.Open);
        // It comes again: nobody has seen that yet.
        Take(SequenceEvents.DripTrayFull, 300);
        Assert.Equal("", Assert.Single(book.Open).AcknowledgedBy);
    }

    [Fact]
    public void A_note_that_keeps_coming_is_told_four_times_then_counted_and_told_once_an_hour_until_it_is_quiet()
    {
        // Every ten minutes the guard is raised: no chattering, and yet nobody wants to read it a hundred times a day.
        var told = Enumerable.Range(0, 30).Select(i => Take(SequenceEvents.GuardChanged, 600 * i, from: 0, to: 1)).ToList();
        Assert.Equal([.. Enumerable.Repeat(Telling.Tell, 4), Telling.TellLastOfMany, .. Enumerable.Repeat(Telling.Count, 25)], told);
        var notice = Assert.Single(Turn(600 * 29 + 1));
        Assert.Matches(@"^keeps coming: came 25 times in 250 min|^keeps coming: came 25 times in 4\.2 h", notice.Text);
        Assert.Empty(Turn(600 * 29 + 1700));
        Assert.StartsWith("has stopped coming again and again: came 25 times more", Assert.Single(Turn(600 * 29 + 1801)).Text, StringComparison.Ordinal);
        Assert.Equal(Telling.Tell, Take(SequenceEvents.GuardChanged, 30_000, from: 0, to: 1));

        // One an hour is told every time, an alarm however often it comes.
        Assert.All(Enumerable.Range(0, 10), i => Assert.Equal(Telling.Tell, Take(SequenceEvents.GuardChanged, 40_000 + 3601 * i, from: 1, to: 2)));
        Assert.All(Enumerable.Range(0, 10), i => Assert.Equal(Telling.Tell, Take(SequenceEvents.DripTrayFull, 80_000 + 300 * i)));
    }

    [Fact]
    public void Only_the_same_place_is_cleared_and_a_note_never_stands()
    {
        Take(SequenceEvents.DripTrayFull, 10, index: 1);
        Take(SequenceEvents.DripTrayFull, 10, index: 2);
        Take(SequenceEvents.DripTrayEmpty, 20, index: 1);
        Assert.Equal([(1, false), (2, true)], book.Open.Select(entry => (entry.Key.Index, entry.Stands)).Order());
        Take(SequenceEvents.RoomAdmitted, 30);
        Assert.Equal(2, book.Open.Count);
    }

    [Fact]
    public void A_wet_surface_stands_until_its_guard_lets_go_not_when_it_shuts()
    {
        Take(SequenceEvents.CondensationWet, 10);
        Take(SequenceEvents.GuardChanged, 11, to: (byte)GuardLevel.Shut);
        Assert.True(Assert.Single(book.Open).Stands);
        Take(SequenceEvents.GuardChanged, 3000, from: (byte)GuardLevel.Shut, to: (byte)GuardLevel.Clear);
        Assert.False(Assert.Single(book.Open).Stands);
    }

    [Fact]
    public void What_nothing_clears_stands_for_a_day_after_its_last_coming()
    {
        Take(SequenceEvents.Hunting, 0);
        Take(SequenceEvents.Hunting, 5000);
        Assert.Equal(2, Assert.Single(book.Open).Times);
        Turn(86400);
        Assert.Single(book.Open);
        Turn(86400 + 5001);
        Assert.Empty(book.Open);
    }

    [Fact]
    public void The_third_within_a_minute_is_the_last_told_and_the_end_tells_how_many_were_not()
    {
        Assert.Equal(Telling.Tell, Take(SequenceEvents.DripTrayFull, 0));
        Take(SequenceEvents.DripTrayEmpty, 5);
        Assert.Equal(Telling.Tell, Take(SequenceEvents.DripTrayFull, 10));
        Take(SequenceEvents.DripTrayEmpty, 15);
        Assert.Equal(Telling.TellLast, Take(SequenceEvents.DripTrayFull, 20));
        for (var second = 25; second < 125; second += 10)
        {
            Assert.Equal(Telling.Count, Take(SequenceEvents.DripTrayEmpty, second));
            Assert.Equal(Telling.Count, Take(SequenceEvents.DripTrayFull, second + 5));
            Assert.True(Assert.Single(book.Open).Stands);   // it does not flicker
            Assert.Empty(Turn(second + 6));
        }
        Assert.Equal(Telling.Count, Take(SequenceEvents.DripTrayEmpty, 125));
        Assert.Empty(Turn(180));
        var end = Assert.Single(Turn(181));
        Assert.Equal(RecordsEvents.ChatteringEnded, end.What);
        Assert.Equal("has stopped chattering: came 10 times more in 100 s, not told; it has gone", end.Text);
        Assert.False(Assert.Single(book.Open).Stands);
        Assert.Equal(Telling.Tell, Take(SequenceEvents.DripTrayFull, 300));
    }

    [Fact]
    public void Three_within_a_little_more_than_a_minute_are_no_chattering()
    {
        for (var second = 0; second < 1000; second += 31)
            Assert.Equal(Telling.Tell, Take(SequenceEvents.DripTrayFull, second));
        Assert.Equal(Telling.TellLast, Take(SequenceEvents.DripTrayFull, 1000 + 21));
    }

    [Fact]
    public void Each_change_of_state_is_an_event_of_its_own()
    {
        for (byte stage = 0; stage < 6; stage++)
            Assert.Equal(Telling.Tell, Take(SequenceEvents.StageChanged, stage, from: stage, to: (byte)(stage + 1)));
    }

    [Fact]
    public void What_chatters_for_hours_is_said_every_hour()
    {
        var reminders = new List<string>();
        for (var second = 0; second < 3 * 3600; second += 10)
        {
            Take(SequenceEvents.ReadingMissing, second);
            reminders.AddRange(Turn(second).Select(notice => notice.Text));
        }
        Assert.Equal(2, reminders.Count);
        Assert.Equal("still chatters: came 360 times in 60 min, not told", reminders[0]);
    }

    [Fact]
    public void A_shelf_hides_an_event_until_its_end_and_then_says_whether_it_stands()
    {
        Take(SequenceEvents.DripTrayFull, 0);
        Assert.True(book.TryShelve(Tray, "Ada", 3600, 100, out _));
        Assert.Empty(book.Open);
        Assert.Equal((Tray, "Ada", 3500.0), Assert.Single(book.Shelved(200)));
        Assert.Equal(Telling.Count, Take(SequenceEvents.DripTrayFull, 1000));
        Assert.Empty(Turn(3699));
        Assert.Equal("is no longer shelved by Ada; it still stands", Assert.Single(Turn(3700)).Text);
        Assert.Single(book.Open);
        Assert.Equal(Telling.Tell, Take(SequenceEvents.DripTrayFull, 4000));
    }

    [Fact]
    public void Nothing_urgent_is_shelved_nor_anything_for_ever_or_by_nobody()
    {
        Assert.False(book.TryShelve(new EventKey(SequenceEvents.Leak.Id, Owner.Site, 0), "Ada", 3600, 0, out var why));
        Assert.Contains("urgent", why, StringComparison.Ordinal);
        Assert.False(book.TryShelve(Tray, "Ada", 7 * 86400 + 1, 0, out why));
        Assert.Contains("at most 7 days", why, StringComparison.Ordinal);
        Assert.False(book.TryShelve(Tray, "Ada", double.NaN, 0, out _));
        Assert.False(book.TryShelve(Tray, " ", 3600, 0, out _));
        Assert.False(book.TryShelve(Tray with { EventId = 1 }, "Ada", 3600, 0, out _));
    }

    [Fact]
    public void After_a_restart_what_stood_stands_with_who_has_seen_it_but_not_what_a_start_ends()
    {
        Take(SequenceEvents.DripTrayFull, 10);
        book.Acknowledge(Tray, "Ada", Noon);
        Take(SequenceEvents.Leak, 10, owner: Owner.Site, index: 0);
        var next = new AlarmBook(SequenceEvents.All.ToDictionary(definition => definition.Id));
        next.TakeUp(book.Open);
        var entry = Assert.Single(next.Open);
        Assert.Equal((Tray, "Ada", Noon.AddSeconds(10)), (entry.Key, entry.AcknowledgedBy, entry.SinceUtc));
    }
}

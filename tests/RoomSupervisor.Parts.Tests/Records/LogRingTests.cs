// The ring between the loop and the log: nothing torn, nothing out of order, nothing allocated, whatever the reader does.
using RoomSupervisor.Records;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Records;

public sealed class LogRingTests
{
    // Every part of an entry carries the same number: a torn entry shows.
    private static LogEntry Entry(int number) => new(
        new DateTime(number, DateTimeKind.Utc), number, new Happening(number, Owner.Room, number, Reason.Of(Cause.Stale, number)), default, new Command(number, default, default, number), number);

    private static bool IsWhole(in LogEntry entry)
    {
        var number = (int)entry.ElapsedS;
        return entry == Entry(number);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(7)]
    [InlineData(4096)]
    public void While_both_work_no_entry_is_torn_or_out_of_order_and_every_one_is_taken_or_counted(int capacity)
    {
        const int Entries = 300_000;
        var ring = new LogRing(capacity);
        var isDone = false;
        var writer = new Thread(() =>
        {
            for (var i = 1; i <= Entries; i++)
                ring.Put(Entry(i));
            Volatile.Write(ref isDone, true);
        });
        writer.Start();
        long taken = 0, torn = 0, outOfOrder = 0;
        var last = 0.0;
        while (true)
        {
            var isLast = Volatile.Read(ref isDone);
            while (ring.TryTake(out var entry))
            {
                taken++;
                torn += IsWhole(entry) ? 0 : 1;
                outOfOrder += entry.ElapsedS > last ? 0 : 1;
                last = entry.ElapsedS;
            }
            if (isLast)
                break;
        }
        writer.Join();
        Assert.Equal(0, torn);
        Assert.Equal(0, outOfOrder);
        Assert.True(taken > 0);
        Assert.Equal(Entries, taken + ring.TakeLost());
    }

    [Fact]
    public void Putting_allocates_nothing_with_room_and_without()
    {
        var ring = new LogRing(100);
        var entry = Entry(1);
        ring.Put(entry);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i < 1000; i++)
            ring.Put(entry);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.Equal(901, ring.TakeLost());
        Assert.Equal(0, ring.TakeLost());
    }
}

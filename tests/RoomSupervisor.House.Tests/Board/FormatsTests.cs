// Up and down: what a program before or after this one kept is read as far as it is understood, and what is not understood is told and costs no more than itself. A newer layout is made here by hand,
// with a right checksum: what a rollback finds.
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Board;
using RoomSupervisor.Runtime.Care;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Sequence;
using RoomSupervisor.Story;

namespace RoomSupervisor.House.Tests.Board;

public sealed class FormatsTests : IDisposable
{
    private static readonly DateTime Noon = new(2026, 7, 14, 12, 0, 0, DateTimeKind.Utc);
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("formats-");
    private readonly Sequence.House house = OneRoom.Files(Root.Path).House;

    public void Dispose() => folder.Delete(true);

    private StateFolder State => new(Path.Combine(folder.FullName, "state"));

    [Theory]
    [InlineData(1)]
    [InlineData(-1)]
    public void A_memory_of_another_layout_is_told_not_resumed_and_gives_what_was_measured_of_its_rooms(int away)
    {
        var before = new Memory(house) { Leak = true };
        (before.RoomData[0].Begun, before.RoomData[0].PullDowns) = (true, 4);
        var bytes = MemoryFile.Save(before, house);
        var version = bytes.AsSpan(MemoryFile.Magic.Length, sizeof(int));
        Assert.Equal(Memory.Version, BitConverter.ToInt32(version));
        BitConverter.TryWriteBytes(version, Memory.Version + away);
        Sha256.Of(bytes.AsSpan(0, bytes.Length - Sha256.Bytes)).CopyTo(bytes, bytes.Length - Sha256.Bytes);
        var stamp = new byte[sizeof(long)];
        System.Buffers.Binary.BinaryPrimitives.WriteInt64LittleEndian(stamp, Noon.Ticks);
        State.SaveMemory([.. stamp, .. bytes]);

        var after = new Memory(house);
        Assert.EndsWith($"has layout version {Memory.Version + away}, this program reads {Memory.Version}: rooms begin anew; what was measured of {house.Rooms.Length} room(s) was kept by their names",
            MemoryKeeper.TakeUp(house, State, Noon.AddSeconds(40), after), StringComparison.Ordinal);
        Assert.False(after.Leak);
        Assert.Equal(4, after.RoomData[0].PullDowns);
        // What this program keeps next is taken up again.
        MemoryKeeper.Keep(State, after, house, Noon.AddSeconds(60));
        Assert.Contains("memory of 40 s ago taken up", MemoryKeeper.TakeUp(house, State, Noon.AddSeconds(100), new Memory(house)), StringComparison.Ordinal);
    }

    /// <summary>Measured data grow at their end: an older program's are shorter, a newer one's longer.</summary>
    [Theory]
    [InlineData(-104)]
    [InlineData(40)]
    public void What_was_measured_is_read_from_a_shorter_and_from_a_longer_layout(int more)
    {
        var before = new Memory(house);
        (before.RoomData[0].Begun, before.RoomData[0].PullDowns, before.RoomData[0].Last.Count, before.RoomData[0].EarlyCooling.Starts) = (true, 4, 7, 3);
        var body = MemoryFile.Save(before, house).AsSpan()[..^Sha256.Bytes].ToArray();
        var length = BitConverter.ToInt32(body.AsSpan()[^4..]);
        var part = body.Length - 4 - length;
        var size = BitConverter.ToInt32(body.AsSpan(part + 4));
        var bytes = new List<byte>(body[..part]);
        bytes.AddRange(body.AsSpan(part, 4));
        bytes.AddRange(BitConverter.GetBytes(size + more));
        bytes.AddRange(body.AsSpan(part + 8, 4));
        var at = part + 12;
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            bytes.AddRange(body.AsSpan(at, 1 + body[at] + Math.Min(size, size + more)));
            bytes.AddRange(Enumerable.Repeat((byte)7, Math.Max(0, more)));
            at += 1 + body[at] + size;
        }
        bytes.AddRange(BitConverter.GetBytes(bytes.Count - part));
        var file = bytes.Concat(Sha256.Of(bytes.ToArray())).ToArray();
        Assert.True(MemoryFile.TryLoad(file, house, out var after, out var why), why);
        Assert.Equal((4, 7), (after.RoomData[0].PullDowns, after.RoomData[0].Last.Count));
        Assert.Equal(more < 0 ? 0 : 3, after.RoomData[0].EarlyCooling.Starts);
        Assert.Equal([.. house.Rooms.Select(room => room.Id)], MemoryFile.RoomData(file)!.Value.Rooms);
    }

    [Fact]
    public void A_record_of_starts_and_counters_of_a_newer_program_are_read_as_far_as_they_are_understood()
    {
        var book = new StartBook(State, null);
        Assert.Equal("", book.Save(new StartRecord(3, 1, true, false, true)));
        State.SaveStarts([.. State.LoadStarts()!, .. "weather 7\nwhy the moon\n"u8]);
        Assert.Equal(new StartRecord(3, 1, true, false, true), book.Load());
        State.SaveStarts("bad_ends 2\n"u8);   // an older one knew less
        Assert.Equal(new StartRecord(2, 0, false, false, false), book.Load());

        var record = new CareRecord();
        record.Figures[(CareKind.Pump, "loop")] = new CareFigures { RunS = 3600, Starts = 4 };
        var read = CareRecord.Parse([.. record.ToBytes(), .. "chimney 9 soot=3\n"u8, .. "pump other run_s=60 noise_db=31\n"u8]);
        Assert.Equal(2, read.Figures.Count);
        Assert.Equal(3600, read.Figures[(CareKind.Pump, "loop")].RunS);
        Assert.Equal(60, read.Figures[(CareKind.Pump, "other")].RunS);
    }
}

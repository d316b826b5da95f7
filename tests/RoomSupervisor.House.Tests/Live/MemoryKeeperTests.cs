// The memory on disk: kept every few minutes and at an orderly stop, taken up at a start as far as it still counts. No bus, no waiting for real time.
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Sequence;
using RoomSupervisor.Story;
using RoomSupervisor.Terms;

namespace RoomSupervisor.House.Tests.Live;

public sealed class MemoryKeeperTests : IDisposable
{
    private static readonly DateTime Noon = new(2026, 7, 14, 12, 0, 0, DateTimeKind.Utc);
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("memory-");
    private readonly Sequence.House house = OneRoom.Files(Root.Path).House;
    private readonly List<string> troubles = [];

    public void Dispose() => folder.Delete(true);

    private StateFolder State => new(Path.Combine(folder.FullName, "state"));

    [Fact]
    public void Rule_8_1_a_room_goes_on_where_it_was_after_a_short_stop()
    {
        var before = PulledDown();
        using (var keeper = new MemoryKeeper(house, State, troubles.Add))
            keeper.KeepAtStop(before, Noon);
        var after = new Memory(house);
        Assert.Contains("memory of 40 s ago", MemoryKeeper.TakeUp(house, State, Noon.AddSeconds(40), after), StringComparison.Ordinal);
        Assert.Equal(Stage.PullDown, Steps(after, 27, 30));
        Assert.Empty(troubles);
    }

    [Theory]
    [InlineData(700, "rooms begin anew")]
    [InlineData(-5, "the clock is behind")]
    public void Rule_8_1_an_old_memory_and_one_from_the_future_resume_no_stage(int gapS, string said)
    {
        using (var keeper = new MemoryKeeper(house, State, troubles.Add))
            keeper.KeepAtStop(PulledDown(), Noon);
        var after = new Memory(house);
        Assert.Contains(said, MemoryKeeper.TakeUp(house, State, Noon.AddSeconds(gapS), after), StringComparison.Ordinal);
        Assert.Equal(Stage.Satisfied, Steps(after, 27, 30));
    }

    [Fact]
    public void It_is_kept_packed_and_one_of_an_older_program_is_read_all_the_same()
    {
        var memory = PulledDown();
        var raw = MemoryFile.Save(memory, house);
        var written = MemoryKeeper.Keep(State, memory, house, Noon);
        Assert.InRange(written, 100, raw.Length / 2);
        Assert.Equal(Noon, MemoryKeeper.Kept(State)!.Value.Utc);
        Assert.Equal(raw, MemoryKeeper.Kept(State)!.Value.Bytes);
        var stamp = new byte[sizeof(long)];
        System.Buffers.Binary.BinaryPrimitives.WriteInt64LittleEndian(stamp, Noon.Ticks);
        State.SaveMemory([.. stamp, .. raw]);
        Assert.Equal(raw, MemoryKeeper.Kept(State)!.Value.Bytes);
        // What is neither is no memory, and nothing worse.
        State.SaveMemory([.. stamp, 1, 2, 3, 4]);
        Assert.Empty(MemoryKeeper.Kept(State)!.Value.Bytes);
        Assert.Contains("rooms begin anew", MemoryKeeper.TakeUp(house, State, Noon, new Memory(house)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_torn_memory_falls_back_on_the_one_before_and_nothing_on_nothing()
    {
        Assert.Equal("", MemoryKeeper.TakeUp(house, State, Noon, new Memory(house)));
        using (var keeper = new MemoryKeeper(house, State, troubles.Add))
            keeper.KeepAtStop(PulledDown(), Noon);
        using (var keeper = new MemoryKeeper(house, State, troubles.Add))
            keeper.KeepAtStop(PulledDown(), Noon.AddSeconds(60));
        var file = Path.Combine(State.Path, "memory");
        File.WriteAllBytes(file, File.ReadAllBytes(file)[..^7]);
        Assert.Contains("memory of 100 s ago", MemoryKeeper.TakeUp(house, State, Noon.AddSeconds(100), new Memory(house)), StringComparison.Ordinal);
    }

    [Fact]
    public void Rule_6_7_a_leak_outlives_a_crash_and_ends_when_somebody_stops_the_controller()
    {
        var leaking = new Memory(house) { Leak = true };
        using (var keeper = new MemoryKeeper(house, State, troubles.Add))
        {
            keeper.Start();
            keeper.Offer(leaking, 0, Noon);
            keeper.Offer(leaking, MemoryKeeper.EveryS + 1, Noon);
            Assert.True(SpinWait.SpinUntil(() => State.LoadMemory() is not null, TimeSpan.FromSeconds(20)), "nothing was kept");
            var afterCrash = new Memory(house);
            MemoryKeeper.TakeUp(house, State, Noon.AddSeconds(5), afterCrash);
            Assert.True(afterCrash.Leak);
            keeper.KeepAtStop(leaking, Noon.AddSeconds(10));
        }
        var afterStop = new Memory(house);
        MemoryKeeper.TakeUp(house, State, Noon.AddSeconds(20), afterStop);
        Assert.False(afterStop.Leak);
    }

    [Fact]
    public void A_disk_that_cannot_be_written_is_told_once_and_stops_nothing()
    {
        File.WriteAllText(Path.Combine(folder.FullName, "state"), "a file where the folder should be");
        using var keeper = new MemoryKeeper(house, State, troubles.Add);
        keeper.KeepAtStop(new Memory(house), Noon);
        keeper.KeepAtStop(new Memory(house), Noon);
        Assert.StartsWith("memory: ", Assert.Single(troubles), StringComparison.Ordinal);
    }

    [Fact]
    public void Offering_copies_without_allocating()
    {
        using var keeper = new MemoryKeeper(house, State, troubles.Add);
        var memory = new Memory(house);
        keeper.Offer(memory, 0, Noon);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var second = 1; second < 1000; second++)
            keeper.Offer(memory, second, Noon);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private Memory PulledDown()
    {
        var memory = new Memory(house);
        Assert.Equal(Stage.PullDown, Steps(memory, 27, 300));
        return memory;
    }

    /// <summary>Scans of a room at one temperature; the stage after them.</summary>
    private Stage Steps(Memory memory, double airC, int seconds)
    {
        var image = house.NewOutputImage();
        var samples = new Sample[house.InputTable.Count];
        for (var second = 0; second < seconds; second++)
        {
            for (var i = 0; i < samples.Length; i++)
            {
                var value = house.Inputs[i].Kind switch
                {
                    InputKind.RoomAirTemperature => airC,
                    InputKind.RoomHumidity => 50,
                    InputKind.WaterTemperature => 15,
                    _ => 0,
                };
                samples[i] = new Sample(value, second, Fault.None);
            }
            Supervisor.Step(new ScanTime(second, second == 0 ? 0 : 1, Noon, Noon), house, samples, memory, image);
        }
        return image.Rooms[0].Stage;
    }
}

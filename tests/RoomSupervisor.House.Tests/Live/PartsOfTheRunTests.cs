// Parts of a run that need no bus: memory as bytes, the lock of a site, the event catalogue.
using RoomSupervisor.Hardware;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Runtime;
using RoomSupervisor.Sequence;
using RoomSupervisor.Story;
using RoomSupervisor.Terms;

namespace RoomSupervisor.House.Tests.Live;

public sealed class PartsOfTheRunTests
{
    [Fact]
    public void Memory_goes_through_bytes_without_a_difference_and_damage_is_refused()
    {
        var house = OneRoom.Files(Root.Path).House;
        var memory = new Memory(house);
        var image = house.NewOutputImage();
        var samples = Enumerable.Repeat(new Sample(20, 0, Fault.None), house.InputTable.Count).ToArray();
        for (var second = 0; second < 50; second++)
        {
            for (var i = 0; i < samples.Length; i++)
                samples[i] = samples[i] with { TakenAtS = second };
            Supervisor.Step(new ScanTime(second, 1, DateTime.UnixEpoch, DateTime.UnixEpoch), house, samples, memory, image);
        }
        var bytes = MemoryFile.Save(memory, house);
        Assert.True(MemoryFile.TryLoad(bytes, house, out var loaded, out _));
        Assert.Equal(bytes, MemoryFile.Save(loaded, house));
        bytes[100] ^= 1;
        Assert.False(MemoryFile.TryLoad(bytes, house, out _, out var why));
        Assert.Contains("checksum", why, StringComparison.Ordinal);
        Assert.False(MemoryFile.TryLoad([], house, out _, out _));
    }

    [Fact]
    public void One_site_has_one_controller()
    {
        var folder = Directory.CreateTempSubdirectory("lock-");
        Assert.True(InstanceLock.TryTake(folder.FullName, out var first, out _));
        Assert.False(InstanceLock.TryTake(folder.FullName, out _, out var why));
        Assert.Contains("two controllers", why, StringComparison.Ordinal);
        first!.Dispose();
        Assert.True(InstanceLock.TryTake(folder.FullName, out var second, out _));
        second!.Dispose();
        folder.Delete(true);
    }

    [Fact]
    public void Every_event_has_a_number_of_its_own_words_and_something_to_check()
    {
        Assert.True(EventCatalogue.All.Count >= 15);
        Assert.All(EventCatalogue.All.Values, definition =>
        {
            Assert.NotEqual("", definition.Text);
            Assert.NotEqual("", definition.Meaning);
            Assert.NotEqual("", definition.Check);
            Assert.Matches("^[a-z]+(-[a-z]+)*$", definition.Name);
        });
        Assert.Equal(EventCatalogue.All.Count, EventCatalogue.All.Values.Select(definition => definition.Name).Distinct().Count());
    }

    [Fact]
    public void A_driver_that_throws_is_told_once_and_polled_again_and_the_other_buses_go_on()
    {
        var told = new List<string>();
        var clock = new RunClock(TimeProvider.System, TimeZoneInfo.Utc);
        using var broken = new BusThread(new BusWorker("a", [new TestDevice(_ => throw new InvalidOperationException("no such wire"))]), clock, Tell);
        using var sound = new BusThread(new BusWorker("b", [new TestDevice(_ => polls++)]), clock, Tell);
        broken.Start();
        sound.Start();
        Assert.True(SpinWait.SpinUntil(() => told.Count > 0 && polls > 20, TimeSpan.FromSeconds(10)));
        Assert.False(SpinWait.SpinUntil(() => told.Count > 1, TimeSpan.FromSeconds(1.5)));
        Assert.Equal(["a: driver error, tried again: InvalidOperationException: no such wire"], told);

        void Tell(string text)
        {
            lock (told)
                told.Add(text);
        }
    }

    [Fact]
    public void A_bus_that_hangs_is_told_once_and_only_when_its_longest_poll_is_well_over()
    {
        var clock = new RunClock(TimeProvider.System, TimeZoneInfo.Utc);
        using var release = new ManualResetEventSlim();
        var bus = new BusThread(new BusWorker("a", [new TestDevice(_ => release.Wait())]), clock, _ => { });
        var watch = new HealthWatch([bus]);
        bus.Start();
        Assert.True(SpinWait.SpinUntil(() => bus.BusyS(clock.ElapsedS) > 0, TimeSpan.FromSeconds(10)));
        var told = new HappeningList(8);
        foreach (var later in new[] { 1.0, 38, 41, 42, 300 })
            watch.Look(clock.ElapsedS + later, told);
        Assert.Equal(HardwareEvents.BusStuck.Id, Assert.Single(told.Items.ToArray()).EventId);
        release.Set();
        bus.Dispose();
        watch.Look(clock.ElapsedS + 400, told);
        Assert.Equal(1, told.Count);
    }

    [Fact]
    public void A_scan_of_the_loop_allocates_nothing_recording_included()
    {
        var folder = Directory.CreateTempSubdirectory("scan-");
        Assert.True(Wiring.TryBuild(OneRoom.Files(Root.Path), folder.FullName, false, TimeProvider.System, TextWriter.Null, out var wiring, out _));
        using (wiring)
        {
            for (var i = 0; i < 200; i++)
                wiring!.Loop.Scan();
            var before = GC.GetAllocatedBytesForCurrentThread();
            for (var i = 0; i < 1000; i++)
                wiring!.Loop.Scan();
            Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        }
        folder.Delete(true);
    }

    private int polls;

    private sealed class TestDevice(Action<double> poll) : IBusDevice
    {
        public string Name => "test";

        public double NextDueS { get; private set; }

        public DeviceHealth Health => default;

        public int ChannelCount => 0;

        public double LongestPollS => 30;

        public double Poll(double nowS, Func<bool> isStopped)
        {
            poll(nowS);
            return 0;
        }

        public int WriteSafe(double nowS, List<PointWiring> notWritten) => 0;

        public void Lose(double nowS, bool forGood)
        {
        }

        public ChannelHealth Channel(int index) => throw new ArgumentOutOfRangeException(nameof(index));

        public void Dispose()
        {
        }
    }
}

// A bus that hangs is begun anew three times, then given up; each is told, what hung is left behind, and the loop's thread never waits.
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime;
using RoomSupervisor.Terms;

namespace RoomSupervisor.House.Tests.Live;

public sealed class BusKeeperTests : IDisposable
{
    /// <summary>Hangs in every poll until it is released.</summary>
    private sealed class Hanging(ManualResetEventSlim release, bool hangs) : IBusDevice
    {
        public string Name => "io-1";

        public double NextDueS => 0;

        public double LongestPollS => 1;

        public DeviceHealth Health => new(polls > 0 ? DeviceState.Answering : DeviceState.Unknown, 0, Fault.None, "", 1, 0, 0.1);

        public int ChannelCount => 0;

        public bool IsDisposed { get; private set; }

        public bool? LostForGood { get; private set; }

        public ChannelHealth Channel(int index) => throw new ArgumentOutOfRangeException(nameof(index));

        public double Poll(double nowS, Func<bool> isStopped)
        {
            if (hangs)
                release.Wait();
            polls++;
            return 0;
        }

        public int WriteSafe(double nowS, List<PointWiring> notWritten) => 0;

        public void Lose(double nowS, bool forGood) => LostForGood = forGood;

        public void Dispose() => IsDisposed = true;

        private volatile int polls;
    }

    private readonly ManualResetEventSlim release = new();
    private readonly RunClock clock = new(TimeProvider.System, TimeZoneInfo.Utc);
    private readonly List<Hanging> devices = [];
    private readonly BusThread bus;
    private readonly BusKeeper keeper;
    private readonly HealthWatch watch;
    private readonly HappeningList told = new(32);
    private bool nextHangs = true;

    public BusKeeperTests()
    {
        bus = new BusThread(Worker(), clock, _ => { });
        keeper = new BusKeeper([bus], Replace, clock);
        watch = new HealthWatch([bus]);
        bus.Start();
    }

    public void Dispose()
    {
        release.Set();
        keeper.Dispose();
        bus.Dispose();
    }

    [Fact]
    public void A_bus_that_hangs_is_begun_anew_three_times_then_given_up_and_goes_on_when_it_comes_back()
    {
        for (var i = 0; i < BusKeeper.MostReplacements; i++)
        {
            Look(1);
            Assert.Equal(i, bus.Replacements);
            Look(12);       // over the longest poll and ten seconds: told
            Look(14);       // two more: begun anew
            Assert.Equal((i + 1, true), (bus.Replacements, devices[i].LostForGood));
        }
        Look(1);
        Look(14);
        Look(300);
        Assert.Equal((3, true, 4), (bus.Replacements, bus.IsGivenUp, devices.Count));
        Assert.False(devices[3].LostForGood);
        Assert.Equal(new BusHealth("a", bus.Health(0).BusyS, 3, true), bus.Health(0));
        Look(301);
        Assert.Equal(
            [.. Enumerable.Repeat(new[] { HardwareEvents.BusStuck.Id, HardwareEvents.BusWorkerReplaced.Id }, 3).SelectMany(one => one),
             HardwareEvents.BusStuck.Id, HardwareEvents.BusGivenUp.Id],
            Told());

        // What hung ends at last: those that were replaced clean up behind themselves, the last one goes on.
        release.Set();
        Assert.True(SpinWait.SpinUntil(() => devices.Take(3).All(device => device.IsDisposed), TimeSpan.FromSeconds(10)));
        Assert.True(SpinWait.SpinUntil(() => devices[3].Health.State == DeviceState.Answering && bus.BusyS(clock.ElapsedS) < 1, TimeSpan.FromSeconds(10)));
        told.Clear();
        Look(0);
        Look(0);
        Assert.Equal([HardwareEvents.BusGoesOn.Id, HardwareEvents.DeviceAnswers.Id], Told().Order().Reverse());
        Assert.False(devices[3].IsDisposed);
    }

    [Fact]
    public void A_bus_that_is_sound_after_one_replacement_may_be_replaced_as_often_again_after_an_hour()
    {
        nextHangs = false;
        Look(14);
        Assert.Equal(1, bus.Replacements);
        Assert.True(SpinWait.SpinUntil(() => devices[1].Health.State == DeviceState.Answering, TimeSpan.FromSeconds(10)));
        Look(0);
        Assert.Equal([HardwareEvents.BusStuck.Id, HardwareEvents.BusWorkerReplaced.Id, HardwareEvents.DeviceAnswers.Id], Told());
        keeper.Look(clock.ElapsedS + 14 + BusKeeper.SoundS - 60);
        Assert.Equal(1, bus.Replacements);
    }

    /// <summary>Looks as the loop and the keeper would, at a moment some seconds from now.</summary>
    private void Look(double laterS)
    {
        Assert.True(SpinWait.SpinUntil(() => devices[^1].Health.State == DeviceState.Answering || bus.BusyS(clock.ElapsedS) > 0, TimeSpan.FromSeconds(10)));
        var now = clock.ElapsedS + laterS;
        watch.Look(now, told);
        var before = bus.Replacements;
        keeper.Look(now);
        // A new worker has only just begun: for it no time has passed yet.
        if (bus.Replacements > before)
            watch.Look(clock.ElapsedS, told);
    }

    private List<int> Told() => [.. told.Items.ToArray().Select(happening => happening.EventId)];

    private BusWorker Replace(BusWorker old, double nowS)
    {
        old.Lose(nowS, forGood: true);
        return Worker();
    }

    private BusWorker Worker()
    {
        devices.Add(new Hanging(release, nextHangs || devices.Count == 0));
        return new BusWorker("a", [devices[^1]]);
    }
}

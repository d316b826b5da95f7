// A device that is lost is told once, one that comes and goes is told as that.
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime;
using RoomSupervisor.Terms;

namespace RoomSupervisor.House.Tests.Live;

public sealed class HealthWatchTests : IDisposable
{
    private sealed class Device : IBusDevice
    {
        public DeviceState State { get; set; }

        public string Name => "io-1";

        public double NextDueS => double.PositiveInfinity;

        public double LongestPollS => 1;

        public DeviceHealth Health => new(State, 0, Fault.Timeout, "no answer in time", 1, 1, 0.1);

        public int ChannelCount => 0;

        public ChannelHealth Channel(int index) => throw new ArgumentOutOfRangeException(nameof(index));

        public double Poll(double nowS, Func<bool> isStopped) => 0;

        public int WriteSafe(double nowS, List<PointWiring> notWritten) => 0;

        public void Lose(double nowS, bool forGood)
        {
        }

        public void Dispose()
        {
        }
    }

    private readonly Device device = new();
    private readonly HappeningList told = new(16);
    private readonly BusThread bus;
    private readonly HealthWatch watch;

    public HealthWatchTests()
    {
        bus = new BusThread(new BusWorker("io-1", [device]), new RunClock(TimeProvider.System, TimeZoneInfo.Utc), _ => { });
        watch = new HealthWatch([bus]);
    }

    public void Dispose() => bus.Dispose();

    private int[] At(double second, DeviceState state)
    {
        told.Clear();
        device.State = state;
        watch.Look(second, told);
        return [.. told.Items.ToArray().Select(happening => happening.EventId)];
    }

    [Fact]
    public void First_answer_loss_and_return_are_told_once_each()
    {
        Assert.Empty(At(0, DeviceState.Unknown));
        Assert.Equal([HardwareEvents.DeviceAnswers.Id], At(1, DeviceState.Answering));
        Assert.Empty(At(2, DeviceState.Answering));
        Assert.Equal([HardwareEvents.DeviceNotAnswering.Id], At(3, DeviceState.NotAnswering));
        Assert.Empty(At(4, DeviceState.NotAnswering));
        Assert.Equal([HardwareEvents.DeviceAnswersAgain.Id], At(14, DeviceState.Answering));
        Assert.Equal(11, told.Items[0].Reason.A);
    }

    [Fact]
    public void A_device_that_comes_and_goes_is_told_as_that_and_then_left_alone_until_it_has_been_steady()
    {
        var all = new List<int>();
        At(0, DeviceState.Answering);
        for (var i = 0; i < 40; i++)
            all.AddRange(At(10 + i * 10, i % 2 == 0 ? DeviceState.NotAnswering : DeviceState.Answering));
        Assert.Equal(3, all.Count(id => id == HardwareEvents.DeviceNotAnswering.Id));
        Assert.Equal(1, all.Count(id => id == HardwareEvents.DeviceComesAndGoes.Id));
        Assert.Empty(At(420, DeviceState.Answering));
        Assert.Empty(At(1100, DeviceState.Answering));
        Assert.Equal([HardwareEvents.DeviceNotAnswering.Id], At(1110, DeviceState.NotAnswering));
    }
}

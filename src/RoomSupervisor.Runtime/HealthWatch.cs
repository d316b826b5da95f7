// Turns changes in the health of buses, devices and channels into events: once when something stops answering, once when it is back.
// Looks only; decides nothing.
using RoomSupervisor.Hardware;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime;

/// <summary>Watches the devices of all buses.</summary>
public sealed class HealthWatch
{
    /// <summary>A poll that lasts this much longer than its devices say it may has hung, s.</summary>
    public const double PatienceS = 10;

    private const int MostTold = 3;
    private const double SteadyS = 600;

    private readonly IReadOnlyList<BusThread> buses;
    private readonly WatchedBus[] watchedBuses;
    private readonly (BusThread Bus, int Index)[] devices;
    private readonly Watched[] watched;
    private readonly bool[][] refused;

    public HealthWatch(IReadOnlyList<BusThread> buses)
    {
        this.buses = buses;
        watchedBuses = [.. buses.Index().Select(bus => new WatchedBus
        {
            FirstDevice = buses.Take(bus.Index).Sum(before => before.Worker.Devices.Count),
            LongestPollS = bus.Item.Worker.LongestPollS,
        })];
        devices = [.. buses.SelectMany(bus => bus.Worker.Devices.Select((_, i) => (bus, i)))];
        watched = new Watched[devices.Length];
        refused = [.. Enumerable.Range(0, devices.Length).Select(i => new bool[DeviceAt(i).ChannelCount])];
    }

    public string NameOf(int index) => DeviceAt(index).Name;

    /// <summary>What the driver says of an event of a device or channel, in its own words; "" when it says nothing. Any thread.</summary>
    public string InDriversWords(Happening happening)
    {
        if (happening.EventId == HardwareEvents.DeviceNotAnswering.Id)
            return DeviceAt(happening.Index).Health.LastProblem;
        if (happening.EventId == HardwareEvents.DeviceNotSetUp.Id)
            return DeviceAt(happening.Index).Health.SetUpProblem;
        if (happening.EventId != HardwareEvents.OutputNotWritable.Id && happening.EventId != HardwareEvents.InputRefused.Id)
            return "";
        var isOutput = happening.Owner == Owner.Output;
        return Enumerable.Range(0, devices.Length).Select(DeviceAt).SelectMany(device => Enumerable.Range(0, device.ChannelCount).Select(device.Channel))
            .Where(channel => channel.Wiring.IsOutput == isOutput && channel.Wiring.Index == happening.Index)
            .Select(channel => channel.Problem).FirstOrDefault("");
    }

    /// <summary>Adds what changed since the last look.</summary>
    public void Look(double nowS, HappeningList happenings)
    {
        for (var i = 0; i < buses.Count; i++)
            Bus(ref watchedBuses[i], buses[i], nowS, happenings);
        for (var i = 0; i < devices.Length; i++)
        {
            var device = DeviceAt(i);
            Device(i, device.Health, nowS, happenings);
            for (var c = 0; c < refused[i].Length; c++)
                Channel(device.Channel(c), ref refused[i][c], happenings);
        }
    }

    /// <summary>A worker that was replaced has the same devices in the same order.</summary>
    private IBusDevice DeviceAt(int index) => devices[index].Bus.Worker.Devices[devices[index].Index];

    private static void Bus(ref WatchedBus watch, BusThread bus, double nowS, HappeningList happenings)
    {
        var busyS = bus.BusyS(nowS);
        var isStuck = busyS > watch.LongestPollS + PatienceS;
        if (isStuck && !watch.IsStuck)
            happenings.Add(new Happening(HardwareEvents.BusStuck.Id, Owner.Device, watch.FirstDevice, Reason.Of(Cause.BusError, busyS)));
        watch.IsStuck = isStuck;
        if (bus.Replacements > watch.Replacements)
            happenings.Add(new Happening(HardwareEvents.BusWorkerReplaced.Id, Owner.Device, watch.FirstDevice, Reason.Of(Cause.BusError, bus.Replacements)));
        watch.Replacements = bus.Replacements;
        if (bus.IsGivenUp == watch.IsGivenUp)
            return;
        watch.IsGivenUp = bus.IsGivenUp;
        happenings.Add(new Happening((watch.IsGivenUp ? HardwareEvents.BusGivenUp : HardwareEvents.BusGoesOn).Id, Owner.Device, watch.FirstDevice, Reason.Of(Cause.BusError, bus.Replacements)));
    }

    private void Device(int index, in DeviceHealth health, double nowS, HappeningList happenings)
    {
        ref var watch = ref watched[index];
        var isSetUp = string.IsNullOrEmpty(health.SetUpProblem);
        if (isSetUp == watch.IsNotSetUp && (health.State != DeviceState.Unknown || !isSetUp))
        {
            watch.IsNotSetUp = !isSetUp;
            happenings.Add(new Happening((isSetUp ? HardwareEvents.DeviceSetUpAgain : HardwareEvents.DeviceNotSetUp).Id, Owner.Device, index, new Reason(Cause.BusError)));
        }
        if (watch.State == DeviceState.Answering && health.State == DeviceState.Answering && nowS - watch.ChangedAtS > SteadyS)
            watch.Losses = 0;
        // After its bus was begun anew it is unknown for a moment: neither lost nor back.
        if (health.State == watch.State || health.State == DeviceState.Unknown)
            return;
        if (health.State == DeviceState.NotAnswering)
            Lost(index, ref watch, health, happenings);
        else if (watch.State == DeviceState.Unknown)
            happenings.Add(new Happening(HardwareEvents.DeviceAnswers.Id, Owner.Device, index, default));
        else if (watch.Losses <= MostTold)
            happenings.Add(new Happening(HardwareEvents.DeviceAnswersAgain.Id, Owner.Device, index, Reason.Of(Cause.ReadingsBack, nowS - watch.ChangedAtS)));
        watch.State = health.State;
        watch.ChangedAtS = nowS;
    }

    /// <summary>Three losses are told one by one; then once that it comes and goes, and no more until it has been steady.</summary>
    private static void Lost(int index, ref Watched watch, in DeviceHealth health, HappeningList happenings)
    {
        watch.Losses++;
        if (watch.Losses <= MostTold)
            happenings.Add(new Happening(HardwareEvents.DeviceNotAnswering.Id, Owner.Device, index, new Reason(Names.CauseOf(health.LastFault))));
        else if (watch.Losses == MostTold + 1)
            happenings.Add(new Happening(HardwareEvents.DeviceComesAndGoes.Id, Owner.Device, index, Reason.Of(Cause.None, watch.Losses)));
    }

    private static void Channel(in ChannelHealth channel, ref bool refused, HappeningList happenings)
    {
        // "Back" is only what really came back: a refused channel of a device that has died since is not.
        if (channel.RefusedByDevice == refused || (refused && channel.Fault != Fault.None))
            return;
        refused = channel.RefusedByDevice;
        var (lost, back) = channel.Wiring.IsOutput
            ? (HardwareEvents.OutputNotWritable, HardwareEvents.OutputWritableAgain)
            : (HardwareEvents.InputRefused, HardwareEvents.InputReadAgain);
        happenings.Add(new Happening((refused ? lost : back).Id, channel.Wiring.IsOutput ? Owner.Output : Owner.Input, channel.Wiring.Index, new Reason(Cause.BusError)));
    }

    private struct WatchedBus
    {
        public int FirstDevice, Replacements;
        public double LongestPollS;
        public bool IsStuck, IsGivenUp;
    }

    private struct Watched
    {
        public DeviceState State;
        public bool IsNotSetUp;
        public int Losses;
        public double ChangedAtS;
    }
}

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
    private readonly bool[] stuck;
    private readonly double[] longestPollS;
    private readonly int[] firstDevice;
    private readonly IBusDevice[] devices;
    private readonly Watched[] watched;
    private readonly bool[][] refused;

    public HealthWatch(IReadOnlyList<BusThread> buses)
    {
        this.buses = buses;
        stuck = new bool[buses.Count];
        longestPollS = [.. buses.Select(bus => bus.Worker.Devices.Sum(device => device.LongestPollS))];
        firstDevice = [.. buses.Index().Select(bus => buses.Take(bus.Index).Sum(before => before.Worker.Devices.Count))];
        devices = [.. buses.SelectMany(bus => bus.Worker.Devices)];
        watched = new Watched[devices.Length];
        refused = [.. devices.Select(device => new bool[device.ChannelCount])];
    }

    public string NameOf(int index) => devices[index].Name;

    /// <summary>What the driver says of an event of a device or channel, in its own words; "" when it says nothing. Any thread.</summary>
    public string InDriversWords(Happening happening)
    {
        if (happening.EventId == HardwareEvents.DeviceNotAnswering.Id)
            return devices[happening.Index].Health.LastProblem;
        if (happening.EventId != HardwareEvents.OutputNotWritable.Id && happening.EventId != HardwareEvents.InputRefused.Id)
            return "";
        var isOutput = happening.Owner == Owner.Output;
        return devices.SelectMany(device => Enumerable.Range(0, device.ChannelCount).Select(device.Channel))
            .Where(channel => channel.Wiring.IsOutput == isOutput && channel.Wiring.Index == happening.Index)
            .Select(channel => channel.Problem).FirstOrDefault("");
    }

    /// <summary>Adds what changed since the last look.</summary>
    public void Look(double nowS, HappeningList happenings)
    {
        for (var i = 0; i < stuck.Length; i++)
            Bus(i, buses[i].BusyS(nowS), happenings);
        for (var i = 0; i < devices.Length; i++)
        {
            Device(i, nowS, happenings);
            for (var c = 0; c < refused[i].Length; c++)
                Channel(devices[i].Channel(c), ref refused[i][c], happenings);
        }
    }

    private void Bus(int index, double busyS, HappeningList happenings)
    {
        var isStuck = busyS > longestPollS[index] + PatienceS;
        if (isStuck && !stuck[index])
            happenings.Add(new Happening(HardwareEvents.BusStuck.Id, Owner.Device, firstDevice[index], Reason.Of(Cause.BusError, busyS)));
        stuck[index] = isStuck;
    }

    private void Device(int index, double nowS, HappeningList happenings)
    {
        var health = devices[index].Health;
        ref var watch = ref watched[index];
        if (watch.State == DeviceState.Answering && health.State == DeviceState.Answering && nowS - watch.ChangedAtS > SteadyS)
            watch.Losses = 0;
        if (health.State == watch.State)
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

    private struct Watched
    {
        public DeviceState State;
        public int Losses;
        public double ChangedAtS;
    }
}

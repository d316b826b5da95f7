// Turns changes in the health of devices and channels into events: once when something stops answering, once when it is back.
// Looks only; decides nothing.
using RoomSupervisor.Hardware;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime;

/// <summary>Watches the devices of all buses.</summary>
public sealed class HealthWatch
{
    private readonly IBusDevice[] devices;
    private const int MostTold = 3;
    private const double SteadyS = 600;

    private readonly Watched[] watched;
    private readonly bool[][] refused;

    public HealthWatch(IReadOnlyList<BusWorker> workers)
    {
        devices = [.. workers.SelectMany(worker => worker.Devices)];
        watched = new Watched[devices.Length];
        refused = [.. devices.Select(device => new bool[device.ChannelCount])];
    }

    public string NameOf(int index) => devices[index].Name;

    /// <summary>A device's last problem in words.</summary>
    public string ProblemOf(int index) => devices[index].Health.LastProblem;

    /// <summary>The last problem of the channel a point is wired to, in words.</summary>
    public string ProblemOf(Owner owner, int index)
    {
        foreach (var device in devices)
        {
            for (var c = 0; c < device.ChannelCount; c++)
            {
                var channel = device.Channel(c);
                if (channel.Wiring.IsOutput == (owner == Owner.Output) && channel.Wiring.Index == index)
                    return $"{device.Name}.{channel.Wiring.Channel}: {channel.Problem}";
            }
        }
        return "";
    }

    /// <summary>Adds what changed since the last look.</summary>
    public void Look(double nowS, HappeningList happenings)
    {
        for (var i = 0; i < devices.Length; i++)
        {
            Device(i, nowS, happenings);
            for (var c = 0; c < refused[i].Length; c++)
                Channel(devices[i].Channel(c), ref refused[i][c], happenings);
        }
    }

    private void Device(int index, double nowS, HappeningList happenings)
    {
        var health = devices[index].Health;
        ref var watch = ref watched[index];
        watch.QuietForS = health.State == DeviceState.Answering && watch.State == health.State ? nowS - watch.ChangedAtS : 0;
        if (watch.QuietForS > SteadyS)
            watch.Losses = 0;
        if (health.State == watch.State)
            return;
        var before = watch.State;
        watch.State = health.State;
        if (health.State == DeviceState.NotAnswering)
            Lost(index, nowS, ref watch, health, happenings);
        else if (before == DeviceState.Unknown)
            happenings.Add(new Happening(HardwareEvents.DeviceAnswers.Id, Owner.Device, index, default));
        else if (watch.Losses <= MostTold)
            happenings.Add(new Happening(HardwareEvents.DeviceAnswersAgain.Id, Owner.Device, index, Reason.Of(Cause.ReadingsBack, nowS - watch.ChangedAtS)));
        watch.ChangedAtS = nowS;
    }

    /// <summary>Three losses are told one by one; then once that it comes and goes, and no more until it has been steady.</summary>
    private static void Lost(int index, double nowS, ref Watched watch, in DeviceHealth health, HappeningList happenings)
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
        public double QuietForS;
    }
}

// Turns changes in the health of devices and channels into events: once when something stops answering, once when it is back.
// Looks only; decides nothing.
using RoomSupervisor.Hardware;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime;

/// <summary>Watches the devices of all buses.</summary>
public sealed class HealthWatch
{
    private readonly IBusDevice[] devices;
    private readonly DeviceState[] states;
    private readonly double[] lostAtS;
    private readonly bool[][] refused;

    public HealthWatch(IReadOnlyList<BusWorker> workers)
    {
        devices = [.. workers.SelectMany(worker => worker.Devices)];
        states = new DeviceState[devices.Length];
        lostAtS = new double[devices.Length];
        refused = [.. devices.Select(device => new bool[device.ChannelCount])];
    }

    public string NameOf(int index) => devices[index].Name;

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
        if (health.State == states[index])
            return;
        if (health.State == DeviceState.NotAnswering)
        {
            lostAtS[index] = nowS;
            happenings.Add(new Happening(HardwareEvents.DeviceNotAnswering.Id, Owner.Device, index, new Reason(Names.CauseOf(health.LastFault))));
        }
        else if (states[index] == DeviceState.NotAnswering)
        {
            happenings.Add(new Happening(HardwareEvents.DeviceAnswersAgain.Id, Owner.Device, index, Reason.Of(Cause.ReadingsBack, nowS - lostAtS[index])));
        }
        states[index] = health.State;
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
}

// Notices a bus whose poll does not come back: once, when it has lasted longer than its devices say it may. Looks only; decides nothing.
// Its points go stale and its leases end by themselves.
using RoomSupervisor.Hardware;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime;

/// <summary>Watches the threads of all buses.</summary>
public sealed class BusWatch
{
    /// <summary>A poll that lasts this much longer than its devices say it may has hung, s.</summary>
    public const double PatienceS = 10;

    private readonly IReadOnlyList<BusThread> buses;
    private readonly bool[] stuck;
    private readonly double[] longestPollS;
    private readonly int[] firstDevice;

    public BusWatch(IReadOnlyList<BusThread> buses)
    {
        this.buses = buses;
        stuck = new bool[buses.Count];
        longestPollS = [.. buses.Select(bus => bus.Worker.Devices.Sum(device => device.LongestPollS))];
        firstDevice = [.. buses.Index().Select(bus => buses.Take(bus.Index).Sum(before => before.Worker.Devices.Count))];
    }

    /// <summary>Adds what changed since the last look, under the name of the bus's first device.</summary>
    public void Look(double nowS, HappeningList happenings)
    {
        for (var i = 0; i < stuck.Length; i++)
        {
            var busyS = buses[i].BusyS(nowS);
            var isStuck = busyS > longestPollS[i] + PatienceS;
            if (isStuck && !stuck[i])
                happenings.Add(new Happening(RuntimeEvents.BusStuck.Id, Owner.Device, firstDevice[i], Reason.Of(Cause.BusError, busyS)));
            stuck[i] = isStuck;
        }
    }
}

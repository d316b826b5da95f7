// What requests over the control socket may look at and touch: nothing of the loop itself, only what it publishes and what it takes in between scans.
using RoomSupervisor.Hardware;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Control;

/// <summary>Parts of a run as its clients see them; of a site that is only read, the same without loop.</summary>
/// <param name="Files">The site as it was started.</param>
/// <param name="Wires">What is wired in this run: without outputs where it only observes or reads.</param>
/// <param name="Board">What the last scan found.</param>
/// <param name="Leases">What channels were told.</param>
/// <param name="Clock">Its clock.</param>
public sealed record ControlParts(SiteFiles Files, IReadOnlyList<PointWiring> Wires, SnapshotBoard Board, OutputLeases Leases, RunClock Clock)
{
    /// <summary>The bus workers as they are now: one that hangs may have been replaced.</summary>
    public Func<IReadOnlyList<BusWorker>> Workers { get; init; } = () => [];

    /// <summary>How a bus is doing, by its place in <see cref="Workers"/>; null: nobody polls.</summary>
    public Func<int, BusHealth>? BusHealth { get; init; }

    /// <summary>Hand values on their way to the loop; null: there is no loop, or it may not write.</summary>
    public HandRequests? Hands { get; init; }

    /// <summary>True for a loop that scans; false for a site that was read once.</summary>
    public bool IsRunning { get; init; } = true;

    /// <summary>True for a loop that only looks.</summary>
    public bool IsObserving { get; init; }

    /// <summary>True for a run that somebody started to try outputs by hand: everything else is kept safe.</summary>
    public bool IsByHand { get; init; }

    /// <summary>The latest scan.</summary>
    /// <exception cref="ControlException">There has been none yet.</exception>
    internal HouseSnapshot Latest()
    {
        var snapshot = new HouseSnapshot(Files.House);
        return Board.TryRead(snapshot) ? snapshot : throw new ControlException("the first scan has not been taken yet: ask again in a few seconds");
    }

    /// <summary>A device by name, or null.</summary>
    internal IBusDevice? Device(string name) => Workers().SelectMany(worker => worker.Devices).FirstOrDefault(device => device.Name == name);

    /// <summary>How the channel of a wire is doing, or null.</summary>
    internal static ChannelHealth? Channel(IBusDevice? device, PointWiring wire)
    {
        for (var i = 0; i < (device?.ChannelCount ?? 0); i++)
        {
            var channel = device!.Channel(i);
            if (channel.Wiring.PointId == wire.PointId && channel.Wiring.Channel == wire.Channel)
                return channel;
        }
        return null;
    }
}

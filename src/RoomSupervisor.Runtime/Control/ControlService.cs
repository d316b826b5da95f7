// The control socket of a run, put together: its requests, its place, its server. It must never keep a run from controlling: without a socket it goes on and says so.
using System.Net.Sockets;
using RoomSupervisor.Runtime.State;

namespace RoomSupervisor.Runtime.Control;

/// <summary>Makes the control socket of a run.</summary>
public sealed class ControlService : IDisposable
{
    private readonly ControlRequests requests;
    private readonly ControlServer server;

    private ControlService(ControlRequests requests, Socket listener, ControlSay say)
    {
        this.requests = requests;
        server = new ControlServer(listener, requests, say);
    }

    /// <summary>Listens; nobody is answered before <see cref="Start"/>.</summary>
    /// <param name="parts">What may be looked at and touched.</param>
    /// <param name="directory">The site's directory.</param>
    /// <param name="path">Path of the socket.</param>
    /// <param name="say">Told who did what.</param>
    /// <param name="time">Clock for rates.</param>
    /// <param name="more">Further requests: status, why, watch.</param>
    /// <param name="service">The socket, or null.</param>
    /// <param name="isTaken">True when a living run answers there.</param>
    /// <param name="why">Why not.</param>
    public static bool TryMake(
        ControlParts parts, string directory, string path, ControlSay say, TimeProvider time, IReadOnlyList<IControlRequest> more,
        out ControlService? service, out bool isTaken, out string why)
    {
        service = null;
        if (!ControlPlace.TryListen(path, out var listener, out isTaken, out why))
            return false;
        ControlRequests? requests = null;
        bool Wait(TimeSpan step) => requests!.Wait(step);
        requests = new ControlRequests(parts.Files.Site.Name, Path.GetFullPath(directory), time,
            [new PointsRequest(parts), new DevicesRequest(parts), new ActuatorRequest(parts), new SetRequest(parts, Wait, say), new EndRequest(parts, Wait, say), new ForgetRequest(parts, say), .. more]);
        service = new ControlService(requests, listener!, say);
        return true;
    }

    public void Start() => server.Start();

    /// <summary>Closes it; clients are let go.</summary>
    public void Dispose()
    {
        requests.Dispose();
        server.Dispose();
    }
}

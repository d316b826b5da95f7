// The datagrams a service manager wants to hear: ready, alive, what goes on, stopping. Our own, because the usual library sends nothing under a strict unit
// and never feeds a watchdog. It must never throw, block or decide anything: a manager that does not listen is no reason to stop controlling a house.
// Source: systemd's manual, sd_notify(3) and sd_watchdog_enabled(3).
using System.Globalization;
using System.Net.Sockets;
using System.Text;

namespace RoomSupervisor.Runtime.Board;

/// <summary>Tells a service manager how the program is doing. Any thread.</summary>
public sealed class ServiceNotes : IDisposable
{
    private readonly Socket socket;
    private readonly UnixDomainSocketEndPoint manager;

    private ServiceNotes(Socket socket, UnixDomainSocketEndPoint manager, double watchdogS)
    {
        (this.socket, this.manager) = (socket, manager);
        WatchdogS = watchdogS;
    }

    /// <summary>The manager ends a program that is not fed for this long, s; infinity: it never does.</summary>
    public double WatchdogS { get; }

    /// <summary>From what the manager put into the environment; null when no manager waits for this process.</summary>
    /// <param name="environment">Value of a variable, or null.</param>
    /// <param name="processId">Of this process: a watchdog that is meant for another is not fed.</param>
    public static ServiceNotes? Of(Func<string, string?> environment, int processId)
    {
        // A name that begins with @ is one of the kernel's abstract names; anything that is no path is not for us.
        if (environment("NOTIFY_SOCKET") is not { Length: > 1 } path || path[0] is not ('/' or '@'))
            return null;
        var isOurs = environment("WATCHDOG_PID") is not { Length: > 0 } other || other == processId.ToString(CultureInfo.InvariantCulture);
        var watchdogS = isOurs && long.TryParse(environment("WATCHDOG_USEC"), NumberStyles.None, CultureInfo.InvariantCulture, out var us) && us > 0 ? us / 1e6 : double.PositiveInfinity;
        Socket? made = null;
        try
        {
            made = new Socket(AddressFamily.Unix, SocketType.Dgram, ProtocolType.Unspecified) { Blocking = false };
            var notes = new ServiceNotes(made, new UnixDomainSocketEndPoint(path[0] == '@' ? '\0' + path[1..] : path), watchdogS);
            made = null;
            return notes;
        }
        catch (Exception e) when (e is SocketException or ArgumentException)
        {
            return null;
        }
        finally
        {
            made?.Dispose();
        }
    }

    /// <summary>The service is up: sent once its first scan is done, or before a long pause.</summary>
    public bool Ready(string status) => Send("READY=1\nSTATUS=" + OneLine(status));

    /// <summary>It is alive. Only to be sent while the loop is fresh (<see cref="FreshRule"/>).</summary>
    public bool Feed() => Send("WATCHDOG=1");

    /// <summary>What goes on, for people who ask the manager.</summary>
    public bool Status(string status) => Send("STATUS=" + OneLine(status));

    /// <summary>It is ending on purpose.</summary>
    public bool Stopping() => Send("STOPPING=1");

    public void Dispose() => socket.Dispose();

    private static string OneLine(string text) => text.ReplaceLineEndings(" ");

    private bool Send(string text)
    {
        try
        {
            return socket.SendTo(Encoding.UTF8.GetBytes(text), manager) > 0;
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            return false;
        }
    }
}

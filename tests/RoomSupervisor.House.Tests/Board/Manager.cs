// A service manager's end of the notify socket, for tests: keeps every datagram.
using System.Net.Sockets;
using System.Text;
using RoomSupervisor.Runtime.Board;

namespace RoomSupervisor.House.Tests.Board;

internal sealed class Manager : IDisposable
{
    private readonly Socket socket = new(AddressFamily.Unix, SocketType.Dgram, ProtocolType.Unspecified) { ReceiveTimeout = 2000 };
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("notify-");

    /// <param name="isAbstract">One of the kernel's abstract names instead of a path.</param>
    public Manager(bool isAbstract = false)
    {
        Name = isAbstract ? "@room-supervisor-test-" + folder.Name : Path.Combine(folder.FullName, "notify");
        socket.Bind(new UnixDomainSocketEndPoint(isAbstract ? '\0' + Name[1..] : Name));
    }

    public string Name { get; }

    public ServiceNotes Notes(double watchdogS = 20) => ServiceNotes.Of(key => key switch
    {
        "NOTIFY_SOCKET" => Name,
        "WATCHDOG_USEC" => ((long)(watchdogS * 1e6)).ToString(System.Globalization.CultureInfo.InvariantCulture),
        _ => null,
    }, 1)!;

    /// <summary>The next datagram; waits for it, at most 2 s.</summary>
    public string Next()
    {
        var buffer = new byte[4096];
        return Encoding.UTF8.GetString(buffer, 0, socket.Receive(buffer));
    }

    /// <summary>All that have come.</summary>
    public List<string> All()
    {
        var all = new List<string>();
        while (socket.Available > 0)
            all.Add(Next());
        return all;
    }

    public void Dispose()
    {
        socket.Dispose();
        folder.Delete(true);
    }
}

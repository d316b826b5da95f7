// A service manager's end of the notify socket, for tests: reads every datagram as it comes, as a manager does (the kernel keeps ten only).
using System.Net.Sockets;
using System.Text;
using RoomSupervisor.Runtime.Board;

namespace RoomSupervisor.House.Tests.Board;

internal sealed class Manager : IDisposable
{
    private const string Mark = "test: that was all";

    private readonly Socket socket = new(AddressFamily.Unix, SocketType.Dgram, ProtocolType.Unspecified);
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("notify-");
    private readonly List<string> heard = [];
    private readonly AutoResetEvent marked = new(false);

    /// <param name="isAbstract">One of the kernel's abstract names instead of a path.</param>
    /// <param name="isDeaf">Reads nothing.</param>
    public Manager(bool isAbstract = false, bool isDeaf = false)
    {
        Name = isAbstract ? "@room-supervisor-test-" + folder.Name : Path.Combine(folder.FullName, "notify");
        socket.Bind(new UnixDomainSocketEndPoint(isAbstract ? '\0' + Name[1..] : Name));
        if (!isDeaf)
            new Thread(Read) { IsBackground = true }.Start();
    }

    public string Name { get; }

    public ServiceNotes Notes(double watchdogS = 20) => ServiceNotes.Of(key => key switch
    {
        "NOTIFY_SOCKET" => Name,
        "WATCHDOG_USEC" => ((long)(watchdogS * 1e6)).ToString(System.Globalization.CultureInfo.InvariantCulture),
        _ => null,
    }, 1)!;

    /// <summary>All that have come since it was asked last.</summary>
    public List<string> All()
    {
        using var own = new Socket(AddressFamily.Unix, SocketType.Dgram, ProtocolType.Unspecified);
        own.SendTo(Encoding.UTF8.GetBytes(Mark), new UnixDomainSocketEndPoint(Name[0] == '@' ? '\0' + Name[1..] : Name));
        Assert.True(marked.WaitOne(TimeSpan.FromSeconds(5)));
        lock (heard)
        {
            List<string> all = [.. heard];
            heard.Clear();
            return all;
        }
    }

    public void Dispose()
    {
        socket.Dispose();
        folder.Delete(true);
    }

    private void Read()
    {
        var buffer = new byte[4096];
        try
        {
            while (true)
            {
                var text = Encoding.UTF8.GetString(buffer, 0, socket.Receive(buffer));
                if (text == Mark)
                    marked.Set();
                else
                    lock (heard)
                        heard.Add(text);
            }
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            // The test is over.
        }
    }
}

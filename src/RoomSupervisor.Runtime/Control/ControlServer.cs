// The control socket of a run: takes connections and answers their lines, each client on a thread of its own, a few at a time. Whatever a client does (floods,
// stalls, reads nothing, sends rubbish) costs that client his connection and nobody else anything. It must never touch the loop but through the snapshot board and the queue of hand values.
using System.Net.Sockets;

namespace RoomSupervisor.Runtime.Control;

/// <summary>Serves the clients of one run.</summary>
public sealed class ControlServer : IDisposable
{
    /// <summary>Clients at a time; more are told so and let go.</summary>
    public const int MostClients = 16;

    /// <summary>Stack of a client's thread, bytes: a board has little memory.</summary>
    private const int Stack = 256 * 1024;

    private readonly Socket listener;
    private readonly ControlRequests requests;
    private readonly ControlSay say;
    private readonly Thread thread;
    private readonly Lock gate = new();
    private readonly List<ControlSession> sessions = [];
    private volatile bool ends;

    /// <param name="listener">From <see cref="ControlPlace.TryListen"/>; disposed with this.</param>
    /// <param name="requests">What may be asked.</param>
    /// <param name="say">Told who did what.</param>
    public ControlServer(Socket listener, ControlRequests requests, ControlSay say)
    {
        (this.listener, this.requests, this.say) = (listener, requests, say);
        thread = new Thread(Run) { IsBackground = true, Name = "control" };
    }

    public void Start() => thread.Start();

    public void Dispose()
    {
        ends = true;
        listener.Dispose();
        lock (gate)
        {
            foreach (var session in sessions)
                session.Close();
        }
    }

    private void Run()
    {
        while (!ends)
        {
            try
            {
                Welcome(listener.Accept());
            }
            catch (ObjectDisposedException)
            {
                return;
            }
            catch (SocketException e) when (!ends)
            {
                // Out of descriptors, a client gone before he was taken: the next one may be luckier.
                say.Trouble($"control socket: {e.Message}");
                requests.Wait(TimeSpan.FromSeconds(1));
            }
            catch (SocketException)
            {
                return;
            }
        }
    }

    private void Welcome(Socket socket)
    {
        var session = new ControlSession(socket, requests, say);
        lock (gate)
        {
            if (sessions.Count >= MostClients)
            {
                session.Refuse($"{MostClients} clients are connected already: close one of them");
                return;
            }
            sessions.Add(session);
        }
        new Thread(() => Serve(session), Stack) { IsBackground = true, Name = "control client" }.Start();
    }

    private void Serve(ControlSession session)
    {
        try
        {
            session.Run();
        }
#pragma warning disable CA1031 // An error of our own in one answer must not end the run: it is told, and the client let go.
        catch (Exception e)
#pragma warning restore CA1031
        {
            say.Trouble($"control socket: error of our own: {e.GetType().Name}: {e.Message}");
        }
        finally
        {
            lock (gate)
                sessions.Remove(session);
            session.Dispose();
        }
    }
}

// Lines over a socket, both ways, bounded in length and time: what server and client share. It must never wait longer than it was told, and never hold more
// than one line too long.
using System.Net.Sockets;

namespace RoomSupervisor.Runtime.Control;

/// <summary>What came of waiting for a line.</summary>
public enum LineOutcome : byte
{
    Line, Closed, TooLong, TimedOut,
}

/// <summary>A socket read and written by lines (UTF-8, ended by \n). For one thread.</summary>
public sealed class LineSocket : IDisposable
{
    private readonly Socket socket;
    private readonly int longest;
    private byte[] buffer = new byte[1024];
    private int from, until;

    /// <param name="socket">Connected; disposed with this.</param>
    /// <param name="longest">Longest line taken, bytes.</param>
    public LineSocket(Socket socket, int longest) => (this.socket, this.longest) = (socket, longest);

    public Socket Socket => socket;

    /// <summary>Waits for the next line.</summary>
    /// <param name="wait">Longest wait for each piece of it.</param>
    /// <param name="line">The line without its end; valid until the next call.</param>
    public LineOutcome Read(TimeSpan wait, out ReadOnlyMemory<byte> line)
    {
        line = default;
        var searched = from;
        while (true)
        {
            var end = buffer.AsSpan(searched, until - searched).IndexOf((byte)'\n');
            if (end >= 0)
            {
                line = buffer.AsMemory(from, searched + end - from);
                from = searched + end + 1;
                return LineOutcome.Line;
            }
            if (until - from > longest)
                return LineOutcome.TooLong;
            MakeRoom();
            searched = until;
            if (Receive(wait) is { } outcome)
                return outcome;
        }
    }

    /// <summary>Sends all bytes; false when the other side does not take them in time or is gone.</summary>
    public bool Send(ReadOnlySpan<byte> bytes, TimeSpan wait)
    {
        try
        {
            socket.SendTimeout = Milliseconds(wait);
            while (bytes.Length > 0)
                bytes = bytes[socket.Send(bytes)..];
            return true;
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)
        {
            return false;
        }
    }

    public void Dispose() => socket.Dispose();

    private LineOutcome? Receive(TimeSpan wait)
    {
        try
        {
            socket.ReceiveTimeout = Milliseconds(wait);
            var count = socket.Receive(buffer.AsSpan(until));
            until += count;
            return count == 0 ? LineOutcome.Closed : null;
        }
        catch (SocketException e)
        {
            return e.SocketErrorCode is SocketError.TimedOut or SocketError.WouldBlock ? LineOutcome.TimedOut : LineOutcome.Closed;
        }
        catch (ObjectDisposedException)
        {
            return LineOutcome.Closed;
        }
    }

    private void MakeRoom()
    {
        if (from > 0)
        {
            buffer.AsSpan(from, until - from).CopyTo(buffer);
            (from, until) = (0, until - from);
        }
        if (until == buffer.Length)
            Array.Resize(ref buffer, Math.Min(buffer.Length * 4, longest + 2));
    }

    private static int Milliseconds(TimeSpan wait) => Math.Max(1, (int)wait.TotalMilliseconds);
}

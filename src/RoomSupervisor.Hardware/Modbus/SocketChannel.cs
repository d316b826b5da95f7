// A TCP connection as a channel of bytes. Never blocks beyond the moment it is given: the socket is non-blocking and waits in poll().
// It must never try to connect by itself; pauses between attempts are the device's business.
using System.Diagnostics;
using System.Net;
using System.Net.Sockets;

namespace RoomSupervisor.Hardware.Modbus;

/// <summary>A TCP client connection. Real time (the machine's monotonic clock).</summary>
/// <param name="host">Network name or address.</param>
/// <param name="port">TCP port.</param>
public sealed class SocketChannel(string host, int port) : IByteChannel
{
    /// <summary>A peer that never stops talking must not hold us in the flush: after this many binfuls the connection is dropped.</summary>
    private const int MostFlushed = 32;
    private readonly byte[] bin = new byte[512];
    private Socket? socket;

    public double NowS => Stopwatch.GetTimestamp() / (double)Stopwatch.Frequency;

    public bool IsOpen => socket is not null;

    /// <inheritdoc/>
    public ModbusProblem Open(double untilS)
    {
        Close();
        var address = Resolve(untilS, out var problem);
        if (address is null)
            return problem;
        var attempt = new Socket(address.AddressFamily, SocketType.Stream, ProtocolType.Tcp) { Blocking = false, NoDelay = true };
        problem = Connect(attempt, new IPEndPoint(address, port), untilS);
        if (problem == ModbusProblem.None)
            socket = attempt;
        else
            attempt.Dispose();
        return problem;
    }

    /// <inheritdoc/>
    public bool Flush()
    {
        for (var taken = 0; socket is { } open; taken++)
        {
            if (taken == MostFlushed)
            {
                Close();
                break;
            }
            var count = open.Receive(bin, SocketFlags.None, out var error);
            if (error == SocketError.WouldBlock)
                return true;
            if (error != SocketError.Success || count == 0)
                Close();
        }
        return false;
    }

    /// <inheritdoc/>
    public ModbusProblem Send(ReadOnlySpan<byte> bytes, double untilS)
    {
        while (socket is { } open)
        {
            var count = open.Send(bytes, SocketFlags.None, out var error);
            if (error == SocketError.Success)
                bytes = bytes[count..];
            else if (error != SocketError.WouldBlock)
                return Lost(error);
            if (bytes.IsEmpty)
                return ModbusProblem.None;
            if (error == SocketError.WouldBlock && !Wait(open, SelectMode.SelectWrite, untilS))
                return ModbusProblem.CutShort;
        }
        return ModbusProblem.ClosedByPeer;
    }

    /// <inheritdoc/>
    public ModbusProblem Receive(Span<byte> into, double untilS, out int count)
    {
        count = 0;
        while (socket is { } open)
        {
            count = open.Receive(into, SocketFlags.None, out var error);
            if (error == SocketError.Success)
                return count > 0 ? ModbusProblem.None : ModbusProblem.ClosedByPeer;
            count = 0;
            if (error != SocketError.WouldBlock)
                return Lost(error);
            if (!Wait(open, SelectMode.SelectRead, untilS))
                return ModbusProblem.NoAnswerInTime;
        }
        return ModbusProblem.ClosedByPeer;
    }

    /// <inheritdoc/>
    public void Close()
    {
        socket?.Dispose();
        socket = null;
    }

    public void Dispose() => Close();

    private static ModbusProblem Lost(SocketError error)
        => error is SocketError.HostUnreachable or SocketError.NetworkUnreachable or SocketError.NetworkDown ? ModbusProblem.NoRoute
            : error == SocketError.TimedOut ? ModbusProblem.NoAnswerInTime : ModbusProblem.ClosedByPeer;

    private bool Wait(Socket open, SelectMode mode, double untilS)
    {
        // The system waits in whole milliseconds and may come back early: only the clock says that time is up.
        for (var left = untilS - NowS; left > 0; left = untilS - NowS)
        {
            if (open.Poll((int)Math.Clamp(left * 1e6, 1000, int.MaxValue), mode))
                return true;
        }
        return false;
    }

    private ModbusProblem Connect(Socket attempt, IPEndPoint end, double untilS)
    {
        try
        {
            attempt.Connect(end);
            return ModbusProblem.None;
        }
        catch (SocketException failure) when (failure.SocketErrorCode is SocketError.WouldBlock or SocketError.InProgress)
        {
            if (!Wait(attempt, SelectMode.SelectWrite, untilS))
                return ModbusProblem.NoAnswerInTime;
        }
        catch (SocketException failure)
        {
            return Failed(failure.SocketErrorCode);
        }
        var error = (SocketError)(int)attempt.GetSocketOption(SocketOptionLevel.Socket, SocketOptionName.Error)!;
        return error == SocketError.Success ? ModbusProblem.None : Failed(error);
    }

    private static ModbusProblem Failed(SocketError error) => error switch
    {
        SocketError.ConnectionRefused or SocketError.ConnectionReset => ModbusProblem.ConnectionRefused,
        SocketError.TimedOut => ModbusProblem.NoAnswerInTime,
        _ => ModbusProblem.NoRoute,
    };

    /// <summary>The system's resolver has no time limit of its own, so it is waited for, not trusted; an address needs none.</summary>
    private IPAddress? Resolve(double untilS, out ModbusProblem problem)
    {
        problem = ModbusProblem.None;
        if (IPAddress.TryParse(host, out var address))
            return address;
        problem = ModbusProblem.NameUnknown;
        try
        {
            var asked = Dns.GetHostAddressesAsync(host);
            if (!asked.Wait(TimeSpan.FromSeconds(Math.Max(0, untilS - NowS))))
                problem = ModbusProblem.NoAnswerInTime;
            else
                address = asked.Result.FirstOrDefault(found => found.AddressFamily == AddressFamily.InterNetwork) ?? asked.Result.FirstOrDefault();
        }
        catch (AggregateException)
        {
            return null;
        }
        return address;
    }
}

// A channel of bytes in memory with a clock of its own: waiting costs no real time. For rehearsals and tests.
// It must never read a real clock.
namespace RoomSupervisor.Hardware.Modbus;

/// <summary>The other end of a <see cref="MemoryChannel"/>.</summary>
public interface IMemoryPeer
{
    /// <summary>What comes of an attempt to connect, and how many seconds it takes.</summary>
    ModbusProblem Accept(out double tookS);

    /// <summary>Bytes were sent to it. It answers with <see cref="MemoryChannel.Deliver"/> and <see cref="MemoryChannel.HangUp"/>.</summary>
    void Received(ReadOnlySpan<byte> bytes, MemoryChannel channel);
}

/// <summary>A connection to a peer in memory. For one thread.</summary>
/// <param name="peer">The other end.</param>
public sealed class MemoryChannel(IMemoryPeer peer) : IByteChannel
{
    private readonly Queue<(double AtS, byte Value, bool End)> coming = new();

    public double NowS { get; private set; }

    public bool IsOpen { get; private set; }

    /// <summary>How often it was opened.</summary>
    public int Connections { get; private set; }

    /// <summary>Lets time pass without anything being asked, seconds.</summary>
    public void Pass(double seconds) => NowS += seconds;

    /// <summary>For the peer: bytes arrive some seconds from now. Later calls must not arrive earlier.</summary>
    public void Deliver(ReadOnlySpan<byte> bytes, double afterS)
    {
        foreach (var value in bytes)
            coming.Enqueue((NowS + afterS, value, false));
    }

    /// <summary>For the peer: it closes the connection some seconds from now.</summary>
    public void HangUp(double afterS) => coming.Enqueue((NowS + afterS, 0, true));

    /// <inheritdoc/>
    public ModbusProblem Open(double untilS)
    {
        Close();
        var problem = peer.Accept(out var tookS);
        if (NowS + tookS > untilS)
            (problem, tookS) = (ModbusProblem.NoAnswerInTime, untilS - NowS);
        NowS += tookS;
        IsOpen = problem == ModbusProblem.None;
        Connections += IsOpen ? 1 : 0;
        return problem;
    }

    /// <inheritdoc/>
    public bool Flush()
    {
        while (IsOpen && coming.TryPeek(out var first) && first.AtS <= NowS)
        {
            if (coming.Dequeue().End)
                Close();
        }
        return IsOpen;
    }

    /// <inheritdoc/>
    public ModbusProblem Send(ReadOnlySpan<byte> bytes, double untilS)
    {
        if (!IsOpen)
            return ModbusProblem.ClosedByPeer;
        peer.Received(bytes, this);
        return ModbusProblem.None;
    }

    /// <inheritdoc/>
    public ModbusProblem Receive(Span<byte> into, double untilS, out int count)
    {
        count = 0;
        if (!IsOpen)
            return ModbusProblem.ClosedByPeer;
        if (!coming.TryPeek(out var first) || first.AtS > untilS)
        {
            NowS = Math.Max(NowS, untilS);
            return ModbusProblem.NoAnswerInTime;
        }
        NowS = Math.Max(NowS, first.AtS);
        while (count < into.Length && coming.TryPeek(out first) && first.AtS <= NowS)
        {
            if (first.End)
                return count > 0 ? ModbusProblem.None : ModbusProblem.ClosedByPeer;
            into[count++] = coming.Dequeue().Value;
        }
        return ModbusProblem.None;
    }

    /// <inheritdoc/>
    public void Close()
    {
        IsOpen = false;
        coming.Clear();
    }

    public void Dispose() => Close();
}

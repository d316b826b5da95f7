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
    // Bytes in the order they come, in runs that arrive together; a run of none is the end of the connection. Nothing is allocated once it is wide enough.
    private readonly Queue<(double AtS, int Count)> coming = new();
    private byte[] bytes = new byte[512];
    private int first, held, taken;

    public double NowS { get; private set; }

    public bool IsOpen { get; private set; }

    /// <summary>How often it was opened.</summary>
    public int Connections { get; private set; }

    /// <summary>Lets time pass without anything being asked, seconds.</summary>
    public void Pass(double seconds) => NowS += seconds;

    /// <summary>Sets the clock on to a moment; waiting may already have brought it further.</summary>
    public void At(double nowS) => NowS = Math.Max(NowS, nowS);

    /// <summary>For the peer: bytes arrive some seconds from now. Later calls must not arrive earlier.</summary>
    public void Deliver(ReadOnlySpan<byte> bytes, double afterS)
    {
        if (bytes.IsEmpty)
            return;
        Widen(bytes.Length);
        bytes.CopyTo(this.bytes.AsSpan(first + held));
        held += bytes.Length;
        coming.Enqueue((NowS + afterS, bytes.Length));
    }

    /// <summary>For the peer: it closes the connection some seconds from now.</summary>
    public void HangUp(double afterS) => coming.Enqueue((NowS + afterS, 0));

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
        while (IsOpen && coming.TryPeek(out var run) && run.AtS <= NowS)
        {
            if (run.Count == 0)
                Close();
            else
                Take(run.Count - taken);
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
        if (!coming.TryPeek(out var run) || run.AtS > untilS)
        {
            NowS = Math.Max(NowS, untilS);
            return ModbusProblem.NoAnswerInTime;
        }
        NowS = Math.Max(NowS, run.AtS);
        while (count < into.Length && coming.TryPeek(out run) && run.AtS <= NowS)
        {
            if (run.Count == 0)
                return count > 0 ? ModbusProblem.None : ModbusProblem.ClosedByPeer;
            var take = Math.Min(into.Length - count, run.Count - taken);
            bytes.AsSpan(first, take).CopyTo(into[count..]);
            count += take;
            Take(take);
        }
        return ModbusProblem.None;
    }

    /// <inheritdoc/>
    public void Close()
    {
        IsOpen = false;
        coming.Clear();
        (first, held, taken) = (0, 0, 0);
    }

    public void Dispose() => Close();

    /// <summary>Takes bytes of the run that comes first.</summary>
    private void Take(int count)
    {
        (first, held, taken) = (first + count, held - count, taken + count);
        if (taken == coming.Peek().Count)
        {
            coming.Dequeue();
            taken = 0;
        }
        if (held == 0)
            first = 0;
    }

    private void Widen(int more)
    {
        if (first + held + more <= bytes.Length)
            return;
        var wider = held + more <= bytes.Length ? bytes : new byte[2 * (held + more)];
        bytes.AsSpan(first, held).CopyTo(wider);
        (bytes, first) = (wider, 0);
    }
}

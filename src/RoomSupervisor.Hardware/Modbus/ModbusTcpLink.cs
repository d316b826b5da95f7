// Modbus TCP over any channel of bytes: one transaction at a time, strictly checked, one total deadline.
// After an invalid answer it must never go on reading the same connection: closing is the only sure way to find the beat again.
namespace RoomSupervisor.Hardware.Modbus;

/// <summary>
/// A Modbus TCP client. A silent device keeps its connection once (its late answer is thrown away before the next request), twice in a row
/// loses it. Allocates nothing per transaction.
/// </summary>
public sealed class ModbusTcpLink(IByteChannel channel) : IModbusLink
{
    private const int SilencesBeforeClosing = 2;
    private readonly byte[] frame = new byte[ModbusTcpFrame.Longest];
    private ushort transaction;
    private int silences;
    private double quietS, answeredAtS = double.NegativeInfinity;

    /// <inheritdoc/>
    public ModbusReply Transact(byte unit, ReadOnlySpan<byte> request, Span<byte> answer, double deadlineS)
    {
        var start = channel.NowS;
        var until = start + deadlineS;
        WaitForQuiet(until);
        var reused = channel.IsOpen && channel.Flush();
        var problem = Try(unit, request, answer, until, out var exception, out var length);
        // A connection that lay idle may have been closed by the device without our noticing: that is no fault of the request. Once.
        var again = reused && problem == ModbusProblem.ClosedByPeer;
        if (again)
            problem = Try(unit, request, answer, until, out exception, out length);
        answeredAtS = channel.NowS;
        silences = problem == ModbusProblem.NoAnswerInTime ? silences + 1 : 0;
        return new ModbusReply(problem, exception, length, channel.NowS - start, !reused || again);
    }

    /// <inheritdoc/>
    public void KeepQuiet(double seconds) => quietS = seconds;

    /// <inheritdoc/>
    public void Close() => channel.Close();

    public void Dispose() => channel.Dispose();

    /// <summary>What comes meanwhile is late and thrown away.</summary>
    private void WaitForQuiet(double until)
    {
        var quietAt = Math.Min(until, answeredAtS + quietS);
        while (channel.IsOpen && channel.NowS < quietAt && channel.Receive(frame, quietAt, out _) == ModbusProblem.None)
        {
        }
    }

    private ModbusProblem Try(byte unit, ReadOnlySpan<byte> request, Span<byte> answer, double until, out byte exception, out int length)
    {
        (exception, length) = (0, 0);
        if (!channel.IsOpen && channel.Open(until) is var opening and not ModbusProblem.None)
        {
            channel.Close();
            return opening;
        }
        var problem = Exchange(unit, request, answer, until, out exception, out length);
        var keep = problem is ModbusProblem.None or ModbusProblem.Refused || problem == ModbusProblem.NoAnswerInTime && silences + 1 < SilencesBeforeClosing;
        if (!keep)
            channel.Close();
        return problem;
    }

    private ModbusProblem Exchange(byte unit, ReadOnlySpan<byte> request, Span<byte> answer, double until, out byte exception, out int length)
    {
        (exception, length) = (0, 0);
        transaction++;
        ModbusTcpFrame.WriteHeader(frame, transaction, unit, request.Length);
        request.CopyTo(frame.AsSpan(ModbusTcpFrame.HeaderLength));
        var problem = channel.Send(frame.AsSpan(0, ModbusTcpFrame.HeaderLength + request.Length), until);
        if (problem != ModbusProblem.None)
            return problem;
        var header = frame.AsSpan(0, ModbusTcpFrame.HeaderLength);
        if ((problem = Fill(header, until, begun: false)) != ModbusProblem.None)
            return problem;
        problem = ModbusTcpFrame.CheckHeader(header, transaction, unit, ModbusPdu.GrantedLength(request), out var pduLength);
        if (problem != ModbusProblem.None)
            return problem;
        if ((problem = Fill(answer[..pduLength], until, begun: true)) != ModbusProblem.None)
            return problem;
        problem = ModbusPdu.Check(request, answer[..pduLength], out exception);
        length = problem is ModbusProblem.None or ModbusProblem.Refused ? pduLength : 0;
        return problem;
    }

    /// <summary>Receives exactly as many bytes; silence and an answer cut short are told apart, because only silence leaves the beat intact.</summary>
    private ModbusProblem Fill(Span<byte> into, double until, bool begun)
    {
        var have = 0;
        while (have < into.Length)
        {
            var problem = channel.Receive(into[have..], until, out var count);
            if (problem == ModbusProblem.NoAnswerInTime && (begun || have > 0))
                return ModbusProblem.CutShort;
            if (problem == ModbusProblem.ClosedByPeer && (begun || have > 0))
                return ModbusProblem.WrongLength;
            if (problem != ModbusProblem.None)
                return problem;
            have += count;
        }
        return ModbusProblem.None;
    }
}

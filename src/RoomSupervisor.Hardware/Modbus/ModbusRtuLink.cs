// Modbus on a serial line over any channel of bytes: one request at a time, silence before each, strictly checked, one total deadline.
// It must never take a late answer for the answer to the request under way, nor its own echo for a confirmation.
// Source: MODBUS over Serial Line Specification and Implementation Guide V1.02, sections 2.4 and 2.5 (from memory).
namespace RoomSupervisor.Hardware.Modbus;

/// <summary>
/// A master on a serial line, shared by all units on it. A frame has no number, so after silence a unit is first asked something whose answer cannot be
/// mistaken for the late one; a unit answers in order, so nothing late can follow. Allocates nothing per transaction.
/// </summary>
/// <param name="channel">The port.</param>
/// <param name="line">How it is set.</param>
public sealed class ModbusRtuLink(IByteChannel channel, SerialLine line) : IModbusLink
{
    // A pulled adapter looks like an open port on which nobody answers.
    private const int SilencesBeforeClosing = 3;
    private readonly byte[] sent = new byte[ModbusRtuFrame.Longest], heard = new byte[ModbusRtuFrame.Longest], probe = new byte[5];
    // By unit: a bit for each function to which an answer may still come late.
    private readonly uint[] late = new uint[256];
    private double quietSinceS = double.NegativeInfinity, quietBeforeS, quietAfterS;
    private int silences;
    private bool isProven;

    /// <inheritdoc/>
    public ModbusReply Transact(byte unit, ReadOnlySpan<byte> request, Span<byte> answer, double deadlineS)
    {
        var start = channel.NowS;
        var until = start + deadlineS;
        var isNew = !channel.IsOpen;
        var (exception, length) = ((byte)0, 0);
        var problem = isNew ? Open(until) : ModbusProblem.None;
        if (problem == ModbusProblem.None)
            problem = Clear(unit, request, answer, start, until);
        if (problem == ModbusProblem.None)
            problem = Ask(unit, request, answer, until, out exception, out length);
        silences = problem == ModbusProblem.NoAnswerInTime ? silences + 1 : 0;
        if (silences >= SilencesBeforeClosing || IsLost(problem))
            Close();
        return new ModbusReply(problem, exception, length, channel.NowS - start, isNew);
    }

    /// <inheritdoc/>
    public void KeepQuiet(double seconds) => quietBeforeS = seconds;

    /// <inheritdoc/>
    public void Close()
    {
        (silences, isProven) = (0, false);
        channel.Close();
    }

    public void Dispose() => channel.Dispose();

    private static bool IsLost(ModbusProblem problem) => problem is ModbusProblem.ClosedByPeer or ModbusProblem.PortLost or ModbusProblem.PortNotSet;

    private static uint BitOf(ReadOnlySpan<byte> request) => 1u << request[0];

    private static bool IsRead(ReadOnlySpan<byte> request) => request[0] <= (byte)ModbusFunction.ReadInputRegisters;

    private ModbusProblem Open(double until)
    {
        var problem = channel.Open(until);
        if (problem != ModbusProblem.None)
            channel.Close();
        quietSinceS = channel.NowS;
        return problem;
    }

    /// <summary>Makes sure that what is heard next can only be the answer: that nothing late is to come, and that the line does not echo.</summary>
    private ModbusProblem Clear(byte unit, ReadOnlySpan<byte> request, Span<byte> answer, double start, double until)
    {
        var isLatePossible = IsRead(request) && (late[unit] & BitOf(request)) != 0;
        if (!isLatePossible && (isProven || IsRead(request)))
            return ModbusProblem.None;
        MakeProbe(request);
        var problem = Ask(unit, probe, answer, until, out _, out _);
        if (problem is not (ModbusProblem.None or ModbusProblem.Refused))
            return problem;
        // Whoever needed most of the time for this gets the next attempt for itself.
        var left = until - channel.NowS;
        return left > 1.5 * (channel.NowS - start) ? ModbusProblem.None : ModbusProblem.NoAnswerInTime;
    }

    /// <summary>A read at the same place whose answer has another length; for a write, a read of what it writes.</summary>
    private void MakeProbe(ReadOnlySpan<byte> request)
    {
        var function = (ModbusFunction)request[0];
        if (!IsRead(request))
        {
            var isCoil = function is ModbusFunction.WriteSingleCoil or ModbusFunction.WriteMultipleCoils;
            ModbusPdu.Read(probe, isCoil ? ModbusFunction.ReadCoils : ModbusFunction.ReadHoldingRegisters, ModbusPdu.Word(request, 1), 1);
            return;
        }
        var (address, count) = (ModbusPdu.Word(request, 1), ModbusPdu.Word(request, 3));
        var step = function is ModbusFunction.ReadCoils or ModbusFunction.ReadDiscreteInputs ? 8 : 1;
        if (count > step)
            ModbusPdu.Read(probe, function, address, count - step);
        else
            ModbusPdu.Read(probe, function, Math.Min(address, 65536 - count - step), count + step);
    }

    private ModbusProblem Ask(byte unit, ReadOnlySpan<byte> request, Span<byte> answer, double until, out byte exception, out int length)
    {
        (exception, length) = (0, 0);
        var problem = WaitForQuiet(until);
        if (problem != ModbusProblem.None)
            return problem;
        var frame = sent.AsSpan(0, ModbusRtuFrame.Write(sent, unit, request));
        problem = channel.Send(frame, until);
        quietSinceS = channel.NowS + frame.Length * line.CharacterS;
        if (problem != ModbusProblem.None)
            return problem;
        problem = Hear(unit, request, frame, until, out exception, out var heardLength);
        var isAnswer = problem is ModbusProblem.None or ModbusProblem.Refused;
        if (isAnswer)
        {
            length = heardLength - ModbusRtuFrame.Envelope;
            heard.AsSpan(1, length).CopyTo(answer);
            isProven |= IsRead(request);
        }
        // A unit answers in order: what was asked before an answer will not be answered any more. A write confirmed may be the same one of before.
        if (!isAnswer)
            late[unit] |= BitOf(request);
        else if (IsRead(request) || (late[unit] & BitOf(request)) == 0)
            late[unit] = 0;
        return problem;
    }

    /// <summary>Throws away what comes until the line has been quiet for long enough.</summary>
    private ModbusProblem WaitForQuiet(double until)
    {
        var neededS = Math.Max(line.GapS, Math.Max(quietBeforeS, quietAfterS));
        quietAfterS = quietBeforeS;
        while (true)
        {
            var problem = channel.Receive(heard, Math.Max(channel.NowS, quietSinceS + neededS), out _);
            if (problem == ModbusProblem.NoAnswerInTime)
                return ModbusProblem.None;
            if (problem != ModbusProblem.None)
                return problem;
            quietSinceS = channel.NowS;
            if (quietSinceS + neededS > until)
                return ModbusProblem.LineBusy;
        }
    }

    /// <summary>
    /// Waits for the answer. A frame that cannot be it is thrown away up to the next silence, and the wait goes on: it may be the late answer of another unit.
    /// </summary>
    private ModbusProblem Hear(byte unit, ReadOnlySpan<byte> request, ReadOnlySpan<byte> own, double until, out byte exception, out int length)
    {
        (exception, length) = (0, 0);
        var wrong = ModbusProblem.None;
        while (true)
        {
            var problem = channel.Receive(heard.AsSpan(length), until, out var count);
            if (problem != ModbusProblem.None)
                return problem != ModbusProblem.NoAnswerInTime ? problem : wrong != ModbusProblem.None ? wrong : length > 0 ? ModbusProblem.CutShort : problem;
            length += count;
            quietSinceS = channel.NowS;
            if (!ModbusRtuFrame.Judge(heard.AsSpan(0, length), unit, request, out var verdict, out exception))
                continue;
            if (verdict is ModbusProblem.None or ModbusProblem.Refused)
                return verdict;
            if (DropToSilence(ref length, until) is var lost && lost != ModbusProblem.None)
                return lost;
            if (IsRead(request) && heard.AsSpan(0, length).StartsWith(own))
                return ModbusProblem.Echo;
            wrong = wrong == ModbusProblem.None ? verdict : wrong;
            length = 0;
        }
    }

    /// <summary>Hears a frame that cannot be the answer to its end; keeps its beginning for a look at what it was.</summary>
    private ModbusProblem DropToSilence(ref int length, double until)
    {
        Span<byte> spare = stackalloc byte[64];
        while (true)
        {
            var room = length < heard.Length ? heard.AsSpan(length) : spare;
            var problem = channel.Receive(room, Math.Min(until, quietSinceS + line.GapS), out var count);
            if (problem == ModbusProblem.NoAnswerInTime)
                return ModbusProblem.None;
            if (problem != ModbusProblem.None)
                return problem;
            length = Math.Min(heard.Length, length + count);
            quietSinceS = channel.NowS;
        }
    }
}

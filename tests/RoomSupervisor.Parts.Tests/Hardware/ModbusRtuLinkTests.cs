// The serial link against liars and latecomers, in memory and virtual time: none is believed, none holds us, and after each the next honest answer counts.
// What a frame must be: MODBUS over Serial Line Specification and Implementation Guide V1.02, sections 2.4 and 2.5 (from memory).
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Terms;
using Xunit;

namespace RoomSupervisor.Parts.Tests.Hardware;

public class ModbusRtuLinkTests
{
    private static readonly SerialLine Line = new("/dev/ttyS0", 19200, SerialParity.Even);
    private static readonly byte[] ReadOne = ModbusPduTests.Bytes("03 00 6B 00 01");

    /// <summary>Hears frames, answers as the test says; says with what silence before each it heard them.</summary>
    private sealed class Line1(Action<byte[], MemoryChannel> answer) : IMemoryPeer
    {
        public Action<byte[], MemoryChannel> Answer { get; set; } = answer;

        public List<(double AtS, byte[] Frame)> Heard { get; } = [];

        public bool IsGone { get; set; }

        public ModbusProblem Accept(out double tookS)
        {
            tookS = 0;
            return IsGone ? ModbusProblem.NoPort : ModbusProblem.None;
        }

        public void Received(ReadOnlySpan<byte> bytes, MemoryChannel channel)
        {
            Heard.Add((channel.NowS, bytes.ToArray()));
            Answer(bytes.ToArray(), channel);
        }
    }

    /// <summary>An honest answer to any read: each register holds its address, or what is given.</summary>
    private static byte[] Honest(byte[] request, int value = -1)
    {
        var (address, count) = (request[2] << 8 | request[3], request[4] << 8 | request[5]);
        var values = Enumerable.Range(address, count).SelectMany(i => (byte[])[(byte)((value < 0 ? i : value) >> 8), (byte)(value < 0 ? i : value)]);
        return request[1] > 4 ? Framed(request[..^2]) : Framed([request[0], request[1], (byte)(2 * count), .. values]);
    }

    private static byte[] Framed(byte[] bytes)
    {
        var frame = new byte[ModbusRtuFrame.Longest];
        return frame[..ModbusRtuFrame.Write(frame, bytes[0], bytes.AsSpan(1))];
    }

    private static (Line1 Peer, MemoryChannel Channel, ModbusRtuLink Link) Rig(Action<byte[], MemoryChannel>? answer = null)
    {
        var peer = new Line1(answer ?? Tell);
        var channel = new MemoryChannel(peer);
        return (peer, channel, new ModbusRtuLink(channel, Line));
    }

    private static void Tell(byte[] request, MemoryChannel channel) => channel.Deliver(Honest(request), 0.02);

    private static ModbusReply Ask(ModbusRtuLink link, byte unit, int address, int count, out int first, double deadlineS = 1)
    {
        var (request, answer) = (new byte[5], new byte[ModbusPdu.Longest]);
        ModbusPdu.Read(request, ModbusFunction.ReadHoldingRegisters, address, count);
        var reply = link.Transact(unit, request, answer, deadlineS);
        first = reply.Problem == ModbusProblem.None ? ModbusPdu.Register(answer, 0) : -1;
        return reply;
    }

    // CRC-16/MODBUS check value of the catalogue of parametrised CRC algorithms (reveng, from memory): "123456789" gives 4B37. The frame 02 07 with
    // 41 12 is the example of the serial line guide, section 6.2.2 (from memory).
    [Theory]
    [InlineData("31 32 33 34 35 36 37 38 39", 0x4B37)]
    [InlineData("02 07", 0x1241)]
    public void The_checksum_is_the_published_one(string bytes, int crc) => Assert.Equal(crc, ModbusRtuFrame.Crc(ModbusPduTests.Bytes(bytes)));

    [Theory]
    [InlineData(9600, SerialParity.None, 1, 3.5 * 10 / 9600)]
    [InlineData(9600, SerialParity.Even, 1, 3.5 * 11 / 9600)]
    [InlineData(19200, SerialParity.None, 2, 3.5 * 11 / 19200)]
    [InlineData(38400, SerialParity.None, 1, 0.00175)]
    public void The_silence_between_frames_follows_from_the_line(int baud, SerialParity parity, int stopBits, double gapS)
        => Assert.Equal(gapS, new SerialLine("/dev/x", baud, parity, stopBits).GapS, 9);

    public static TheoryData<string, ModbusProblem> Lies => new()
    {
        { "unit", ModbusProblem.WrongUnit },
        { "function", ModbusProblem.WrongFunction },
        { "byte count", ModbusProblem.WrongByteCount },
        { "checksum", ModbusProblem.WrongChecksum },
        { "value", ModbusProblem.WrongChecksum },
        { "cut", ModbusProblem.CutShort },
        { "one byte", ModbusProblem.CutShort },
        { "glued twice", ModbusProblem.WrongLength },
        { "noise first", ModbusProblem.WrongUnit },
        { "refusal nought", ModbusProblem.WrongException },
        { "echo", ModbusProblem.Echo },
        { "silence", ModbusProblem.NoAnswerInTime },
    };

    [Theory]
    [MemberData(nameof(Lies))]
    public void A_lie_is_not_believed_and_the_next_honest_answer_is(string lie, ModbusProblem expected)
    {
        var (peer, channel, link) = Rig((request, channel) =>
        {
            var frame = Honest(request);
            switch (lie)
            {
                case "unit": frame = Framed([(byte)(frame[0] + 1), .. frame[1..^2]]); break;
                case "function": frame = Framed([frame[0], 4, .. frame[2..^2]]); break;
                case "byte count": frame = Framed([frame[0], 3, 4, .. frame[3..^2], 0, 0]); break;
                case "checksum": frame[^1] ^= 1; break;
                case "value": frame[4] ^= 1; break;
                case "cut": frame = frame[..^1]; break;
                case "one byte": frame = frame[..1]; break;
                case "glued twice": frame = [.. frame, .. frame]; break;
                case "noise first": frame = [0xFF, .. frame]; break;
                case "refusal nought": frame = Framed([frame[0], 0x83, 0]); break;
                case "echo": frame = request; break;
                default: frame = []; break;
            }
            channel.Deliver(frame, 0.02);
        });
        var reply = Ask(link, 7, 0x6B, 1, out _);
        Assert.Equal((expected, 0), (reply.Problem, reply.Length));
        Assert.NotEqual(Fault.None, reply.Fault);

        peer.Answer = Tell;
        Assert.Equal(ModbusProblem.None, Ask(link, 7, 0x6B, 1, out var first).Problem);
        Assert.Equal(0x6B, first);
        Assert.Equal(1, channel.Connections);
    }

    [Theory]
    [InlineData(1, Fault.BusError)]
    [InlineData(2, Fault.BusError)]
    [InlineData(3, Fault.BusError)]
    [InlineData(4, Fault.BusError)]
    [InlineData(6, Fault.BusError)]
    public void A_refusal_is_an_answer(byte exception, Fault fault)
    {
        var (_, _, link) = Rig((request, channel) => channel.Deliver(Framed([request[0], (byte)(request[1] | 0x80), exception]), 0.02));
        var reply = Ask(link, 7, 0x6B, 1, out _);
        Assert.Equal((ModbusProblem.Refused, exception, fault, true), (reply.Problem, reply.Exception, reply.Fault, reply.Answered));
    }

    [Theory]
    [InlineData(0.02)]
    [InlineData(0.4)]
    public void A_peer_that_dribbles_is_held_to_one_total_deadline(double gapS)
    {
        var (_, channel, link) = Rig((request, channel) =>
        {
            var frame = Honest(request);
            for (var i = 0; i < frame.Length; i++)
                channel.Deliver(frame.AsSpan(i, 1), (i + 1) * gapS);
        });
        var reply = Ask(link, 7, 0x6B, 1, out _, 0.3);
        Assert.InRange(reply.TookS, 0, 0.3 + 1e-9);
        Assert.Equal(gapS < 0.025 ? ModbusProblem.None : ModbusProblem.NoAnswerInTime, reply.Problem);
    }

    [Fact]
    public void A_late_answer_is_never_taken_for_the_next_request_however_late()
    {
        foreach (var lateS in (double[])[1.005, 1.01, 1.02, 1.05, 1.3, 2.02, 2.5, 5.03])
        {
            foreach (var (second, count) in ((int, int)[])[(200, 1), (200, 2), (107, 1)])
            {
                var first = true;
                var (_, channel, link) = Rig((request, channel) =>
                {
                    // In order, as a unit does: what is asked later is answered later.
                    channel.Deliver(Honest(request), first ? lateS : Math.Max(0.02, lateS + 0.02 - channel.NowS));
                    first = false;
                });
                Assert.Equal(ModbusProblem.NoAnswerInTime, Ask(link, 7, 107, count, out _).Problem);
                for (var attempt = 0; attempt < 6; attempt++)
                {
                    var reply = Ask(link, 7, second, count, out var value);
                    if (reply.Problem == ModbusProblem.None)
                        Assert.Equal(second, value);
                    Assert.Equal(attempt == 5, reply.Problem == ModbusProblem.None && attempt == 5);
                    channel.Pass(0.1);
                }
            }
        }
    }

    [Fact]
    public void A_late_answer_of_another_unit_costs_the_one_that_is_asked_nothing()
    {
        var (_, channel, link) = Rig((request, channel) =>
        {
            if (request[0] == 5)
                channel.Deliver(Honest(request, 0xDEAD), 1.03);
            else
                channel.Deliver(Honest(request), 0.08);
        });
        Assert.Equal(ModbusProblem.NoAnswerInTime, Ask(link, 5, 1, 1, out _).Problem);
        var reply = Ask(link, 6, 1, 1, out var first);
        Assert.Equal((ModbusProblem.None, 1), (reply.Problem, first));
        Assert.InRange(channel.NowS, 1.08, 1.2);
    }

    [Fact]
    public void Before_each_request_the_line_is_quiet_for_three_and_a_half_characters_or_the_turnaround()
    {
        var (peer, channel, link) = Rig();
        foreach (var turnaroundS in (double[])[0, 0.05])
        {
            peer.Heard.Clear();
            for (var i = 0; i < 4; i++)
            {
                link.KeepQuiet(turnaroundS);
                Assert.Equal(ModbusProblem.None, Ask(link, 7, i, 1, out _).Problem);
            }
            // An answer arrives 20 ms after its request.
            Assert.All(peer.Heard.Zip(peer.Heard.Skip(1)), pair => Assert.InRange(pair.Second.AtS - pair.First.AtS - 0.02, Math.Max(turnaroundS, Line.GapS) - 1e-9, Math.Max(turnaroundS, Line.GapS) + 1e-3));
        }
    }

    [Fact]
    public void A_line_that_is_never_quiet_is_told_within_the_deadline()
    {
        var (_, channel, link) = Rig();
        Assert.Equal(ModbusProblem.None, Ask(link, 7, 1, 1, out _).Problem);
        for (var i = 0; i < 3000; i++)
            channel.Deliver([0x55], i * 0.001);
        var reply = Ask(link, 7, 1, 1, out _);
        Assert.Equal(ModbusProblem.LineBusy, reply.Problem);
        Assert.InRange(reply.TookS, 0, 1 + 1e-9);
    }

    [Fact]
    public void A_line_that_echoes_confirms_no_write()
    {
        var (_, _, link) = Rig((request, channel) => channel.Deliver(request, 0.005));
        var request = new byte[5];
        ModbusPdu.WriteCoil(request, 3, true);
        Assert.Equal(ModbusProblem.Echo, link.Transact(7, request, new byte[ModbusPdu.Longest], 1).Problem);
    }

    [Fact]
    public void A_pulled_adapter_is_opened_anew_after_silence_and_serves_again_when_it_is_back()
    {
        var (peer, channel, link) = Rig();
        Assert.Equal(ModbusProblem.None, Ask(link, 7, 1, 1, out _).Problem);
        // Pulled, it looks open; nobody answers, then its path is gone.
        peer.Answer = (_, _) => { };
        for (var i = 0; i < 3; i++)
            Assert.Equal(ModbusProblem.NoAnswerInTime, Ask(link, 7, 1, 1, out _).Problem);
        peer.IsGone = true;
        var reply = Ask(link, 7, 1, 1, out _);
        Assert.Equal((ModbusProblem.NoPort, Fault.NoAcknowledge), (reply.Problem, reply.Fault));
        (peer.IsGone, peer.Answer) = (false, Tell);
        Assert.Equal(ModbusProblem.None, Ask(link, 7, 1, 1, out _).Problem);
        Assert.Equal(2, channel.Connections);
    }

    [Fact]
    public void A_transaction_allocates_nothing()
    {
        var device = new MemoryModbusDevice(7) { Records = false };
        device[RegisterTable.HoldingRegister, 0x6B] = 1;
        var channel = new MemoryChannel(new MemoryRtuLine(Line, [device]));
        using var link = new ModbusRtuLink(channel, Line);
        var answer = new byte[ModbusPdu.Longest];
        Assert.Equal(ModbusProblem.None, link.Transact(7, ReadOne, answer, 1).Problem);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i < 100; i++)
            link.Transact(7, ReadOne, answer, 1);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }
}

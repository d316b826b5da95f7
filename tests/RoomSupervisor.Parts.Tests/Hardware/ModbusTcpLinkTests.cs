// The link against liars, in memory and virtual time: none is believed, none holds us, and after each the next honest answer is understood.
// What the header must be: MODBUS Messaging on TCP/IP Implementation Guide V1.0b, section 3.1.3 (from memory).
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Terms;
using Xunit;

namespace RoomSupervisor.Parts.Tests.Hardware;

public class ModbusTcpLinkTests
{
    private static readonly byte[] ReadOne = ModbusPduTests.Bytes("03 00 6B 00 01");

    /// <summary>A peer whose answer to each request is written by the test, from an honest frame.</summary>
    private sealed class Liar(Action<byte[], MemoryChannel> answer) : IMemoryPeer
    {
        public Action<byte[], MemoryChannel> Answer { get; set; } = answer;

        public ModbusProblem Accept(out double tookS)
        {
            tookS = 0;
            return ModbusProblem.None;
        }

        public void Received(ReadOnlySpan<byte> bytes, MemoryChannel channel) => Answer(Honest(bytes), channel);

        public static byte[] Honest(ReadOnlySpan<byte> request) => [request[0], request[1], 0, 0, 0, 5, request[6], 3, 2, 0x12, 0x34];
    }

    private static void Tell(byte[] frame, MemoryChannel channel) => channel.Deliver(frame, 0.01);

    public static TheoryData<string, ModbusProblem> Lies => new()
    {
        { "transaction", ModbusProblem.WrongTransaction },
        { "transaction one behind", ModbusProblem.WrongTransaction },
        { "protocol", ModbusProblem.WrongProtocol },
        { "unit", ModbusProblem.WrongUnit },
        { "length too short", ModbusProblem.WrongLength },
        { "length too long", ModbusProblem.WrongLength },
        { "length nought", ModbusProblem.WrongLength },
        { "length 65535", ModbusProblem.WrongLength },
        { "length of a refusal", ModbusProblem.WrongLength },
        { "function", ModbusProblem.WrongFunction },
        { "byte count", ModbusProblem.WrongByteCount },
        { "cut and silent", ModbusProblem.CutShort },
        { "cut and closed", ModbusProblem.WrongLength },
        { "header only", ModbusProblem.CutShort },
    };

    [Theory]
    [MemberData(nameof(Lies))]
    public void A_lie_is_not_believed_and_the_next_honest_answer_is(string lie, ModbusProblem expected)
    {
        var liar = new Liar((frame, channel) =>
        {
            switch (lie)
            {
                case "transaction": frame[0] ^= 0x40; break;
                case "transaction one behind": frame[1]--; break;
                case "protocol": frame[3] = 1; break;
                case "unit": frame[6]++; break;
                case "length too short": frame[5] = 4; break;
                case "length too long": frame[5] = 7; break;
                case "length nought": frame[5] = 0; break;
                case "length 65535": frame[4] = frame[5] = 0xFF; break;
                case "length of a refusal": frame[5] = 3; break;
                case "function": frame[7] = 4; break;
                case "byte count": frame[8] = 4; break;
                case "cut and silent": frame = frame[..9]; break;
                case "cut and closed": channel.Deliver(frame.AsSpan(0, 9), 0.01); channel.HangUp(0.01); return;
                default: frame = frame[..7]; break;
            }
            Tell(frame, channel);
        });
        var channel = new MemoryChannel(liar);
        using var link = new ModbusTcpLink(channel);
        var answer = new byte[ModbusPdu.Longest];

        var reply = link.Transact(1, ReadOne, answer, 1);
        Assert.Equal(expected, reply.Problem);
        Assert.Equal(0, reply.Length);
        Assert.NotEqual(Fault.None, reply.Fault);
        Assert.False(channel.IsOpen);

        liar.Answer = Tell;
        reply = link.Transact(1, ReadOne, answer, 1);
        Assert.Equal((ModbusProblem.None, 4, true), (reply.Problem, reply.Length, reply.NewConnection));
        Assert.Equal(0x1234, ModbusPdu.Register(answer, 0));
    }

    [Theory]
    [InlineData(0.02)]
    [InlineData(0.4)]
    public void A_peer_that_dribbles_byte_by_byte_is_held_to_one_total_deadline(double gapS)
    {
        var liar = new Liar((frame, channel) =>
        {
            for (var i = 0; i < frame.Length; i++)
                channel.Deliver(frame.AsSpan(i, 1), (i + 1) * gapS);
        });
        var channel = new MemoryChannel(liar);
        using var link = new ModbusTcpLink(channel);
        var reply = link.Transact(1, ReadOne, new byte[ModbusPdu.Longest], 0.3);
        Assert.InRange(reply.TookS, 0, 0.3 + 1e-9);
        Assert.Equal(gapS < 0.025 ? ModbusProblem.None : ModbusProblem.NoAnswerInTime, reply.Problem);
    }

    [Fact]
    public void A_late_answer_is_thrown_away_before_the_next_request()
    {
        var late = true;
        var liar = new Liar((frame, channel) =>
        {
            frame[10] = (byte)(late ? 0xAA : 0x34);
            channel.Deliver(frame, late ? 1.5 : 0.01);
        });
        var channel = new MemoryChannel(liar);
        using var link = new ModbusTcpLink(channel);
        var answer = new byte[ModbusPdu.Longest];
        Assert.Equal(ModbusProblem.NoAnswerInTime, link.Transact(1, ReadOne, answer, 1).Problem);
        Assert.True(channel.IsOpen);
        channel.Pass(1);
        late = false;
        var reply = link.Transact(1, ReadOne, answer, 1);
        Assert.Equal((ModbusProblem.None, false), (reply.Problem, reply.NewConnection));
        Assert.Equal(0x1234, ModbusPdu.Register(answer, 0));
        Assert.Equal(1, channel.Connections);
    }

    [Fact]
    public void A_device_silent_twice_in_a_row_loses_its_connection()
    {
        var channel = new MemoryChannel(new Liar((_, _) => { }));
        using var link = new ModbusTcpLink(channel);
        Assert.Equal(Fault.Timeout, link.Transact(1, ReadOne, new byte[ModbusPdu.Longest], 1).Fault);
        Assert.True(channel.IsOpen);
        Assert.Equal(Fault.Timeout, link.Transact(1, ReadOne, new byte[ModbusPdu.Longest], 1).Fault);
        Assert.False(channel.IsOpen);
        Assert.Equal(2, channel.NowS, 9);
    }

    [Fact]
    public void An_idle_connection_closed_by_the_device_costs_no_reading()
    {
        var channel = new MemoryChannel(new Liar(Tell));
        using var link = new ModbusTcpLink(channel);
        var answer = new byte[ModbusPdu.Longest];
        Assert.True(link.Transact(1, ReadOne, answer, 1).NewConnection);
        Assert.False(link.Transact(1, ReadOne, answer, 1).NewConnection);
        channel.HangUp(60);
        channel.Pass(61);
        var reply = link.Transact(1, ReadOne, answer, 1);
        Assert.Equal((ModbusProblem.None, true), (reply.Problem, reply.NewConnection));
        Assert.Equal(2, channel.Connections);
    }

    [Fact]
    public void A_connection_that_turns_out_closed_when_it_is_used_again_is_made_anew_once()
    {
        var requests = 0;
        var liar = new Liar((_, _) => { });
        liar.Answer = (frame, channel) =>
        {
            if (++requests is 2 or 4 or 5)
                channel.HangUp(0);
            else
                Tell(frame, channel);
        };
        var channel = new MemoryChannel(liar);
        using var link = new ModbusTcpLink(channel);
        var answer = new byte[ModbusPdu.Longest];
        Assert.Equal(ModbusProblem.None, link.Transact(1, ReadOne, answer, 1).Problem);
        var reply = link.Transact(1, ReadOne, answer, 1);
        Assert.Equal((ModbusProblem.None, true, 2), (reply.Problem, reply.NewConnection, channel.Connections));
        // Closed twice in a row is a failure of the device, not of an idle connection.
        Assert.Equal(Fault.BusError, link.Transact(1, ReadOne, answer, 1).Fault);
        Assert.Equal(5, requests);
    }

    [Fact]
    public void A_refusal_is_an_answer_and_keeps_the_connection()
    {
        var channel = new MemoryChannel(new Liar((frame, channel) => Tell([.. frame[..5], 3, frame[6], 0x83, 11], channel)));
        using var link = new ModbusTcpLink(channel);
        var reply = link.Transact(1, ReadOne, new byte[ModbusPdu.Longest], 1);
        Assert.Equal((ModbusProblem.Refused, (byte)11, Fault.NoAcknowledge, true), (reply.Problem, reply.Exception, reply.Fault, reply.Answered));
        Assert.True(channel.IsOpen);
    }

    [Fact]
    public void A_transaction_allocates_nothing()
    {
        var channel = new MemoryChannel(new Liar(Tell));
        using var link = new ModbusTcpLink(channel);
        var answer = new byte[ModbusPdu.Longest];
        link.Transact(1, ReadOne, answer, 1);
        var honest = Liar.Honest(new byte[12]);
        // The peer of this test allocates one array a request and nothing else: measure it apart and take it off.
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i < 100; i++)
            GC.KeepAlive(Liar.Honest(honest));
        var peer = GC.GetAllocatedBytesForCurrentThread() - before;
        before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i < 100; i++)
            link.Transact(1, ReadOne, answer, 1);
        Assert.Equal(peer, GC.GetAllocatedBytesForCurrentThread() - before);
    }
}

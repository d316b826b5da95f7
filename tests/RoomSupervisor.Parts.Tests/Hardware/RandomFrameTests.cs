// Random answers to random requests, on a serial line and over TCP: what the links accept is what a judge written apart from them, bit by bit from the
// specification, calls a correct answer; nothing else, and nothing less. A slice here; ROOM_SUPERVISOR_FRAMES says how many for tools/long.
// Sources: MODBUS Application Protocol Specification V1.1b3, section 6 and 7; Serial Line Guide V1.02, 2.5.1.2; TCP/IP Guide V1.0b, 3.1.3 (from memory).
using System.Globalization;
using RoomSupervisor.Hardware.Modbus;
using Xunit;

namespace RoomSupervisor.Parts.Tests.Hardware;

public class RandomFrameTests
{
    private static readonly int Frames = int.Parse(Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_FRAMES") ?? "40000", CultureInfo.InvariantCulture) / 2;

    [Fact]
    public void On_a_serial_line_nothing_is_accepted_wrongly()
    {
        var line = new SerialLine("/dev/ttyS0", 19200);
        var peer = new RandomPeer(20261126, isSerial: true);
        Play(peer, new ModbusRtuLink(new MemoryChannel(peer), line));
    }

    [Fact]
    public void Over_tcp_nothing_is_accepted_wrongly()
    {
        var peer = new RandomPeer(20261127, isSerial: false);
        Play(peer, new ModbusTcpLink(new MemoryChannel(peer)));
    }

    private static void Play(RandomPeer peer, IModbusLink link)
    {
        var answer = new byte[ModbusPdu.Longest];
        var (accepted, refused) = (0, 0);
        for (var i = 0; i < Frames; i++)
        {
            var request = peer.NextRequest(out var unit);
            var reply = link.Transact(unit, request, answer, 1);
            var correct = peer.Verdict;
            var said = reply.Problem switch { ModbusProblem.None => 1, ModbusProblem.Refused => 2, _ => 0 };
            Assert.True(said == correct, $"frame {i}: judge {correct}, link {reply.Problem}; request {Convert.ToHexString(request)} to {unit}, answer {Convert.ToHexString(peer.Delivered)}");
            if (said > 0)
                Assert.Equal(peer.Pdu(), answer[..reply.Length]);
            (accepted, refused) = (accepted + (said == 1 ? 1 : 0), refused + (said == 2 ? 1 : 0));
        }
        // Both the honest and the spoilt must come in numbers, or the test says nothing.
        Assert.InRange(accepted, Frames / 20, Frames / 2);
        Assert.InRange(refused, Frames / 200, Frames / 2);
    }

    /// <summary>Answers the request under test with something random, any other (the link's own questions) honestly.</summary>
    private sealed class RandomPeer(int seed, bool isSerial) : IMemoryPeer
    {
        private readonly Random random = new(seed);
        private byte[] request = [];
        private byte unit;

        /// <summary>0: no correct answer, 1: granted, 2: refused.</summary>
        public int Verdict { get; private set; }

        public byte[] Delivered { get; private set; } = [];

        public byte[] NextRequest(out byte to)
        {
            (unit, Verdict, Delivered) = ((byte)random.Next(1, 248), 0, []);
            to = unit;
            var function = ((int[])[1, 2, 3, 4, 5, 6, 15, 16])[random.Next(8)];
            var address = random.Next(random.Next(2) == 0 ? 300 : 60000);
            var count = function switch { 1 or 2 => random.Next(1, 200), 3 or 4 => random.Next(1, 30), 5 => random.Next(2) * 0xFF00, 6 => random.Next(65536), _ => random.Next(1, 4) };
            byte[] head = [(byte)function, (byte)(address >> 8), (byte)address, (byte)(count >> 8), (byte)count];
            request = function switch { 15 => [.. head, 1, (byte)random.Next(256)], 16 => [.. head, (byte)(2 * count), .. new byte[2 * count]], _ => head };
            return request;
        }

        /// <summary>The protocol data unit of what was delivered.</summary>
        public byte[] Pdu() => isSerial ? Delivered[1..^2] : Delivered[7..(6 + (Delivered[4] << 8 | Delivered[5]))];

        public ModbusProblem Accept(out double tookS)
        {
            tookS = 0;
            return ModbusProblem.None;
        }

        public void Received(ReadOnlySpan<byte> bytes, MemoryChannel channel)
        {
            var asked = isSerial ? bytes[1..^2].ToArray() : bytes[7..].ToArray();
            var honest = HonestPdu(asked);
            if (!asked.AsSpan().SequenceEqual(request))
            {
                channel.Deliver(Enveloped(bytes, honest), 0.01);
                return;
            }
            var pdu = random.Next(4) == 0 ? [(byte)(request[0] | 0x80), (byte)random.Next(random.Next(2) == 0 ? 12 : 256)] : honest;
            if (random.Next(3) == 0)
                pdu = Spoilt(pdu);
            var frame = Enveloped(bytes, pdu);
            if (random.Next(3) == 0)
                frame = Spoilt(frame);
            if (random.Next(50) == 0)
                random.NextBytes(frame = new byte[random.Next(1, 40)]);
            (Delivered, Verdict) = (frame, isSerial ? JudgeSerial(frame) : JudgeTcp(frame, bytes));
            channel.Deliver(frame, 0.01);
        }

        private byte[] HonestPdu(byte[] asked)
        {
            if (asked[0] > 4)
                return asked[..5];
            var count = asked[3] << 8 | asked[4];
            var values = new byte[asked[0] <= 2 ? (count + 7) / 8 : 2 * count];
            random.NextBytes(values);
            return [asked[0], (byte)values.Length, .. values];
        }

        private byte[] Enveloped(ReadOnlySpan<byte> asked, byte[] pdu)
        {
            if (!isSerial)
                return [asked[0], asked[1], 0, 0, (byte)((pdu.Length + 1) >> 8), (byte)(pdu.Length + 1), asked[6], .. pdu];
            byte[] bare = [asked[0], .. pdu];
            var crc = Crc(bare);
            return [.. bare, (byte)crc, (byte)(crc >> 8)];
        }

        private byte[] Spoilt(byte[] bytes)
        {
            byte[] copy = [.. bytes];
            var at = random.Next(Math.Min(copy.Length, random.Next(2) == 0 ? 9 : copy.Length));
            switch (random.Next(7))
            {
                case 0: copy[at] ^= (byte)(1 << random.Next(8)); break;
                case 1: copy[at] = (byte)random.Next(256); break;
                case 2: return copy[..at];
                case 3: return [.. copy, .. copy];
                case 4: return [.. copy, (byte)random.Next(256)];
                case 5: return [(byte)random.Next(256), .. copy];
                default: copy[at]++; break;
            }
            return copy;
        }

        private int JudgeSerial(byte[] frame)
        {
            if (frame.Length < 4 || frame[0] != unit || Crc(frame[..^2]) != frame[^2] + 256 * frame[^1])
                return 0;
            return JudgePdu(frame[1..^2]);
        }

        private int JudgeTcp(byte[] frame, ReadOnlySpan<byte> asked)
        {
            if (frame.Length < 9 || frame[0] != asked[0] || frame[1] != asked[1] || frame[2] != 0 || frame[3] != 0 || frame[6] != unit)
                return 0;
            // What is behind the frame is none of it.
            var end = 6 + frame[4] * 256 + frame[5];
            return end > frame.Length || end < 9 ? 0 : JudgePdu(frame[7..end]);
        }

        private int JudgePdu(byte[] pdu)
        {
            if (pdu.Length == 2 && pdu[0] == request[0] + 128)
                return pdu[1] > 0 ? 2 : 0;
            if (pdu[0] != request[0])
                return 0;
            if (request[0] > 4)
                return pdu.Length == 5 && pdu.Zip(request).All(pair => pair.First == pair.Second) ? 1 : 0;
            var count = request[3] * 256 + request[4];
            var bytes = request[0] <= 2 ? (int)Math.Ceiling(count / 8.0) : count * 2;
            return pdu.Length == bytes + 2 && pdu[1] == bytes ? 1 : 0;
        }

        /// <summary>Bit by bit, as the guide describes it, not by a table.</summary>
        private static int Crc(byte[] bytes)
        {
            var register = 0xFFFF;
            foreach (var one in bytes)
            {
                register ^= one;
                for (var shift = 0; shift < 8; shift++)
                {
                    var carry = register % 2;
                    register /= 2;
                    register ^= carry * 0xA001;
                }
            }
            return register;
        }
    }
}

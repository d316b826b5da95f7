// The link over real sockets against peers that behave badly in time: nothing holds it beyond its deadline.
using System.Net;
using System.Net.Sockets;
using RoomSupervisor.Hardware.Modbus;
using Xunit;

namespace RoomSupervisor.Parts.Tests.Hardware;

public class SocketChannelTests
{
    private const double DeadlineS = 0.2, SlackS = 0.5;
    private static readonly byte[] ReadOne = ModbusPduTests.Bytes("03 00 6B 00 01");

    /// <summary>A peer on a thread of its own (the pool may be busy with other tests) that serves each connection with one handler until disposed.</summary>
    private sealed class BadPeer : IDisposable
    {
        private readonly TcpListener listener = new(IPAddress.Loopback, 0);

        public BadPeer(Action<NetworkStream, int> handler)
        {
            listener.Start();
            new Thread(() => Serve(handler)) { IsBackground = true }.Start();
        }

        public int Port => ((IPEndPoint)listener.LocalEndpoint).Port;

        public void Dispose() => listener.Dispose();

        private void Serve(Action<NetworkStream, int> handler)
        {
            try
            {
                for (var number = 0; ; number++)
                {
                    using var client = listener.AcceptTcpClient();
                    client.NoDelay = true;
                    try
                    {
                        handler(client.GetStream(), number);
                    }
                    catch (IOException)
                    {
                        // The client hung up on us, as it should.
                    }
                }
            }
            catch (Exception stopped) when (stopped is SocketException or ObjectDisposedException or InvalidOperationException)
            {
            }
        }
    }

    private static byte[] Honest(NetworkStream stream)
    {
        var request = new byte[12];
        stream.ReadExactly(request);
        return [request[0], request[1], 0, 0, 0, 5, request[6], 3, 2, 0x12, 0x34];
    }

    private static ModbusReply Ask(ModbusTcpLink link, double deadlineS = DeadlineS) => link.Transact(1, ReadOne, new byte[ModbusPdu.Longest], deadlineS);

    [Fact]
    public void Nobody_listening_is_said_at_once()
    {
        var free = new TcpListener(IPAddress.Loopback, 0);
        free.Start();
        var port = ((IPEndPoint)free.LocalEndpoint).Port;
        free.Dispose();
        using var link = new ModbusTcpLink(new SocketChannel("127.0.0.1", port));
        var reply = Ask(link, 5);
        Assert.Equal(ModbusProblem.ConnectionRefused, reply.Problem);
        Assert.InRange(reply.TookS, 0, 1);
    }

    [Fact]
    public void An_address_that_leads_nowhere_costs_one_deadline_at_most()
    {
        // 192.0.2.0/24 is reserved for documentation (RFC 5737): nobody answers there.
        using var link = new ModbusTcpLink(new SocketChannel("192.0.2.1", 502));
        var reply = Ask(link);
        Assert.False(reply.Answered);
        Assert.InRange(reply.TookS, 0, DeadlineS + SlackS);
    }

    [Fact]
    public void A_name_nobody_knows_costs_one_deadline_at_most()
    {
        // .invalid never resolves (RFC 2606).
        using var link = new ModbusTcpLink(new SocketChannel("io-1.invalid", 502));
        var reply = Ask(link);
        Assert.Contains(reply.Problem, (ModbusProblem[])[ModbusProblem.NameUnknown, ModbusProblem.NoAnswerInTime]);
        Assert.InRange(reply.TookS, 0, DeadlineS + SlackS);
    }

    [Fact]
    public void A_peer_that_accepts_and_never_answers_costs_one_deadline()
    {
        using var peer = new BadPeer((stream, _) => stream.ReadExactly(new byte[1000]));
        using var link = new ModbusTcpLink(new SocketChannel("127.0.0.1", peer.Port));
        var reply = Ask(link);
        Assert.Equal(ModbusProblem.NoAnswerInTime, reply.Problem);
        Assert.InRange(reply.TookS, DeadlineS, DeadlineS + SlackS);
    }

    [Fact]
    public void A_peer_that_dribbles_costs_one_deadline_in_all()
    {
        using var peer = new BadPeer((stream, _) =>
        {
            foreach (var one in Honest(stream))
            {
                Thread.Sleep(200);
                stream.WriteByte(one);
            }
        });
        using var link = new ModbusTcpLink(new SocketChannel("127.0.0.1", peer.Port));
        var reply = Ask(link, 0.6);
        Assert.Equal(ModbusProblem.CutShort, reply.Problem);
        Assert.InRange(reply.TookS, 0.6, 0.6 + SlackS); // eleven bytes would take 2.2 s
    }

    [Fact]
    public void A_peer_that_never_stops_talking_is_dropped_and_asked_again()
    {
        using var peer = new BadPeer((stream, number) =>
        {
            stream.Write(Honest(stream));
            while (number == 0)
                stream.Write(new byte[4096]);
        });
        using var link = new ModbusTcpLink(new SocketChannel("localhost", peer.Port));
        Assert.Equal(ModbusProblem.None, Ask(link, 2).Problem);
        Thread.Sleep(50); // lets the flood arrive
        var reply = Ask(link, 2);
        Assert.Equal((ModbusProblem.None, true), (reply.Problem, reply.NewConnection));
    }

    [Fact]
    public void A_connection_the_peer_closed_meanwhile_costs_no_reading()
    {
        using var peer = new BadPeer((stream, _) => stream.Write(Honest(stream)));
        using var link = new ModbusTcpLink(new SocketChannel("127.0.0.1", peer.Port));
        for (var i = 0; i < 5; i++)
            Assert.Equal((ModbusProblem.None, true), (Ask(link, 2).Problem, Ask(link, 2).NewConnection));
    }

    [Fact]
    public void A_transaction_over_a_socket_allocates_nothing()
    {
        using var peer = new BadPeer((stream, _) =>
        {
            while (true)
                stream.Write(Honest(stream));
        });
        using var link = new ModbusTcpLink(new SocketChannel("127.0.0.1", peer.Port));
        var answer = new byte[ModbusPdu.Longest];
        Assert.Equal(ModbusProblem.None, link.Transact(1, ReadOne, answer, 2).Problem);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i < 50; i++)
            Assert.True(link.Transact(1, ReadOne, answer, 2).Answered);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }
}

// Our serial channel and link on pseudo-terminals, against devices that are not ours: pymodbus 3.0.0 and libmodbus 3.1.6 as Debian 12 packages them.
// Real time; deadlines are generous where an answer comes, and only their upper side is checked.
using System.Diagnostics;
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Terms;
using Xunit;

namespace RoomSupervisor.Parts.Tests.Hardware;

/// <summary>A test against npm's modbus-serial; ROOM_SUPERVISOR_NODE_PEER names the folder with modbus_room.js and its package.</summary>
[AttributeUsage(AttributeTargets.Method)]
internal sealed class NodePeerFactAttribute : FactAttribute
{
    public NodePeerFactAttribute() => Skip = Folder is null ? "tools/long installs npm's modbus-serial and names its folder" : null;

    public static string? Folder { get; } = Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_NODE_PEER");
}

public class SerialPeerTests
{
    private static ModbusRtuLink Link(string port, int baud = 19200)
    {
        var line = new SerialLine(port, baud);
        return new ModbusRtuLink(new SerialChannel(line), line);
    }

    [PeerFact]
    public void Pymodbus_on_a_serial_line_is_read_written_and_refuses()
    {
        using var pair = new SerialPair();
        using var peer = new Peer("modbus_room.py", ["--serial", pair.Theirs, "--unit", "7"]);
        using var link = Link(pair.Ours);
        AllFunctions(peer, link, 7);
        Assert.Equal(["hr 1 43981", "hr 2 10", "hr 3 258", "co 3 1", "co 19 1", "co 20 0", "co 21 1"], peer.Wrote(7));
    }

    [PeerFact]
    public void Libmodbus_on_a_serial_line_is_read_written_and_refuses()
    {
        using var pair = new SerialPair();
        using var peer = new Peer("libmodbus_room.py", ["--serial", pair.Theirs, "--unit", "7"]);
        using var link = Link(pair.Ours);
        AllFunctions(peer, link, 7);
        Assert.Equal((43981, 10, 258, 1, 1), (peer.Get("hr", 1), peer.Get("hr", 2), peer.Get("hr", 3), peer.Get("co", 3), peer.Get("co", 21)));
    }

    [PeerFact]
    public void Libmodbus_over_tcp_drives_a_room()
    {
        using var peer = new Peer("libmodbus_room.py", ["--unit", "1"]);
        peer.Set("ir", 0, 265);
        peer.Set("di", 3, 1);
        peer.Set("hr", 0, 9999);
        using var rig = new Rig(device => new ModbusTcpLink(new SocketChannel("127.0.0.1", peer.Port)));
        rig.Worker.Poll(0);
        Assert.Equal((0, 26.5, 1.0), (peer.Get("hr", 0), Math.Round(rig.Sample(Rig.Temperature).Value, 9), rig.Sample(Rig.Door).Value));
        rig.Put(Rig.Fan, 100, 0, 1);
        rig.Worker.Poll(1);
        Assert.Equal(10000, peer.Get("hr", 0));
    }

    /// <summary>Needs node and a folder with the package installed (tools/long makes it), so it is not part of the suite.</summary>
    [NodePeerFact]
    public void Modbus_serial_of_npm_over_tcp_is_read_written_and_refuses()
    {
        using var free = new System.Net.Sockets.TcpListener(System.Net.IPAddress.Loopback, 0);
        free.Start();
        var port = ((System.Net.IPEndPoint)free.LocalEndpoint).Port;
        free.Stop();
        using var peer = new Peer(["node", Path.Combine(NodePeerFactAttribute.Folder!, "modbus_room.js"), port.ToString(System.Globalization.CultureInfo.InvariantCulture)]);
        using var link = new ModbusTcpLink(new SocketChannel("127.0.0.1", peer.Port));
        AllFunctions(peer, link, 7);
        Assert.Equal((43981, 10, 258, 1, 1), (peer.Get("hr", 1), peer.Get("hr", 2), peer.Get("hr", 3), peer.Get("co", 3), peer.Get("co", 21)));
    }

    [PeerFact]
    public void A_unit_that_is_not_there_costs_its_time_out_and_the_next_answers()
    {
        using var pair = new SerialPair();
        using var peer = new Peer("modbus_room.py", ["--serial", pair.Theirs, "--unit", "7"]);
        using var link = Link(pair.Ours);
        var (request, answer) = (new byte[5], new byte[ModbusPdu.Longest]);
        ModbusPdu.Read(request, ModbusFunction.ReadHoldingRegisters, 5, 2);
        var from = Stopwatch.GetTimestamp();
        Assert.Equal(ModbusProblem.NoAnswerInTime, link.Transact(9, request, answer, 0.2).Problem);
        Assert.InRange(Stopwatch.GetElapsedTime(from).TotalSeconds, 0.2, 2);
        Assert.Equal(ModbusProblem.None, link.Transact(7, request, answer, 5).Problem);
    }

    [PeerFact]
    public void The_adapter_is_pulled_and_plugged_in_again()
    {
        using var pair = new SerialPair();
        var request = new byte[5];
        ModbusPdu.Read(request, ModbusFunction.ReadHoldingRegisters, 5, 2);
        using var link = Link(pair.Ours);
        ModbusReply Ask(double deadlineS) => link.Transact(7, request, new byte[ModbusPdu.Longest], deadlineS);
        using (new Peer("modbus_room.py", ["--serial", pair.Theirs, "--unit", "7"]))
        {
            Assert.Equal(ModbusProblem.None, Ask(5).Problem);
            pair.Pull();
            Assert.Equal(ModbusProblem.PortLost, Ask(0.2).Problem);
            Assert.Equal((ModbusProblem.NoPort, Fault.NoAcknowledge), (Ask(0.2).Problem, Ask(0.2).Fault));
        }
        pair.Plug();
        using var again = new Peer("modbus_room.py", ["--serial", pair.Theirs, "--unit", "7"]);
        Assert.Equal(ModbusProblem.None, Ask(5).Problem);
    }

    [PeerFact]
    public void A_port_that_is_none_or_taken_says_so()
    {
        Assert.Equal(ModbusProblem.NoPort, new SerialChannel(new SerialLine("/dev/serial/by-id/nothing-here", 9600)).Open(double.MaxValue));
        Assert.Equal(ModbusProblem.PortNotSet, new SerialChannel(new SerialLine("/dev/null", 9600)).Open(double.MaxValue));
        using var pair = new SerialPair();
        using var first = new SerialChannel(new SerialLine(pair.Ours, 115200, SerialParity.Even, 2));
        using var second = new SerialChannel(new SerialLine(pair.Ours, 115200));
        Assert.Equal(ModbusProblem.None, first.Open(double.MaxValue));
        Assert.Equal(ModbusProblem.PortTaken, second.Open(double.MaxValue));
        first.Close();
        Assert.Equal(ModbusProblem.None, second.Open(double.MaxValue));
    }

    [PeerFact]
    public void The_port_is_set_as_the_line_says()
    {
        using var pair = new SerialPair();
        foreach (var speed in SerialLine.Speeds)
        {
            using var port = new SerialChannel(new SerialLine(pair.Ours, speed, SerialParity.None, 2));
            Assert.Equal(ModbusProblem.None, port.Open(double.MaxValue));
            using var said = Process.Start(new ProcessStartInfo("stty", ["-F", pair.Ours, "-a"]) { RedirectStandardOutput = true })!;
            var text = said.StandardOutput.ReadToEnd();
            Assert.Contains($"speed {speed} baud", text, StringComparison.Ordinal);
            // A pseudo-terminal keeps no parity bit (it clears it in the kernel); the rest it keeps.
            foreach (var word in (string[])["cs8", " cstopb", "cread", "clocal", "-crtscts", "-icanon", "-echo ", "-ixon", "-opost", "-icrnl"])
                Assert.Contains(word, text, StringComparison.Ordinal);
        }
    }

    [PeerFact]
    public void A_peer_that_dribbles_on_a_real_port_is_held_to_the_deadline()
    {
        using var pair = new SerialPair();
        using var link = Link(pair.Ours);
        using var theirs = new SerialChannel(new SerialLine(pair.Theirs, 19200));
        Assert.Equal(ModbusProblem.None, theirs.Open(double.MaxValue));
        using var stop = new ManualResetEventSlim();
        var dribble = new Thread(() =>
        {
            while (!stop.Wait(TimeSpan.FromMilliseconds(40)))
                theirs.Send([7], theirs.NowS + 1);
        });
        dribble.Start();
        var request = new byte[5];
        ModbusPdu.Read(request, ModbusFunction.ReadHoldingRegisters, 5, 2);
        var from = Stopwatch.GetTimestamp();
        Assert.NotEqual(ModbusProblem.None, link.Transact(7, request, new byte[ModbusPdu.Longest], 0.3).Problem);
        Assert.InRange(Stopwatch.GetElapsedTime(from).TotalSeconds, 0.05, 2);
        stop.Set();
        dribble.Join();
    }

    private static void AllFunctions(Peer peer, IModbusLink link, byte unit)
    {
        var (request, answer) = (new byte[ModbusPdu.Longest], new byte[ModbusPdu.Longest]);
        ModbusReply Ask(int length) => link.Transact(unit, request.AsSpan(0, length), answer, 5);
        peer.Set("ir", 65, 777);
        peer.Set("di", 18, 1);
        Assert.Equal(ModbusProblem.None, Ask(ModbusPdu.WriteRegister(request, 1, 0xABCD)).Problem);
        Assert.Equal(ModbusProblem.None, Ask(ModbusPdu.WriteRegisters(request, 2, [10, 0x0102])).Problem);
        Assert.Equal(ModbusProblem.None, Ask(ModbusPdu.WriteCoil(request, 3, true)).Problem);
        Assert.Equal(ModbusProblem.None, Ask(ModbusPdu.WriteCoils(request, 19, [true, false, true])).Problem);
        Assert.Equal(ModbusProblem.None, Ask(ModbusPdu.Read(request, ModbusFunction.ReadHoldingRegisters, 1, 125)).Problem);
        Assert.Equal([0xABCD, 10, 0x0102, 0], Enumerable.Range(0, 4).Select(i => (int)ModbusPdu.Register(answer, i)));
        Assert.Equal(ModbusProblem.None, Ask(ModbusPdu.Read(request, ModbusFunction.ReadInputRegisters, 64, 2)).Problem);
        Assert.Equal(777, ModbusPdu.Register(answer, 1));
        Assert.Equal(ModbusProblem.None, Ask(ModbusPdu.Read(request, ModbusFunction.ReadCoils, 19, 3)).Problem);
        Assert.Equal(0b101, Enumerable.Range(0, 3).Sum(i => ModbusPdu.Bit(answer, i) ? 1 << i : 0));
        Assert.Equal(ModbusProblem.None, Ask(ModbusPdu.Read(request, ModbusFunction.ReadDiscreteInputs, 0, 19)).Problem);
        Assert.Equal(1 << 18, Enumerable.Range(0, 19).Sum(i => ModbusPdu.Bit(answer, i) ? 1 << i : 0));
        var past = Ask(ModbusPdu.Read(request, ModbusFunction.ReadCoils, 999, 2));
        Assert.Equal((ModbusProblem.Refused, (byte)2, false), (past.Problem, past.Exception, past.NewConnection));
    }
}

// A run without buses for tests of the control socket: the loop of an example scans as fast as its test wants, the socket is the real one in a folder of its own.
using System.Net.Sockets;
using System.Text;
using System.Text.Json;
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.House.Tests.Examples;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.House.Tests.Control;

internal sealed class ControlRig : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("control-");
    private readonly List<string> said = [];
    private readonly CancellationTokenSource stop = new();
    private readonly InputImage inputs;
    private Thread? scanning;
    private ControlService? service;

    public ControlRig(string example = "one-room", bool isByHand = false)
    {
        Files = Example.Files(example);
        if (isByHand)
            Files = Files with { House = OnlyByHand.SwitchedOff(Files.House) };
        var house = Files.House;
        Clock = new RunClock(TimeProvider.System, Files.Site.TimeZone);
        inputs = new InputImage(house.InputTable.Count);
        Leases = new OutputLeases(OutputChannels.CountOf(Files.Wiring));
        Loop = new LoopParts(house, Clock, inputs, new OutputStage(Files.Wiring, Leases), new HealthWatch([]), new LogRing(4096), false)
        {
            ByHand = isByHand ? new OnlyByHand(house, Files.Wiring) : null,
        };
        Scans = new ScanLoop(Loop);
        Parts = new ControlParts(Files, Files.Wiring, Loop.Board, Leases, Clock) { Hands = Loop.Hands, IsByHand = isByHand };
    }

    public SiteFiles Files { get; }

    public RunClock Clock { get; }

    public OutputLeases Leases { get; }

    public LoopParts Loop { get; }

    public ScanLoop Scans { get; }

    public ControlParts Parts { get; }

    public string SocketPath => Path.Combine(folder.FullName, "control.sock");

    public IReadOnlyList<string> Said
    {
        get
        {
            lock (said)
                return [.. said];
        }
    }

    /// <summary>Every sensor reads something ordinary, now.</summary>
    public void ReadAll()
    {
        foreach (var (index, point) in Files.House.InputTable.All.Index())
        {
            var value = point.Quantity switch { Quantity.Temperature => 20, Quantity.Percent => 45, _ => 0 };
            inputs.Put(index, new Sample(value, Clock.ElapsedS, Fault.None));
        }
    }

    /// <summary>Scans in the background until disposed.</summary>
    public void KeepScanning()
    {
        scanning = new Thread(() =>
        {
            while (!stop.Token.WaitHandle.WaitOne(10))
            {
                ReadAll();
                Scans.Scan();
            }
        });
        scanning.Start();
    }

    public void Listen()
    {
        var say = new ControlSay((_, line) =>
        {
            lock (said)
                said.Add(line);
        }, TimeProvider.System);
        Assert.True(ControlService.TryMake(Parts, folder.FullName, SocketPath, say, TimeProvider.System, [], out service, out _, out var why), why);
        service!.Start();
    }

    /// <summary>A plain connection: the greeting is read.</summary>
    public RawClient Connect()
    {
        var client = new RawClient(SocketPath);
        Assert.Equal("control", client.Read()!.RootElement.GetProperty("room_supervisor").GetString());
        return client;
    }

    public void Dispose()
    {
        stop.Cancel();
        scanning?.Join();
        service?.Dispose();
        folder.Delete(true);
        stop.Dispose();
    }
}

/// <summary>A client that may do anything: it sends bytes and reads lines.</summary>
internal sealed class RawClient : IDisposable
{
    private readonly Socket socket = new(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);
    private readonly StreamReader reader;

    public RawClient(string path)
    {
        socket.Connect(new UnixDomainSocketEndPoint(path));
        socket.ReceiveTimeout = 20_000;
        socket.SendTimeout = 20_000;
        reader = new StreamReader(new NetworkStream(socket), Encoding.UTF8);
    }

    /// <summary>Sends a line; false when the other side has gone.</summary>
    public bool Send(string line) => SendBytes(Encoding.UTF8.GetBytes(line + "\n"));

    public bool SendBytes(byte[] bytes)
    {
        try
        {
            return socket.Send(bytes) == bytes.Length;
        }
        catch (Exception e) when (e is SocketException or ObjectDisposedException)   // closed by the other end or by ours, in another thread
        {
            return false;
        }
    }

    /// <summary>The next line; null when the connection is closed.</summary>
    public JsonDocument? Read()
    {
        try
        {
            return reader.ReadLine() is { } line ? JsonDocument.Parse(line) : null;
        }
        catch (Exception e) when (e is IOException or ObjectDisposedException)
        {
            return null;
        }
    }

    /// <summary>Sends a line and gives the answer.</summary>
    public JsonElement Ask(string line)
    {
        Assert.True(Send(line));
        return Read()!.RootElement;
    }

    public string Error(string line)
    {
        var answer = Ask(line);
        Assert.False(answer.GetProperty("ok").GetBoolean());
        return answer.GetProperty("error").GetString()!;
    }

    public void Dispose()
    {
        reader.Dispose();
        socket.Dispose();
    }
}

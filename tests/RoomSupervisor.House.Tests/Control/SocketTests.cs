// The control socket as strangers and bad programs use it: rubbish, floods, clients that read nothing, too many of them, other versions; the file it lies on. Whatever they do, another
// client is answered and the loop scans on.
using System.Diagnostics;
using System.Net.Sockets;
using System.Text;
using RoomSupervisor.Runtime.Control;

namespace RoomSupervisor.House.Tests.Control;

[System.Runtime.Versioning.SupportedOSPlatform("linux")]
public sealed class SocketTests : IDisposable
{
    private const string Points = """{"version":1,"id":1,"do":"points"}""";

    private readonly ControlRig rig = new();

    public void Dispose() => rig.Dispose();

    private void Start()
    {
        rig.KeepScanning();
        rig.Listen();
        Until(() => rig.Loop.Board.Published > 0);
    }

    [Fact]
    public void What_is_wrong_with_a_line_is_said_and_the_next_one_is_answered()
    {
        Start();
        using var client = rig.Connect();
        Assert.Equal("this is no JSON object on one line", client.Error("rubbish"));
        Assert.Equal("this is no JSON object on one line", client.Error("[1]"));
        Assert.Equal("this is no JSON object on one line", client.Error(new string('{', 50)));
        Assert.Contains("\"version\" must be 1", client.Error("""{"do":"points"}"""), StringComparison.Ordinal);
        Assert.Contains("\"version\" must be 1", client.Error("""{"version":2,"do":"points"}"""), StringComparison.Ordinal);
        Assert.Contains("\"do\" is missing; known: points, devices", client.Error("""{"version":1}"""), StringComparison.Ordinal);
        Assert.Contains("there is no request \"reboot\"; known: points", client.Error("""{"version":1,"do":"reboot"}"""), StringComparison.Ordinal);
        Assert.Contains("\"room\" is no key of points; known: only, all", client.Error("""{"version":1,"do":"points","room":"x"}"""), StringComparison.Ordinal);
        Assert.Contains("\"only\" must be a text", client.Error("""{"version":1,"do":"points","only":3}"""), StringComparison.Ordinal);
        Assert.Contains("did you mean weaving-room", client.Error("""{"version":1,"do":"points","only":"weaving-rom"}"""), StringComparison.Ordinal);
        Assert.False(client.Ask("{\"version\":1,\"do\":\"points\",\"only\":\"\\ud800\"}").GetProperty("ok").GetBoolean());
        var answer = client.Ask("""{"version":1,"id":"mine","do":"points","only":"weaving-room.coil"}""");
        Assert.True(answer.GetProperty("ok").GetBoolean());
        Assert.Equal("mine", answer.GetProperty("id").GetString());
        Assert.All(answer.GetProperty("points").EnumerateArray(), point => Assert.StartsWith("weaving-room.coil", point.GetProperty("point").GetString(), StringComparison.Ordinal));
    }

    [Fact]
    public void Who_sends_nothing_but_rubbish_or_a_line_without_an_end_is_let_go()
    {
        Start();
        using (var rubbish = rig.Connect())
        {
            for (var i = 0; i < 200; i++)
                rubbish.SendBytes([0xFF, 0x00, (byte)'\n']);
            Until(() => rig.Said.Any(line => line.Contains("100 lines that could not be understood: connection closed", StringComparison.Ordinal)));
        }
        using var endless = rig.Connect();
        for (var i = 0; i < 20; i++)
            endless.SendBytes(Encoding.ASCII.GetBytes(new string('x', 1000)));
        Assert.Contains("more than 4096 bytes", endless.Read()!.RootElement.GetProperty("error").GetString(), StringComparison.Ordinal);
        Assert.Null(endless.Read());
        Answers();
    }

    [Fact]
    public void A_flood_of_ten_thousand_lines_holds_up_neither_the_loop_nor_the_next_client()
    {
        Start();
        using var flood = rig.Connect();
        var before = rig.Scans.Scans;
        var sender = new Thread(() =>
        {
            for (var i = 0; i < 10_000 && flood.Send(Points); i++)
            {
            }
        });
        sender.Start();
        using var reader = new CancellationTokenSource();
        var reading = new Thread(() =>
        {
            while (!reader.IsCancellationRequested && flood.Read() is not null)
            {
            }
        });
        reading.Start();
        // While it floods: another client is answered ten times, and the loop goes on.
        using (var other = rig.Connect())
        {
            for (var i = 0; i < 10; i++)
                Assert.True(other.Ask(Points).GetProperty("ok").GetBoolean());
        }
        Until(() => rig.Scans.Scans > before + 50);
        reader.Cancel();
        flood.Dispose();
        sender.Join();
        reading.Join();
    }

    [Fact]
    public void A_client_that_reads_nothing_is_let_go_and_told_of()
    {
        Start();
        using var stalled = rig.Connect();
        // Each answer is some kilobytes and nobody takes them: the buffers fill, then the server's patience ends.
        for (var i = 0; i < 2000 && stalled.Send("""{"version":1,"do":"points","all":true}"""); i++)
        {
        }
        Answers();
        Until(() => rig.Said.Any(line => line.Contains("does not take its answers: connection closed", StringComparison.Ordinal)), seconds: 60);
        Answers();
    }

    [Fact]
    public void More_clients_than_may_be_are_told_so_and_have_their_turn_when_one_has_gone()
    {
        Start();
        var clients = Enumerable.Range(0, ControlServer.MostClients).Select(_ => rig.Connect()).ToList();
        using (var late = new RawClient(rig.SocketPath))
            Assert.Contains("16 clients are connected already", late.Read()!.RootElement.GetProperty("error").GetString(), StringComparison.Ordinal);
        Assert.True(clients[^1].Ask(Points).GetProperty("ok").GetBoolean());
        clients.ForEach(client => client.Dispose());
        Until(() =>
        {
            using var next = new RawClient(rig.SocketPath);
            return next.Read()!.RootElement.TryGetProperty("room_supervisor", out _);
        });
    }

    [Fact]
    public void Who_sets_something_is_named_as_the_kernel_knows_him_and_a_refusal_too()
    {
        Start();
        using var client = rig.Connect();
        var set = client.Ask("""{"version":1,"id":1,"do":"set","point":"weaving-room.coil.fan","value":"60 %","for":"2 min"}""");
        Assert.True(set.GetProperty("holds").GetBoolean());
        Assert.Equal(60, set.GetProperty("value").GetDouble());
        Assert.Contains("sets weaving-room.coil.fan to 60 % for 2 min", Assert.Single(rig.Said), StringComparison.Ordinal);
        Assert.Contains($"{Environment.UserName} (uid ", rig.Said[0], StringComparison.Ordinal);
        Assert.Contains($"process {Environment.ProcessId})", rig.Said[0], StringComparison.Ordinal);
        Assert.Contains("from 1 s to 4 h", client.Error("""{"version":1,"do":"set","point":"weaving-room.coil.fan","value":"60 %","for":"5 h"}"""), StringComparison.Ordinal);
        Assert.Contains("refused", rig.Said[1], StringComparison.Ordinal);
        var ended = client.Ask("""{"version":1,"do":"end","point":"weaving-room.coil.fan"}""");
        Assert.True(ended.GetProperty("was_by_hand").GetBoolean());
        Assert.Equal(0, ended.GetProperty("value").GetDouble());
    }

    [Theory]
    [InlineData("weaving-room.coil.fann", "50 %", "did you mean weaving-room.coil.fan?")]
    [InlineData("weaving-room.air.temperature", "20", "is an input")]
    [InlineData("weaving-room.coil.fan", "24 °C", "a percentage is wanted")]
    [InlineData("weaving-room.coil.fan", "5 %", "at least the fan's slowest speed, 20 percent")]
    [InlineData("weaving-room.coil.fan", "120 %", "between 0 and 100 percent")]
    [InlineData("weaving-room.coil.fan", "NaN", "is not a number")]
    [InlineData("coil-loop.pump.run", "60 %", "is neither yes nor no")]
    public void What_cannot_be_set_says_why(string point, string value, string why)
    {
        Start();
        using var client = rig.Connect();
        Assert.Contains(why, client.Error($$"""{"version":1,"do":"set","point":"{{point}}","value":"{{value}}","for":"1 min"}"""), StringComparison.Ordinal);
    }

    [Fact]
    public void The_socket_is_for_user_and_group_and_goes_with_its_run()
    {
        Start();
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.GroupRead | UnixFileMode.GroupWrite, File.GetUnixFileMode(rig.SocketPath));
        Assert.False(ControlPlace.TryListen(rig.SocketPath, out _, out var isTaken, out var why));
        Assert.True(isTaken);
        Assert.Contains("another run answers on", why, StringComparison.Ordinal);
        Answers();   // looking at it did it no harm
    }

    [Fact]
    public void The_socket_of_a_dead_run_is_replaced_and_what_is_no_socket_is_left_alone()
    {
        var folder = Directory.CreateTempSubdirectory("stale-");
        var path = Path.Combine(folder.FullName, "control.sock");
        // As a killed run leaves it: the file without anybody behind it.
        using (var made = Process.Start("/usr/bin/python3", ["-c", $"import socket; s=socket.socket(socket.AF_UNIX); s.bind('{path}')"]))
            made.WaitForExit();
        Assert.True(File.Exists(path));
        Assert.True(ControlPlace.TryListen(path, out var listener, out _, out var why), why);
        listener!.Dispose();
        File.WriteAllText(path, "somebody's notes");
        Assert.False(ControlPlace.TryListen(path, out _, out _, out why));
        Assert.Contains("is no socket: move it away", why, StringComparison.Ordinal);
        Assert.Equal("somebody's notes", File.ReadAllText(path));
        Assert.False(ControlPlace.TryListen(Path.Combine(folder.FullName, new string('x', 120)), out _, out _, out why));
        Assert.Contains("longer than the 107 bytes", why, StringComparison.Ordinal);
        folder.Delete(true);
    }

    [Fact]
    public void The_client_takes_no_other_sites_run_for_its_own_and_says_what_it_found()
    {
        Start();
        Assert.Equal(ControlFound.Connected, ControlClient.Find(null, rig.SocketPath, null, out var client, out _));
        client!.Dispose();
        var elsewhere = Directory.CreateTempSubdirectory("elsewhere-");
        Assert.NotEqual(ControlFound.Connected, ControlClient.Find(elsewhere.FullName, rig.SocketPath, null, out _, out _));
        Assert.Equal(ControlFound.Nobody, ControlClient.Find(elsewhere.FullName, null, null, out _, out _));
        // Something else listens there: no greeting of ours.
        var path = Path.Combine(elsewhere.FullName, "other.sock");
        using (var other = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified))
        {
            other.Bind(new UnixDomainSocketEndPoint(path));
            other.Listen();
            var answering = new Thread(() => other.Accept().Send("220 hello\r\n"u8));
            answering.Start();
            Assert.Equal(ControlFound.Unreachable, ControlClient.Find(elsewhere.FullName, path, null, out _, out var why));
            Assert.Contains("no control socket of this program", why, StringComparison.Ordinal);
            answering.Join();
        }
        elsewhere.Delete(true);
    }

    private void Answers()
    {
        using var client = rig.Connect();
        Assert.True(client.Ask(Points).GetProperty("ok").GetBoolean());
    }

    private static void Until(Func<bool> isTrue, int seconds = 30)
    {
        for (var tries = 0; tries < seconds * 20 && !isTrue(); tries++)
            Thread.Sleep(50);
        Assert.True(isTrue(), $"waited {seconds} s in vain");
    }
}

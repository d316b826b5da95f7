// points, devices, set and find as a person types them, against the real program and a Modbus device that is not ours: with the service running, with it stopped,
// killed, another user's, in a terminal. Times are told by the device, never judged.
using System.Diagnostics;
using System.Text.Json;
using System.Text.RegularExpressions;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Story;
using Xunit.Abstractions;

namespace RoomSupervisor.House.Tests.Live;

[System.Runtime.Versioning.SupportedOSPlatform("linux")]
public sealed partial class ControlVerbTests(ITestOutputHelper output) : IDisposable
{
    private static readonly string Program = ControllerProcess.ProgramBeside(AppContext.BaseDirectory);
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("by-hand-");

    public void Dispose() => folder.Delete(true);

    [ModbusFact]
    public async Task With_the_service_running()
    {
        using var room = Room(24, 50);
        using var service = new ControllerProcess(folder.FullName, Program);
        await Until(() => room.Writes.Count >= 7);
        await Until(() => Type("points").Out.Contains(", scan ", StringComparison.Ordinal));

        // Every point once, plain, because this is no terminal; and for a program.
        var (code, text, _) = Type("points");
        Assert.Equal(0, code);
        Assert.Matches(@"air\.temperature +24 °C +good +raw 24 °C +[\d.]+ s old +[\d.]+ ms +io-1\.air-temperature", text);
        Assert.Matches(@"coil\.fan +0 % +0\.00 V on io-1\.fan \| nothing to do", text);
        Assert.DoesNotContain('\e', text);
        using (var json = JsonDocument.Parse(Type("points", "--json", "--only", "weaving-room.air").Out))
        {
            var points = json.RootElement.GetProperty("points");
            Assert.Equal(2, points.GetArrayLength());
            Assert.Equal(50, points[1].GetProperty("value").GetDouble());
            Assert.Equal("good", points[1].GetProperty("quality").GetString());
        }

        // A hand on the fan: 1.8 V + (60 − 20)/80 · 8.2 V = 5.9 V at the device; it shows, it can be ended.
        Assert.Matches(@"coil\.fan: set to 60 % by hand for 2 min 00 s, until \d\d:\d\d:\d\d", Said(0, Type("set", "weaving-room.coil.fan", "60 %", "--for", "2m")));
        await Until(() => room[ModbusRoom.Fan] == 5900);
        Assert.Contains("BY HAND 60 %", Type("points", "--only", "weaving-room.coil").Out, StringComparison.Ordinal);
        Assert.Contains("hand value ended; now 0 %", Said(0, Type("set", "weaving-room.coil.fan", "--end")), StringComparison.Ordinal);
        await Until(() => room[ModbusRoom.Fan] == 0);

        // One that nobody ends, ends.
        Said(0, Type("set", "weaving-room.coil.fan", "40", "--for", "3s"));
        await Until(() => room[ModbusRoom.Fan] == 3850);
        await Until(() => room[ModbusRoom.Fan] == 0);

        // Pumps need an open valve, and that is said.
        Assert.Contains("held at off for now: no circuit open", Said(1, Type("set", "ceiling-loop.pump.run", "on", "--for", "1s")), StringComparison.Ordinal);
        Assert.Contains("did you mean weaving-room.coil.fan?", Said(2, Type("set", "weaving-rom.coil.fan", "50%")), StringComparison.Ordinal);
        Assert.Contains("which value?", Said(2, Type("set", "weaving-room.coil.fan")), StringComparison.Ordinal);

        // The valve is found by moving it three times, and stands afterwards as before.
        var before = room.Writes.Count(write => write.Address == 1 && write.Value == 10000);
        Assert.Contains("3 of 3: 0 % (0.00 V)", Said(0, Type("find", "weaving-room.coil.valve", "--each", "1s")), StringComparison.Ordinal);
        Assert.True(room.Writes.Count(write => write.Address == 1 && write.Value == 10000) >= before + 3);
        await Until(() => room[ModbusRoom.CoilValve] == 0);
        Assert.Contains("a compressor is not blinked", Said(2, Type("find", "source.call.enable")), StringComparison.Ordinal);

        // A hand that was there before is there again after a search.
        Said(0, Type("set", "weaving-room.coil.fan", "50", "--for", "10m"));
        Assert.Contains("as it began: 50 % by hand until", Said(0, Type("find", "weaving-room.coil.fan", "--each", "1s")), StringComparison.Ordinal);
        await Until(() => room[ModbusRoom.Fan] == 4875);

        Assert.Contains("io-1 (modbus-tcp, host 127.0.0.1", Said(0, Type("devices")), StringComparison.Ordinal);
        Assert.Contains("no bus was touched", Type("devices").Out, StringComparison.Ordinal);
        Assert.Equal(0, service.Stop());
        Assert.False(File.Exists(At("state", "control.sock")));
        var log = await File.ReadAllTextAsync(At("log", "room-supervisor.log"));
        Assert.Contains($"by hand: {Environment.UserName} (uid ", log, StringComparison.Ordinal);
        Assert.Contains("sets weaving-room.coil.fan to 60 % for 2 min", log, StringComparison.Ordinal);
    }

    [ModbusFact]
    public async Task With_the_service_stopped()
    {
        using var room = Room(28, 50);
        // Reading touches no output.
        Assert.Contains("no controller runs; each sensor was read once, no output was touched", Said(0, Type("points")), StringComparison.Ordinal);
        var (code, text, _) = Type("devices");
        Assert.Equal(0, code);
        Assert.Contains("unit 1 answers: io-1", text, StringComparison.Ordinal);
        Assert.Contains("5 of 5 wired sensors read, none is missing", text, StringComparison.Ordinal);
        Assert.Empty(room.Writes);

        // A hand starts the loop for one output: the others are safe although the room is hot; it ends by itself.
        Assert.Contains("fan: ended; every output gets its safe value", Said(0, Type("set", "weaving-room.coil.fan", "60%", "--for", "3s")), StringComparison.Ordinal);
        Assert.Contains(room.Writes, write => write is { Table: "hr", Address: 0, Value: 5900 });
        Assert.DoesNotContain(room.Writes, write => write.Value != 0 && (write.Table, write.Address) != ModbusRoom.Fan);
        await Until(() => room[ModbusRoom.Fan] == 0);

        // A second terminal speaks to the first one's run: an open valve there, its pump here.
        using var first = Start("set", "weaving-room.coil.valve", "open", "--for", "5m");
        await Until(() => room[ModbusRoom.CoilValve] == 10000);
        Assert.Contains("3 of 3: off", Said(0, Type("find", "coil-loop.pump.run", "--each", "1s")), StringComparison.Ordinal);
        Assert.True(room.Writes.Count(write => (write.Table, write.Address) == ModbusRoom.CoilPump && write.Value == 1) >= 3);
        Assert.Contains("only by hand: every other output is kept safe", Type("points").Out, StringComparison.Ordinal);
        // While it lasts no controller may start.
        using (var service = new ControllerProcess(folder.FullName, Program))
            Assert.Equal(2, service.Ended());
        Interrupt(first);
        Assert.True(first.WaitForExit(20_000));
        Assert.Equal(0, first.ExitCode);
        await Until(() => room[ModbusRoom.CoilValve] == 0);
        Assert.False(File.Exists(At("state", "memory")));

        // Nobody at the other end.
        room.Kill();
        var (gone, missing, _) = Type("devices");
        Assert.Equal(1, gone);
        Assert.Contains("DOES NOT ANSWER", missing, StringComparison.Ordinal);
        Assert.Contains("connection refused", missing, StringComparison.Ordinal);
        Assert.Contains("0 of 5 wired sensors read; missing:", missing, StringComparison.Ordinal);
    }

    [ModbusFact]
    public async Task Interrupted_and_killed()
    {
        using var room = Room(24, 50);
        var first = new ControllerProcess(folder.FullName, Program);
        await Until(() => Type("points").Out.Contains(", scan ", StringComparison.Ordinal));

        // Ctrl-C in the middle of a stroke: as it began.
        using (var search = Start("find", "weaving-room.coil.valve", "--each", "60s"))
        {
            await Until(() => room[ModbusRoom.CoilValve] == 10000);
            Interrupt(search);
            Assert.True(search.WaitForExit(20_000));
            Assert.Equal(1, search.ExitCode);
            await Until(() => room[ModbusRoom.CoilValve] == 0);
        }

        // A killed search leaves a hand value that ends by itself.
        using (var search = Start("find", "weaving-room.coil.valve", "--each", "1s"))
        {
            await Until(() => room[ModbusRoom.CoilValve] == 10000);
            search.Kill();
            await Until(() => room[ModbusRoom.CoilValve] == 0);
        }

        // A killed service leaves its socket behind; nobody takes that for a living one, and the next start replaces it.
        first.Kill();
        Assert.True(File.Exists(At("state", "control.sock")));
        Assert.Contains("no controller runs", Said(0, Type("points")), StringComparison.Ordinal);
        using var next = new ControllerProcess(folder.FullName, Program);
        await Until(() => Type("points").Out.Contains(", scan ", StringComparison.Ordinal));
        Assert.Equal(0, next.Stop());
        first.Dispose();
    }

    [ModbusFact]
    public async Task Another_user_is_refused_with_what_to_do_and_a_service_elsewhere_is_found_or_named()
    {
        using var room = Room(24, 50);
        var (runtime, state) = (At("run"), At("var"));
        Directory.CreateDirectory(runtime);
        using var service = new ControllerProcess(folder.FullName, Program, "", ("RUNTIME_DIRECTORY", runtime), ("STATE_DIRECTORY", state));
        await Until(() => File.Exists(Path.Combine(runtime, "control.sock")));

        // Its socket is elsewhere: looked for in vain, then named.
        Assert.Contains("another run controls", Said(2, Type("points")), StringComparison.Ordinal);
        Assert.Contains("else name it with --socket", Said(2, Type("set", "weaving-room.coil.fan", "50")), StringComparison.Ordinal);
        await Until(() => Type("points", "--socket", Path.Combine(runtime, "control.sock")).Code == 0);

        // Somebody who is not in its group. Only root can play another user.
        if (Environment.UserName == "root" && File.Exists("/usr/bin/setpriv"))
        {
            File.SetUnixFileMode(folder.FullName, (UnixFileMode)0b111_101_101);
            using var other = Process.Start(new ProcessStartInfo("/usr/bin/python3", ["-c",
                $"import os,socket,sys\nos.setgroups([]);os.setgid(65534);os.setuid(65534)\ns=socket.socket(socket.AF_UNIX)\ntry:\n s.connect('{Path.Combine(runtime, "control.sock")}')\n print('in')\nexcept PermissionError:\n print('refused')"])
            { RedirectStandardOutput = true })!;
            Assert.Equal("refused", (await other.StandardOutput.ReadToEndAsync()).Trim());
            var (code, _, error) = Run("/usr/bin/setpriv", ["--reuid", "65534", "--regid", "65534", "--clear-groups", Program, "points", "--site", folder.FullName, "--socket", Path.Combine(runtime, "control.sock")]);
            if (!error.Contains("failed to execute", StringComparison.Ordinal) && code != 126)
            {
                output.WriteLine(error);
                Assert.Equal(2, code);
                Assert.Contains("may not use the control socket", error, StringComparison.Ordinal);
                Assert.Contains("to that group", error, StringComparison.Ordinal);
            }
        }
        Assert.Equal(0, service.Stop());
    }

    [ModbusFact]
    public async Task In_a_terminal_it_is_redrawn_within_the_window_until_q()
    {
        using var room = Room(24, 50);
        using var service = new ControllerProcess(folder.FullName, Program);
        await Until(() => Type("points").Out.Contains(", scan ", StringComparison.Ordinal));
        using var terminal = new Process
        {
            StartInfo = new ProcessStartInfo("/usr/bin/script", ["-qec", $"stty rows 8 cols 50; '{Program}' points '{folder.FullName}'", "/dev/null"]) { RedirectStandardInput = true, RedirectStandardOutput = true },
        };
        terminal.StartInfo.Environment["TERM"] = "xterm";
        var seen = new System.Text.StringBuilder();
        terminal.Start();
        var reading = Task.Run(async () =>
        {
            var buffer = new char[4096];
            for (int count; (count = await terminal.StandardOutput.ReadAsync(buffer)) > 0;)
            {
                lock (seen)
                    seen.Append(buffer, 0, count);
            }
        });
        string Seen()
        {
            lock (seen)
                return seen.ToString();
        }
        await Until(() => Redraw().Count(Seen()) >= 3);
        terminal.StandardInput.Write(' ');
        terminal.StandardInput.Flush();
        await Until(() => Seen().Contains("page 2 of ", StringComparison.Ordinal));
        terminal.StandardInput.Write('q');
        terminal.StandardInput.Flush();
        Assert.True(terminal.WaitForExit(20_000));
        Assert.Equal(0, terminal.ExitCode);
        await reading;
        // Eight lines of fifty: no line is longer, no screen taller, and the first screen is back at the end.
        foreach (var screen in Redraw().Split(Seen()).Skip(1))
        {
            var lines = Escape().Replace(screen, "").Split("\r\n");
            Assert.True(lines.Length <= 8, screen);
            Assert.All(lines, line => Assert.True(line.TrimEnd('\r').Length <= 50, line));   // the terminal adds a return of its own
        }
        Assert.Contains("\e[?1049l", Seen(), StringComparison.Ordinal);
        Assert.Equal(0, service.Stop());
    }

    [GeneratedRegex("\e\\[H")]
    private static partial Regex Redraw();

    [GeneratedRegex("\e\\[[?0-9;]*[A-Za-z]|\e[=>]")]
    private static partial Regex Escape();

    private ModbusRoom Room(double temperature, double humidity)
    {
        var room = new ModbusRoom(Root.Path);
        room.Air(temperature, humidity);
        room.Supply(20);
        ControllerProcess.WriteSite(Root.Path, folder.FullName, room.Port);
        var site = At("site.yaml");
        File.WriteAllText(site, File.ReadAllText(site).Replace("\nsequence:\n", "\nsequence:\n  scan_period: 0.2 s\n", StringComparison.Ordinal));
        return room;
    }

    private string At(params string[] parts) => Path.Combine([folder.FullName, .. parts]);

    private (int Code, string Out, string Error) Type(string verb, params string[] arguments) => Run(Program, [verb, .. arguments, "--site", folder.FullName]);

    private static (int Code, string Out, string Error) Run(string program, string[] arguments)
    {
        using var process = Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true })!;
        var error = process.StandardError.ReadToEndAsync();
        var text = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return (process.ExitCode, text, error.Result);
    }

    /// <summary>All that was said, with the exit code that it must have.</summary>
    private string Said(int code, (int Code, string Out, string Error) typed)
    {
        output.WriteLine(typed.Out + typed.Error);
        Assert.Equal(code, typed.Code);
        return typed.Out + typed.Error;
    }

    private Process Start(params string[] arguments)
    {
        var process = Process.Start(new ProcessStartInfo(Program, [.. arguments, "--site", folder.FullName]) { RedirectStandardOutput = true, RedirectStandardError = true })!;
        process.OutputDataReceived += (_, _) => { };
        process.ErrorDataReceived += (_, _) => { };
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        return process;
    }

    /// <summary>As Ctrl-C and a service manager do; not by INT, which a shell may have told its background jobs to ignore.</summary>
    private static void Interrupt(Process process)
    {
        using var kill = Process.Start("/bin/kill", ["-TERM", process.Id.ToString(System.Globalization.CultureInfo.InvariantCulture)]);
        kill.WaitForExit();
    }

    private static async Task Until(Func<bool> isTrue)
    {
        // Asked once a round: what was true must not be asked again.
        for (var tries = 0; tries < 300; tries++)
        {
            if (isTrue())
                return;
            await Task.Delay(100);
        }
        Assert.Fail("waited 30 s in vain");
    }
}

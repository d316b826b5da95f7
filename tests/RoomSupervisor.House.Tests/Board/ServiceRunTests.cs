// The real program as a service manager sees it, and safe values by another process after a kill, against a Modbus device that is not ours.
using System.Diagnostics;
using RoomSupervisor.House.Tests.Live;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Runtime.Board;
using RoomSupervisor.Story;

namespace RoomSupervisor.House.Tests.Board;

public sealed class ServiceRunTests : IDisposable
{
    private static readonly string Program = ControllerProcess.ProgramBeside(AppContext.BaseDirectory);
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("service-");

    public void Dispose() => folder.Delete(true);

    [ModbusFact]
    public async Task A_service_says_ready_is_fed_stops_and_after_a_kill_another_process_makes_the_fan_stand_still()
    {
        using var room = new ModbusRoom(Root.Path);
        room.Air(28, 50);
        room.Supply(20);
        ControllerProcess.WriteSite(Root.Path, folder.FullName, room.Port);
        using var manager = new Manager();
        (string, string)[] environment = [("NOTIFY_SOCKET", manager.Name), ("WATCHDOG_USEC", "2000000"), ("RUNTIME_DIRECTORY", folder.FullName)];
        var heard = new List<string>();
        using (var service = new ControllerProcess(folder.FullName, Program, "", environment))
        {
            await Until(() => room[ModbusRoom.Fan] > 0, service);
            await Until(() => Hear().Count(word => word == "WATCHDOG=1") >= 4);
            Assert.StartsWith("READY=1\nSTATUS=", heard[0], StringComparison.Ordinal);
            Assert.Contains(": controls", heard[0], StringComparison.Ordinal);
            Assert.Equal(2, Safe());   // it controls: nobody writes beside it
            // What ten years need no memory for: huge pages for stacks that are hardly used (proc(5), since Linux 5.0), a library of ciphers for a few sums.
            Assert.Matches(@"(?m)^THP_enabled:\s+0$", File.ReadAllText($"/proc/{service.Id}/status"));
            Assert.DoesNotContain("libcrypto", File.ReadAllText($"/proc/{service.Id}/maps"), StringComparison.Ordinal);
            service.Kill();
        }
        Assert.True(room[ModbusRoom.Fan] > 0);   // nobody told the module
        Assert.Equal(0, Safe("--after-service"));
        await Until(() => room[ModbusRoom.Fan] == 0);

        // The next start knows of the kill, pauses for a second, and stops as told.
        Hear().Clear();
        using var again = new ControllerProcess(folder.FullName, Program, "", environment);
        await Until(() => room[ModbusRoom.Fan] > 0, again);
        Assert.Equal(0, again.Stop());
        Assert.Contains("the run before did not end orderly", Hear()[0], StringComparison.Ordinal);
        Assert.Equal("STOPPING=1", heard[^1]);

        List<string> Hear()
        {
            heard.AddRange(manager.All());
            return heard;
        }
    }

    /// <summary>A module that starts again after the power cut that ended the run is a second or two late.</summary>
    [ModbusFact]
    public async Task A_module_that_is_late_still_gets_its_safe_values()
    {
        int port;
        using (var before = new ModbusRoom(Root.Path))
            port = before.Port;
        ControllerProcess.WriteSite(Root.Path, folder.FullName, port);
        var safe = Task.Run(() => Safe("--after-service"));
        await Task.Delay(500);
        using var room = new ModbusRoom(Root.Path, port);
        Assert.Equal(0, await safe);
        await Until(() => room.Writes.Contains(new Written("hr", 0, 0)));   // what the module says of itself comes a moment after its answer
    }

    [Theory]
    [InlineData("success", "exited", "0", true)]
    [InlineData("success", "exited", "1", false)]
    [InlineData("watchdog", "killed", "ABRT", false)]
    [InlineData("oom-kill", "killed", "KILL", false)]
    [InlineData(null, null, null, false)]
    public void Only_after_an_orderly_end_nothing_is_left_to_do(string? result, string? code, string? status, bool expected)
        => Assert.Equal(expected, SafeRun.IsDone(key => key switch { "SERVICE_RESULT" => result, "EXIT_CODE" => code, "EXIT_STATUS" => status, _ => null }));

    private int Safe(params string[] more)
    {
        var start = new ProcessStartInfo(Program) { RedirectStandardOutput = true, RedirectStandardError = true };
        Array.ForEach(["safe", folder.FullName, .. more], start.ArgumentList.Add);
        (start.Environment["SERVICE_RESULT"], start.Environment["EXIT_CODE"], start.Environment["EXIT_STATUS"]) = ("signal", "killed", "KILL");
        using var process = Process.Start(start)!;
        _ = process.StandardOutput.ReadToEndAsync();
        _ = process.StandardError.ReadToEndAsync();
        process.WaitForExit();
        return process.ExitCode;
    }

    private static async Task Until(Func<bool> holds, ControllerProcess? service = null)
    {
        for (var i = 0; i < 400 && !holds(); i++)
            await Task.Delay(50);
        Assert.True(holds(), service is null ? "" : string.Join('\n', service.Said));
    }
}

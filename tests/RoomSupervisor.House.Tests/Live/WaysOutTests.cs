// Every way out of a run, against a Modbus device that is not ours: whatever ends the controller short of a kill, the fan must stand still
// afterwards. And what must not end it: a console or a log that cannot be written.
using System.Diagnostics;
using RoomSupervisor.Hardware;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Runtime;
using RoomSupervisor.Site;
using RoomSupervisor.Story;

namespace RoomSupervisor.House.Tests.Live;

public sealed class WaysOutTests : IDisposable
{
    // signal(7), the same numbers on x64 and arm64.
    private const int HangUp = 1, Quit = 3;

    private static readonly string Program = ControllerProcess.ProgramBeside(AppContext.BaseDirectory);
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("ways-out-");

    public void Dispose() => folder.Delete(true);

    [ModbusFact]
    public async Task A_lost_terminal_is_no_reason_to_leave_the_fan_running()
    {
        using var room = HotRoom();
        foreach (var signal in new[] { HangUp, Quit })
        {
            using var controller = new ControllerProcess(folder.FullName, Program);
            await Until(() => room[ModbusRoom.Fan] > 0);
            Assert.Equal(0, controller.Stop(signal));
            await Until(() => room[ModbusRoom.Fan] == 0);
        }
    }

    [ModbusFact]
    public async Task With_a_full_console_and_no_log_at_all_control_goes_on()
    {
        using var room = HotRoom();
        using var controller = new ControllerProcess(folder.FullName, Program, "> /dev/full 2>&1", ("LOGS_DIRECTORY", "/dev/full/log"));
        await Until(() => room[ModbusRoom.Fan] > 0);
        Assert.Equal(0, controller.Stop());
        await Until(() => room[ModbusRoom.Fan] == 0);
    }

    [ModbusFact]
    public async Task A_paused_terminal_holds_up_neither_control_nor_stop_nor_the_log_file()
    {
        using var room = HotRoom();
        using var controller = new ControllerProcess(folder.FullName, Program, $"> '{PausedPipe()}' 2>&1");
        await Until(() => room[ModbusRoom.Fan] > 0);
        Assert.Equal(0, controller.Stop());
        await Until(() => room[ModbusRoom.Fan] == 0);
        var log = await File.ReadAllTextAsync(Path.Combine(folder.FullName, "log", "room-supervisor.log"));
        Assert.Contains("satisfied → pull-down", log, StringComparison.Ordinal);
        Assert.Contains("stopped on SIGTERM", log, StringComparison.Ordinal);
    }

    [ModbusFact]
    public async Task A_second_controller_is_refused_by_whatever_road_it_comes()
    {
        using var room = HotRoom();
        using var service = new ControllerProcess(folder.FullName, Program, "", ("STATE_DIRECTORY", Path.Combine(folder.FullName, "a")), ("LOGS_DIRECTORY", Path.Combine(folder.FullName, "b")));
        await Until(() => room[ModbusRoom.Fan] > 0);
        var byLink = Path.Combine(folder.FullName, "link");
        File.CreateSymbolicLink(byLink, folder.FullName);
        foreach (var road in new[] { folder.FullName, byLink, folder.FullName + "/." })
        {
            using var second = new ControllerProcess(road, Program);
            Assert.Equal(2, second.Ended());
        }
        Assert.Equal(0, service.Stop());
    }

    [ModbusFact]
    public async Task An_error_of_our_own_writes_safe_values_says_so_and_is_exit_code_1()
    {
        using var room = HotRoom();
        var files = SiteReader.Read(folder.FullName, Drivers.All).Files!;
        var time = new BreakingTime();
        Assert.True(Wiring.TryBuild(files, Path.Combine(folder.FullName, "log"), false, time, TextWriter.Null, out var wiring, out _));
        var run = Task.Run(() => SiteRun.Run(files, wiring!, false));
        await Until(() => room[ModbusRoom.Fan] > 0);
        time.Break();
        Assert.Equal(1, await run.WaitAsync(TimeSpan.FromSeconds(20)));
        await Until(() => room[ModbusRoom.Fan] == 0);
        var lines = await File.ReadAllLinesAsync(Path.Combine(folder.FullName, "log", "room-supervisor.log"));
        Assert.Contains(lines, line => line.Contains("io-1: safe values written to 7 outputs", StringComparison.Ordinal));
        Assert.Contains(lines, line => line.Contains(" URGENT ", StringComparison.Ordinal) && line.Contains("the clock broke", StringComparison.Ordinal));
    }

    private ModbusRoom HotRoom()
    {
        var room = new ModbusRoom(Root.Path);
        room.Air(28, 50);
        room.Supply(20);
        ControllerProcess.WriteSite(Root.Path, folder.FullName, room.Port);
        return room;
    }

    /// <summary>A pipe that is full to the brim and that nobody reads: what a terminal looks like to a program while somebody has paused it.</summary>
    private string PausedPipe()
    {
        var name = Path.Combine(folder.FullName, "paused");
        using (var make = Process.Start("mkfifo", name))
            make.WaitForExit();
        var both = new FileStream(name, FileMode.Open, FileAccess.ReadWrite, FileShare.ReadWrite, 0);
        var fill = new Thread(() =>
        {
            while (true)
                both.Write(new byte[512]);   // until it stands, as the program's own writes will; ends with the test host
        })
        { IsBackground = true };
        fill.Start();
        fill.Join(TimeSpan.FromSeconds(1));
        return name;
    }

    private static async Task Until(Func<bool> isTrue)
    {
        for (var tries = 0; tries < 200 && !isTrue(); tries++)
            await Task.Delay(100);
        Assert.True(isTrue(), "waited 20 s in vain");
    }

    /// <summary>The system's clock until it is told to break; then the next question for the wall time throws, once. The log's thread asks too and survives it: it is not the one that is meant.</summary>
    private sealed class BreakingTime : TimeProvider
    {
        private int isBroken;

        public void Break() => Interlocked.Exchange(ref isBroken, 1);

        public override DateTimeOffset GetUtcNow() => Thread.CurrentThread.Name != "records" && Interlocked.Exchange(ref isBroken, 0) == 1 ? throw new InvalidOperationException("the clock broke") : System.GetUtcNow();
    }
}

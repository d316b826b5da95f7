// The real program against a Modbus device that is not ours, over a real socket, told like an afternoon. Waiting times are shortened in
// the copied site file; limits and margins are not.
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Story;
using Xunit.Abstractions;

namespace RoomSupervisor.House.Tests.Live;

/// <summary>A test against the Modbus room; skipped with the reason where it cannot be installed (no root, no network).</summary>
[AttributeUsage(AttributeTargets.Method)]
internal sealed class ModbusFactAttribute : FactAttribute
{
    private static readonly Lazy<string?> Reason = new(() => ModbusRoom.Missing(Root.Path));

    public ModbusFactAttribute() => Skip = Reason.Value;
}

public sealed class LiveRoomTests(ITestOutputHelper output) : IDisposable
{
    private static readonly string Program = ControllerProcess.ProgramBeside(AppContext.BaseDirectory);
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("live-room-");

    public void Dispose() => folder.Delete(true);

    [ModbusFact]
    public async Task An_afternoon_hot_and_humid_a_door_a_dead_bus_and_a_stop()
    {
        using var room = new ModbusRoom(Root.Path);
        room.Air(23.5, 50);
        room.Supply(20);
        room.Door(false);
        ControllerProcess.WriteSite(Root.Path, folder.FullName, room.Port);
        using var controller = new ControllerProcess(folder.FullName, Program);

        // At start every output gets its safe value before anything else.
        await Until(() => room.Writes.Count >= 7, "safe values at start");
        Assert.Equal(7, room.Writes.Take(7).Select(write => (write.Table, write.Address)).Distinct().Count());
        Assert.All(room.Writes.Take(7), write => Assert.Equal(0, write.Value));

        // It gets hot and humid: pull-down, the fan at the household's 35 % = 3.34 V, coil valve open, coil pump and source on, ceiling shut.
        room.Air(28, 65);
        await Until(() => room[ModbusRoom.Fan] == 3338, "fan at 35 %");
        await Until(() => room[ModbusRoom.CoilPump] == 1 && room[ModbusRoom.SourceCall] == 1, "coil pump and source");
        Assert.Equal(10000, room[ModbusRoom.CoilValve]);
        Assert.Equal(0, room[ModbusRoom.CeilingValve]);

        // The door opens: fan and valves off. It shuts on a warm room: the fan is back at once.
        room.Door(true);
        await Until(() => room[ModbusRoom.Fan] == 0 && room[ModbusRoom.CoilValve] == 0, "fan and valve off with the door open");
        room.Door(false);
        await Until(() => room[ModbusRoom.Fan] == 3338, "fan back after the door has shut");

        // The door again, and the room cools: now the ceiling takes it alone, its pump after its valve.
        room.Door(true);
        await Until(() => room[ModbusRoom.Fan] == 0, "fan off with the door open");
        room.Air(24.2, 50);
        await Task.Delay(3000);
        room.Door(false);
        await Until(() => room[ModbusRoom.CeilingValve] > 0, "ceiling valve");
        await Until(() => room[ModbusRoom.CeilingPump] == 1 && room[ModbusRoom.Mixing] > 0, "ceiling pump and mixing valve");

        // Cold water comes: the guard shuts the ceiling and stops its pump, mixing at full recirculation.
        room.Supply(12);
        await Until(() => room[ModbusRoom.CeilingValve] == 0 && room[ModbusRoom.CeilingPump] == 0 && room[ModbusRoom.Mixing] == 0, "guard shuts the ceiling");
        room.Supply(20);
        await Until(() => room[ModbusRoom.CeilingValve] > 0, "ceiling opens again");

        // The bus dies: readings are missing and the log says so.
        var port = room.Port;
        room.Kill();
        await Until(() => Says(controller, "io-1: device does not answer: connection refused: nothing listens there"), "the log says that the device is gone");
        await Until(() => Says(controller, "weaving-room.air.temperature: reading missing"), "the log says that readings are missing");
        await Until(() => Says(controller, "→ off: air temperature missing"), "the room is off");

        // It returns: safe values first, then control goes on.
        using var again = new ModbusRoom(Root.Path, port);
        again.Air(28, 50);
        again.Supply(20);
        await Until(() => again.Writes.Count >= 7, "safe values on return");
        Assert.All(again.Writes.Take(7), write => Assert.Equal(0, write.Value));
        await Until(() => again[ModbusRoom.Fan] == 3338, "control goes on");
        await Until(() => Says(controller, "device answers again"), "the log says that the device is back");

        // Told to stop: safe values are written, the exit code is 0.
        Assert.Equal(0, controller.Stop());
        foreach (var place in new[] { ModbusRoom.Fan, ModbusRoom.CoilValve, ModbusRoom.CeilingValve, ModbusRoom.Mixing, ModbusRoom.CeilingPump, ModbusRoom.CoilPump, ModbusRoom.SourceCall })
            await Until(() => again[place] == 0, $"{place} safe at stop");
        foreach (var line in controller.Said)
            output.WriteLine(line);
        await Until(() => Says(controller, "io-1: safe values written to 7 outputs"), "the log says that safe values were written");
        var log = await File.ReadAllTextAsync(Path.Combine(folder.FullName, "log", "room-supervisor.log"));
        Assert.Contains("weaving-room: satisfied → pull-down:", log, StringComparison.Ordinal);
        Assert.Contains("fan 30 % (2.8 V): start kick 30 %; household's limit would allow 35 %", log, StringComparison.Ordinal);
    }

    [ModbusFact]
    public async Task A_killed_controller_starts_again_with_safe_values_and_a_second_one_is_refused()
    {
        using var room = new ModbusRoom(Root.Path);
        room.Air(28, 50);
        room.Supply(20);
        ControllerProcess.WriteSite(Root.Path, folder.FullName, room.Port);
        using (var first = new ControllerProcess(folder.FullName, Program))
        {
            await Until(() => room[ModbusRoom.Fan] > 0, "fan runs");
            using var second = new ControllerProcess(folder.FullName, Program);
            await Until(() => Says(second, "two controllers would fight over the outputs"), "the second is refused");
            first.Kill();
        }
        var before = room.Writes.Count;
        using var next = new ControllerProcess(folder.FullName, Program);
        await Until(() => room.Writes.Count >= before + 7, "safe values after the crash");
        Assert.All(room.Writes.Skip(before).Take(7), write => Assert.Equal(0, write.Value));
        await Until(() => room[ModbusRoom.Fan] > 0, "fan runs again");
        Assert.Equal(0, next.Stop());
    }

    private static bool Says(ControllerProcess controller, string part) => controller.Said.Any(line => line.Contains(part, StringComparison.Ordinal));

    private async Task Until(Func<bool> isTrue, string what)
    {
        for (var tries = 0; tries < 200; tries++)
        {
            if (isTrue())
                return;
            await Task.Delay(100);
        }
        foreach (var file in folder.EnumerateFiles("*.log", SearchOption.AllDirectories))
            output.WriteLine(await File.ReadAllTextAsync(file.FullName));
        Assert.Fail("waited 20 s in vain for: " + what);
    }
}

// An afternoon of the weaving room: the real program, a real socket, a Modbus device that is not ours. Waiting times are shortened so that
// it takes half a minute; every line is told when it has really been seen at the device.
using System.Globalization;

namespace RoomSupervisor.Story;

/// <summary>Tells the afternoon.</summary>
public static class Afternoon
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    /// <summary>Returns 0; 1 when something that should have been seen was not.</summary>
    public static int Tell(string root, TextWriter says)
    {
        says.WriteLine("2. An afternoon of the weaving room, Ferry House: the program runs against a Modbus TCP device that is not ours (pymodbus).");
        says.WriteLine("   Waiting times are shortened: two minutes take a second. Limits are not.");
        says.WriteLine();
        if (ModbusRoom.Missing(root) is { } missing)
        {
            says.WriteLine($"   left out: {missing}");
            return 0;
        }
        var folder = Path.Combine(root, "artifacts", "demo-site");
        if (Directory.Exists(folder))
            Directory.Delete(folder, true);
        using var room = new ModbusRoom(root);
        ControllerProcess.WriteSite(root, folder, room.Port);
        try
        {
            Play(room, folder, says);
        }
        catch (TimeoutException e)
        {
            says.WriteLine($"   stopped here: {e.Message}");
            return 1;
        }
        says.WriteLine();
        says.WriteLine($"   What a tech would tail: {Path.GetRelativePath(root, Path.Combine(folder, "log", "room-supervisor.log"))}; its last stage changes:");
        foreach (var line in File.ReadLines(Path.Combine(folder, "log", "room-supervisor.log")).Where(line => line.Contains('→', StringComparison.Ordinal)).TakeLast(4))
            says.WriteLine("   " + line);
        return 0;
    }

    private static void Play(ModbusRoom room, string folder, TextWriter says)
    {
        room.Air(23.6, 55);
        room.Supply(20);
        room.Door(false);
        using var controller = new ControllerProcess(folder, ControllerProcess.ProgramBeside(AppContext.BaseDirectory));
        Seen(() => room.Writes.Count >= 7 && room.Writes.Take(7).All(write => write.Value == 0));
        says.WriteLine("   13:00  started: every output got its safe value first; the room is satisfied at 23.6 °C.");
        room.Air(27.8, 66);
        Seen(() => room[ModbusRoom.Fan] == 3338 && room[ModbusRoom.CoilPump] == 1);
        says.WriteLine($"   14:10  27.8 °C, 66 %: the coil pulls the room down, fan at {Volts(room, ModbusRoom.Fan)} (35 %, the household's limit), coil pump on, ceiling shut.");
        room.Door(true);
        Seen(() => room[ModbusRoom.Fan] == 0 && room[ModbusRoom.CoilValve] == 0);
        says.WriteLine("   14:25  the terrace door stands open: fan off, coil valve shut; nobody cools the river.");
        room.Door(false);
        Seen(() => room[ModbusRoom.Fan] == 3338);
        says.WriteLine("   14:40  the door is shut and the room still warm: the fan is back at once, without the waiting time.");
        room.Door(true);
        Seen(() => room[ModbusRoom.Fan] == 0);
        room.Air(24.2, 52);
        Thread.Sleep(3000);
        room.Door(false);
        Seen(() => room[ModbusRoom.CeilingPump] == 1 && room[ModbusRoom.Mixing] > 0);
        says.WriteLine($"   15:30  24.2 °C after a short airing: the ceiling takes the room alone, silent; valve {Volts(room, ModbusRoom.CeilingValve)}, mixing valve {Volts(room, ModbusRoom.Mixing)}, its pump after its valve.");
        room.Supply(12);
        Seen(() => room[ModbusRoom.CeilingValve] == 0 && room[ModbusRoom.CeilingPump] == 0 && room[ModbusRoom.Mixing] == 0);
        says.WriteLine("   15:50  12 °C water comes up the pipe, under the dew point: ceiling shut, pump off, mixing valve at full recirculation, at once.");
        room.Supply(20);
        Seen(() => room[ModbusRoom.CeilingValve] > 0);
        says.WriteLine("   16:00  the water is warm again and the air steady: the ceiling opens by itself.");
        var port = room.Port;
        room.Kill();
        Seen(() => controller.Said.Any(line => line.Contains("→ off: air temperature missing", StringComparison.Ordinal)));
        says.WriteLine("   16:20  somebody pulls the network cable: readings are missing after a while, the room goes off, the log says which device and what to check.");
        using var again = new ModbusRoom(RootOf(folder), port);
        again.Air(24.1, 52);
        again.Supply(20);
        Seen(() => again.Writes.Count >= 7 && again.Writes.Take(7).All(write => write.Value == 0));
        says.WriteLine("   16:35  the cable is back: safe values first, then control goes on from fresh readings.");
        var code = controller.Stop();
        Seen(() => again[ModbusRoom.Fan] == 0 && again[ModbusRoom.CeilingValve] == 0);
        says.WriteLine(string.Create(CultureInfo.InvariantCulture, $"   17:00  told to stop: safe values written to every output, exit code {code}."));
    }

    private static string Volts(ModbusRoom room, (string, int) place) => string.Create(CultureInfo.InvariantCulture, $"{room[place] / 1000.0:0.0} V");

    private static string RootOf(string folder) => Path.GetFullPath(Path.Combine(folder, "..", ".."));

    private static void Seen(Func<bool> isTrue, [System.Runtime.CompilerServices.CallerArgumentExpression(nameof(isTrue))] string what = "")
    {
        var until = DateTime.UtcNow + Patience;
        while (!isTrue())
        {
            if (DateTime.UtcNow > until)
                throw new TimeoutException($"waited {Patience.TotalSeconds:0} s in vain for {what}");
            Thread.Sleep(50);
        }
    }
}

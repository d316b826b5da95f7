// Files edited under a running controller, against a Modbus device that is not ours: the fan follows the household's file, the answer
// appears beside it, mistakes change nothing, undo goes back, and a start with broken files goes on with the last good ones.
using System.Diagnostics;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Story;
using Xunit.Abstractions;

namespace RoomSupervisor.House.Tests.Live;

public sealed class LiveReloadTests(ITestOutputHelper output) : IDisposable
{
    private static readonly string Program = ControllerProcess.ProgramBeside(AppContext.BaseDirectory);
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("live-reload-");

    public void Dispose() => folder.Delete(true);

    [ModbusFact]
    public async Task A_household_edited_while_it_runs()
    {
        using var room = new ModbusRoom(Root.Path);
        room.Air(28, 50);
        room.Supply(20);
        ControllerProcess.WriteSite(Root.Path, folder.FullName, room.Port);
        using (var controller = new ControllerProcess(folder.FullName, Program))
        {
            await Until(() => room[ModbusRoom.Fan] == 3338, "fan at 35 %");

            // A new limit is at the fan within seconds, and answered with its price. By hand: 1.8 V + (30 − 20)/80 · 8.2 V = 2.825 V.
            var saved = Stopwatch.StartNew();
            Save("# ours\nrooms:\n  weaving-room:\n    cool_above: 24 °C\n    fan_at_most: 30 %\n");
            await Until(() => Answer().Contains("fan_at_most: 35 % → 30 %", StringComparison.Ordinal), "the answer");
            output.WriteLine($"answered after {saved.Elapsed.TotalSeconds:0.0} s");
            Assert.True(saved.Elapsed < TimeSpan.FromSeconds(10));
            await Until(() => room[ModbusRoom.Fan] == 2825, "fan at 30 %");
            Assert.Contains("after the door stood open about", Answer(), StringComparison.Ordinal);

            // A slip keeps the limit and takes the rest; the answer names the line.
            Save("# ours\nrooms:\n  weaving-room:\n    cool_above: 23 °C\n    fan_at_most: 300 %\n");
            await Until(() => Answer().Contains("line 5: weaving-room.fan_at_most: \"300 %\" is out of range", StringComparison.Ordinal), "the slip is answered");
            Assert.Contains("cool_above: 24 °C → 23 °C", Answer(), StringComparison.Ordinal);
            Assert.Equal(2825, room[ModbusRoom.Fan]);

            // undo brings the file back, comment and all.
            Assert.Contains("fan_at_most: 35 % → 30 %", Type("history", folder.FullName), StringComparison.Ordinal);
            Assert.Contains("version 2 again", Type("undo", folder.FullName, "--to", "2"), StringComparison.Ordinal);
            Assert.StartsWith("# ours\n", await File.ReadAllTextAsync(At("household.yaml")), StringComparison.Ordinal);
            await Until(() => Answer().Contains("cool_above: 23 °C → 24 °C", StringComparison.Ordinal), "undo is answered");

            // The installer's file with a mistake is refused whole; one that needs a restart waits.
            var site = await File.ReadAllTextAsync(At("site.yaml"));
            await File.WriteAllTextAsync(At("site.yaml"), site.Replace("floor_area: 24 m²", "floor_area: 24 °C", StringComparison.Ordinal));
            await Until(() => Says(controller, "refused whole; the last good one keeps running"), "the site is refused");
            await File.WriteAllTextAsync(At("site.yaml"), site.Replace("address: 12, type: s16", "address: 13, type: s16", StringComparison.Ordinal));
            await Until(() => Says(controller, "needs a restart and waits"), "the site waits");
            Assert.Equal(2825, room[ModbusRoom.Fan]);
            await File.WriteAllTextAsync(At("site.yaml"), "site: {");
            Save("rooms: {");
            Assert.Equal(0, controller.Stop());
        }

        // Both files are broken now: it starts with what was good last.
        using var again = new ControllerProcess(folder.FullName, Program);
        await Until(() => room[ModbusRoom.Fan] == 2825, "fan at 30 % after a start with broken files");
        await Until(() => Says(again, "started with the last good site.yaml"), "the start is told");
        await Until(() => Answer().Contains("could not be read as a whole. Everything stays as it was.", StringComparison.Ordinal), "the answer of the start");
        Assert.Equal(0, again.Stop());
        Assert.Contains("nothing was started", Type("lockstep", folder.FullName), StringComparison.Ordinal);
    }

    private string At(string name) => Path.Combine(folder.FullName, name);

    /// <summary>As an editor saves: beside it, then renamed over it.</summary>
    private void Save(string text)
    {
        File.WriteAllText(At("household.yaml~"), text);
        File.Move(At("household.yaml~"), At("household.yaml"), overwrite: true);
    }

    private string Answer() => File.Exists(At("household.answer.txt")) ? File.ReadAllText(At("household.answer.txt")) : "";

    private static string Type(params string[] arguments)
    {
        var start = new ProcessStartInfo(Program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true };
        using var process = Process.Start(start)!;
        var error = process.StandardError.ReadToEndAsync();
        return process.StandardOutput.ReadToEnd() + error.Result;
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
        output.WriteLine(Answer());
        Assert.Fail("waited 20 s in vain for: " + what);
    }
}

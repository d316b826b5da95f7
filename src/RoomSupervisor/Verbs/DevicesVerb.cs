// devices: what answers on the buses of a site, each wired point read once, what is missing and what to check; while a controller runs, its own counters instead:
// two programs on one bus would disturb each other. Writes nothing to any device.
using System.CommandLine;
using System.Text.Json;
using RoomSupervisor.Runtime.Control;
using Command = System.CommandLine.Command;

namespace RoomSupervisor.Verbs;

internal static class DevicesVerb
{
    public static Command Create()
    {
        var run = new RunOptions();
        var bus = new Option<string[]>("--bus") { Description = "scan this wire bus too, such as /dev/i2c-1", HelpName = "PATH", DefaultValueFactory = _ => [] };
        var units = new Option<string?>("--units") { Description = "ask these Modbus units of each host or line too, such as 1-32; each that is not there takes its time-out", HelpName = "FROM-TO" };
        var json = new Option<bool>("--json") { Description = "the same as one JSON object, for programs" };
        var command = new Command("devices", "List what answers on the site's buses and which driver may fit, read each wired point once, say what is missing and what to check. "
            + "While a controller runs, its own counters are shown and no bus is touched. Exit code 0, 1 something does not answer, 2 nobody could be asked.") { bus, units, json };
        run.AddTo(command);
        command.SetAction(parsed =>
        {
            if (!TryUnits(parsed.GetValue(units), out var others))
                return 2;
            if (!run.TryFind(parsed, out var client, out var directory))
                return 2;
            using (client)
            {
                try
                {
                    using var answer = client?.Ask("devices") ?? DeviceScan.Take(directory, parsed.GetValue(bus)!, others);
                    return answer is null ? 2 : Show(answer, parsed.GetValue(json));
                }
                catch (Exception e) when (e is ControlException or ControlLostException)
                {
                    return Refusal.Say("devices", e.Message);
                }
            }
        });
        return command;
    }

    private static int Show(JsonDocument answer, bool asJson)
    {
        ExplainPlace.Print(answer, asJson, DeviceLines.Of);
        var devices = answer.RootElement.GetProperty("devices").EnumerateArray();
        return devices.All(device => PointLines.Text(device, "state") == "answering" && device.GetProperty("channels").EnumerateArray().All(channel => PointLines.Text(channel, "problem").Length == 0)) ? 0 : 1;
    }

    private static bool TryUnits(string? text, out IReadOnlyList<int> units)
    {
        units = [];
        if (text is null)
            return true;
        var ends = text.Split('-');
        if (int.TryParse(ends[0], out var from) && int.TryParse(ends[^1], out var to) && ends.Length <= 2 && from >= 1 && to <= 247 && from <= to)
        {
            units = [.. Enumerable.Range(from, to - from + 1)];
            return true;
        }
        Console.Error.WriteLine($"devices: --units \"{text}\": write it like 1-32; units are 1 to 247");
        return false;
    }
}

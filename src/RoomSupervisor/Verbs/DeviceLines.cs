// Devices and buses as lines for people. Decides nothing; everything shown is in the answer, except what to check, which stands with the event of the same trouble.
using System.Globalization;
using System.Text.Json;
using RoomSupervisor.Hardware;

namespace RoomSupervisor.Verbs;

internal static class DeviceLines
{
    /// <summary>The lines of a whole answer.</summary>
    public static List<string> Of(JsonElement answer)
    {
        var isRunning = answer.GetProperty("running").GetBoolean();
        var lines = new List<string>
        {
            $"{PointLines.Text(answer, "site")}: {(isRunning ? "a controller runs; these are its own counters, no bus was touched" : "no controller runs; each sensor was read once, no output was touched")}",
        };
        foreach (var device in answer.GetProperty("devices").EnumerateArray())
            Device(device, isRunning, lines);
        if (answer.TryGetProperty("buses", out var buses))
            buses.EnumerateArray().ToList().ForEach(bus => Bus(bus, lines));
        if (answer.TryGetProperty("points", out var points))
            Points(points, lines);
        return lines;
    }

    private static void Device(JsonElement device, bool isRunning, List<string> lines)
    {
        var state = PointLines.Text(device, "state");
        var since = isRunning && device.GetProperty("since_s") is { ValueKind: JsonValueKind.Number } number ? $" for {PointLines.Duration(number.GetDouble())}" : "";
        lines.Add($"{PointLines.Text(device, "device")} ({PointLines.Text(device, "driver")}, {PointLines.Text(device, "place")}): {Words(state)}{since}{Counts(device)}");
        if (device.GetProperty("bus_given_up").GetBoolean())
            lines.Add($"  its bus hangs and was given up after {device.GetProperty("bus_replacements").GetInt32()} new beginnings | check: {HardwareEvents.BusStuck.Check}");
        if (state == "not-answering")
            lines.Add($"  {PointLines.Text(device, "last_problem")} | check: {HardwareEvents.DeviceNotAnswering.Check}");
        if (PointLines.Text(device, "set_up_problem") is { Length: > 0 } setUp)
            lines.Add($"  could not be set up: {setUp}");
        foreach (var channel in device.GetProperty("channels").EnumerateArray().Where(channel => PointLines.Text(channel, "problem").Length > 0 && state != "not-answering"))
        {
            var check = channel.GetProperty("output").GetBoolean() ? HardwareEvents.OutputNotWritable.Check : HardwareEvents.InputRefused.Check;
            lines.Add($"  {PointLines.Text(channel, "channel")} = {PointLines.Text(channel, "point")}: {PointLines.Text(channel, "problem")}{(channel.GetProperty("refused").GetBoolean() ? " | check: " + check : "")}");
        }
    }

    private static string Words(string state) => state switch { "answering" => "answers", "not-answering" => "DOES NOT ANSWER", _ => "not asked: no sensor is wired to it" };

    private static string Counts(JsonElement device)
    {
        var requests = device.GetProperty("requests").GetInt64();
        if (requests == 0)
            return "";
        var failures = device.GetProperty("failures").GetInt64();
        string Milliseconds(string key) => device.GetProperty(key) is { ValueKind: JsonValueKind.Number } s ? string.Create(CultureInfo.InvariantCulture, $"{s.GetDouble() * 1000:0.#} ms") : "–";
        var worst = device.GetProperty("latency_s").ValueKind == JsonValueKind.Number ? $", answers in {Milliseconds("mean_latency_s")} (at worst {Milliseconds("worst_latency_s")})" : "";
        var kinds = new[] { ("timed_out", "no answer in time"), ("bad_checksums", "checksum wrong"), ("no_acknowledges", "nobody there"), ("other_failures", "other"), ("refusals", "refused") }
            .Where(kind => device.GetProperty(kind.Item1).GetInt64() > 0).Select(kind => string.Create(CultureInfo.InvariantCulture, $"{device.GetProperty(kind.Item1).GetInt64()} {kind.Item2}"));
        var detail = string.Join(", ", kinds);
        return string.Create(CultureInfo.InvariantCulture, $"; {requests} requests, {failures} failed{(detail.Length > 0 ? $" ({detail})" : "")}{worst}");
    }

    private static void Bus(JsonElement bus, List<string> lines)
    {
        lines.Add($"bus {PointLines.Text(bus, "bus")}{(PointLines.Text(bus, "problem") is { Length: > 0 } problem ? ": " + problem : "")}");
        foreach (var one in bus.GetProperty("answers").EnumerateArray())
        {
            var users = Texts(one, "used_by");
            var drivers = Texts(one, "drivers_that_may_fit");
            lines.Add($"  {PointLines.Text(one, "place")} answers: {(users.Length > 0 ? users : "not in site.yaml")}{(users.Length == 0 && drivers.Length > 0 ? $"; may be {drivers}" : "")}");
        }
        foreach (var silent in bus.GetProperty("silent").EnumerateArray())
            lines.Add($"  {silent.GetString()} does not answer{(bus.GetProperty("answers").GetArrayLength() > 0 ? ": its address or unit, its supply, its plug" : "")}");
        if (bus.GetProperty("answers").GetArrayLength() == 0 && PointLines.Text(bus, "problem").Length == 0 && bus.GetProperty("silent").GetArrayLength() == 0)
            lines.Add("  nobody answers");
        if (PointLines.Text(bus, "check") is { Length: > 0 } check)
            lines.Add($"  check: {check}");
    }

    private static void Points(JsonElement points, List<string> lines)
    {
        var inputs = points.EnumerateArray().Where(point => PointLines.Text(point, "kind") == "input").ToList();
        var missing = inputs.Where(point => PointLines.Text(point, "quality") != "good").ToList();
        lines.Add($"{inputs.Count - missing.Count} of {inputs.Count} wired sensors read{(missing.Count > 0 ? "; missing:" : ", none is missing")}");
        lines.AddRange(missing.Select(point => $"  {PointLines.Text(point, "point")} ({PointLines.Text(point, "device")}.{PointLines.Text(point, "channel")}): {PointLines.Text(point, "why")}"));
        lines.AddRange(inputs.Except(missing).Select(point => $"  {PointLines.Text(point, "point")}: {PointLines.Text(point, "shown")}"));
    }

    private static string Texts(JsonElement one, string key) => string.Join(", ", one.GetProperty(key).EnumerateArray().Select(text => text.GetString()));
}

// Random faults of a campaign as lines of a scenario file, so that the strict reader judges them and a person can read them. Must never depend on anything but the seed.
using System.Globalization;
using System.Text;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Rehearsal.Campaign;

/// <summary>Draws three to six faults for the first phase of a campaign's day.</summary>
internal sealed class RandomFaults(ScenarioNames names, ulong seed)
{
    /// <summary>Faults begin at this hour of the first day and are all over at the other.</summary>
    public const int FromHour = 6, ToHour = 15;

    private int draw;

    /// <summary>The group <c>faults:</c>.</summary>
    public string Text()
    {
        var text = new StringBuilder("faults:\n");
        var count = 3 + Below(4);
        for (var i = 0; i < count; i++)
        {
            // Minutes after the first hour; at most three hours each.
            var at = Below((ToHour - FromHour) * 60 - 10);
            var minutes = Math.Min(5 + Below(175), (ToHour - FromHour) * 60 - at);
            text.Append(CultureInfo.InvariantCulture, $"  fault-{i + 1}: {{{What()}, day: 1, at: {FromHour + at / 60:00}:{at % 60:00}, for: {minutes} min}}\n");
        }
        if (Below(3) == 0)
            text.Append(CultureInfo.InvariantCulture, $"  mains: {{what: power-cut, where: site, day: 1, at: {FromHour + 1 + Below(ToHour - FromHour - 2):00}:{Below(60):00}, for: {30 + Below(1800)} s}}\n");
        if (Below(4) == 0)
            text.Append(CultureInfo.InvariantCulture, $"  clock: {{what: clock-jump, where: site, time: {(Below(2) == 0 ? "-" : "")}{600 + Below(7200)} s, day: 1, at: {FromHour + Below(ToHour - FromHour - 3):00}:{Below(60):00}, for: 2 h}}\n");
        return text.ToString();
    }

    private int Below(int limit) => (int)(Chance.Even(seed, draw++, 1) * limit);

    private string What() => Below(10) switch
    {
        < 6 => Point(names.Points[Below(names.Points.Count)]),
        < 8 => Part(names.Parts[Below(names.Parts.Count)]),
        _ => Device(names.Devices[Below(names.Devices.Count)]),
    };

    private string Point(string point)
    {
        var isContact = !point.EndsWith("temperature", StringComparison.Ordinal) && !point.EndsWith("humidity", StringComparison.Ordinal);
        var by = point.EndsWith("humidity", StringComparison.Ordinal) ? 5 + Below(10) : 1 + Below(4);
        var kind = Below(isContact ? 3 : 8) switch
        {
            0 => "what: \"off\"",
            1 => "what: stuck",
            2 => $"what: intermittent, share: {20 + Below(60)} %",
            3 => $"what: wrong-by, by: {(Below(2) == 0 ? -by : by)}",
            4 => $"what: drifting, by: {(Below(2) == 0 ? -by : by)}",
            5 => string.Create(CultureInfo.InvariantCulture, $"what: noisy, by: {by * 0.2:0.0}"),
            6 => $"what: slow, time: {60 + Below(600)} s",
            _ => $"what: delayed, time: {30 + Below(300)} s",
        };
        return $"{kind}, where: {point}";
    }

    private string Part(string part) => part switch
    {
        "source" => "what: locked-out, where: source",
        _ when part.EndsWith(".fan", StringComparison.Ordinal) => Below(2) == 0 ? $"what: seized, where: {part}" : $"what: dusty, where: {part}, share: {20 + Below(40)} %",
        _ when part.EndsWith(".pump", StringComparison.Ordinal) => Below(2) == 0 ? $"what: seized, where: {part}" : $"what: air-lock, where: {part}, share: {20 + Below(70)} %",
        _ => Below(2) == 0 ? $"what: valve-stuck, where: {part}" : $"what: leaking, where: {part}, share: {2 + Below(20)} %",
    };

    private string Device(string device) => $"what: {(Below(2) == 0 ? "absent" : "hung")}, where: {device}";
}

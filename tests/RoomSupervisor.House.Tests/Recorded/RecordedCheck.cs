// What must hold on every line of a recorded room, judged from what was sent and what was answered alone; and how often each stage,
// guard level and cap was really entered. It must never share a formula with the supervisor except the published fan law.
using System.Globalization;
using System.Text.Json;
using RoomSupervisor.Story;

namespace RoomSupervisor.House.Tests.Recorded;

internal sealed class RecordedCheck
{
    private static readonly TimeZoneInfo Zone = TimeZoneInfo.FindSystemTimeZoneById("America/New_York");   // the example's

    private readonly Dictionary<string, string> before = [];
    private double coldForS;

    public int Lines { get; private set; }

    /// <summary>How often a stage, a guard level, a cap or a reason of the surface was entered: "stage pull-down", "guard raised", "cap quiet-hours".</summary>
    public Dictionary<string, int> Entered { get; } = [];

    public List<string> Broken { get; } = [];

    public void Line(PlayedLine line)
    {
        Lines++;
        using var json = JsonDocument.Parse(line.Answer);
        var answer = json.RootElement;
        if (answer.TryGetProperty("error", out var error))
        {
            Fail(line, "error: " + error.GetString());
            return;
        }
        var commands = answer.GetProperty("commands");
        var room = answer.GetProperty("rooms").GetProperty("weaving-room");
        Outputs(line, commands);
        Caps(line, commands);
        Surface(line, commands, room);
        DewPoint(line, room);
        var reason = room.GetProperty("reasons").GetProperty("coil.fan").GetString()!;
        Enter("stage", room.GetProperty("stage").GetString()!);
        Enter("guard", room.GetProperty("guard").GetString()!);
        Enter("cap", reason);
        Enter("surface", room.GetProperty("reasons").GetProperty("ceiling.valve").GetString()!);
    }

    private void Enter(string what, string now)
    {
        if (before.GetValueOrDefault(what) == now)
            return;
        before[what] = now;
        var key = $"{what} {now}";
        Entered[key] = Entered.GetValueOrDefault(key) + 1;
    }

    private void Outputs(PlayedLine line, JsonElement commands)
    {
        foreach (var command in commands.EnumerateObject())
        {
            if (command.Value.ValueKind == JsonValueKind.Number && command.Value.GetDouble() is < 0 or > 100)
                Fail(line, $"{command.Name} = {command.Value}");
        }
        if (commands.GetProperty("ceiling-loop.pump.run").GetBoolean() && commands.GetProperty("weaving-room.ceiling.valve").GetDouble() <= 0)
            Fail(line, "the pump pushes against a shut valve");
    }

    /// <summary>Fan at or under the household's limit, quiet hours, the noise limit (50·log10, 47 dB at full speed) and the draught limit of 60 %.</summary>
    private void Caps(PlayedLine line, JsonElement commands)
    {
        var fan = commands.GetProperty("weaving-room.coil.fan").GetDouble();
        var local = TimeZoneInfo.ConvertTimeFromUtc(line.Utc, Zone).TimeOfDay;
        var quiet = local >= new TimeSpan(20, 30, 0) || local < new TimeSpan(7, 30, 0);
        var noise = 100 * Math.Pow(10, (line.Wishes.NoiseAtMostDb - 47) / 50);
        double[] caps = [line.Wishes.FanAtMostPercent, quiet ? 20 : 100, noise, 60];
        if (fan > caps.Min() + 1e-9)
            Fail(line, string.Create(CultureInfo.InvariantCulture, $"fan {fan} % over a cap of {caps.Min()} %"));
        if (fan is > 0 and < 20)
            Fail(line, $"fan {fan} % runs under its slowest speed");
    }

    /// <summary>
    /// The surface is never commanded open more than 20 s after measured supply fell under the worst-case dew point + 0.3 K, nor on the line on which it
    /// fell under − 0.2 K; warming through with the mixing valve at 0 % excepted.
    /// </summary>
    private void Surface(PlayedLine line, JsonElement commands, JsonElement room)
    {
        var open = commands.GetProperty("weaving-room.ceiling.valve").GetDouble() > 0;
        var warmsThrough = commands.GetProperty("ceiling-loop.mixing.valve").GetDouble() == 0
            && room.GetProperty("reasons").GetProperty("ceiling.valve").GetString() == "warm-through";
        var worst = room.GetProperty("dew_point_worst_c");
        if (worst.ValueKind == JsonValueKind.Null)
        {
            if (open)
                Fail(line, "open although nobody knows the dew point");
            return;
        }
        if (double.IsNaN(line.SupplyC))
            return;   // a missing supply is last-good for a minute, then the guard shuts: bench test 5.8
        var above = line.SupplyC - worst.GetDouble();
        coldForS = above < 0.3 ? coldForS + Math.Min(line.StepS, 10) : 0;
        if (!open || warmsThrough)
            return;
        if (above < -0.2)
            Fail(line, string.Create(CultureInfo.InvariantCulture, $"open with water {-above:0.00} K under the worst-case dew point"));
        else if (coldForS > 20)
            Fail(line, string.Create(CultureInfo.InvariantCulture, $"open {coldForS} s after the water came within {above:0.00} K of the worst-case dew point"));
    }

    /// <summary>
    /// The dew point by Magnus (WMO-No. 8: 611.2 Pa, 17.62, 243.12 °C, over water), ours to be within its 0.04 K and what the filter lags; the worst case is at least
    /// what ±0.3 K and ±2 % cost at the dry end of the table (0.5 K) above it.
    /// </summary>
    private void DewPoint(PlayedLine line, JsonElement room)
    {
        if (room.GetProperty("dew_point_c").ValueKind == JsonValueKind.Null || double.IsNaN(line.TemperatureC) || line.StepS > 15)
            return;
        var x = Math.Log(line.HumidityPercent / 100) + 17.62 * line.TemperatureC / (243.12 + line.TemperatureC);
        var magnus = 243.12 * x / (17.62 - x);
        var ours = room.GetProperty("dew_point_c").GetDouble();
        if (Math.Abs(ours - magnus) > 0.3)
            Fail(line, string.Create(CultureInfo.InvariantCulture, $"dew point {ours:0.00} °C, Magnus says {magnus:0.00} °C"));
        if (room.GetProperty("dew_point_worst_c").GetDouble() - ours < 0.5)
            Fail(line, string.Create(CultureInfo.InvariantCulture, $"worst case only {room.GetProperty("dew_point_worst_c").GetDouble() - ours:0.00} K above the dew point"));
    }

    private void Fail(PlayedLine line, string what)
    {
        if (Broken.Count < 20)
            Broken.Add($"{line.Utc:u} {what}");
    }
}

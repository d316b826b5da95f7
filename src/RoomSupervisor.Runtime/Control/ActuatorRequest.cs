// The request "actuator": what is known of the thing behind an output, for somebody who wants to move it: what it is, how long it takes, what it needs first. Looks only.
using System.Text.Json;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Runtime.Control;

/// <summary>What stands behind an output.</summary>
/// <param name="Kind">fan, valve, pump, speed or relay.</param>
/// <param name="Low">Value at rest.</param>
/// <param name="High">Value that can be seen or heard: a fan's start speed, a valve open, a relay on.</param>
/// <param name="TakesS">Time to get from one to the other, s.</param>
public sealed record Actuator(string Kind, double Low, double High, double TakesS)
{
    /// <summary>Outputs of which one must be open first; empty: none.</summary>
    public IReadOnlyList<string> Needs { get; init; } = [];

    /// <summary>Why it is not blinked; empty: it may be.</summary>
    public string NotBlinked { get; init; } = "";
}

/// <summary>Answers what stands behind an output. Keys: <c>point</c>.</summary>
public sealed class ActuatorRequest(ControlParts parts) : IControlRequest
{
    /// <summary>Time to see or hear a fan, s (common practice, no published source: a fan coil runs down in some five).</summary>
    private const double FanS = 10;

    /// <summary>Time to hear a relay or a pump, s (common practice, no published source).</summary>
    private const double RelayS = 5;

    public string Name => "actuator";

    public IReadOnlyList<string> Keys { get; } = ["point"];

    public void Answer(JsonElement request, PeerUser user, Utf8JsonWriter answer)
    {
        var id = ControlRequests.Text(request, "point") ?? throw new ControlException("\"point\" is missing: which output?");
        var output = HandWork.OutputOf(parts, id);
        var scan = parts.Latest();
        if (HandOutputs.WhyNever(scan.House, output) is { } never)
            throw new ControlException($"{id} is never set by hand: {never}");
        var (actuator, quantity) = (Of(scan.House, output), scan.House.OutputTable[output].Quantity);
        answer.WriteBoolean("ok", true);
        answer.WriteString("point", id);
        answer.WriteString("kind", actuator.Kind);
        answer.WriteString("low", ControlJson.Shown(actuator.Low, quantity, scan.House.Units));
        answer.WriteString("high", ControlJson.Shown(actuator.High, quantity, scan.House.Units));
        answer.WriteNumber("takes_s", actuator.TakesS);
        answer.WriteBoolean("is_high", scan.Commands[output].Value > (actuator.Low + actuator.High) / 2);
        answer.WriteString("not_blinked", actuator.NotBlinked);
        answer.Texts("needs", actuator.Needs);
    }

    /// <summary>What stands behind an output of a house.</summary>
    public static Actuator Of(House house, int output)
    {
        foreach (var coil in house.Coils)
        {
            if (coil.Fan == output)
                return new Actuator("fan", 0, coil.StartSpeedPercent, FanS);
            if (coil.Valve == output || coil.HeatingValve == output)
                return new Actuator("valve", 0, 100, Math.Max(coil.OpeningTimeS, Slower(coil.Actuator)));
        }
        foreach (var circuit in house.Circuits)
        {
            if (circuit.Valve == output)
                return new Actuator("valve", 0, 100, Slower(circuit.Actuator));
        }
        foreach (var loop in house.Loops)
        {
            if (loop.Mixing == output)
                return new Actuator("valve", 0, 100, loop.StrokeS);
            if (loop.PumpSpeed == output)
                return new Actuator("speed", loop.Settings.PumpSlowestPercent, 100, RelayS) { Needs = [house.OutputTable[loop.Pump].Id] };
            if (loop.Pump == output || loop.StandbyPump == output)
                return new Actuator("pump", 0, 1, RelayS) { Needs = ValvesOf(house, loop) };
        }
        return house.Sources.Any(source => source.Call == output)
            ? new Actuator("relay", 0, 1, RelayS) { NotBlinked = "a compressor is not blinked: each start costs it life and its shortest run and rest hold anyway; set it on once for ten minutes instead" }
            : new Actuator("relay", 0, 1, RelayS);
    }

    private static double Slower(ActuatorKind actuator) => double.IsFinite(actuator.ClosingTimeS) ? Math.Max(actuator.OpeningTimeS, actuator.ClosingTimeS) : actuator.OpeningTimeS;

    private static string[] ValvesOf(House house, Loop loop)
        => [.. loop.Circuits.Select(index => house.Circuits[index].Valve).Concat(loop.Coils.Select(index => house.Coils[index].Valve)).Where(output => output >= 0).Select(output => house.OutputTable[output].Id)];
}

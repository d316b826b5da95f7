// All wired points at one moment, from the answer to the request "points": the same reading for the running controller and for the virtual house. Must never make a value of one that is not there.
using System.Text.Json;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Checkout;

/// <summary>Points as told.</summary>
internal sealed class PointsNow
{
    private readonly InputNow[] inputs;
    private readonly OutputNow[] outputs;

    private PointsNow(House house)
    {
        inputs = new InputNow[house.InputTable.Count];
        outputs = new OutputNow[house.OutputTable.Count];
        Array.Fill(inputs, new InputNow(double.NaN, double.NaN, "not wired"));
        Array.Fill(outputs, new OutputNow(double.NaN, double.NaN, false, "not wired", "not wired"));
    }

    public InputNow Input(int index) => inputs[index];

    public OutputNow Output(int index) => outputs[index];

    /// <summary>Nothing answers: the board has no power, or the controller is gone.</summary>
    public static PointsNow Nothing(House house)
    {
        var now = new PointsNow(house);
        Array.Fill(now.inputs, new InputNow(double.NaN, double.NaN, "the controller does not answer"));
        Array.Fill(now.outputs, new OutputNow(double.NaN, double.NaN, false, "the controller does not answer", "the controller does not answer"));
        return now;
    }

    /// <summary>Reads an answer.</summary>
    public static PointsNow Of(House house, JsonElement answer)
    {
        var now = new PointsNow(house);
        foreach (var point in answer.GetProperty("points").EnumerateArray())
        {
            var id = point.GetProperty("point").GetString()!;
            if (point.GetProperty("kind").GetString() == "input" && house.InputTable.IndexOf(id) is >= 0 and var input)
                now.inputs[input] = new InputNow(Number(point, "value"), Number(point, "raw"), Text(point, "why"));
            else if (house.OutputTable.IndexOf(id) is >= 0 and var output)
                now.outputs[output] = OutputOf(point);
        }
        return now;
    }

    private static OutputNow OutputOf(JsonElement point)
    {
        var (volts, problem) = (double.NaN, "");
        foreach (var wire in point.GetProperty("written").EnumerateArray())
        {
            if (Text(wire, "shown").EndsWith(" V", StringComparison.Ordinal))
                volts = Number(wire, "value");
            if (Text(wire, "problem") is { Length: > 0 } said)
                problem = said;
        }
        var isByHand = point.TryGetProperty("hand", out var hand) && hand.ValueKind == JsonValueKind.Object;
        return new OutputNow(Number(point, "value"), volts, isByHand, Text(point, "why"), problem);
    }

    private static double Number(JsonElement from, string name) => !from.TryGetProperty(name, out var value) ? double.NaN : value.ValueKind switch
    {
        JsonValueKind.Number => value.GetDouble(),
        JsonValueKind.True => 1,
        JsonValueKind.False => 0,
        _ => double.NaN,
    };

    private static string Text(JsonElement from, string name) => from.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.String ? value.GetString()! : "";
}

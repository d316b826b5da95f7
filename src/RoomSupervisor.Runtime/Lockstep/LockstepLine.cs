// One line of lockstep input, read strictly into reusable buffers. Nothing is applied here: a line that turns out wrong leaves no
// trace, because state is touched only after the whole line was read.
using System.Buffers;
using System.Text;
using System.Text.Json;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Lockstep;

/// <summary>A wrong line; the message is for the person who wrote it.</summary>
public sealed class LockstepException(string message) : Exception(message);

/// <summary>The contents of one line.</summary>
internal sealed partial class LockstepLine(House house)
{
    private readonly int[] seenReading = new int[house.InputTable.Count];
    private readonly int[] seenFault = new int[house.InputTable.Count];
    private readonly int[] seenTaken = new int[house.InputTable.Count];
    private int number;

    public double[] Values { get; } = new double[house.InputTable.Count];

    public Fault[] Faults { get; } = new Fault[house.InputTable.Count];

    public double[] TakenS { get; } = new double[house.InputTable.Count];

    public DateTime Utc { get; private set; }

    /// <summary>NaN when absent.</summary>
    public double ElapsedS { get; private set; }

    /// <summary>NaN when no restart is asked for.</summary>
    public double RestartGapS { get; private set; }

    public List<(string Path, string Text)> Settings { get; } = [];

    public List<HandRequest> Hands { get; } = [];

    /// <summary>Reads a line.</summary>
    /// <exception cref="LockstepException">Something is wrong with it; says what.</exception>
    public void Read(ReadOnlySpan<byte> json)
    {
        number++;
        if (!ChangesOnly)
            Forget();
        Settings.Clear();
        Hands.Clear();
        ElapsedS = double.NaN;
        RestartGapS = double.NaN;
        try
        {
            var reader = new Utf8JsonReader(json, new JsonReaderOptions { MaxDepth = 8 });
            ReadTop(ref reader);
        }
        catch (JsonException e)
        {
            throw new LockstepException($"this is no JSON object on one line: {Short(e.Message)}");
        }
        catch (InvalidOperationException e)
        {
            throw new LockstepException($"text that is no valid UTF-8: {e.Message}");
        }
    }

    /// <summary>Without the parser's own line count: a line here is always its line 0.</summary>
    private static string Short(string message)
    {
        var end = message.IndexOf(" LineNumber:", StringComparison.Ordinal);
        return end < 0 ? message : message[..end];
    }

    private void ReadTop(ref Utf8JsonReader reader)
    {
        if (!reader.Read() || reader.TokenType != JsonTokenType.StartObject)
            throw new LockstepException("a line is one JSON object: {\"time\":…,\"readings\":{…}}");
        var seen = 0;
        while (Next(ref reader))
        {
            var field = Field(reader);
            if ((seen & (1 << field)) != 0)
                throw new LockstepException($"\"{reader.GetString()}\" stands twice");
            seen |= 1 << field;
            reader.Read();
            ReadField(ref reader, field);
        }
        if (reader.Read())
            throw new LockstepException("something stands after the object");
        if ((seen & 1) == 0)
            throw new LockstepException("\"time\" is missing: wall time in ISO 8601, e.g. 2026-07-14T19:00:00Z");
    }

    private static int Field(in Utf8JsonReader reader)
    {
        if (reader.ValueTextEquals("time"u8)) return 0;
        if (reader.ValueTextEquals("elapsed"u8)) return 1;
        if (reader.ValueTextEquals("readings"u8)) return 2;
        if (reader.ValueTextEquals("faults"u8)) return 3;
        if (reader.ValueTextEquals("taken"u8)) return 4;
        if (reader.ValueTextEquals("settings"u8)) return 5;
        if (reader.ValueTextEquals("hand"u8)) return 6;
        if (reader.ValueTextEquals("restart"u8)) return 7;
        if (reader.ValueTextEquals("taken_at"u8)) return TakenAtField;
        if (reader.ValueTextEquals("did"u8)) return DidField;
        if (reader.ValueTextEquals("check"u8)) return CheckField;
        throw new LockstepException(
            $"unknown field \"{reader.GetString()}\": allowed are time, elapsed, readings, faults, taken, settings, hand, restart; of a trace taken_at, did, check");
    }

    private void ReadField(ref Utf8JsonReader reader, int field)
    {
        switch (field)
        {
            case 0:
                ReadTime(reader);
                break;
            case 1:
                ElapsedS = Seconds(reader, "elapsed");
                break;
            case 2:
                ReadReadings(ref reader);
                break;
            case 3:
                ReadFaults(ref reader);
                break;
            case 4:
                ReadTaken(ref reader);
                break;
            case 5:
                ReadSettings(ref reader);
                break;
            case 6:
                ReadHands(ref reader);
                break;
            case 7:
                ReadRestart(ref reader);
                break;
            default:
                ReadOfTrace(ref reader, field);
                break;
        }
    }

    private void ReadTime(in Utf8JsonReader reader)
    {
        var text = reader.ValueSpan;
        var zoned = text.Length > 10 && (text[^1] == 'Z' || text[10..].IndexOfAny((byte)'+', (byte)'-') >= 0);
        if (reader.TokenType != JsonTokenType.String || !zoned || !reader.TryGetDateTimeOffset(out var time))
            throw new LockstepException("\"time\" must be ISO 8601 with Z or an offset, e.g. 2026-07-14T19:00:00Z");
        Utc = time.UtcDateTime;
    }

    private void ReadReadings(ref Utf8JsonReader reader)
    {
        OpenObject(reader, "readings");
        while (Next(ref reader))
        {
            var input = Input(reader, seenReading, "readings");
            reader.Read();
            var isSwitch = house.InputTable[input].IsSwitch;
            Values[input] = reader.TokenType switch
            {
                JsonTokenType.Null => double.NaN,
                JsonTokenType.True when isSwitch => 1,
                JsonTokenType.False when isSwitch => 0,
                JsonTokenType.Number when !isSwitch => Number(reader, house.InputTable[input].Id),
                _ => throw new LockstepException($"readings: {house.InputTable[input].Id} takes {(isSwitch ? "true or false" : "a number")}, or null"),
            };
            if (ChangesOnly)
                Faults[input] = reader.TokenType == JsonTokenType.Null ? Fault.NotRead : Fault.None;   // its fault, if any, stands behind it
            else if (reader.TokenType != JsonTokenType.Null && Faults[input] == Fault.NotRead)
                Faults[input] = Fault.None;
        }
    }

    private void ReadFaults(ref Utf8JsonReader reader)
    {
        OpenObject(reader, "faults");
        while (Next(ref reader))
        {
            var input = Input(reader, seenFault, "faults");
            reader.Read();
            if (reader.TokenType != JsonTokenType.String || !Names.TryFault(reader.GetString()!, out var fault))
                throw new LockstepException($"faults: {house.InputTable[input].Id} takes bus-error, crc, no-acknowledge, timeout or out-of-range");
            Faults[input] = fault;
        }
    }

    private void ReadTaken(ref Utf8JsonReader reader)
    {
        OpenObject(reader, "taken");
        while (Next(ref reader))
        {
            var input = Input(reader, seenTaken, "taken");
            reader.Read();
            TakenS[input] = Seconds(reader, $"taken: {house.InputTable[input].Id}");
        }
    }

    private void ReadSettings(ref Utf8JsonReader reader)
    {
        OpenObject(reader, "settings");
        while (Next(ref reader))
        {
            var path = reader.GetString()!;
            if (Settings.Exists(setting => setting.Path == path))
                throw new LockstepException($"settings: \"{path}\" stands twice");
            reader.Read();
            if (reader.TokenType is not (JsonTokenType.String or JsonTokenType.Number or JsonTokenType.True or JsonTokenType.False))
                throw new LockstepException($"settings: \"{path}\" takes a text such as \"40 %\"");
            Settings.Add((path, reader.TokenType == JsonTokenType.String ? reader.GetString()! : Encoding.UTF8.GetString(reader.ValueSpan)));
        }
    }

    private void ReadHands(ref Utf8JsonReader reader)
    {
        OpenObject(reader, "hand");
        while (Next(ref reader))
        {
            var id = reader.GetString()!;
            var output = house.OutputTable.IndexOf(id);
            if (output < 0)
                throw new LockstepException($"hand: there is no output \"{id}\"");
            if (Hands.Exists(hand => hand.Output == output))
                throw new LockstepException($"hand: \"{id}\" stands twice");
            reader.Read();
            Hands.Add(reader.TokenType == JsonTokenType.Null ? new HandRequest(output, double.NaN, 0) : ReadHand(ref reader, output, id));
        }
    }

    private HandRequest ReadHand(ref Utf8JsonReader reader, int output, string id)
    {
        OpenObject(reader, $"hand: {id}");
        double value = double.NaN, forS = double.NaN;
        while (Next(ref reader))
        {
            var isValue = reader.ValueTextEquals("value"u8);
            if (!isValue && !reader.ValueTextEquals("for_s"u8))
                throw new LockstepException($"hand: {id} takes {{\"value\":…,\"for_s\":…}}");
            if (!double.IsNaN(isValue ? value : forS))
                throw new LockstepException($"hand: {id}: {reader.GetString()} stands twice");
            reader.Read();
            if (isValue)
                value = HandNumber(reader, output, id);
            else
                forS = Seconds(reader, $"hand: {id}: for_s");
        }
        if (!HandValues.IsAllowed(house, output, value, forS, out var why))
            throw new LockstepException($"hand: {id}: {why}");
        return new HandRequest(output, value, forS);
    }

    private double HandNumber(in Utf8JsonReader reader, int output, string id)
    {
        var isSwitch = house.OutputTable[output].IsSwitch;
        return reader.TokenType switch
        {
            JsonTokenType.True when isSwitch => 1,
            JsonTokenType.False when isSwitch => 0,
            JsonTokenType.Number when !isSwitch => Number(reader, id),
            _ => throw new LockstepException($"hand: {id}: value takes {(isSwitch ? "true or false" : "percent, 0 to 100")}"),
        };
    }

    private void ReadRestart(ref Utf8JsonReader reader)
    {
        OpenObject(reader, "restart");
        while (Next(ref reader))
        {
            if (!reader.ValueTextEquals("gap_s"u8))
                throw new LockstepException("restart takes {\"gap_s\":…}");
            if (!double.IsNaN(RestartGapS))
                throw new LockstepException("restart: gap_s stands twice");
            reader.Read();
            RestartGapS = Seconds(reader, "restart: gap_s");
        }
        if (double.IsNaN(RestartGapS))
            throw new LockstepException("restart takes {\"gap_s\":…}");
    }

    private static void OpenObject(in Utf8JsonReader reader, string what)
    {
        if (reader.TokenType != JsonTokenType.StartObject)
            throw new LockstepException($"\"{what}\" must be an object {{…}}");
    }

    /// <summary>Moves to the next name of an object; false at its end.</summary>
    private static bool Next(ref Utf8JsonReader reader) => reader.Read() && reader.TokenType == JsonTokenType.PropertyName;

    private int Input(in Utf8JsonReader reader, int[] seen, string field)
    {
        Span<char> characters = stackalloc char[128];
        var index = -1;
        if (reader.ValueSpan.Length <= characters.Length)
            index = house.InputTable.IndexOf(characters[..reader.CopyString(characters)]);
        if (index < 0)
        {
            var id = reader.GetString()!;
            throw new LockstepException(house.OutputTable.IndexOf(id) >= 0
                ? $"{field}: \"{id}\" is an output; the controller decides it"
                : $"{field}: this house has no input \"{id}\"");
        }
        if (seen[index] == number)
            throw new LockstepException($"{field}: \"{house.InputTable[index].Id}\" stands twice");
        seen[index] = number;
        return index;
    }

    private static double Number(in Utf8JsonReader reader, string what)
    {
        if (reader.TokenType == JsonTokenType.Number && reader.TryGetDouble(out var value) && double.IsFinite(value))
            return value;
        throw new LockstepException($"{what} takes a finite number");
    }

    private static double Seconds(in Utf8JsonReader reader, string what)
    {
        var value = Number(reader, what);
        return value >= 0 ? value : throw new LockstepException($"{what} takes seconds, 0 or more");
    }
}

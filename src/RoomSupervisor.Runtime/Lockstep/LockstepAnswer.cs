// Writes the answer to a lockstep line: one JSON object with commands, states, reasons, readings that are not good, and events.
// Names are encoded once; only events allocate.
using System.Buffers;
using System.Text.Json;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Lockstep;

/// <summary>Answers of one house. Field names and values are fixed by the lockstep format (shared/reference/lockstep.md).</summary>
internal sealed class LockstepAnswer : IDisposable
{
    private static readonly JsonEncodedText[] CauseNames = [.. Enum.GetValues<Cause>().Select(cause => JsonEncodedText.Encode(CauseWords.Name(cause)))];
    private static readonly Dictionary<int, EventDefinition> Events = SequenceEvents.All.ToDictionary(definition => definition.Id);

    private readonly House house;
    private readonly JsonEncodedText[] inputs;
    private readonly JsonEncodedText[] outputs;
    private readonly JsonEncodedText[] rooms;
    private readonly JsonEncodedText[] loops;
    private readonly (JsonEncodedText Name, int Output)[][] roomOutputs;
    private readonly Utf8JsonWriter writer;

    public LockstepAnswer(House house)
    {
        this.house = house;
        inputs = [.. house.InputTable.All.Select(point => JsonEncodedText.Encode(point.Id))];
        outputs = [.. house.OutputTable.All.Select(point => JsonEncodedText.Encode(point.Id))];
        rooms = [.. house.Rooms.Select(room => JsonEncodedText.Encode(room.Id))];
        loops = [.. house.Loops.Select(loop => JsonEncodedText.Encode(loop.Id))];
        roomOutputs = [.. house.Rooms.Select(OutputsOf)];
        writer = new Utf8JsonWriter(Stream.Null, new JsonWriterOptions { SkipValidation = true });
    }

    public void Write(
        IBufferWriter<byte> into, DateTime utc, OutputImage image, IReadOnlyList<(string Path, string? Refused)> settings)
    {
        writer.Reset(into);
        writer.WriteStartObject();
        writer.WriteString("time"u8, utc);
        Commands(image);
        Rooms(image);
        Loops(image);
        Sources(image);
        Readings(image);
        Settings(settings);
        Happenings(image);
        writer.WriteEndObject();
        writer.Flush();
    }

    /// <summary>The answer to a line that could not be read: nothing was changed.</summary>
    public void WriteError(IBufferWriter<byte> into, long line, string message)
    {
        writer.Reset(into);
        writer.WriteStartObject();
        writer.WriteString("error"u8, $"line {line}: {message}");
        writer.WriteEndObject();
        writer.Flush();
    }

    public void Dispose() => writer.Dispose();

    private (JsonEncodedText Name, int Output)[] OutputsOf(Room room)
        => [.. house.OutputTable.All
            .Select((point, index) => (point.Id, index))
            .Where(output => output.Id.StartsWith(room.Id + ".", StringComparison.Ordinal))
            .Select(output => (JsonEncodedText.Encode(output.Id[(room.Id.Length + 1)..]), output.index))];

    private void Commands(OutputImage image)
    {
        writer.WriteStartObject("commands"u8);
        for (var i = 0; i < outputs.Length; i++)
        {
            if (house.OutputTable[i].IsSwitch)
                writer.WriteBoolean(outputs[i], image.Commands[i].Value > 0.5);
            else
                Number(outputs[i], image.Commands[i].Value);
        }
        writer.WriteEndObject();
    }

    private void Rooms(OutputImage image)
    {
        writer.WriteStartObject("rooms"u8);
        for (var i = 0; i < rooms.Length; i++)
        {
            ref readonly var room = ref image.Rooms[i];
            writer.WriteStartObject(rooms[i]);
            writer.WriteString("stage"u8, Names.Of(room.Stage));
            writer.WriteString("moisture"u8, Names.Of(room.Moisture));
            writer.WriteString("guard"u8, Names.Of(room.Guard));
            Number("dew_point_c"u8, room.DewPointC);
            Number("dew_point_worst_c"u8, room.DewPointWorstC);
            writer.WriteStartObject("reasons"u8);
            foreach (var (name, output) in roomOutputs[i])
                writer.WriteString(name, CauseNames[(int)image.Commands[output].Binding.Cause]);
            writer.WriteEndObject();
            writer.WriteEndObject();
        }
        writer.WriteEndObject();
    }

    private void Sources(OutputImage image)
    {
        for (var i = 0; i < image.Sources.Length; i++)
        {
            writer.WriteStartObject(house.Sources[i].Id);
            writer.WriteBoolean("calling"u8, image.Sources[i].Calling);
            writer.WriteString("mode"u8, Names.Of(image.Sources[i].Mode));
            writer.WriteEndObject();
        }
    }

    private void Loops(OutputImage image)
    {
        writer.WriteStartObject("loops"u8);
        for (var i = 0; i < loops.Length; i++)
        {
            ref readonly var loop = ref image.Loops[i];
            writer.WriteStartObject(loops[i]);
            Number("set_point_c"u8, loop.SetPointC);
            Number("lowest_safe_supply_c"u8, loop.LowestSafeSupplyC);
            writer.WriteString("guard"u8, Names.Of(loop.Guard));
            writer.WriteEndObject();
        }
        writer.WriteEndObject();
    }

    private void Readings(OutputImage image)
    {
        writer.WriteStartObject("readings"u8);
        for (var i = 0; i < inputs.Length; i++)
        {
            ref readonly var reading = ref image.Readings[i];
            if (reading.Quality == Quality.Good)
                continue;
            writer.WriteStartObject(inputs[i]);
            writer.WriteString("quality"u8, Names.Of(reading.Quality));
            writer.WriteString("cause"u8, CauseNames[(int)reading.Cause]);
            writer.WriteEndObject();
        }
        writer.WriteEndObject();
    }

    private void Settings(IReadOnlyList<(string Path, string? Refused)> settings)
    {
        writer.WriteStartObject("settings"u8);
        foreach (var (path, refused) in settings)
        {
            writer.WriteStartObject(path);
            writer.WriteBoolean("accepted"u8, refused is null);
            if (refused is not null)
                writer.WriteString("why"u8, refused);
            writer.WriteEndObject();
        }
        writer.WriteEndObject();
    }

    private void Happenings(OutputImage image)
    {
        writer.WriteStartArray("events"u8);
        foreach (ref readonly var happening in image.Happenings.Items)
        {
            var definition = Events[happening.EventId];
            writer.WriteStartObject();
            writer.WriteNumber("id"u8, definition.Id);
            writer.WriteString("priority"u8, Names.Of(definition.Priority));
            writer.WriteString("where"u8, house.NameOf(happening.Owner, happening.Index));
            writer.WriteString("text"u8, definition.Sentence(happening, house.Units));
            writer.WriteEndObject();
        }
        writer.WriteEndArray();
    }

    private void Number(JsonEncodedText name, double value)
    {
        if (double.IsFinite(value))
            writer.WriteNumber(name, value);
        else
            writer.WriteNull(name);
    }

    private void Number(ReadOnlySpan<byte> name, double value)
    {
        if (double.IsFinite(value))
            writer.WriteNumber(name, value);
        else
            writer.WriteNull(name);
    }
}

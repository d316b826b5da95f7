// Runs an example through lockstep against the model house: a line every five seconds, nothing but JSON in and out. Notes what every room
// and loop went through, and hands every line to the rules.
using System.Buffers;
using System.Globalization;
using System.Text.Json;
using RoomSupervisor.Runtime.Lockstep;
using RoomSupervisor.Site;

namespace RoomSupervisor.House.Tests.Examples;

internal sealed class ExampleRun : IDisposable
{
    private const double StepS = 5;

    private readonly SiteFiles files;
    private readonly LockstepSession session;
    private readonly ArrayBufferWriter<byte> sent = new(), answered = new();
    private readonly IReadOnlyList<(string Id, bool IsContact)> sensors;
    private readonly ExampleRules rules;
    private double elapsed;

    public ExampleRun(string name, DateTime localStart, double roomC, double roomPercent, Moment atStart)
    {
        files = Example.Files(name);
        session = new LockstepSession(files.House, files.Site.TimeZone);
        sensors = [.. files.House.Inputs.Where(input => input.Wired).Select(input => (input.Point.Id, input.Point.Quantity == Terms.Quantity.Switch))];
        Model = new ModelHouse(files.House, roomC, roomPercent, atStart);
        LocalStart = localStart;
        rules = new ExampleRules(files.House, Model);
    }

    public DateTime LocalStart { get; }

    public ModelHouse Model { get; }

    public IReadOnlyList<string> Broken => rules.Broken;

    /// <summary>Stages each room went through, in order, without repeats: "weaving-room pull-down".</summary>
    public List<string> Story { get; } = [];

    public Dictionary<string, double> Commands { get; } = new(StringComparer.Ordinal);

    /// <summary>Longest time each output was on or open, s of the whole run.</summary>
    public Dictionary<string, double> OnForS { get; } = new(StringComparer.Ordinal);

    /// <summary>Lowest and highest set point of each loop while its pump ran, °C.</summary>
    public Dictionary<string, (double Lowest, double Highest)> SetPoints { get; } = new(StringComparer.Ordinal);

    /// <summary>Runs on for some hours; the moment says what the weather is at an hour since the start.</summary>
    public void Run(double hours, Func<double, Moment> weather)
    {
        for (var until = elapsed + hours * 3600; elapsed < until; elapsed += StepS)
        {
            var local = LocalStart.AddSeconds(elapsed);
            var utc = TimeZoneInfo.ConvertTimeToUtc(local, files.Site.TimeZone);
            using var answer = Line(utc);
            if (answer.RootElement.TryGetProperty("error", out var error))
                throw new InvalidOperationException($"{local:u}: {error}");
            Note(answer.RootElement);
            rules.Line(local, StepS, answer.RootElement, Commands);
            var source = answer.RootElement.GetProperty("source");
            Model.Pass(StepS, weather(elapsed / 3600), Commands, source.GetProperty("calling").GetBoolean(), source.GetProperty("mode").GetString() == "heating");
        }
    }

    public double AirC(string room) => Model.Rooms.Single(model => model.Id == room).AirC;

    public bool Saw(string room, params string[] stages) => stages.All(stage => Story.Contains($"{room} {stage}"));

    public void Dispose() => session.Dispose();

    private JsonDocument Line(DateTime utc)
    {
        sent.ResetWrittenCount();
        using (var writer = new Utf8JsonWriter(sent))
        {
            writer.WriteStartObject();
            writer.WriteString("time"u8, utc.ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture));
            writer.WriteNumber("elapsed"u8, elapsed);
            writer.WriteStartObject("readings"u8);
            foreach (var (id, isContact) in sensors)
            {
                if (isContact)
                    writer.WriteBoolean(id, Model.Value(id) > 0);
                else
                    writer.WriteNumber(id, Math.Round(Model.Value(id), 2));   // a sensor's resolution
            }
            writer.WriteEndObject();
            writer.WriteEndObject();
        }
        answered.ResetWrittenCount();
        session.Answer(sent.WrittenSpan, answered);
        return JsonDocument.Parse(answered.WrittenMemory.ToArray());
    }

    private void Note(JsonElement answer)
    {
        foreach (var command in answer.GetProperty("commands").EnumerateObject())
        {
            var value = command.Value.ValueKind == JsonValueKind.Number ? command.Value.GetDouble() : command.Value.GetBoolean() ? 1 : 0;
            Commands[command.Name] = value;
            OnForS[command.Name] = OnForS.GetValueOrDefault(command.Name) + (value > 0 ? StepS : 0);
        }
        foreach (var room in answer.GetProperty("rooms").EnumerateObject())
        {
            var now = $"{room.Name} {room.Value.GetProperty("stage").GetString()}";
            if (Story.FindLast(entry => entry.StartsWith(room.Name + " ", StringComparison.Ordinal)) != now)
                Story.Add(now);
        }
        foreach (var loop in answer.GetProperty("loops").EnumerateObject())
        {
            if (Commands[loop.Name + ".pump.run"] <= 0)
                continue;
            var value = loop.Value.GetProperty("set_point_c").GetDouble();
            var (lowest, highest) = SetPoints.GetValueOrDefault(loop.Name, (value, value));
            SetPoints[loop.Name] = (Math.Min(lowest, value), Math.Max(highest, value));
        }
    }
}

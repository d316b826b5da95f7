// What goes through Serilog and where it comes out: lines for people on the console at once, the same lines and compact JSON into two files in batches.
// Everything about Serilog is here; it is set up in code, nothing is bound by reflection.
using System.Globalization;
using RoomSupervisor.Terms;
using Serilog;
using Serilog.Core;
using Serilog.Events;
using Serilog.Formatting.Compact;
using Serilog.Parsing;

namespace RoomSupervisor.Records;

/// <summary>The writers of a log.</summary>
internal sealed class LogFile : IDisposable
{
    public const string TextName = "room-supervisor.log", JsonName = "room-supervisor.jsonl";

    // One being written and four that are full, of each of the two; a line of JSON is twice as long as one for people.
    private const int Files = 5, TextShare = 3;

    /// <summary>Wall time of a line, universal time.</summary>
    public const string Stamp = "yyyy-MM-ddTHH:mm:ss.fffZ";

    private readonly Logger logger;
    private readonly BatchFile text, json;
    private readonly LogPlace place;
    private (DateTime Utc, double ElapsedS) latest = (DateTime.UnixEpoch, 0);

    public LogFile(LogPlace place, ConsoleLines console, Func<IReadOnlyList<string>> head)
    {
        this.place = place;
        var textBytes = place.BudgetBytes / TextShare;
        text = new BatchFile(Path.Combine(place.Directory, TextName), textBytes / Files, Files, () => TextHead(head()), () => "# the line above is torn: a power cut, or a full disk");
        json = new BatchFile(Path.Combine(place.Directory, JsonName), (place.BudgetBytes - textBytes) / Files, Files, () => JsonHead(head()), () => JsonLine("the line above is torn: a power cut, or a full disk", []));
        var configuration = new LoggerConfiguration().MinimumLevel.Verbose().WriteTo.Sink(new FileSink(text, json));
        if (place.ToConsole)
            configuration.WriteTo.Sink(new LocalConsole(place.Zone, console));
        logger = configuration.CreateLogger();
    }

    /// <summary>Bytes written since start, all files.</summary>
    public long Written => text.Written + json.Written;

    /// <summary>Lines that fitted nowhere since start.</summary>
    public long Dropped => text.Dropped;

    public bool IsDue => text.IsDue || json.IsDue;

    public bool HasWaiting => text.HasWaiting || json.HasWaiting;

    /// <summary>Makes the directory.</summary>
    /// <exception cref="IOException">It cannot be made.</exception>
    public void Begin() => Directory.CreateDirectory(place.Directory);

    /// <summary>Writes what waits; a file that cannot be written does not hold up the other.</summary>
    /// <exception cref="IOException">One of them could not be written; what waited for it waits on.</exception>
    public void Spill()
    {
        Directory.CreateDirectory(place.Directory);
        try
        {
            text.Spill();
        }
        finally
        {
            json.Spill();
        }
    }

    /// <summary>One line with its stamps: wall time in UTC, monotonic seconds, priority.</summary>
    public void Write(in LogLine line)
    {
        latest = (line.Utc, line.ElapsedS);
        logger.Write(EventOf(line.Text, line.Utc, line.Priority, [
            .. line.Facts ?? [],
            new LogEventProperty(ElapsedName, new ScalarValue(Math.Round(line.ElapsedS, 3))),
            new LogEventProperty(PriorityName, new ScalarValue(Names.Of(line.Priority)))]));
    }

    public void Dispose() => logger.Dispose();

    /// <summary>Marks the state of a room, told once a minute.</summary>
    public const string StatusName = "Status";

    /// <summary>Marks of such a line: it goes to the console, and into the file where it says something new.</summary>
    public static IReadOnlyList<LogEventProperty> StatusFacts(bool isNews) => [new(StatusName, new ScalarValue(isNews))];

    private const string ElapsedName = "ElapsedS", PriorityName = "Priority";

    /// <summary>The text is a text, never a template: braces in names stay braces.</summary>
    private static LogEvent EventOf(string said, DateTime utc, Priority priority, IEnumerable<LogEventProperty> facts)
    {
        var level = priority switch
        {
            Priority.Note => LogEventLevel.Information,
            Priority.Warning => LogEventLevel.Warning,
            Priority.Alarm => LogEventLevel.Error,
            _ => LogEventLevel.Fatal,
        };
        return new LogEvent(new DateTimeOffset(DateTime.SpecifyKind(utc, DateTimeKind.Utc)), level, null, new MessageTemplate([new TextToken(said)]), facts);
    }

    private static string TextHead(IReadOnlyList<string> lines) => string.Concat(lines.Select(line => $"# {line}\n"));

    private string JsonHead(IReadOnlyList<string> lines)
        => lines.Count == 0 ? "" : JsonLine("effective configuration", [new LogEventProperty("Configuration", new SequenceValue(lines.Select(line => new ScalarValue(line))))]) + "\n";

    private string JsonLine(string said, IEnumerable<LogEventProperty> facts)
    {
        var line = new StringWriter();
        Json.Format(EventOf(said, latest.Utc, Priority.Note, facts), line);
        return line.ToString().TrimEnd();
    }

    private static readonly RenderedCompactJsonFormatter Json = new();

    private sealed class FileSink(BatchFile text, BatchFile json) : ILogEventSink
    {
        public void Emit(LogEvent logEvent)
        {
            var isStatus = logEvent.Properties.TryGetValue(StatusName, out var isNews);
            if (isStatus && isNews is ScalarValue { Value: false })
                return;
            var elapsed = logEvent.Properties.TryGetValue(ElapsedName, out var value) && value is ScalarValue { Value: double seconds } ? seconds : 0;
            var priority = logEvent.Properties.TryGetValue(PriorityName, out value) && value is ScalarValue { Value: string name } ? name.ToUpperInvariant() : "NOTE";
            text.Add(string.Create(CultureInfo.InvariantCulture, $"{logEvent.Timestamp.UtcDateTime.ToString(Stamp, CultureInfo.InvariantCulture)} {elapsed:0.000} {priority} {OneLine(logEvent)}"));
            // Status lines are for people; programs have the trends, and a card has so many fewer bytes to take.
            if (isStatus)
                return;
            var line = new StringWriter();
            Json.Format(logEvent, line);
            json.Add(line.ToString().TrimEnd());
        }
    }

    private static string OneLine(LogEvent logEvent) => logEvent.RenderMessage(CultureInfo.InvariantCulture).ReplaceLineEndings("\n    ");

    /// <summary>People's side of the log: local time, priority only where it matters.</summary>
    private sealed class LocalConsole(TimeZoneInfo zone, ConsoleLines console) : ILogEventSink
    {
        public void Emit(LogEvent logEvent)
        {
            var local = TimeZoneInfo.ConvertTimeFromUtc(logEvent.Timestamp.UtcDateTime, zone).ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture);
            var priority = logEvent.Level switch
            {
                LogEventLevel.Warning => "WARNING ",
                LogEventLevel.Error => "ALARM ",
                LogEventLevel.Fatal => "URGENT ",
                _ => "",
            };
            console.Add(Console.Out, $"{local} {priority}{logEvent.RenderMessage(CultureInfo.InvariantCulture)}");
        }
    }
}

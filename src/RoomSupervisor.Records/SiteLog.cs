// The log of a site: a thread that takes entries from the ring and writes them through Serilog, to the console in local time and to a
// rolling file in UTC with monotonic seconds. A log that cannot be written must never stop or slow the control, and must say so.
using System.Globalization;
using RoomSupervisor.Terms;
using Serilog;
using Serilog.Core;
using Serilog.Debugging;
using Serilog.Events;

namespace RoomSupervisor.Records;

/// <summary>Where and how the log is written.</summary>
/// <param name="Directory">Directory of the log files.</param>
/// <param name="Zone">Time zone of the site, for the console.</param>
/// <param name="BudgetBytes">All files together, bytes; the oldest go first.</param>
/// <param name="ToConsole">True to write to the console too.</param>
public sealed record LogPlace(string Directory, TimeZoneInfo Zone, long BudgetBytes = 20_000_000, bool ToConsole = true);

/// <summary>Writes the log until disposed.</summary>
public sealed class SiteLog : IDisposable
{
    private const string FileName = "room-supervisor.log";

    // The file system is asked for five files: one being written and four that are full.
    private const int Files = 5;

    private readonly LogRing ring;
    private readonly LogVocabulary words;
    private readonly Logger logger;
    private readonly Thread thread;
    private readonly ManualResetEventSlim stop = new();
    private readonly TextWriter complaints;
    private long fileTroubles;
    private string lastTrouble = "";

    /// <param name="place">Where to write. A directory that cannot be made or written is said on <paramref name="complaints"/>, and the console goes on.</param>
    /// <param name="ring">Entries from the loop.</param>
    /// <param name="words">Names and events.</param>
    /// <param name="complaints">Where the log says that it cannot log, usually standard error.</param>
    public SiteLog(LogPlace place, LogRing ring, LogVocabulary words, TextWriter complaints)
    {
        this.ring = ring;
        this.words = words;
        this.complaints = complaints;
        SelfLog.Enable(Trouble);
        logger = Build(place);
        thread = new Thread(Run) { IsBackground = true, Name = "records" };
        thread.Start();
    }

    /// <summary>How often the file could not be written since start.</summary>
    public long FileTroubles => Interlocked.Read(ref fileTroubles);

    /// <summary>A line that is no event: start, stop, what was understood.</summary>
    public void Say(DateTime utc, double elapsedS, Priority priority, string line) => Write(utc, elapsedS, priority, line);

    /// <summary>Writes what is left and closes the files.</summary>
    public void Dispose()
    {
        stop.Set();
        thread.Join(TimeSpan.FromSeconds(5));
        try
        {
            logger.Dispose();
        }
        catch (IOException e)
        {
            Trouble(e.Message);   // a full disk takes the last lines, not the way out
        }
        stop.Dispose();
        SelfLog.Disable();
    }

    private Logger Build(LogPlace place)
    {
        var configuration = new LoggerConfiguration().MinimumLevel.Verbose();
        if (place.ToConsole)
            configuration.WriteTo.Sink(new LocalConsole(place.Zone));
        try
        {
            System.IO.Directory.CreateDirectory(place.Directory);
            configuration.WriteTo.File(
                Path.Combine(place.Directory, FileName),
                outputTemplate: "{Utc} {Elapsed} {Priority} {Message:l}{NewLine}",
                formatProvider: CultureInfo.InvariantCulture,
                fileSizeLimitBytes: place.BudgetBytes / Files,
                rollOnFileSizeLimit: true,
                retainedFileCountLimit: Files);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or System.Security.SecurityException)
        {
            Trouble($"{place.Directory}: {e.Message}");
        }
        return configuration.CreateLogger();
    }

    private void Run()
    {
        while (!stop.Wait(100))
            DrainOrSay();
        DrainOrSay();
    }

    private void DrainOrSay()
    {
        try
        {
            Drain();
        }
#pragma warning disable CA1031 // A line that cannot be made or written must not take the control down with it.
        catch (Exception e)
#pragma warning restore CA1031
        {
            Trouble($"{e.GetType().Name}: {e.Message}");
        }
    }

    private void Drain()
    {
        while (ring.TryTake(out var entry))
            Write(entry.Utc, entry.ElapsedS, words.Events[entry.Happening.EventId].Priority, LogWords.Line(entry, words));
        if (ring.TakeLost() is > 0 and var lost)
            Write(DateTime.MinValue, double.NaN, Priority.Warning, $"{lost} log entries were dropped: more happened than could be written");
    }

    private void Write(DateTime utc, double elapsedS, Priority priority, string line)
    {
        var level = priority switch
        {
            Priority.Note => LogEventLevel.Information,
            Priority.Warning => LogEventLevel.Warning,
            Priority.Alarm => LogEventLevel.Error,
            _ => LogEventLevel.Fatal,
        };
        var stamp = utc == DateTime.MinValue ? "-" : utc.ToString("yyyy-MM-ddTHH:mm:ss.fffZ", CultureInfo.InvariantCulture);
        var elapsed = double.IsNaN(elapsedS) ? "-" : elapsedS.ToString("0.000", CultureInfo.InvariantCulture);
        // The line is a value, never a template: braces in names stay braces.
        logger
            .ForContext("Utc", stamp).ForContext("Elapsed", elapsed).ForContext("Priority", Names.Of(priority).ToUpperInvariant())
            .ForContext(LocalConsole.UtcProperty, utc)
            .Write(level, "{Line:l}", line);
    }

    private void Trouble(string message)
    {
        Interlocked.Increment(ref fileTroubles);
        var first = message.Split('\n')[0];
        if (first == lastTrouble)
            return;
        lastTrouble = first;
        complaints.WriteLine($"log: cannot write: {first}");
    }

    /// <summary>People's side of the log: local time, priority only where it matters.</summary>
    private sealed class LocalConsole(TimeZoneInfo zone) : ILogEventSink
    {
        public const string UtcProperty = "WallTime";

        public void Emit(LogEvent logEvent)
        {
            var utc = logEvent.Properties.TryGetValue(UtcProperty, out var value) && value is ScalarValue { Value: DateTime time } ? time : DateTime.MinValue;
            var local = utc == DateTime.MinValue ? "--:--:--" : TimeZoneInfo.ConvertTimeFromUtc(utc, zone).ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture);
            var priority = logEvent.Level switch
            {
                LogEventLevel.Warning => "WARNING ",
                LogEventLevel.Error => "ALARM ",
                LogEventLevel.Fatal => "URGENT ",
                _ => "",
            };
            Console.Out.WriteLine($"{local} {priority}{logEvent.RenderMessage(CultureInfo.InvariantCulture)}");
        }
    }
}

// The rolling log file and its budget, and what people see beside it. Everything about Serilog is here; it is set up in code, nothing is bound
// by reflection.
using System.Globalization;
using RoomSupervisor.Terms;
using Serilog;
using Serilog.Core;
using Serilog.Events;

namespace RoomSupervisor.Records;

/// <summary>Builds the writers and turns a line into what they take.</summary>
internal static class LogFile
{
    private const string FileName = "room-supervisor.log";

    // The file system is asked for five files: one being written and four that are full.
    private const int Files = 5;

    /// <summary>Writers for console and file. A directory that cannot be made is told, and the rest goes on.</summary>
    public static Logger Build(LogPlace place, ConsoleLines console, Action<string> trouble)
    {
        var configuration = new LoggerConfiguration().MinimumLevel.Verbose();
        if (place.ToConsole)
            configuration.WriteTo.Sink(new LocalConsole(place.Zone, console));
        try
        {
            Directory.CreateDirectory(place.Directory);
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
            trouble($"{place.Directory}: {e.Message}");
        }
        return configuration.CreateLogger();
    }

    /// <summary>One line with its stamps: wall time in UTC, monotonic seconds, priority.</summary>
    public static void Write(Logger logger, in LogLine line)
    {
        var level = line.Priority switch
        {
            Priority.Note => LogEventLevel.Information,
            Priority.Warning => LogEventLevel.Warning,
            Priority.Alarm => LogEventLevel.Error,
            _ => LogEventLevel.Fatal,
        };
        // The text is a value, never a template: braces in names stay braces.
        logger
            .ForContext("Utc", line.Utc.ToString("yyyy-MM-ddTHH:mm:ss.fffZ", CultureInfo.InvariantCulture))
            .ForContext("Elapsed", line.ElapsedS.ToString("0.000", CultureInfo.InvariantCulture))
            .ForContext("Priority", Names.Of(line.Priority).ToUpperInvariant())
            .ForContext(LocalConsole.UtcProperty, line.Utc)
            .Write(level, "{Line:l}", line.Text);
    }

    /// <summary>People's side of the log: local time, priority only where it matters.</summary>
    private sealed class LocalConsole(TimeZoneInfo zone, ConsoleLines console) : ILogEventSink
    {
        public const string UtcProperty = "WallTime";

        public void Emit(LogEvent logEvent)
        {
            var utc = logEvent.Properties.TryGetValue(UtcProperty, out var value) && value is ScalarValue { Value: DateTime time } ? time : DateTime.UnixEpoch;
            var local = TimeZoneInfo.ConvertTimeFromUtc(utc, zone).ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture);
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

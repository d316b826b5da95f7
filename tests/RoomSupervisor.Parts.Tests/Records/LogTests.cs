// The log as a tech reads it, and a log that cannot be written.
using RoomSupervisor.Records;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Records;

[Collection("log")]   // Serilog's self-log and the console are one for all
public sealed class LogTests : IDisposable
{
    private static readonly DateTime Noon = new(2026, 7, 14, 16, 0, 0, DateTimeKind.Utc);
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("log-");

    public void Dispose() => folder.Delete(true);

    private static LogVocabulary Words(UnitSystem units = UnitSystem.Metric)
        => new((_, _) => "weaving-room", SequenceEvents.All.Concat(RecordsEvents.All).ToDictionary(definition => definition.Id), SequenceEvents.StageChanged.Id, units);

    private static LogEntry PullDown()
    {
        var why = new Happening(SequenceEvents.StageChanged.Id, Owner.Room, 0, Reason.Of(Cause.TooWarmFor, 1.62, 120), (byte)Stage.Satisfied, (byte)Stage.PullDown);
        var room = new RoomStatus { Stage = Stage.PullDown, AirTemperatureC = 25.62, WantedC = 24, DewPointC = 15.24 };
        var fan = new Command(35, Reason.Of(Cause.HouseholdLimit, 35), Reason.Of(Cause.DraughtLimit, 60), 0);
        return new LogEntry(Noon, 3636.0, why, room, fan, 3.3375);
    }

    [Fact]
    public void A_stage_change_is_one_line_that_a_tech_understands() =>
        Assert.Equal(
            "weaving-room: satisfied → pull-down: 1.6 K too warm for 2 min | air 25.6 °C, wanted 24 °C, dew point 15.2 °C, fan 35 % (3.3 V): household's limit 35 %; draught would allow 60 %",
            LogWords.Line(PullDown(), Words()));

    [Fact]
    public void In_us_units_people_read_fahrenheit() =>
        Assert.Contains("2.9 °F too warm for 2 min | air 78.1 °F, wanted 75.2 °F, dew point 59.4 °F", LogWords.Line(PullDown(), Words(UnitSystem.Us)), StringComparison.Ordinal);

    [Fact]
    public void A_warning_says_what_it_means_and_what_to_check()
    {
        var line = LogWords.Line(new LogEntry(Noon, 1, new Happening(SequenceEvents.DripTrayFull.Id, Owner.Room, 0, new Reason(Cause.DripTrayFull)), default, default, 0), Words());
        Assert.Equal(
            "weaving-room: drip tray full: coil valve shut and fan off | means: the coil neither cools nor dries until the tray is empty | check: condensate drain, trap, pump; water under the coil",
            line);
    }

    [Fact]
    public void One_dead_device_gives_its_advice_once_and_again_after_ten_minutes()
    {
        var ring = new LogRing(16);
        foreach (var (second, sensor) in new[] { (100.0, 0), (100, 1), (100, 2), (650, 0), (701, 0) })
            ring.Put(new LogEntry(Noon, second, new Happening(SequenceEvents.ReadingMissing.Id, Owner.Input, sensor, new Reason(Cause.Timeout)), default, default, 0));
        ring.Put(new LogEntry(Noon, 701, new Happening(SequenceEvents.DripTrayFull.Id, Owner.Room, 0, new Reason(Cause.DripTrayFull)), default, default, 0));
        using (new SiteLog(new LogPlace(folder.FullName, TimeZoneInfo.Utc, ToConsole: false), ring, Words(), TextWriter.Null))
        {
        }
        var isAdvised = File.ReadAllLines(Path.Combine(folder.FullName, "room-supervisor.log")).Select(line => line.Contains("| means: ", StringComparison.Ordinal));
        Assert.Equal([true, false, false, false, true, true], isAdvised);
    }

    [Fact]
    public void The_drivers_own_words_take_the_place_of_the_general_cause()
    {
        var words = Words() with { InDriversWords = _ => "connection refused: nothing listens there" };
        var missing = new LogEntry(Noon, 1, new Happening(SequenceEvents.ReadingMissing.Id, Owner.Input, 0, new Reason(Cause.NoAcknowledge)), default, default, 0);
        Assert.StartsWith("weaving-room: reading missing: connection refused: nothing listens there | means", LogWords.Line(missing, words), StringComparison.Ordinal);
    }

    [Fact]
    public void The_file_has_utc_monotonic_seconds_and_priority_on_every_line()
    {
        var ring = new LogRing(16);
        var complaints = new StringWriter();
        using (var log = new SiteLog(new LogPlace(folder.FullName, TimeZoneInfo.Utc, ToConsole: false), ring, Words(), complaints))
        {
            log.Say(Noon, 0, Priority.Note, "started {with} braces");
            ring.Put(PullDown());
        }
        var lines = File.ReadAllLines(Path.Combine(folder.FullName, "room-supervisor.log"));
        Assert.Equal("2026-07-14T16:00:00.000Z 0.000 NOTE started {with} braces", lines[0]);
        Assert.StartsWith("2026-07-14T16:00:00.000Z 3636.000 NOTE weaving-room: satisfied → pull-down", lines[1], StringComparison.Ordinal);
        Assert.Equal("", complaints.ToString());
    }

    [Fact]
    public void A_ring_that_is_full_counts_what_it_drops_and_the_log_says_so()
    {
        var ring = new LogRing(2);
        Assert.True(ring.Put(PullDown()));
        Assert.True(ring.Put(PullDown()));
        Assert.False(ring.Put(PullDown()));
        using (new SiteLog(new LogPlace(folder.FullName, TimeZoneInfo.Utc, ToConsole: false), ring, Words(), TextWriter.Null))
        {
        }
        Assert.Contains(File.ReadAllLines(Path.Combine(folder.FullName, "room-supervisor.log")), line => line.Contains(" WARNING 1 log entries were dropped: more happened than could be written | means: ", StringComparison.Ordinal));
    }

    [Fact]
    public void All_files_together_stay_within_the_budget()
    {
        var ring = new LogRing(16);
        using (var log = new SiteLog(new LogPlace(folder.FullName, TimeZoneInfo.Utc, BudgetBytes: 50_000, ToConsole: false), ring, Words(), TextWriter.Null))
        {
            for (var i = 0; i < 5000; i++)
                log.Say(Noon, i, Priority.Note, "a line of the usual length, such as a stage change or a reading that is back");
        }
        Assert.InRange(folder.GetFiles().Sum(file => file.Length), 30_000, 55_000);
    }

    [Fact]
    public void A_log_directory_that_cannot_be_made_is_said_and_nothing_stops()
    {
        var file = Path.Combine(folder.FullName, "in-the-way");
        File.WriteAllText(file, "");
        var complaints = new StringWriter();
        using (var log = new SiteLog(new LogPlace(Path.Combine(file, "log"), TimeZoneInfo.Utc, ToConsole: false), new LogRing(4), Words(), complaints))
        {
            log.Say(Noon, 0, Priority.Note, "goes on");
            Assert.Equal(1, log.FileTroubles);
        }
        Assert.Contains("log: cannot write", complaints.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_full_disk_is_said_once_and_ends_nothing()
    {
        // The kernel's own full disk: every write to it fails for want of space.
        var name = Path.Combine(folder.FullName, "room-supervisor.log");
        File.CreateSymbolicLink(name, "/dev/full");
        var complaints = new StringWriter();
        using (var log = new SiteLog(new LogPlace(folder.FullName, TimeZoneInfo.Utc, ToConsole: false), new LogRing(4), Words(), complaints))
        {
            for (var i = 0; i < 20; i++)
                log.Say(Noon, i, Priority.Note, "a line that finds no room");
        }
        var said = complaints.ToString().Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.InRange(said.Length, 1, 2);
        Assert.Contains("No space left on device", said[0], StringComparison.Ordinal);
    }

    [Fact]
    public void A_console_that_stands_still_holds_up_neither_speaker_nor_file_and_is_left_alone_at_the_end()
    {
        using var still = new StandingWriter();
        var before = Console.Out;
        Console.SetOut(still);
        try
        {
            var log = new SiteLog(new LogPlace(folder.FullName, TimeZoneInfo.Utc), new LogRing(16), Words(), TextWriter.Null);
            for (var i = 0; i < 10; i++)
                log.Say(Noon, i, Priority.Note, "line " + i);
            log.Dispose();
            Assert.True(still.IsAsked);
            Assert.Equal(10, File.ReadAllLines(Path.Combine(folder.FullName, "room-supervisor.log")).Length);
        }
        finally
        {
            Console.SetOut(before);
        }
    }

    [Fact]
    public void Starts_and_events_stand_in_the_order_in_which_they_happened()
    {
        var ring = new LogRing(16);
        using (var log = new SiteLog(new LogPlace(folder.FullName, TimeZoneInfo.Utc, ToConsole: false), ring, Words(), TextWriter.Null))
        {
            log.Say(Noon, 3635, Priority.Note, "before");
            ring.Put(PullDown());
            log.Say(Noon, 3637, Priority.Note, "after");
        }
        var lines = File.ReadAllLines(Path.Combine(folder.FullName, "room-supervisor.log"));
        Assert.Equal(["before", "weaving-room:", "after"], lines.Select(line => line.Split(' ')[3]));
    }

    [Fact]
    public void A_hole_in_the_log_is_told_in_the_log_as_soon_as_it_can_be_written_again()
    {
        var ring = new LogRing(16);
        var complaints = new StringWriter();
        using (new SiteLog(new LogPlace(folder.FullName, TimeZoneInfo.Utc, ToConsole: false), ring, Words(), complaints))
        {
            ring.Put(new LogEntry(Noon, 1, new Happening(9999, Owner.Room, 0, default), default, default, 0));
            ring.Put(PullDown());
        }
        Assert.Contains("KeyNotFoundException", complaints.ToString(), StringComparison.Ordinal);
        var lines = File.ReadAllLines(Path.Combine(folder.FullName, "room-supervisor.log"));
        Assert.Contains("satisfied → pull-down", lines[0], StringComparison.Ordinal);
        Assert.Contains("WARNING the log could not be written 1 time(s), lines are missing before this one: KeyNotFoundException", lines[1], StringComparison.Ordinal);
    }

    /// <summary>A terminal that somebody has paused: a write does not come back.</summary>
    private sealed class StandingWriter : TextWriter
    {
        private readonly ManualResetEventSlim never = new();

        public bool IsAsked { get; private set; }

        public override System.Text.Encoding Encoding => System.Text.Encoding.UTF8;

        public override void WriteLine(string? value)
        {
            IsAsked = true;
            never.Wait();
        }

        protected override void Dispose(bool disposing)
        {
            never.Set();
            base.Dispose(disposing);
        }
    }
}

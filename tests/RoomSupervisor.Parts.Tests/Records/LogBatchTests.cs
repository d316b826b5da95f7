// The log on a memory card: few writes, none lost that fits into memory, nothing glued to a torn line, and both files within one budget. Time is given, so
// nothing here waits.
using System.Globalization;
using System.Text.Json;
using RoomSupervisor.Records;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Records;

[Collection("log")]   // Serilog's self-log and the console are one for all
public sealed class LogBatchTests : IDisposable
{
    private static readonly DateTime Noon = new(2026, 7, 14, 16, 0, 0, DateTimeKind.Utc);
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("batch-");
    private readonly LogRing ring = new(4096);
    private readonly StringWriter complaints = new();
    private double nowS;
    private DateTime start = Noon;

    public void Dispose() => folder.Delete(true);

    private string TextPath => Path.Combine(folder.FullName, "room-supervisor.log");

    private string JsonPath => Path.Combine(folder.FullName, "room-supervisor.jsonl");

    private static LogVocabulary Words() => new(
        (_, index) => "room-" + index.ToString(CultureInfo.InvariantCulture), SequenceEvents.All.Concat(RecordsEvents.All).ToDictionary(definition => definition.Id), SequenceEvents.StageChanged.Id, UnitSystem.Metric);

    private SiteLog Log(IReadOnlyList<string>? head = null, long budget = 20_000_000) => new(
        new LogPlace(folder.FullName, TimeZoneInfo.Utc, budget, ToConsole: false), ring, Words(), complaints,
        new LogParts { Clock = () => (start.AddSeconds(nowS), nowS), Head = () => head ?? [] }, hasThread: false);

    private void Say(SiteLog log, string line, Priority priority = Priority.Note) => log.Say(start.AddSeconds(nowS), nowS, priority, line);

    private void Happen(EventDefinition what, int index = 0) => ring.Put(new LogEntry(start.AddSeconds(nowS), nowS, new Happening(what.Id, Owner.Room, index, Reason.Of(Cause.DripTrayFull)), default, default, double.NaN));

    private string[] Lines(string path) => File.Exists(path) ? File.ReadAllLines(path) : [];

    [Fact]
    public void Notes_wait_for_ten_minutes_and_a_warning_takes_all_that_waits_along()
    {
        using var log = Log();
        log.Turn();   // the first batch of a run goes out at once
        for (nowS = 1; nowS < 600; nowS++)
        {
            Say(log, "a note");
            log.Turn();
        }
        Assert.Empty(Lines(TextPath));
        nowS = 600;
        log.Turn();
        Assert.Equal(599, Lines(TextPath).Length);
        nowS = 700;
        Say(log, "another note");
        log.Turn();
        Assert.Equal(599, Lines(TextPath).Length);
        Happen(SequenceEvents.DripTrayFull);
        log.Turn();
        Assert.Equal(601, Lines(TextPath).Length);
        Assert.Equal(601, Lines(JsonPath).Length);
    }

    [Fact]
    public void Somebody_who_is_going_to_read_has_it_written_at_once()
    {
        using var log = Log();
        log.Turn();
        nowS = 5;
        Say(log, "a note");
        log.Turn();
        Assert.Empty(Lines(TextPath));
        log.AskToSpill();
        log.Turn();
        Assert.Single(Lines(TextPath));
    }

    [Fact]
    public void Each_line_of_the_json_file_is_one_object_with_the_figures_of_its_event()
    {
        using (var log = Log())
        {
            Say(log, "says \"{this}\" and\nthat");
            Happen(SequenceEvents.DripTrayFull, 3);
        }
        var lines = Lines(JsonPath).Select(line => JsonDocument.Parse(line).RootElement).ToList();
        Assert.Equal("says \"{this}\" and\nthat", lines[0].GetProperty("@m").GetString());
        Assert.Equal(Noon, lines[1].GetProperty("@t").GetDateTime().ToUniversalTime());
        Assert.Equal(("Error", 120, "drip-tray-full", "room-3"), (lines[1].GetProperty("@l").GetString(), lines[1].GetProperty("Event").GetInt32(), lines[1].GetProperty("Name").GetString(), lines[1].GetProperty("Where").GetString()));
        // A line of the text file is one line, however many the text has.
        Assert.Equal(["2026-07-14T16:00:00.000Z 0.000 NOTE says \"{this}\" and", "    that"], Lines(TextPath)[..2]);
    }

    [Fact]
    public void The_head_stands_on_top_of_every_file_and_where_a_run_begins()
    {
        using (var log = Log(["room-supervisor 1", "rooms.room-0.cool_above = 24 °C"], budget: 60_000))
        {
            for (var i = 0; i < 400; i++)
                Say(log, "a line of the usual length, such as a stage change or a reading that is back");
        }
        var files = folder.GetFiles("room-supervisor.log*");
        Assert.Equal(5, files.Length);
        Assert.All(files, file => Assert.Equal(["# room-supervisor 1", "# rooms.room-0.cool_above = 24 °C"], File.ReadLines(file.FullName).Take(2)));
        Assert.All(folder.GetFiles("room-supervisor.jsonl*"), file => Assert.Equal("rooms.room-0.cool_above = 24 °C", JsonDocument.Parse(File.ReadLines(file.FullName).First()).RootElement.GetProperty("Configuration")[1].GetString()));
        using (var log = Log(["room-supervisor 2"], budget: 60_000))
            Say(log, "begins");
        Assert.Contains("# room-supervisor 2", Lines(TextPath));
    }

    [Fact]
    public void A_torn_line_stays_alone_and_is_said()
    {
        File.WriteAllText(TextPath, "2026-07-14T15:00:00.000Z 1.000 NOTE half a li");
        File.WriteAllText(JsonPath, "{\"@t\":\"2026");
        using (var log = Log())
            Say(log, "goes on");
        Assert.Equal(["2026-07-14T15:00:00.000Z 1.000 NOTE half a li", "# the line above is torn: a power cut, or a full disk", "2026-07-14T16:00:00.000Z 0.000 NOTE goes on"], Lines(TextPath));
        Assert.All(Lines(JsonPath)[1..], line => JsonDocument.Parse(line));
    }

    [Fact]
    public void What_could_not_be_written_is_written_when_the_disk_is_back_and_the_hole_is_said_with_its_length()
    {
        using var log = Log();
        log.Turn();
        // A file where the directory should be: what a disk does that has gone.
        folder.Delete(true);
        File.WriteAllText(folder.FullName, "");
        nowS = 10;
        Say(log, "kept in memory");
        Happen(SequenceEvents.DripTrayFull);
        log.Turn();
        Assert.Equal(1, log.FileTroubles);
        nowS = 69;
        log.Turn();
        Assert.Equal(1, log.FileTroubles);   // not tried again in every turn
        File.Delete(folder.FullName);
        nowS = 610;
        log.Turn();
        nowS = 620;
        log.Turn();
        var lines = Lines(TextPath);
        Assert.Contains("kept in memory", lines[0], StringComparison.Ordinal);
        Assert.Contains("drip tray full", lines[1], StringComparison.Ordinal);
        Assert.Contains("WARNING log and trends had not been writable for 10 min | means", lines[2], StringComparison.Ordinal);
        Assert.Equal(3, lines.Length);
        Assert.Contains("log: cannot write", complaints.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void What_no_longer_fits_into_memory_is_counted_and_said()
    {
        using var log = Log();
        log.Turn();
        folder.Delete(true);
        File.WriteAllText(folder.FullName, "");
        for (nowS = 10; nowS < 40_000; nowS++)
        {
            Say(log, "a line of the usual length, such as a stage change or a reading that is back");
            log.Turn();
        }
        File.Delete(folder.FullName);
        nowS += 60;
        log.Turn();
        nowS += 60;
        log.Turn();
        var last = Lines(TextPath)[^1];
        Assert.Matches(@"WARNING [0-9]{4,} lines and samples no longer fitted into memory meanwhile: they are missing$", last);
    }

    [Fact]
    public void A_status_line_has_its_keys_and_no_blank_in_a_value()
    {
        var room = new RoomStatus { Stage = Stage.RadiantHold, AirTemperatureC = 24.31, HumidityPercent = 51.4, WantedC = 24, DewPointC = 13.52, DewPointWorstC = double.NaN, DemandW = -412 };
        ring.Put(new LogEntry(Noon, 60, new Happening(LogEntry.Status, Owner.Room, 2, default), room, new Command(35, Reason.Of(Cause.HouseholdLimit, 35), default, 0), 3.34));
        using (Log())
        {
        }
        Assert.Equal(
            "room-2: stage=radiant-hold moisture=resting guard=clear air=24.3°C humidity=51% wanted=24°C dew_point=13.5°C dew_point_worst=- demand=-412W fan=35% volts=3.3V reason=" + CauseWords.Name(Cause.HouseholdLimit),
            Lines(TextPath)[0][(Lines(TextPath)[0].IndexOf("room-2", StringComparison.Ordinal))..]);
        Assert.Empty(Lines(JsonPath));   // programs have the trends
    }

    [Theory]
    [InlineData(86400, "+24 h")]
    [InlineData(-86400, "-24 h")]
    public void A_clock_that_is_set_is_said_and_the_ten_minutes_go_by_the_other_clock(double byS, string said)
    {
        using var log = Log();
        log.Turn();
        nowS = 100;
        Say(log, "before");
        log.Turn();
        start = start.AddSeconds(byS);
        nowS = 101;
        log.Turn();
        nowS = 599;
        log.Turn();
        Assert.Empty(Lines(TextPath));
        nowS = 600;
        log.Turn();
        Assert.Contains($"NOTE the clock was moved by {said}", Lines(TextPath)[1], StringComparison.Ordinal);
    }

    [Fact]
    public void In_both_hours_of_autumn_the_console_may_say_the_same_time_but_the_files_do_not()
    {
        start = new DateTime(2026, 11, 1, 5, 30, 0, DateTimeKind.Utc);   // New York, daylight saving time ends at 06:00 UTC (IANA time zone data)
        using (var log = Log())
        {
            Say(log, "first half past one");
            nowS = 3600;
            Say(log, "second half past one");
        }
        Assert.Equal(["2026-11-01T05:30:00.000Z 0.000", "2026-11-01T06:30:00.000Z 3600.000"], Lines(TextPath).Select(line => line[..line.IndexOf(" NOTE", StringComparison.Ordinal)]));
    }

    [Fact]
    public void What_is_written_a_day_is_known_and_forgotten_after_a_day()
    {
        using var log = Log();
        for (nowS = 0; nowS < 86400; nowS += 600)
        {
            Say(log, "a note");
            log.Turn();
        }
        Assert.Equal(folder.GetFiles().Sum(file => file.Length), log.BytesLastDay);
        nowS += 25 * 3600;
        log.Turn();
        Assert.Equal(0, log.BytesLastDay);
    }

    [Fact]
    public void Chattering_is_told_to_the_tech_in_the_log()
    {
        using (var log = Log())
        {
            for (nowS = 1; nowS < 200; nowS += 2)
            {
                Happen(SequenceEvents.DripTrayFull);
                log.Turn();
            }
            nowS = 300;
            log.Turn();
        }
        var lines = Lines(TextPath);
        Assert.Equal(4, lines.Length);
        Assert.EndsWith("from here on it is counted and not told", lines[2], StringComparison.Ordinal);
        Assert.EndsWith("room-0: drip-tray-full has stopped chattering: came 97 times more in 3.2 min, not told; it stands", lines[3], StringComparison.Ordinal);
    }
}

// Trends from the ring to the file and back: nothing lost that was told as written, means that are means over time, a file that keeps to its budget, and
// what happens to damaged files, full disks and clocks. The mean of a known curve is worked out by hand; the file is also read by plain SQL.
using System.Globalization;
using Microsoft.Data.Sqlite;
using RoomSupervisor.Records;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Records;

[Collection("log")]   // Serilog's self-log is one for all
public sealed class TrendTests : IDisposable
{
    private static readonly DateTime Noon = new(2026, 7, 14, 16, 0, 0, DateTimeKind.Utc);
    private static readonly TrendSeries[] Followed = [new("room-0.air", Quantity.Temperature), new("room-0.coil.fan", Quantity.Percent), new("room-0.stage", Quantity.Number, "off,satisfied,pull-down")];
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("trend-");
    private readonly LogRing ring = new(4096);
    private readonly StringWriter complaints = new();
    private TrendRing trends = new(100_000);
    private double nowS;
    private DateTime start = Noon;

    public void Dispose() => folder.Delete(true);

    private string FilePath => Path.Combine(folder.FullName, TrendRecorder.FileName);

    private DateTime Utc => start.AddSeconds(nowS);

    private SiteLog Log(TrendSeries[]? series = null, long budget = 100_000_000)
    {
        trends = new TrendRing(100_000);
        var words = new LogVocabulary((_, index) => "room-" + index.ToString(CultureInfo.InvariantCulture), SequenceEvents.All.Concat(RecordsEvents.All).ToDictionary(one => one.Id), SequenceEvents.StageChanged.Id, UnitSystem.Metric);
        var log = new SiteLog(new LogPlace(folder.FullName, TimeZoneInfo.Utc, ToConsole: false), ring, words, complaints,
            new LogParts { Clock = () => (Utc, nowS), Trends = new TrendRecorder(FilePath, trends, series ?? Followed, budget) }, hasThread: false);
        log.TakeUp();
        return log;
    }

    private void Put(int series, double value, Reason reason = default) => trends.Put(new TrendSample(Utc, series, value, reason));

    private List<TrendPoint> Read(string name, DateTime from, DateTime to)
    {
        using var reader = TrendReader.Open(FilePath, out var why);
        Assert.True(reader is not null, why);
        return reader.Samples([name], from, to)[name];
    }

    private string Sql(string text)
    {
        using var connection = new SqliteConnection($"Data Source={FilePath};Mode=ReadOnly;Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = text;
        return Convert.ToString(command.ExecuteScalar(), CultureInfo.InvariantCulture) ?? "";
    }

    private string LogText() => string.Concat(folder.GetFiles("room-supervisor.log").Select(file => File.ReadAllText(file.FullName)));

    [Fact]
    public void What_was_put_comes_back_with_its_reason_in_words()
    {
        using (Log())
        {
            Put(0, 24.25);
            Put(1, 35, Reason.Of(Cause.HouseholdLimit, 35));
            nowS = 60;
            Put(0, double.NaN, new Reason(Cause.Timeout));
        }
        Assert.Equal([new TrendPoint(Noon, 24.25, "", double.NaN), new TrendPoint(Noon.AddSeconds(60), double.NaN, CauseWords.Name(Cause.Timeout), 0)], Read("room-0.air", Noon, Noon.AddHours(1)));
        Assert.Equal([new TrendPoint(Noon, 35, CauseWords.Name(Cause.HouseholdLimit), 35)], Read("room-0.coil.fan", Noon, Noon.AddHours(1)));
        Assert.Equal("35", Sql("SELECT value FROM sample JOIN series ON series.id=sample.series WHERE series.name='room-0.coil.fan'"));
    }

    [Fact]
    public void Samples_wait_for_ten_minutes_and_go_out_with_a_warning()
    {
        using var log = Log();
        log.Turn();
        nowS = 10;
        Put(0, 24);
        log.Turn();
        Assert.Empty(Read("room-0.air", Noon, Noon.AddHours(1)));
        ring.Put(new LogEntry(Utc, nowS, new Happening(SequenceEvents.DripTrayFull.Id, Owner.Room, 0, default), default, default, 0));
        log.Turn();
        Assert.Single(Read("room-0.air", Noon, Noon.AddHours(1)));
        nowS = 100;
        Put(0, 25);
        log.Turn();
        Assert.Single(Read("room-0.air", Noon, Noon.AddHours(1)));
        nowS = 611;
        log.Turn();
        Assert.Equal(2, Read("room-0.air", Noon, Noon.AddHours(1)).Count);
    }

    [Fact]
    public void A_finished_day_becomes_hours_whose_mean_is_one_over_time()
    {
        start = Noon.Date;
        using (var log = Log())
        {
            // 20 °C for a quarter of an hour, then 24 °C for three quarters: 23 °C in the mean.
            for (var hour = 0; hour < 24; hour++)
            {
                for (var quarter = 0; quarter < 4; quarter++)
                {
                    nowS = hour * 3600 + quarter * 900;
                    Put(0, quarter == 0 ? 20 : 24);
                    Put(2, quarter == 3 ? 1 : 2);
                    log.Turn();
                }
            }
            nowS = 86400 + 700;
            log.Turn();
        }
        using var reader = TrendReader.Open(FilePath, out _)!;
        var hours = reader.Hours(["room-0.air", "room-0.stage"], start, start.AddDays(1));
        Assert.Equal(24, hours["room-0.air"].Count);
        Assert.All(hours["room-0.air"], hour => Assert.Equal((20.0, 23.0, 24.0), (hour.Low, hour.Mean, hour.High)));
        Assert.All(hours["room-0.stage"], hour => Assert.Equal(2, hour.Mean));   // the state that lasted longest
        Assert.Equal(start.AddDays(1), reader.RolledUpTo);
    }

    [Fact]
    public void A_value_that_nobody_renewed_is_not_drawn_on_for_ever()
    {
        start = Noon.Date;
        using (var log = Log())
        {
            Put(0, 20);
            log.Turn();
            nowS = 86400 + 1000;
            log.Turn();
        }
        using var reader = TrendReader.Open(FilePath, out _)!;
        Assert.Single(reader.Hours(["room-0.air"], start, start.AddDays(1))["room-0.air"]);
    }

    [Fact]
    public void A_damaged_file_is_set_aside_and_said_and_nothing_of_this_run_is_lost()
    {
        using (Log())
            Put(0, 24);
        File.WriteAllBytes(FilePath, [.. Enumerable.Repeat((byte)'x', 20_000)]);
        using (Log())
            Put(0, 25);
        Assert.Equal(25, Assert.Single(Read("room-0.air", Noon, Noon.AddHours(1))).Value);
        Assert.True(File.Exists(FilePath + ".broken"));
        Assert.Contains("WARNING the trend file was damaged and set aside", LogText(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_page_damaged_in_the_middle_is_noticed_at_the_start_after_a_break_off()
    {
        var log = Log();
        for (var i = 0; i < 5000; i++)
            Put(0, i);
        log.Dispose();
        Unended();
        var bytes = File.ReadAllBytes(FilePath);
        for (var i = 8192; i < bytes.Length - 4096; i++)
            bytes[i] = 0xA5;
        File.WriteAllBytes(FilePath, bytes);
        using (Log())
            Put(0, 25);
        Assert.Equal(25, Assert.Single(Read("room-0.air", Noon, Noon.AddHours(1))).Value);
        Assert.Contains("set aside", LogText(), StringComparison.Ordinal);
    }

    private void Unended()
    {
        using var connection = new SqliteConnection($"Data Source={FilePath};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = "UPDATE run SET ended=NULL";
        command.ExecuteNonQuery();
    }

    [Fact]
    public void A_run_that_broke_off_is_said_at_the_next_start_and_one_that_was_stopped_is_not()
    {
        using (Log())
            Put(0, 24);
        using (Log())
            Put(0, 25);
        Assert.DoesNotContain("ended without a stop", LogText(), StringComparison.Ordinal);
        Unended();
        using (Log())
            Put(0, 26);
        Assert.Contains("NOTE the run before ended without a stop; what it had not written yet, at most the last 10 min, is lost", LogText(), StringComparison.Ordinal);
        Assert.Equal(3, Read("room-0.air", Noon.AddSeconds(-1), Noon.AddHours(1)).Count);
    }

    [Fact]
    public void A_file_of_an_older_program_and_one_of_a_newer_are_gone_on_with()
    {
        using (Log())
            Put(0, 24);
        Change("ALTER TABLE sample DROP COLUMN next; ALTER TABLE sample DROP COLUMN next_a; PRAGMA user_version=1;");
        nowS = 60;
        using (Log())
            Put(0, 25);
        Assert.Equal("2", Sql("PRAGMA user_version"));
        Change("ALTER TABLE sample ADD COLUMN wind REAL; CREATE TABLE moon(at INTEGER); PRAGMA user_version=3;");
        nowS = 120;
        using (Log())
            Put(0, 26);
        Assert.Equal("3", Sql("PRAGMA user_version"));
        Assert.Equal([24.0, 25, 26], Read("room-0.air", Noon, Noon.AddHours(1)).Select(point => point.Value));
        Assert.Equal([TrendRecorder.FileName], folder.GetFiles("trends.db*").Select(file => file.Name).Where(name => !name.EndsWith("-wal", StringComparison.Ordinal) && !name.EndsWith("-shm", StringComparison.Ordinal)));

        void Change(string text)
        {
            using var connection = new SqliteConnection($"Data Source={FilePath};Pooling=False");
            connection.Open();
            using var command = connection.CreateCommand();
#pragma warning disable CA2100 // Texts of this test.
            command.CommandText = text;
#pragma warning restore CA2100
            command.ExecuteNonQuery();
        }
    }

    [Fact]
    public void While_the_disk_cannot_be_written_samples_wait_and_come_after_it()
    {
        using (var log = Log())
        {
            log.Turn();
            // A directory where the file should be: what was open goes on being written until the batch after the next opens it anew.
            foreach (var file in folder.GetFiles("trends.db*"))
                file.MoveTo(file.FullName + ".away");
            Directory.CreateDirectory(FilePath);
            nowS = 700;
            Put(0, 24);
            log.Turn();
            Directory.Delete(FilePath);
            foreach (var file in folder.GetFiles("trends.db*.away"))
                file.MoveTo(file.FullName[..^5]);
            nowS = 1500;
            Put(0, 25);
            log.Turn();
        }
        Assert.Equal([24.0, 25], Read("room-0.air", Noon, Noon.AddHours(1)).Select(point => point.Value));
    }

    [Fact]
    public void The_file_keeps_to_its_budget_and_the_newest_stay()
    {
        const long Budget = 1_000_000;
        start = Noon.Date;
        using (var log = Log(budget: Budget))
        {
            for (nowS = 0; nowS < 6 * 86400; nowS += 60)
            {
                for (var i = 0; i < 12; i++)
                    Put(0, nowS / 86400 + i);
                log.Turn();
            }
        }
        Assert.InRange(new FileInfo(FilePath).Length, Budget / 4, Budget * 3 / 2);
        Assert.Contains(Read("room-0.air", Utc.AddHours(-1), Utc), point => point.Utc >= Utc.AddSeconds(-120));
    }

    [Fact]
    public void Stamps_of_a_start_in_1970_are_moved_when_the_clock_is_set_written_or_not()
    {
        start = DateTime.UnixEpoch;
        using (var log = Log())
        {
            Put(0, 20);
            log.Turn();
            nowS = 100;
            Put(0, 21);
            log.Turn();
            start = Noon;
            nowS = 101;
            log.Turn();
            Put(0, 22);
        }
        Assert.Equal([(0.0, 20.0), (100, 21), (101, 22)], Read("room-0.air", Noon.AddSeconds(-1), Noon.AddHours(1)).Select(point => (Math.Round((point.Utc - Noon).TotalSeconds), point.Value)));
        Assert.Empty(Read("room-0.air", DateTime.UnixEpoch, DateTime.UnixEpoch.AddYears(1)));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(-1)]
    public void A_clock_set_by_a_day_loses_no_sample_and_its_days_are_rolled_up_again(int days)
    {
        start = Noon.Date;
        using (var log = Log())
        {
            for (nowS = 0; nowS < 4 * 86400; nowS += 900)
            {
                if (nowS == 2 * 86400)
                    start = start.AddDays(days);
                Put(0, 20);
                log.Turn();
            }
        }
        Assert.Equal((4 * 96).ToString(CultureInfo.InvariantCulture), Sql("SELECT COUNT(*) FROM sample"));
        using var reader = TrendReader.Open(FilePath, out _)!;
        var hours = reader.Hours(["room-0.air"], Noon.Date.AddDays(-2), Noon.Date.AddDays(6))["room-0.air"];
        Assert.Equal(hours.Count, hours.Select(hour => hour.Utc).Distinct().Count());
        Assert.All(hours, hour => Assert.Equal(20, hour.Mean));
        // Forward: a day was jumped over, four of five have hours. Back: two of the four days lie on each other.
        Assert.Equal(days > 0 ? 4 * 24 : 3 * 24, hours.Count);
    }

    [Fact]
    public void Both_hours_of_autumn_are_two_hours()
    {
        start = new DateTime(2026, 11, 1, 0, 0, 0, DateTimeKind.Utc);   // New York: 01:00 to 02:00 comes at 05:00 and at 06:00 UTC (IANA time zone data)
        using (var log = Log())
        {
            for (nowS = 0; nowS < 86400 + 900; nowS += 900)
            {
                Put(0, (int)(nowS / 3600));
                log.Turn();
            }
            nowS = 86400 + 1600;
            log.Turn();
        }
        using var reader = TrendReader.Open(FilePath, out _)!;
        var hours = reader.Hours(["room-0.air"], start, start.AddDays(1))["room-0.air"];
        Assert.Equal(Enumerable.Range(0, 24).Select(hour => (double)hour), hours.Select(hour => hour.Mean));
    }

    [Fact]
    public void States_of_an_older_program_are_found_by_name()
    {
        using (Log())
            Put(2, 2);
        nowS = 100;
        using (Log([new("room-0.stage", Quantity.Number, "off,warm-up,satisfied,pull-down")]))
            Put(0, 3);
        Assert.Equal([3.0, 3], Read("room-0.stage", Noon.AddSeconds(-1), Noon.AddHours(1)).Select(point => point.Value));
    }

    [Fact]
    public void What_stood_and_who_has_seen_it_comes_back_after_a_restart_and_events_are_kept()
    {
        var key = new EventKey(SequenceEvents.DripTrayFull.Id, Owner.Room, 1);
        using (var log = Log())
        {
            ring.Put(new LogEntry(Utc, nowS, new Happening(key.EventId, key.Owner, key.Index, default), default, default, 0));
            log.Turn();
            Assert.True(log.Booked(book => book.Acknowledge(key, "Ada", Utc)));
        }
        start = Noon.AddDays(1);
        using (var log = Log())
        {
            var entry = Assert.Single(log.Open);
            Assert.Equal((key, "Ada", Noon), (entry.Key, entry.AcknowledgedBy, entry.SinceUtc));
        }
        using var reader = TrendReader.Open(FilePath, out _)!;
        Assert.Equal(new TrendEvent(Noon, 120, "drip-tray-full", "alarm", "room-1", "drip tray full: coil valve shut and fan off"), Assert.Single(reader.Events(Noon, Noon.AddDays(2))));
    }

    [Fact]
    public void A_reader_beside_the_writer_sees_what_is_written_and_nobody_waits()
    {
        using var log = Log();
        Put(0, 20);
        log.Turn();
        using var reader = TrendReader.Open(FilePath, out _)!;
        Assert.Equal(Noon, reader.Newest);
        nowS = 700;
        Put(0, 21);
        log.Turn();
        Assert.Equal(2, reader.Samples(["room-0.air"], Noon.AddSeconds(-1), Noon.AddHours(1))["room-0.air"].Count);
        Assert.Equal(0, log.FileTroubles);
    }
}

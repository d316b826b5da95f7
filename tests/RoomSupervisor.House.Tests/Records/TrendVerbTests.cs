// trend as a person types it, on a file that the recorder itself wrote.
using System.Xml.Linq;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.House.Tests.Verbs;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using Xunit.Abstractions;

namespace RoomSupervisor.House.Tests.Records;

public sealed class TrendVerbTests : IDisposable
{
    // New York: daylight saving time ends on 2026-11-01 at 06:00 UTC (IANA time zone data); the stretch ends nine hours later.
    private static readonly DateTime Start = new(2026, 10, 31, 12, 0, 0, DateTimeKind.Utc);
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("trend-verb-");

    private readonly ITestOutputHelper output;

    public TrendVerbTests(ITestOutputHelper output)
    {
        this.output = output;
        foreach (var file in (string[])["site.yaml", "household.yaml"])
            File.Copy(Root.At("config", "one-room", file), Path.Combine(folder.FullName, file));
    }

    public void Dispose() => folder.Delete(true);

    /// <summary>A day and three hours: the air swings, the stage changes every three hours, the fan has its reasons.</summary>
    private void Record()
    {
        var nowS = 0.0;
        var trends = new TrendRing(4096);
        TrendSeries[] series =
        [
            new("weaving-room.air", Quantity.Temperature), new("weaving-room.wanted", Quantity.Temperature), new("weaving-room.stage", Quantity.Number, string.Join(',', Enum.GetValues<Stage>().Select(stage => Names.Of(stage)))),
            new("weaving-room.coil.fan", Quantity.Percent),
        ];
        var words = new LogVocabulary((_, _) => "weaving-room", EventCatalogue.All, SequenceEvents.StageChanged.Id, UnitSystem.Metric);
        var directory = Path.Combine(folder.FullName, "log");
        using var log = new SiteLog(new LogPlace(directory, TimeZoneInfo.Utc, ToConsole: false), new LogRing(16), words, TextWriter.Null, new LogParts
        {
            Clock = () => (Start.AddSeconds(nowS), nowS),
            Trends = new TrendRecorder(Path.Combine(directory, TrendRecorder.FileName), trends, series),
        }, hasThread: false);
        log.TakeUp();
        for (; nowS < 27 * 3600; nowS += 300)
        {
            var utc = Start.AddSeconds(nowS);
            var hour = (int)(nowS / 3600);
            trends.Put(new TrendSample(utc, 0, 24 + 2 * Math.Sin(nowS / 6000), default));
            trends.Put(new TrendSample(utc, 1, 24, default));
            trends.Put(new TrendSample(utc, 2, (int)(hour / 3 % 2 == 0 ? Stage.PullDown : Stage.RadiantHold), default));
            trends.Put(new TrendSample(utc, 3, hour / 3 % 2 == 0 ? 35 : 0, hour / 3 % 2 == 0 ? Reason.Of(Cause.HouseholdLimit, 35) : new Reason(Cause.CoilNotNeeded)));
            log.Turn();
        }
    }

    [Fact]
    public void The_terminal_shows_curve_stages_and_what_changed_last_with_its_reason()
    {
        Record();
        var (code, text, error) = Typed.Verb("trend", "weaving-room", "--site", folder.FullName, "--last", "24h", "--plain");
        Assert.Equal((0, ""), (code, error));
        output.WriteLine(text);
        var lines = text.Split('\n');
        Assert.Equal("weaving-room, 2026-10-31 10:55 to 2026-11-01 09:55", lines[0]);   // 24 h on the clock of the wall is an hour less in this night
        Assert.All(lines, line => Assert.InRange(line.Length, 0, 100));
        Assert.Contains(lines, line => line.Trim() == "P pull-down   R radiant-hold");
        Assert.Matches(@"P{11,13}R{11,13}P{11,13}R{11,13}", text);
        Assert.Contains("01 Nov 07:00:00  weaving-room.coil.fan 35 %: " + CauseWords.Name(Cause.HouseholdLimit), text, StringComparison.Ordinal);
        Assert.Contains(lines, line => line.Contains("00:00", StringComparison.Ordinal) && line.Contains("06:00", StringComparison.Ordinal));
        Assert.DoesNotContain(text, letter => letter is > '~' or '?');
    }

    [Fact]
    public void The_picture_is_well_formed_and_the_table_tells_the_two_hours_of_autumn_apart()
    {
        Record();
        string svg = Path.Combine(folder.FullName, "a.svg"), csv = Path.Combine(folder.FullName, "a.csv");
        Assert.Equal(0, Typed.Verb("trend", "weaving-room", "--site", folder.FullName, "--svg", svg, "--csv", csv).Code);
        var picture = XDocument.Load(svg);
        var texts = picture.Descendants().Where(part => part.Name.LocalName == "text").Select(part => part.Value).ToList();
        Assert.Contains("pull-down", texts);
        Assert.Contains("°C", texts);
        Assert.Equal(3, picture.Descendants().Count(part => part.Name.LocalName == "path"));
        var rows = File.ReadAllLines(csv).Skip(1).Select(row => row.Split(',')).Where(row => row[2] == "weaving-room.air").ToList();
        Assert.Equal(24 * 12, rows.Count);
        Assert.Contains(rows, row => row[1] == "2026-11-01T01:30:00-04:00");
        Assert.Contains(rows, row => row[1] == "2026-11-01T01:30:00-05:00");
        Assert.Contains(File.ReadAllLines(csv), row => row.Contains(",weaving-room.stage,,2,,,pull-down,,", StringComparison.Ordinal));
    }

    [Fact]
    public void What_does_not_exist_is_said_with_what_there_is()
    {
        var (code, _, error) = Typed.Verb("trend", "weaving-room", "--site", folder.FullName);
        Assert.Equal(2, code);
        Assert.Contains("there is no such file yet", error, StringComparison.Ordinal);
        Record();
        (code, _, error) = Typed.Verb("trend", "cellar", "--site", folder.FullName);
        Assert.Equal(2, code);
        Assert.Contains("nothing is recorded of cellar; there is: weaving-room", error, StringComparison.Ordinal);
        (code, _, error) = Typed.Verb("trend", "weaving-room", "--site", folder.FullName, "--last", "24");
        Assert.Equal(2, code);
        Assert.Contains("--last 24: not understood", error, StringComparison.Ordinal);
    }
}

// What the controller of six healthy rooms keeps of ordinary summer days: how often it calls for somebody, how many bytes it writes, whether its trace is played again bit for bit across a power cut, and whether
// what was kept can be read by the verbs' own parts. ROOM_SUPERVISOR_SEASON=30 plays so many days (tools/long does).
using System.Globalization;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Trend;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime.Care;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Site;
using Xunit.Abstractions;

namespace RoomSupervisor.VirtualHouse.Tests.Desk;

public sealed class RehearsedRecordsTests(ITestOutputHelper output) : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("rehearsed-");

    public void Dispose() => folder.Delete(true);

    [Fact]
    public void Healthy_days_of_six_rooms_call_for_nobody_write_little_and_are_played_again_across_a_power_cut()
    {
        var days = Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_SEASON") is { Length: > 0 } asked ? int.Parse(asked, CultureInfo.InvariantCulture) : 1;
        var plan = Plan(days);
        var (records, kept) = ($"{folder.FullName}/kept", $"{folder.FullName}/all.trace.gz");
        var (bytes, alarms, scans, standing) = Play(plan, records, kept);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{days} days: {bytes / 1e6:0.0} MB a day written, {alarms.Count} calls, {standing} warnings standing at the end, trace {new FileInfo(kept).Length / 1e6 / days:0.0} MB a day"));
        foreach (var alarm in alarms)
            output.WriteLine(alarm);
        foreach (var file in new DirectoryInfo(Path.Combine(records, "log")).GetFiles())
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{file.Name} {file.Length / 1e6:0.00} MB"));
        // IEC 62682's sense of an alarm, as shared/reference/events.md promises it; 10 MB a day is what we promise a memory card.
        Assert.InRange(alarms.Count, 0, days);
        Assert.InRange(bytes, 100_000, 10_000_000);

        var outcome = TraceReplay.Play(kept, new ReplayPlan());
        Assert.Equal((scans, scans, 0L), (outcome.Scans, outcome.Checked, outcome.Differing));
        Assert.InRange(outcome.Begun, days + 1, days + 2);   // the start, each midnight, and the return of the power
        Assert.True(outcome.MustBeEqual);

        using var reader = TrendReader.Open(Path.Combine(records, "log", TrendRecorder.FileName), out var why);
        Assert.True(reader is not null, why);
        var rows = Condensation.Of(plan.Files.House, reader, reader.Newest!.Value.AddDays(-1), reader.Newest.Value);
        Assert.NotEmpty(rows);
        Assert.All(rows, row => Assert.True(row is { UnderMin: 0, Film.KgPerM2: 0 } || row.UnderMin > 0, $"{row.Circuit}: a film of {row.Film.KgPerM2} kg/m² without water under the dew point"));
        Assert.Contains(rows, row => row.KnownMin > 1300);
        var care = CareRecord.Parse(new StateFolder(Path.Combine(records, "state")).LoadCare());
        Assert.Contains(care.Figures, one => one.Key.Kind == CareKind.Fan && one.Value is { RunS: > 600, Starts: >= 1 });
        Assert.Contains(care.Figures, one => one.Key.Kind == CareKind.Valve && one.Value.Strokes > 1);
    }

    private RehearsalPlan Plan(int days)
    {
        var site = HouseFromSiteTests.Site("ferry-house");
        var scenario = Path.Combine(folder.FullName, "cut.yaml");
        var ordinary = RehearsalReader.Read(new RehearsalWish(site), out _)!;
        File.WriteAllText(scenario, OrdinaryDays.Text(ordinary.Files.House, ordinary.BuildingFile, days) + "faults:\n  mains: {what: power-cut, where: site, day: 1, at: 04:00, for: 3 min}\n");
        var plan = RehearsalReader.Read(new RehearsalWish(site) { Scenario = scenario, Days = days }, out var problems);
        Assert.True(plan is not null, string.Join('\n', problems));
        return plan;
    }

    private static (double BytesADay, IReadOnlyList<string> Alarms, long Scans, int Standing) Play(RehearsalPlan plan, string records, string trace)
    {
        List<string> problems = [];
        var site = HouseFromSiteTests.Site("ferry-house");
        using var kept = RehearsedRecords.In(records, plan, site, problems);
        Assert.True(kept is not null, string.Join('\n', problems));
        var scans = 0L;
        using (var file = File.Create(trace))
        {
            var tap = new TraceTap(plan.Files.House);
            using var stream = new WholeTrace(file, isPacked: true, tap, new TraceTexts(plan.Files.House, File.ReadAllBytes(Path.Combine(site, SiteReader.SiteFile))).Of);
            using var run = new Rehearsal(plan)
            {
                Tap = tap,
                AfterScan = now =>
                {
                    scans += now.Controller is null ? 0 : 1;
                    stream.Drain();
                    kept.AfterScan(now);
                },
            };
            kept.Begin(run);
            while (!run.IsOver)
                run.Step();
        }
        var standing = kept.Open.Count;
        kept.Dispose();   // its last batch counts
        return (kept.BytesADay, kept.Calls.Select(call => $"{call.Utc:yyyy-MM-dd HH:mm} {call.Text}").ToList(), scans, standing);
    }
}

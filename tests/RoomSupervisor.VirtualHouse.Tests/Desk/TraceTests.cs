// A recorded life of a whole house with faults, a power cut, a clock that jumps and settings that change, played again: equal bit for bit. And that the check sees a single changed
// digit, a hole and a torn end.
using System.IO.Compression;
using System.Text;
using System.Text.RegularExpressions;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Replay;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;
using Xunit.Abstractions;

namespace RoomSupervisor.VirtualHouse.Tests.Desk;

public sealed class TraceTests(ITestOutputHelper output) : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("trace-");

    /// <summary>ROOM_SUPERVISOR_TRACES=folder keeps what was recorded there: a way to make a case for tests/Cases.</summary>
    public void Dispose()
    {
        if (Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_TRACES") is { Length: > 0 } keep)
        {
            foreach (var file in TraceRecorder.Files(folder.FullName))
                File.Copy(file, Path.Combine(keep, Path.GetFileName(file)), overwrite: true);
        }
        folder.Delete(true);
    }

    [Fact]
    public void A_day_with_faults_a_power_cut_and_changed_settings_is_played_again_bit_for_bit()
    {
        var scans = Record("ferry-house", "faults", hours: 26, out var swaps);
        var files = TraceRecorder.Files(folder.FullName);
        // A day of the calendar has a file: the run begins at midnight and ends two hours into the second day.
        Assert.Equal(["2026-07-08.trace.gz", "2026-07-09.trace.gz"], files.Select(Path.GetFileName));
        var outcomes = files.Select(file => TraceReplay.Play(file, new ReplayPlan())).ToList();
        foreach (var outcome in outcomes)
        {
            foreach (var line in ReplayReport.Check(outcome))
                output.WriteLine(line);
            Assert.True(outcome.MustBeEqual);
            Assert.Equal(0, outcome.Differing);
            Assert.Equal(outcome.Scans, outcome.Checked);
            Assert.Empty(outcome.Remarks);
        }
        Assert.Equal(scans, outcomes.Sum(outcome => outcome.Scans));
        Assert.Equal(2, outcomes[0].Begun);   // the start, and the return of the power
        Assert.Equal(swaps, outcomes[0].Reloads);
        foreach (var file in files)
            output.WriteLine($"{Path.GetFileName(file)}: {new FileInfo(file).Length / 1e6:0.0} MB");
    }

    [Fact]
    public void One_changed_digit_a_hole_and_a_torn_end_are_seen()
    {
        Record("one-room", null, hours: 3, out _);
        var file = TraceRecorder.Files(folder.FullName).Single();
        var lines = Unzip(file).TrimEnd().Split('\n');
        Assert.Equal(0, Play(lines).Differing);

        // A tenth of a kelvin in one reading of the second hour.
        var at = Array.FindIndex(lines, 4000, line => line.Contains("\"weaving-room.air.temperature\":2", StringComparison.Ordinal));
        var changed = lines.ToArray();
        changed[at] = Regex.Replace(lines[at], "(\"readings\":{[^}]*\"weaving-room.air.temperature\":)([0-9.]+)", match => match.Groups[1].Value + (double.Parse(match.Groups[2].Value, null) + 0.1).ToString("R", null));
        Assert.NotEqual(lines[at], changed[at]);
        var differing = Play(changed);
        Assert.InRange(differing.Differing, 1, differing.Scans);
        Assert.StartsWith($"line {at + 1}, ", differing.FirstDifference, StringComparison.Ordinal);
        Assert.Contains("NOT EQUAL", string.Join('\n', ReplayReport.Check(differing)), StringComparison.Ordinal);

        // A command that was recorded otherwise is not hidden by an equal sum, nor the other way round: the sum counts.
        changed = lines.ToArray();
        changed[at] = Regex.Replace(lines[at], "\"check\":\"(.)", match => "\"check\":\"" + (match.Groups[1].Value == "0" ? "1" : "0"));
        Assert.Equal(1, Play(changed).Differing);

        // Lines without a head, an elapsed time that goes back, and an end in the middle of a line.
        Assert.Contains("no head", Assert.Throws<TraceException>(() => Play(lines[1..])).Message, StringComparison.Ordinal);
        Assert.Contains("went back", Assert.Throws<TraceException>(() => Play([.. lines[..50], lines[20]])).Message, StringComparison.Ordinal);
        var zipped = File.ReadAllBytes(file);
        File.WriteAllBytes(file, zipped[..(zipped.Length * 2 / 3)]);
        var torn = TraceReplay.Play(file, new ReplayPlan());
        Assert.InRange(torn.Scans, 1, lines.Length - 2);
        Assert.Equal(0, torn.Differing);
        Assert.NotEmpty(torn.Remarks);
        File.WriteAllBytes(file, zipped);
    }

    [Fact]
    public void A_setting_that_is_tried_changes_the_fan_and_is_told_with_figures_and_pictures()
    {
        Record("one-room", null, hours: 18, out _);
        var file = TraceRecorder.Files(folder.FullName).Single();
        var measures = new ReplayMeasures();
        var outcome = TraceReplay.Play(file, new ReplayPlan { Settings = [("weaving-room.fan_at_most", "18 %")], Watch = measures.Take });
        measures.Finish();
        Assert.Equal(0, outcome.Differing);   // what is compared with what was recorded is the way as it was
        var text = string.Join('\n', ReplayReport.Tried(outcome, measures, UnitSystem.Metric));
        output.WriteLine(text);
        var fan = measures.Curves.Single(curve => curve.Id == "weaving-room.coil.fan");
        // The day as it was turns the fan at its slowest, 20 %, for hours: a cap under that lets it turn never, and the ceiling works in its place.
        Assert.InRange(fan.Mean.Was, 5, 35);
        Assert.Equal(0, fan.Mean.Would);
        var ceiling = measures.Curves.Single(curve => curve.Id == "weaving-room.ceiling.valve");
        Assert.True(ceiling.Mean.Would > ceiling.Mean.Was + 5, $"ceiling {ceiling.Mean}");
        Assert.Matches(@"weaving-room\.coil\.fan: mean [\d.]+ % → [\d.]+ %, on [\d.]+ h → [\d.]+ h, otherwise for [\d.]+ h, first at 2026-", text);
        Assert.Contains("    would ", text, StringComparison.Ordinal);
        var svg = System.Xml.Linq.XDocument.Parse(ReplayPicture.Draw(outcome, measures, "weaving-room.fan_at_most=18 %"));
        Assert.Contains(svg.Descendants(), element => element.Name.LocalName == "path" && (string?)element.Attribute("class") == "c1");
        // The same setting as it was is nothing otherwise.
        var same = new ReplayMeasures();
        TraceReplay.Play(file, new ReplayPlan { Settings = [("weaving-room.fan_at_most", "35 %")], Watch = same.Take });
        Assert.Empty(ReplayReport.Changed(same));
        Assert.Contains("did you mean", Assert.Throws<TraceException>(() => TraceReplay.Play(file, new ReplayPlan { Settings = [("weaving-room.fan_at_mos", "35 %")] })).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_ring_that_is_not_emptied_loses_scans_and_says_so_and_what_follows_is_whole_again()
    {
        using var run = Rehearse("one-room", null, capacity: 16, out var recorder);
        for (var i = 0; i < 600; i++)
        {
            run.Step();
            if (i is < 200 or > 300)
                recorder.Drain();
        }
        recorder.Dispose();
        var outcome = TraceReplay.Play(TraceRecorder.Files(folder.FullName).Single(), new ReplayPlan());
        Assert.Equal(2, outcome.Begun);
        Assert.InRange(outcome.Lost, 80, 90);
        Assert.Equal(600, outcome.Scans + outcome.Lost);
        Assert.Equal(0, outcome.Differing);
    }

    [Fact]
    public void A_piece_that_was_cut_out_stands_by_itself_and_says_what_is_missing()
    {
        Record("one-room", null, hours: 3, out _);
        var file = TraceRecorder.Files(folder.FullName).Single();
        var whole = TraceReplay.Play(file, new ReplayPlan());
        using var piece = new MemoryStream();
        var windows = TraceCut.Around([whole.FromUtc.AddMinutes(60), whole.FromUtc.AddMinutes(70), whole.FromUtc.AddMinutes(150)], TimeSpan.FromMinutes(10), TimeSpan.FromMinutes(5));
        Assert.Equal(2, windows.Count);   // the first two meet
        Assert.Equal(2 * (15 * 60 + 1) + 600, TraceCut.Write(file, piece, windows));
        Assert.InRange(piece.Length, 1000, new FileInfo(file).Length / 2);
        piece.Position = 0;
        using var lines = new GZipStream(piece, CompressionMode.Decompress);
        var outcome = TraceReplay.Play(lines, new ReplayPlan());
        Assert.Equal((2 * 901 + 600L, 0L, 2), (outcome.Scans, outcome.Differing, outcome.Begun));
        Assert.Equal(outcome.Scans, outcome.Checked);
        Assert.Equal(whole.Scans, outcome.Scans + outcome.Lost + (long)(whole.ToUtc - windows[1].ToUtc).TotalSeconds);
        Assert.True(outcome.MustBeEqual);
    }

    [Fact]
    public void A_trace_of_a_rehearsal_in_full_lines_is_played_with_its_site()
    {
        var plan = RehearsalReader.Read(new RehearsalWish(HouseFromSiteTests.Site("one-room")), out _)!;
        var path = Path.Combine(folder.FullName, "plain.trace");
        using (var stream = File.Create(path))
        using (var writer = new TraceWriter(stream))
        using (var run = new Rehearsal(plan) { Trace = writer })
        {
            for (var i = 0; i < 1800; i++)
                run.Step();
        }
        var outcome = TraceReplay.Play(path, new ReplayPlan { Site = plan.Files });
        Assert.Equal(1800, outcome.Scans);
        Assert.Equal(0, outcome.Checked);
        Assert.Contains("name the site", Assert.Throws<TraceException>(() => TraceReplay.Play(path, new ReplayPlan())).Message, StringComparison.Ordinal);
    }

    private static ReplayOutcome Play(IEnumerable<string> lines)
    {
        using var stream = new MemoryStream(Encoding.UTF8.GetBytes(string.Join('\n', lines) + "\n"));
        return TraceReplay.Play(stream, new ReplayPlan());
    }

    private static string Unzip(string file)
    {
        using var zip = new GZipStream(File.OpenRead(file), CompressionMode.Decompress);
        return new StreamReader(zip).ReadToEnd();
    }

    private Rehearsal Rehearse(string site, string? scenario, int capacity, out TraceRecorder recorder) => Rehearse(site, scenario, capacity, out recorder, out _);

    private Rehearsal Rehearse(string site, string? scenario, int capacity, out TraceRecorder recorder, out TraceTexts texts)
    {
        var directory = HouseFromSiteTests.Site(site);
        var plan = RehearsalReader.Read(new RehearsalWish(directory) { Scenario = scenario }, out var problems);
        Assert.True(plan is not null, string.Join('\n', problems));
        var tap = new TraceTap(plan.Files.House, capacity);
        texts = new TraceTexts(plan.Files.House, File.ReadAllBytes(Path.Combine(directory, SiteReader.SiteFile)));
        recorder = new TraceRecorder(folder.FullName, tap, plan.Files.Site.TimeZone, texts.Of);
        return new Rehearsal(plan) { Tap = tap };
    }

    /// <summary>Records hours of a rehearsal as a run would: drained every scan, spilled every ten minutes; settings change twice, a hand comes and goes.</summary>
    private long Record(string site, string? scenario, int hours, out int swaps)
    {
        using var run = Rehearse(site, scenario, 128, out var recorder, out var texts);
        var (scans, house) = (0L, run.House);
        swaps = 0;
        var room = house.Rooms[0].Id;
        for (var i = 0; i < hours * 3600; i++)
        {
            if (hours > 20 && i is 20_000 or 30_000 && run.Controller is { } controller)
            {
                Assert.True(HouseholdEdits.TryApply(house, room + ".cool_above", i == 20_000 ? "23.3 °C" : "24.7 °C", out house, out var why), why);
                texts.Know(house, texts.Of(run.House).Site);
                controller.Loop.Swap(house);
                swaps++;
            }
            run.Step();
            scans += run.Controller is null ? 0 : 1;
            recorder.Drain();
            if (i % 600 == 599)
                recorder.Spill();
        }
        recorder.Dispose();
        return scans;
    }
}

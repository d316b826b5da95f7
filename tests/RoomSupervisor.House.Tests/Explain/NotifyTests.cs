// The owner's command at alarms: it is told everything once, not more often than allowed, and a command that hangs, fails or is not there holds nobody up and is said.
using RoomSupervisor.Records;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Explain;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.House.Tests.Explain;

[System.Runtime.Versioning.SupportedOSPlatform("linux")]
public sealed class NotifyTests : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("notify-");
    private readonly List<string> said = [];

    public void Dispose() => folder.Delete(true);

    [Fact]
    public async Task Every_alarm_is_told_once_and_what_comes_within_the_pause_is_told_together()
    {
        var told = Path.Combine(folder.FullName, "told");
        using (var notifier = new Notifier(Script($"echo \"run $1\" >> {told}\ncat >> {told}"), "Ferry House", Say, every: TimeSpan.FromHours(1)))
        {
            notifier.Tell(Notice(0, Priority.Alarm));
            while (!File.Exists(told) || !File.ReadAllText(told).Contains("alarm 0", StringComparison.Ordinal))
                await Task.Delay(20);
            for (var i = 1; i <= 5; i++)
                notifier.Tell(Notice(i, i == 3 ? Priority.Urgent : Priority.Alarm));
        }
        var lines = File.ReadAllLines(told);
        Assert.Equal("run alarm", lines[0]);
        Assert.Equal("2026-07-14T18:00:00Z alarm Ferry House: weaving-room: alarm 0 | please look today", lines[1]);
        Assert.Equal("run urgent", lines[2]);
        Assert.Equal(8, lines.Length);
        Assert.Empty(said);
    }

    [Fact]
    public void A_command_that_hangs_holds_nobody_up_is_ended_and_said()
    {
        using (var notifier = new Notifier(Script("sleep 100000"), "x", Say, every: TimeSpan.FromHours(1), limit: TimeSpan.FromSeconds(1)))
        {
            for (var i = 0; i < 1000; i++)
                notifier.Tell(Notice(i, Priority.Alarm));
        }
        Assert.Contains(said, line => line.Contains("did not end within 1 s and was ended", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("exit 3", "ended with exit code 3")]
    [InlineData(null, "No such file")]
    public void A_command_that_fails_or_is_not_there_is_said(string? script, string why)
    {
        using (var notifier = new Notifier(script is null ? Path.Combine(folder.FullName, "missing") : Script(script), "x", Say))
            notifier.Tell(Notice(0, Priority.Alarm));
        Assert.Contains(why, Assert.Single(said), StringComparison.Ordinal);
    }

    [Fact]
    public void A_site_names_its_command_and_hears_at_the_start_when_it_is_not_there()
    {
        var text = File.ReadAllText(Repository.Root.At("config", "one-room", "site.yaml")).Replace("site:\n", $"site:\n  notify: {folder.FullName}/missing\n", StringComparison.Ordinal);
        var result = Site.SiteReader.Accept(System.Text.Encoding.UTF8.GetBytes(text), File.ReadAllBytes(Repository.Root.At("config", "one-room", "household.yaml")), null, Hardware.Drivers.All, DateTime.UnixEpoch);
        Assert.True(result.Files is not null, string.Join('\n', result.Problems));
        Assert.Equal($"{folder.FullName}/missing", result.Files.Site.Notify);
        Assert.True(Wiring.TryBuild(result.Files, Path.Combine(folder.FullName, "log"), false, TimeProvider.System, TextWriter.Null, out var wiring, out _, isQuiet: true));
        wiring!.Dispose();
        Assert.Contains($"notify: {folder.FullName}/missing is not there", File.ReadAllText(Path.Combine(folder.FullName, "log", "room-supervisor.log")), StringComparison.Ordinal);
    }

    [Fact]
    public void The_log_tells_of_alarms_and_of_nothing_less()
    {
        var ring = new LogRing(16);
        List<string> alarmed = [];
        var words = new LogVocabulary((_, _) => "weaving-room", EventCatalogue.All, SequenceEvents.StageChanged.Id, UnitSystem.Metric);
        using var log = new SiteLog(new LogPlace(folder.FullName, TimeZoneInfo.Utc, ToConsole: false), ring, words, TextWriter.Null,
            new LogParts { Alarmed = (_, what, where, text) => alarmed.Add($"{what.Priority} {where}: {text}") }, hasThread: false);
        foreach (var what in EventCatalogue.All.Values.Where(one => one.Id is >= 100 and < 200).GroupBy(one => one.Priority).Select(group => group.First()))
            ring.Put(new LogEntry(DateTime.UnixEpoch, 0, new Happening(what.Id, Owner.Room, 0, default), default, default, 0));
        log.Turn();
        Assert.Equal(["Alarm", "Urgent"], alarmed.Select(line => line.Split(' ')[0]).Order());
    }

    private static Notice Notice(int number, Priority priority) => new(new DateTime(2026, 7, 14, 18, 0, number % 60, DateTimeKind.Utc), priority, "weaving-room", $"alarm {number}", "please look today");

    private void Say(Priority priority, string line)
    {
        lock (said)
            said.Add(line);
    }

    private string Script(string text)
    {
        var path = Path.Combine(folder.FullName, "command");
        File.WriteAllText(path, "#!/bin/sh\n" + text + "\n");
        File.SetUnixFileMode(path, UnixFileMode.UserRead | UnixFileMode.UserExecute | UnixFileMode.UserWrite);
        return path;
    }
}

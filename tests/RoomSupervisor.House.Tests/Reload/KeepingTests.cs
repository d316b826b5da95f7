// What a reload leaves on disk: the answer, versions, undo; and a disk that cannot be written.
using System.Text;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Runtime.Reload;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Story;

namespace RoomSupervisor.House.Tests.Reload;

[System.Runtime.Versioning.SupportedOSPlatform("linux")]
public sealed class KeepingTests : IDisposable
{
    private static readonly DateTime Now = new(2026, 11, 25, 12, 0, 0, DateTimeKind.Utc);
    private readonly SiteFolder folder = new();
    private readonly List<string> troubles = [];

    public void Dispose() => folder.Dispose();

    private Keeping Keep(string? directory = null) => new(directory ?? folder.Path, folder.State, TimeZoneInfo.Utc, troubles.Add);

    [Fact]
    public void The_answer_is_written_once_and_not_again_when_it_says_the_same()
    {
        Keep().Answer("Accepted:\n  fan 30 %\n", Now);
        var first = folder.Text(Keeping.AnswerFile);
        Assert.Contains("2026-11-25 12:00:00", first, StringComparison.Ordinal);
        Keep().Answer("Accepted:\n  fan 30 %\n", Now.AddHours(1));
        Assert.Equal(first, folder.Text(Keeping.AnswerFile));
        Keep().Answer("Accepted:\n  fan 31 %\n", Now.AddHours(2));
        Assert.Contains("14:00:00", folder.Text(Keeping.AnswerFile), StringComparison.Ordinal);
        Assert.Equal([Keeping.AnswerFile], Directory.GetFiles(folder.Path).Select(path => Path.GetFileName(path)));   // nothing left beside it
        Assert.Empty(troubles);
    }

    /// <summary>A directory that is none stands for a read-only one: root may write everywhere. /dev/full is a full disk.</summary>
    [Fact]
    public void A_disk_that_cannot_be_written_is_said_once_and_goes_on()
    {
        folder.Put("file", "x");
        var keep = Keep(folder.At("file"));
        keep.Answer("a", Now);
        keep.Answer("b", Now);
        Assert.Contains(Keeping.AnswerFile, Assert.Single(troubles), StringComparison.Ordinal);
        var noState = new Keeping(folder.Path, new StateFolder(folder.At("file")), TimeZoneInfo.Utc, troubles.Add);
        noState.LastGood(SiteFolder.Bytes("x"), OneRoom.Files(Root.Path).House);
        Assert.True(troubles.Count > 1);
    }

    [Fact]
    public void The_last_fifty_versions_are_kept_whole_with_their_differences()
    {
        var history = folder.State.History;
        for (var i = 1; i <= 60; i++)
            Assert.Equal(i, history.Add(Now.AddMinutes(i), [$"room.fan_at_most: {i} % → {i + 1} %"], SiteFolder.Bytes($"# mine ü\r\nv{i}\n# ---- the file as it was ----\n")));
        var all = history.All();
        Assert.Equal(Enumerable.Range(11, 50), all.Select(version => version.Number));
        Assert.Equal("# mine ü\r\nv60\n# ---- the file as it was ----\n", Encoding.UTF8.GetString(all[^1].Text));
        Assert.Equal((Now.AddMinutes(60), "room.fan_at_most: 60 % → 61 %"), (all[^1].Utc, Assert.Single(all[^1].Changes)));
    }

    [Fact]
    public void Undo_puts_a_version_back_with_its_comments_and_keeps_the_present_one()
    {
        var history = folder.State.History;
        var path = folder.At("household.yaml");
        Assert.False(HouseholdUndo.Back(path, history, null, TimeProvider.System, out var said));
        Assert.Contains("no earlier version", said, StringComparison.Ordinal);
        history.Add(Now, ["one"], SiteFolder.Bytes("# first\n"));
        history.Add(Now, ["two"], SiteFolder.Bytes("# second\n"));
        folder.Put("household.yaml", "# half typed");
        File.SetUnixFileMode(path, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.GroupWrite);
        Assert.True(HouseholdUndo.Back(path, history, 1, TimeProvider.System, out said), said);
        Assert.Equal("# first\n", folder.Text("household.yaml"));
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.GroupWrite, File.GetUnixFileMode(path));
        Assert.Contains("kept as version 3", said, StringComparison.Ordinal);
        Assert.Equal("# half typed", Encoding.UTF8.GetString(history.Find(3)!.Text));
        Assert.True(HouseholdUndo.Back(path, history, 3, TimeProvider.System, out _));
        Assert.Equal(3, history.All().Count);   // what is kept already is not kept twice
        Assert.False(HouseholdUndo.Back(path, history, 99, TimeProvider.System, out _));
    }

    [Fact]
    public void A_change_counts_when_it_has_come_to_rest()
    {
        folder.Put("household.yaml", "one");
        var watch = new FileWatch(folder.At("household.yaml"), SiteFolder.Bytes("one"));
        Assert.False(watch.Look());
        folder.Put("household.yaml", "tw");   // an editor halfway
        Assert.False(watch.Look());
        folder.Put("household.yaml", "two");
        Assert.False(watch.Look());
        Assert.True(watch.Look());
        Assert.Equal("two", Encoding.UTF8.GetString(watch.Settled!));
        Assert.False(watch.Look());
        // Renamed away for a moment: nothing. Gone for good: told at the third look.
        folder.Put("household.yaml", null);
        Assert.False(watch.Look() || watch.Look());
        folder.Put("household.yaml", "two");
        Assert.False(watch.Look() || watch.Look());
        folder.Put("household.yaml", null);
        Assert.False(watch.Look() || watch.Look());
        Assert.True(watch.Look());
        Assert.Null(watch.Settled);
        // Same length, same stamp, other content.
        var stamp = new DateTime(2026, 1, 1, 0, 0, 0, DateTimeKind.Utc);
        foreach (var text in new[] { "abc", "abd" })
        {
            folder.Put("household.yaml", text);
            File.SetLastWriteTimeUtc(folder.At("household.yaml"), stamp);
            Assert.False(watch.Look());
            Assert.True(watch.Look());
        }
    }
}

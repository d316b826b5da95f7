// What stands around a run on its board: who may read and change its files, a second copy on a stick, a board that forgets its house, and what another version would have decided. With real files
// in folders of their own; the stick is a folder said to be mounted.
using RoomSupervisor.House.Tests.Explain;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Runtime.Board;
using RoomSupervisor.Runtime.Explain.Pack;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Story;
using RoomSupervisor.Terms;
using Xunit.Abstractions;

namespace RoomSupervisor.House.Tests.Board;

[System.Runtime.Versioning.SupportedOSPlatform("linux")]
public sealed class BoardFilesTests : IDisposable
{
    private const UnixFileMode Mine = UnixFileMode.UserRead | UnixFileMode.UserWrite, Folder = Mine | UnixFileMode.UserExecute, Group = UnixFileMode.GroupRead | UnixFileMode.GroupExecute;

    private readonly ITestOutputHelper output;
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("board-files-");
    private readonly string site, stick;
    private readonly List<string> said = [];

    public BoardFilesTests(ITestOutputHelper output)
    {
        this.output = output;
        (site, stick) = (Directory.CreateDirectory(At("site")).FullName, Directory.CreateDirectory(At("stick")).FullName);
        foreach (var file in (string[])["site.yaml", "household.yaml"])
            File.Copy(Root.At("config", "one-room", file), Path.Combine(site, file));
    }

    public void Dispose() => folder.Delete(true);

    [Fact]
    public void What_anybody_may_change_is_told_and_to_a_service_what_anybody_may_read()
    {
        var file = Path.Combine(site, "site.yaml");
        IReadOnlyList<string> Open(bool isService) => FileModes.Open([site], [file, Path.Combine(site, "missing")], isService);
        File.SetUnixFileMode(site, Folder | Group);
        File.SetUnixFileMode(file, Mine | UnixFileMode.OtherRead | UnixFileMode.OtherWrite);
        Assert.Empty(Open(true));   // nobody else can enter the folder
        File.SetUnixFileMode(site, Folder | Group | UnixFileMode.OtherRead | UnixFileMode.OtherExecute);
        Assert.Equal([$"{file} may be changed by anybody"], Open(false));
        Assert.Equal([$"{site} may be looked into by anybody", $"{file} may be changed by anybody"], Open(true));
        File.SetUnixFileMode(file, Mine | UnixFileMode.OtherRead);
        Assert.Empty(Open(false));
        Assert.Contains($"{file} may be read by anybody", Open(true));
        File.SetUnixFileMode(site, Folder | UnixFileMode.OtherWrite | UnixFileMode.OtherExecute);
        Assert.Contains($"{site} may be changed by anybody", Open(false));
    }

    [Fact]
    public void A_second_copy_is_written_once_a_day_two_generations_and_makes_a_spare_board_the_site()
    {
        LeftSite.Fill(site);
        var (utc, nowS, isMounted) = (new DateTime(2026, 7, 14, 18, 0, 0, DateTimeKind.Utc), 0.0, false);
        using var copy = new SecondCopy(stick, () => (utc.AddSeconds(nowS), nowS), (priority, line) => said.Add($"{priority}: {line}")) { IsMounted = _ => isMounted };
        copy.Begin(new PackWish(site, new StateFolder(Path.Combine(site, "state")), Path.Combine(site, "log"), TimeSpan.Zero) { OnlyState = true });
        var file = Path.Combine(stick, SecondCopy.FileName);

        // No stick: not a byte is written where it would be the same card, and it is told once, then after three days as something to see to.
        for (; nowS < 4 * 86400; nowS += 600)
            copy.Spill();
        Assert.Empty(Directory.GetFileSystemEntries(stick));
        Assert.Equal(2, said.Count);
        Assert.StartsWith($"Note: second copy: no stick is mounted at {stick}", said[0], StringComparison.Ordinal);
        Assert.Matches(@"^Warning: there has been no second copy for 7[23](\.\d)? h \| means: ", said[1]);

        isMounted = true;
        for (var end = nowS + 3600; nowS < end; nowS += 600)
            copy.Spill();
        Assert.StartsWith("Note: a second copy was written again", said[2], StringComparison.Ordinal);
        var first = File.ReadAllBytes(file);
        Assert.InRange(first.Length, 500, 200_000);
        File.AppendAllText(Path.Combine(site, "household.yaml"), "# changed\n");
        for (var end = nowS + 86400; nowS < end; nowS += 600)
            copy.Spill();
        Assert.Equal(first, File.ReadAllBytes(file + ".1"));
        Assert.NotEqual(first, File.ReadAllBytes(file));

        var board = Directory.CreateDirectory(At("board")).FullName;
        Assert.Equal(0, LeftSite.TypePlain(output, ["restore", file, "--site", board, "--yes"]).Code);
        Assert.EndsWith("# changed\n", File.ReadAllText(Path.Combine(board, "household.yaml")), StringComparison.Ordinal);
        Assert.NotNull(new StateFolder(Path.Combine(board, "state")).LoadMemory());
        Assert.False(Directory.Exists(Path.Combine(board, "log")));
    }

    [Theory]
    [InlineData("", false)]                                                                         // nothing there
    [InlineData("61 50 254:0 /media/room-supervisor /media/room-supervisor rw,noatime", false)]      // the strict unit lets it be written: the folder mounted onto itself
    [InlineData("61 50 254:0 /media/room-supervisor /media/room-supervisor rw,noatime;70 61 8:1 / /media/room-supervisor rw", true)]
    [InlineData("70 50 8:1 / /media/room-supervisor rw", true)]
    [InlineData("61 50 8:1 / /media rw", false)]                                                    // another place
    [InlineData("61 50 8:1 / /media rw;62 61 8:1 /room-supervisor /media/room-supervisor rw", false)]
    [InlineData("61 50 8:1 / /media/room-supervisor2 rw", false)]
    public void A_stick_is_another_disk_than_the_one_around_its_folder(string mounts, bool expected)
        => Assert.Equal(expected, SecondCopy.HasAnother("/media/room-supervisor/", ["50 1 254:0 / / ro,noatime shared:1 - ext4 /dev/root rw", "51 50 0:20 / /media2 rw", .. mounts.Split(';')]));

    [Fact]
    public void A_board_forgets_its_house_after_a_pack_of_it_was_kept_and_nothing_else()
    {
        LeftSite.Fill(site);
        File.WriteAllText(Path.Combine(site, "notes.txt"), "ours");
        // Whatever else the controller and its desk keep of a house: a floor that is heated up day by day must not go on in another one.
        var state = new StateFolder(Path.Combine(site, "state"));
        state.SaveScreed("ceiling-loop", "day 3"u8);
        state.SaveScreed("ceiling-loop", "day 4"u8);
        state.SaveStarts("one"u8);
        state.SaveCare("two"u8);
        state.SaveSite("three"u8);
        state.SaveHousehold("four"u8);
        state.SetMemoryAside();
        File.WriteAllText(Path.Combine(state.Path, ".memory.4000000.new"), "half");
        File.WriteAllText(Path.Combine(Directory.CreateDirectory(Path.Combine(site, "checkout")).FullName, "book.jsonl"), "{}");
        Assert.Equal(2, LeftSite.Type(output, site, "factory-reset").Code);   // what becomes of it?
        var (code, text) = LeftSite.TypePlain(output, ["factory-reset", "--keep", At("kept.zip"), "--site", site], "no\n");
        Assert.Equal(1, code);
        Assert.Contains("nothing was taken away", text, StringComparison.Ordinal);
        File.Delete(At("kept.zip"));
        (code, text) = LeftSite.TypePlain(output, ["factory-reset", "--keep", At("kept.zip"), "--site", site], "yes\n");
        Assert.Equal(0, code);
        Assert.Equal(["notes.txt"], Directory.GetFiles(site, "*", SearchOption.AllDirectories).Select(Path.GetFileName));
        Assert.Equal(0, LeftSite.TypePlain(output, ["restore", At("kept.zip"), "--site", site, "--yes"]).Code);
        Assert.Equal(0, LeftSite.Type(output, site, "check").Code);
        // A pack that cannot be written takes nothing away.
        Assert.Equal(2, LeftSite.TypePlain(output, ["factory-reset", "--keep", At("missing", "kept.zip"), "--yes", "--site", site]).Code);
        Assert.True(File.Exists(Path.Combine(site, "site.yaml")));
    }

    [Fact]
    public void What_power_cut_in_the_middle_of_a_write_is_taken_away_at_the_next_start_and_nothing_else()
    {
        // Process numbers of Linux end at 4,194,304 (proc(5), pid_max): nobody can have this one. Number 1 is always there.
        string[] stays = [".household.yaml.1.new", ".hidden", "household.yaml", ".notes.new", "site.yaml"];
        foreach (var name in stays.Append(".household.yaml.4194305.new").Append($".memory.{Environment.ProcessId}.new").Where(name => !File.Exists(Path.Combine(site, name))))
            File.WriteAllText(Path.Combine(site, name), "half");
        SafeFile.Tidy(site);
        Assert.Equal(stays.Order(StringComparer.Ordinal), Directory.GetFiles(site).Select(file => Path.GetFileName(file)).Order(StringComparer.Ordinal));
        SafeFile.Tidy(Path.Combine(site, "missing"));
    }

    [Theory]
    [InlineData("", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855")]
    [InlineData("abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad")]
    [InlineData("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq", "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1")]
    public void Sums_are_those_of_the_standard(string text, string sum)   // FIPS 180-2, appendix B; the empty text: NIST's example values
        => Assert.Equal(sum, Convert.ToHexStringLower(Sha256.Of(System.Text.Encoding.ASCII.GetBytes(text))));

    [Fact]
    public void Sums_are_those_of_another_library_whatever_the_length()
    {
        var random = new Random(12);
        for (var length = 0; length < 300; length++)
        {
            var bytes = new byte[length];
            random.NextBytes(bytes);
            Assert.Equal(System.Security.Cryptography.SHA256.HashData(bytes), Sha256.Of(bytes));
        }
    }

    [Fact]
    public void Another_version_is_tried_on_the_recorded_days_and_what_it_decides_otherwise_is_shown_with_its_reason()
    {
        var traces = Directory.CreateDirectory(Path.Combine(site, "log", TraceRecorder.FolderName)).FullName;
        var program = ControllerProcess.ProgramBeside(AppContext.BaseDirectory);
        var (code, text) = LeftSite.TypePlain(output, ["update", "--preview", program, "--site", site], asProgram: true);
        Assert.Equal(0, code);
        Assert.Contains("no day is recorded, so nothing can be played: run --record", text, StringComparison.Ordinal);

        var day = TimeProvider.System.GetUtcNow().ToString("yyyy-MM-dd", null) + TraceRecorder.Ending;
        File.Copy(Root.At("tests", "Cases", "one-room-night.trace.gz"), Path.Combine(traces, day));
        (code, text) = LeftSite.TypePlain(output, ["update", "--preview", program, "--site", site], asProgram: true);
        Assert.Equal(0, code);
        Assert.Contains("it reads this site", text, StringComparison.Ordinal);
        Assert.Contains("all 1 day(s) are decided as they were", text, StringComparison.Ordinal);

        // A version that decides otherwise, one that refuses the site, one that does not start.
        (code, text) = LeftSite.TypePlain(output, ["update", "--preview", Other("replay) echo 'otherwise: 12 of 10800 scans decide otherwise than recorded'; echo 'first: line 5, 2026-07-08 01:00:00: weaving-room.coil.fan was 35, now 50 (fan limit of the household 50 %)';;"), "--site", site], asProgram: true);
        Assert.Equal(1, code);
        Assert.Contains($"{day}: otherwise: 12 of 10800 scans", text, StringComparison.Ordinal);
        Assert.Contains("    first: line 5, 2026-07-08 01:00:00: weaving-room.coil.fan was 35, now 50 (fan limit", text, StringComparison.Ordinal);
        (code, text) = LeftSite.TypePlain(output, ["update", "--preview", Other("check) echo 'site.yaml:3: error: unknown key'; exit 2;;"), "--site", site], asProgram: true);
        Assert.Equal(2, code);
        Assert.Contains("it REFUSES this site: site.yaml:3: error: unknown key", text, StringComparison.Ordinal);
        Assert.Equal(2, LeftSite.TypePlain(output, ["update", "--preview", At("missing.deb"), "--site", site], asProgram: true).Code);
        File.WriteAllText(At("not-a.deb"), "nothing");
        Assert.Equal(2, LeftSite.TypePlain(output, ["update", "--preview", At("not-a.deb"), "--site", site], asProgram: true).Code);
    }

    [Fact]
    public void What_a_replay_decides_otherwise_is_told_with_its_reason()
    {
        var outcome = TraceReplay.Play(Root.At("tests", "Cases", "one-room-night.trace.gz"), new ReplayPlan
        {
            Altered = house => Site.HouseholdEdits.TryApply(house, "weaving-room.cool_above", "21 °C", out var changed, out _) ? changed : house,
        });
        output.WriteLine(outcome.FirstDifference);
        Assert.Matches(@"(: |line \d+, 2026-07-08 [\d:]+: )[a-z.-]+ was [\d.]+, now [\d.]+ \([^)]+\)", outcome.FirstDifference);
    }

    private string At(params string[] parts) => Path.Combine([folder.FullName, .. parts]);

    /// <summary>A program of another version, as far as it is asked.</summary>
    private string Other(string branch)
    {
        var path = At("other");
        File.WriteAllText(path, $"#!/bin/sh\ncase \"$1\" in --version) echo 9.9.9+abc;; {branch} check) exit 0;; replay) echo 'equal: all 10800 scans decided bit for bit what was recorded';; esac\n");
        File.SetUnixFileMode(path, Folder);
        return path;
    }
}

// A support pack from a site that was left, opened elsewhere, where the same verbs say the same; put onto a spare board; and packs made to harm.
using System.IO.Compression;
using System.Text;
using RoomSupervisor.House.Tests.Examples;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Runtime.Explain.Pack;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Runtime.State;
using Xunit.Abstractions;

namespace RoomSupervisor.House.Tests.Explain;

public sealed class PackTests : IDisposable
{
    private readonly ITestOutputHelper output;
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("pack-");
    private readonly string site, pack;

    public PackTests(ITestOutputHelper output)
    {
        this.output = output;
        site = Directory.CreateDirectory(At("site")).FullName;
        pack = At("a.pack.zip");
        foreach (var file in (string[])["site.yaml", "household.yaml"])
            File.Copy(Root.At("config", "one-room", file), Path.Combine(site, file));
    }

    public void Dispose() => folder.Delete(true);

    [Fact]
    public void In_the_office_the_verbs_say_what_they_said_on_the_site()
    {
        LeftSite.Fill(site);
        var traces = Directory.CreateDirectory(Path.Combine(site, "log", TraceRecorder.FolderName)).FullName;
        var trace = Path.Combine(traces, TimeProvider.System.GetUtcNow().ToString("yyyy-MM-dd", null) + TraceRecorder.Ending);
        File.Copy(Root.At("tests", "Cases", "one-room-night.trace.gz"), trace);
        Assert.Equal(0, Type(site, "pack", "--file", pack).Code);
        Assert.InRange(new FileInfo(pack).Length, 1000, SupportPack.Limit);
        var office = At("office");
        var (code, text) = Plain("unpack", pack, office);
        Assert.Equal(0, code);
        Assert.Contains("no controller answered: counters and bus statistics are missing", text, StringComparison.Ordinal);

        // The age of what is told may differ by the seconds in between.
        static string WithoutAges(string told) => System.Text.RegularExpressions.Regex.Replace(told, @"\d\d:\d\d|[\d.]+ (s|min|h)\b", "#");
        foreach (var arguments in (string[][])[["why", "weaving-room"], ["log", "--since", "1d"], ["condensation", "--since", "1d"], ["status"], ["trend", "weaving-room", "--plain"]])
        {
            var (there, here) = (Type(site, arguments), Type(office, arguments));
            Assert.Equal(there.Code, here.Code);
            Assert.Equal(WithoutAges(there.Text), WithoutAges(here.Text));
        }
        Assert.Contains("equal: all 10800 scans", Plain("replay", Path.Combine(office, "log", "trace", Path.GetFileName(trace))).Text, StringComparison.Ordinal);
        Assert.Equal(0, Type(office, "check").Code);
        Assert.Contains("version 1", Type(office, "status").Text, StringComparison.Ordinal);
        // A directory that holds something is not mixed with it.
        Assert.Equal(2, Plain("unpack", pack, office).Code);
    }

    [Fact]
    public void Without_names_no_name_of_the_house_is_left_and_the_site_is_still_understood()
    {
        LeftSite.Fill(site);
        Assert.Equal(0, Type(site, "pack", "--without-names", "--file", pack).Code);
        using (var zip = ZipFile.OpenRead(pack))
        {
            foreach (var entry in zip.Entries)
            {
                using var reader = new StreamReader(entry.Open());
                var text = reader.ReadToEnd();
                foreach (var name in (string[])["weaving", "Ferry House", "ceiling-loop"])
                    Assert.False(text.Contains(name, StringComparison.Ordinal), $"{entry.FullName} holds {name}");
            }
        }
        Plain("unpack", pack, At("office"));
        Assert.Equal(0, Type(At("office"), "check").Code);
        Assert.Contains("left out: log/trends.db: its series carry names", File.ReadAllText(At("office", SupportPack.AboutName)), StringComparison.Ordinal);
    }

    [Fact]
    public void What_does_not_fit_is_left_out_and_said()
    {
        LeftSite.Fill(site);
        // Noise does not pack: three megabytes of it, with a limit of two.
        var noise = new byte[3_000_000];
        new Random(5).NextBytes(noise);
        File.WriteAllBytes(Path.Combine(site, "log", "room-supervisor.log.4"), noise);
        var leftOut = SupportPack.Write(pack, Wish() with { LimitBytes = 2_000_000 }, DateTime.UnixEpoch.AddYears(56));
        Assert.Contains(leftOut, line => line.StartsWith("log/room-supervisor.log.4: 3.0 MB more would be over the limit of 2 MB", StringComparison.Ordinal));
        Assert.InRange(new FileInfo(pack).Length, 1000, 2_000_000);
        using var zip = ZipFile.OpenRead(pack);
        Assert.NotNull(zip.GetEntry("log/trends.db"));
        Assert.NotNull(zip.GetEntry("state/memory"));
    }

    [Fact]
    public void A_day_that_has_no_room_is_packed_around_its_alarms_and_the_piece_is_played_again()
    {
        // The case's night with an alarm in the middle of it, told by the trends' own book.
        var traces = Directory.CreateDirectory(Path.Combine(site, "log", TraceRecorder.FolderName)).FullName;
        var trace = Path.Combine(traces, "2026-07-08" + TraceRecorder.Ending);
        File.Copy(Root.At("tests", "Cases", "one-room-night.trace.gz"), trace);
        var whole = TraceReplay.Play(trace, new ReplayPlan());
        var alarmUtc = whole.FromUtc + (whole.ToUtc - whole.FromUtc) / 2;
        LeftSite.Alarm(Path.Combine(site, "log"), alarmUtc);
        var wish = Wish() with { LimitBytes = 60_000 + new FileInfo(trace).Length };
        var leftOut = SupportPack.Write(pack, wish, whole.ToUtc.AddHours(1));
        output.WriteLine(string.Join('\n', leftOut));
        Assert.Contains(leftOut, line => line.StartsWith("log/trace/2026-07-08.trace.gz: only the time around its warnings and alarms, half an hour before and after", StringComparison.Ordinal));
        Unpacking.Into(pack, At("office"));
        var piece = TraceReplay.Play(At("office", "log", "trace", "2026-07-08.trace.gz"), new ReplayPlan());
        Assert.InRange(piece.Scans, 3590, 3610);
        Assert.Equal(0, piece.Differing);
        Assert.InRange(piece.Lost, 1000, whole.Scans);
        Assert.Equal(alarmUtc.AddMinutes(-30), piece.FromUtc, TimeSpan.FromSeconds(2));
    }

    [Theory]
    [InlineData("../evil.txt")]
    [InlineData("log/../../evil.txt")]
    [InlineData("/evil.txt")]
    [InlineData("log\\..\\evil.txt")]
    [InlineData("C:evil.txt")]
    [InlineData("log//evil.txt")]
    [InlineData("./evil.txt")]
    [InlineData("log/evil\u0000.txt")]
    [InlineData("log/")]
    [InlineData("SITE.yaml")]
    public void A_name_that_leads_elsewhere_or_stands_twice_unpacks_nothing(string name)
    {
        Harmful(zip =>
        {
            Put(zip, "site.yaml", "site: {}");
            Put(zip, name, "evil");
        });
        var inner = At("inner", "deep");
        var e = Assert.Throws<PackException>(() => Unpacking.Into(pack, inner));
        output.WriteLine(e.Message);
        Assert.Contains("nothing was unpacked", e.Message, StringComparison.Ordinal);
        Assert.False(Directory.Exists(inner));
        Assert.DoesNotContain(Directory.GetFiles(folder.FullName, "*", SearchOption.AllDirectories), file => file.Contains("evil", StringComparison.Ordinal));
        Assert.Throws<PackException>(() => Unpacking.Restore(pack, inner, new StateFolder(At("inner", "state")), DateTime.UnixEpoch));
    }

    [Fact]
    public void A_link_a_bomb_and_a_file_that_is_no_pack_are_refused()
    {
        Harmful(zip =>
        {
            var link = zip.CreateEntry("log/link");
            link.ExternalAttributes = unchecked((int)0xA1FF0000);   // a symbolic link, as Unix tools pack it
            using var text = link.Open();
            text.Write("/etc/passwd"u8);
        });
        Assert.Contains("leads elsewhere", Assert.Throws<PackException>(() => Unpacking.Into(pack, At("x"))).Message, StringComparison.Ordinal);
        Harmful(zip =>
        {
            using var bomb = zip.CreateEntry("log/bomb", CompressionLevel.Fastest).Open();
            var zeros = new byte[1_000_000];
            for (var i = 0; i < 401; i++)
                bomb.Write(zeros);
        });
        Assert.Contains("would unpack to 401 MB", Assert.Throws<PackException>(() => Unpacking.Into(pack, At("x"))).Message, StringComparison.Ordinal);
        File.WriteAllText(pack, "not a zip");
        Assert.Contains("no support pack", Assert.Throws<PackException>(() => Unpacking.Into(pack, At("x"))).Message, StringComparison.Ordinal);
        Harmful(_ => { }, "something else");
        Assert.Contains("first line is not", Assert.Throws<PackException>(() => Unpacking.Into(pack, At("x"))).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_spare_board_asks_keeps_what_was_there_and_then_is_the_site()
    {
        LeftSite.Fill(site);
        SupportPack.Write(pack, Wish(), TimeProvider.System.GetUtcNow().UtcDateTime);
        var board = Directory.CreateDirectory(At("board")).FullName;
        File.WriteAllText(Path.Combine(board, "site.yaml"), "# what stood there\n");

        var (code, text) = LeftSite.TypePlain(output, ["restore", pack, "--site", board], "no\n");
        Assert.Equal(1, code);
        Assert.Contains("nothing was changed", text, StringComparison.Ordinal);
        Assert.Equal("# what stood there\n", File.ReadAllText(Path.Combine(board, "site.yaml")));

        (code, text) = LeftSite.TypePlain(output, ["restore", pack, "--site", board], "yes\n");
        Assert.Equal(0, code);
        Assert.Equal("# what stood there\n", File.ReadAllText(Directory.GetFiles(board, "site.yaml.before-*").Single()));
        Assert.Equal(File.ReadAllBytes(Path.Combine(site, "site.yaml")), File.ReadAllBytes(Path.Combine(board, "site.yaml")));
        Assert.NotNull(new StateFolder(Path.Combine(board, "state")).LoadMemory());
        Assert.Single(new StateFolder(Path.Combine(board, "state")).History.All());
    }

    [Fact]
    public void Every_example_is_understood_without_its_names()
    {
        foreach (var name in Example.Names)
        {
            var names = NameMask.Of(Example.Files(name), File.ReadAllBytes(Root.At("config", name, "site.yaml")));
            byte[] Hidden(string file) => Encoding.UTF8.GetBytes(NameMask.Hide(NameMask.WithoutRemarks(File.ReadAllText(Root.At("config", name, file))), names));
            var result = Site.SiteReader.Accept(Hidden("site.yaml"), Hidden("household.yaml"), null, Hardware.Drivers.All, new DateTime(2026, 7, 1, 0, 0, 0, DateTimeKind.Utc));
            Assert.True(result.Files is not null, $"{name}: {string.Join('\n', result.Problems)}");
            Assert.All(result.Files.House.Rooms, room => Assert.True(room.Id.StartsWith("room-", StringComparison.Ordinal) || room.Id == "bath", room.Id));
        }
    }

    private PackWish Wish() => new(site, new StateFolder(Path.Combine(site, "state")), Path.Combine(site, "log"), TimeSpan.FromDays(7));

    private string At(params string[] parts) => Path.Combine([folder.FullName, .. parts]);

    private void Harmful(Action<ZipArchive> fill, string about = SupportPack.Mark)
    {
        File.Delete(pack);
        using var zip = ZipFile.Open(pack, ZipArchiveMode.Create);
        Put(zip, SupportPack.AboutName, about + "\n");
        fill(zip);
    }

    private static void Put(ZipArchive zip, string name, string text)
    {
        using var entry = zip.CreateEntry(name).Open();
        entry.Write(Encoding.UTF8.GetBytes(text));
    }

    private (int Code, string Text) Type(string directory, params string[] arguments) => LeftSite.Type(output, directory, arguments);

    private (int Code, string Text) Plain(params string[] arguments) => LeftSite.TypePlain(output, arguments);
}

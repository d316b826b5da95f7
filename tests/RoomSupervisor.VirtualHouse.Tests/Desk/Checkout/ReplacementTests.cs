// A replaced part takes its offset, its lag, its results and the room's measured data with it; comments and everybody else's figures stay.
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse.Tests.Desk.Checkout;

public sealed class ReplacementTests : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("replace-");

    public void Dispose() => folder.Delete(true);

    private static SiteFiles Files(string site) => HouseFromSiteTests.Plan(site).Files;

    private static string Text(string site) => File.ReadAllText(Path.Combine(HouseFromSiteTests.Site(site), "site.yaml"));

    [Fact]
    public void A_sensors_offset_goes_with_it_and_nothing_else_of_the_file()
    {
        var replaced = Replacement.Of(Files("ferry-house"), "landing-hall.air", out var why)!;
        Assert.Equal("", why);
        Assert.Equal(["landing-hall"], replaced.Rooms);
        var before = Text("ferry-house");
        var after = replaced.Without(before, "2027-04-12", out var gone);
        Assert.Equal(["landing-hall.air.temperature/offset: -0.2 K"], gone);
        var (was, now) = (before.Split('\n'), after.Split('\n'));
        Assert.Equal(was.Length, now.Length);
        var changed = Enumerable.Range(0, was.Length).Where(i => was[i] != now[i]).ToList();
        Assert.Contains("kind: wall-sensor}   # offset: -0.2 K was the old sensor's, until 2027-04-12", now[Assert.Single(changed)], StringComparison.Ordinal);
        var read = SiteReader.Read(after, null, Drivers.All).Files!;
        Assert.Equal(0, read.House.Inputs[read.House.InputTable.IndexOf("landing-hall.air.temperature")].Sensor.Offset);
        Assert.Contains(replaced.Again, step => step.Id == "calibration/landing-hall.air.temperature");
        Assert.Contains(replaced.Again, step => step.Id == "guard/landing-hall");
        Assert.DoesNotContain(replaced.Again, step => step.Id == "calibration/kitchen.air.temperature");
    }

    [Fact]
    public void A_coil_takes_its_draught_limit_along_and_a_pump_the_balance_of_its_loop()
    {
        var coil = Replacement.Of(Files("one-room"), "weaving-room.coil", out _)!;
        var after = coil.Without(Text("one-room"), "2027-04-12", out var gone);
        Assert.Equal(["rooms/weaving-room/coil/draught_fan_at_most: 60 %"], gone);
        Assert.Contains("      # draught_fan_at_most: 60 % was the old coil's, until 2027-04-12", after, StringComparison.Ordinal);
        Assert.NotNull(SiteReader.Read(after, null, Drivers.All).Files);
        Assert.Contains(coil.Again, step => step.Id == "fan-sound/weaving-room.coil");

        var pump = Replacement.Of(Files("one-room"), "ceiling-loop.pump", out _)!;
        var book = CheckoutBook.Open(Path.Combine(folder.FullName, "book.jsonl"));
        foreach (var id in new[] { "pump/ceiling-loop", "pump/coil-loop", "balance/ceiling-loop.weaving-room.ceiling", "calibration/weaving-room.air.temperature" })
            book.Add(BookTests.Entry(id));
        Assert.Equal(2, pump.StrikeOut(book, "A", DateTime.UnixEpoch));
        Assert.Equal(["pump/coil-loop", "calibration/weaving-room.air.temperature"], book.Current().Select(entry => entry.Id));
    }

    [Fact]
    public void What_was_measured_of_the_room_is_forgotten_on_disk_and_that_of_others_is_not()
    {
        var files = Files("ferry-house");
        var memory = new Memory(files.House);
        memory.RoomData[0].PullDowns = 5;
        memory.RoomData[1].PullDowns = 7;
        memory.Rooms[0].Air.CapacityJPerK = 1e6;
        var state = new StateFolder(folder.FullName);
        var utc = new DateTime(2027, 4, 12, 0, 0, 0, DateTimeKind.Utc);
        MemoryKeeper.Keep(state, memory, files.House, utc);
        Assert.True(Replacement.Of(files, "landing-hall.coil-north", out _)!.ForgetOnDisk(state, files.House, out var why), why);
        var kept = MemoryKeeper.Kept(state)!.Value;
        Assert.Equal(utc, kept.Utc);
        var saved = RoomSupervisor.Runtime.MemoryFile.RoomData(kept.Bytes)!.Value;
        Assert.Equal((0, 7), (saved.Data[0].PullDowns, saved.Data[1].PullDowns));
        Assert.True(RoomSupervisor.Runtime.MemoryFile.TryLoad(kept.Bytes, files.House, out var loaded, out _));
        Assert.Equal(0, loaded.Rooms[0].Air.CapacityJPerK);
    }

    [Fact]
    public void What_is_not_there_is_told_with_what_was_probably_meant()
    {
        Assert.Null(Replacement.Of(Files("ferry-house"), "landing-hall.coil-nort", out var why));
        Assert.Contains("did you mean landing-hall.coil-north?", why, StringComparison.Ordinal);
        Assert.Null(Replacement.Of(Files("one-room"), "boiler", out why));
        Assert.Contains("weaving-room.coil", why, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("weaving-room.air.temperature/offset", "-0.3 K", "{device: io-1, channel: air-temperature, accuracy: 0.3 K, lag: 120 s, offset: -0.3 K}")]
    [InlineData("weaving-room.air.temperature/lag", "90 s", "{device: io-1, channel: air-temperature, accuracy: 0.3 K, lag: 90 s}")]
    [InlineData("loops/ceiling-loop/stroke", "101 s", "    stroke: 101 s             # of the mixing valve")]
    [InlineData("kind of weaving-room.coil/sound/level", "44 dB", "      level: 44 dB           # at the ear, not at the coil")]
    [InlineData("kind of weaving-room.coil/start_voltage", "2.1 V", "    start_voltage: 2.1 V     # the fan just turns ...")]
    public void A_value_is_put_in_its_place_and_its_comment_stays(string path, string value, string expected)
    {
        Assert.True(SitePartEdits.TrySet(Text("one-room"), path, value, out var edited, out var why), why);
        Assert.Contains(expected, edited, StringComparison.Ordinal);
        Assert.Equal(value, SitePartEdits.ValueOf(edited, path));
        Assert.NotNull(SiteReader.Read(edited, null, Drivers.All).Files);
        Assert.False(SitePartEdits.TrySet(edited, "no-room.air.temperature/offset", "1 K", out _, out why));
        Assert.Contains("no such place", why, StringComparison.Ordinal);
    }

    [Fact]
    public void Exchanged_channels_are_written_both_or_not_at_all()
    {
        var text = Text("ferry-house");
        const string One = "kitchen.air.temperature/channel", Other = "weaving-room.air.temperature/channel";
        Dictionary<string, string> half = new() { [One] = "that of weaving-room.air.temperature" };
        Assert.True(Proposals.TryApply(text, null, half, out var edited, out var done, out _));
        Assert.Equal(text, edited);
        Assert.Contains("not written", Assert.Single(done), StringComparison.Ordinal);
        half[Other] = "that of kitchen.air.temperature";
        Assert.True(Proposals.TryApply(text, null, half, out edited, out done, out var why), why);
        Assert.Equal(("weaving-temperature", "kitchen-temperature"), (SitePartEdits.ValueOf(edited, One), SitePartEdits.ValueOf(edited, Other)));

        // Once written, it is not found a second time: that would exchange them back.
        var book = CheckoutBook.Open(Path.Combine(folder.FullName, "exchanged.jsonl"));
        foreach (var (path, value) in half)
            book.Add(BookTests.Entry("input/" + path.Split('/')[0], Verdict.Fail, value["that of ".Length..] + " moved") with { Proposals = new Dictionary<string, string> { [path] = value } });
        Assert.Equal(2, Proposals.StrikeOut(book, text, edited, "A", DateTime.UnixEpoch).Count);
        Assert.Empty(Proposals.Of(book.Current()));
    }
}

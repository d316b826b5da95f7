// The verb new: what it writes is read by the strict reader as it stands, it never overwrites, and from another site it takes everything but
// what belongs to that house.
using RoomSupervisor.Hardware;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;

namespace RoomSupervisor.House.Tests.Verbs;

public sealed class NewTests : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("new-");

    private string At => Path.Combine(folder.FullName, "site");

    public void Dispose() => folder.Delete(true);

    private (int Code, string Out, string Error) New(string source = "heat-pump", string units = "metric", string rooms = NewSiteRooms.Example, string name = "Boat shed")
        => Typed.Verb("new", At, "--name", name, "--time-zone", "America/New_York", "--units", units, "--source", source, "--rooms", rooms);

    private SiteFiles Read()
    {
        var result = SiteReader.Read(At, Drivers.All);
        Assert.Empty(result.Problems);
        return result.Files!;
    }

    [Theory]
    [InlineData("heat-pump", "metric")]
    [InlineData("heat-pump", "us")]
    [InlineData("chiller", "metric")]
    [InlineData("chiller", "us")]
    [InlineData("boiler", "metric")]
    [InlineData("boiler", "us")]
    public void Whatever_makes_the_water_and_hangs_in_the_rooms_the_files_are_clean(string source, string units)
    {
        Assert.Equal(0, New(source, units, "living room: ceiling coil 24 m²; bath: floor 80 ft2; hall: coil-north coil-south wall 62,5 m²; store: coil 9 m²; loft: ceiling floor 30 m2", "It's \"Ferry\": #1 # b").Code);
        var house = Read().House;
        Assert.Equal("It's \"Ferry\": #1 # b", house.Name);
        Assert.Equal(["living-room", "bath", "hall", "store", "loft"], house.Rooms.Select(room => room.Id));
        Assert.Equal(80 * 0.09290304, house.Rooms[1].Settings.FloorAreaM2, 1e-3);   // 1 ft = 0.3048 m exactly (international foot)
        Assert.Equal(62.5, house.Rooms[2].Settings.FloorAreaM2);
        Assert.Equal(2, house.Rooms[2].Coils.Length);
        Assert.Equal(source, house.Sources[0].Type switch { SourceType.Boiler => "boiler", SourceType.Chiller => "chiller", _ => "heat-pump" });
        Assert.Contains("# fill in", File.ReadAllText(Path.Combine(At, "site.yaml")), StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_that_is_there_is_never_touched()
    {
        Directory.CreateDirectory(At);
        File.WriteAllText(Path.Combine(At, "household.yaml"), "mine");
        var (code, _, error) = New();
        Assert.Equal(2, code);
        Assert.Contains("is there already", error, StringComparison.Ordinal);
        Assert.Equal("mine", File.ReadAllText(Path.Combine(At, "household.yaml")));
        Assert.False(File.Exists(Path.Combine(At, "site.yaml")));
        Assert.Equal(2, Typed.Verb("new", At, "--like", Root.At("config", "one-room")).Code);
        Assert.False(File.Exists(Path.Combine(At, "site.yaml")));
    }

    [Fact]
    public void Without_a_terminal_what_is_missing_is_named_by_its_option()
    {
        var (code, text, error) = Typed.Verb("new", At, "--name", "x");
        Assert.Equal(2, code);
        Assert.Equal("", text);
        Assert.All(new[] { "--time-zone", "--units", "--source", "--rooms" }, option => Assert.Contains(option + " is missing", error, StringComparison.Ordinal));
        Assert.DoesNotContain("--name is missing", error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(At));
    }

    [Theory]
    [InlineData("living room ceiling 24 m²", "has no colon")]
    [InlineData("living room: ceeling 24 m²", "\"ceeling\" is nothing that heats or cools")]
    [InlineData("living room: ceiling", "its floor area is missing")]
    [InlineData("living room: 24 m²", "nothing heats or cools it")]
    [InlineData("living room: coil coil 24 m²", "names an emitter twice")]
    [InlineData("living room: ceiling 24 kW", "area \"24 kW\"")]
    [InlineData("living room: ceiling 1 m²", "out of range")]
    [InlineData("a: coil 9 m²; a: coil 9 m²", "two rooms are called \"a\"")]
    [InlineData("coil-loop: coil 9 m²", "take another")]
    [InlineData("outdoor: coil 9 m²", "reserved word")]
    [InlineData(" ; ", "no room is named")]
    public void Rooms_that_are_not_understood_are_told_with_their_words(string rooms, string says)
    {
        Assert.False(NewSiteRooms.TryRead(rooms, out _, out var why));
        Assert.Contains(says, why, StringComparison.Ordinal);
        var (code, _, error) = New(rooms: rooms);
        Assert.Equal(2, code);
        Assert.Contains("--rooms: " + why, error, StringComparison.Ordinal);
    }

    [Fact]
    public void On_a_terminal_it_asks_for_what_is_missing_and_asks_again_when_an_answer_is_wrong()
    {
        var answers = new NewSiteAnswers { Name = "Boat shed", Units = "us" };
        using var said = new StringWriter();
        Assert.Empty(answers.Complete(new StringReader("New York\nAmerica/New_York\nboiler\nbath: bathtub 8 m²\nbath: floor 8 m²\n"), said));
        Assert.Equal(("America/New_York", "boiler", "bath"), (answers.Zone, answers.Source, answers.ReadRooms.Single().Name));
        Assert.Contains("America/New_York", said.ToString(), StringComparison.Ordinal);
        Assert.Contains("\"bathtub\" is nothing", said.ToString(), StringComparison.Ordinal);
        Assert.Contains("--rooms is missing", string.Join('\n', new NewSiteAnswers { Name = "x" }.Complete(new StringReader("UTC\nus\nboiler\n"), said)), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("coil-only")]
    [InlineData("ferry-house")]
    [InlineData("floor-only")]
    [InlineData("one-room")]
    [InlineData("two-pipe")]
    public void Like_another_site_keeps_its_comments_and_drops_what_belongs_to_its_house(string like)
    {
        Assert.Equal(0, Typed.Verb("new", At, "--like", Root.At("config", like)).Code);
        var (before, after) = (SiteReader.Read(Root.At("config", like), Drivers.All), SiteReader.Read(At, Drivers.All));
        Assert.NotNull(after.Files);
        Assert.Equal(before.Problems.Select(problem => problem.KeyPath), after.Problems.Select(problem => problem.KeyPath));
        Assert.Equal(before.Files!.Wiring.Select(wire => (wire.PointId, wire.Channel)), after.Files.Wiring.Select(wire => (wire.PointId, wire.Channel)));
        Assert.All(after.Files.House.Inputs, input => Assert.Equal(0, input.Sensor.Offset));
        Assert.All(after.Files.House.Coils, coil => Assert.Equal(100, coil.Settings.DraughtAtMostPercent));
        var (old, made) = (File.ReadAllLines(Root.At("config", like, "site.yaml")), File.ReadAllLines(Path.Combine(At, "site.yaml")));
        Assert.Equal(old.Length, made.Length);
        Assert.All(old.Zip(made).Where(pair => pair.First != pair.Second), pair => Assert.Contains("# fill in", pair.Second, StringComparison.Ordinal));
        Assert.All(old.Zip(made).Where(pair => pair.First.Contains(" # ", StringComparison.Ordinal)),
            pair => Assert.Contains(pair.First[(pair.First.IndexOf(" # ", StringComparison.Ordinal) + 3)..], pair.Second, StringComparison.Ordinal));
        Assert.Equal(File.ReadAllText(Root.At("config", like, "household.yaml")), File.ReadAllText(Path.Combine(At, "household.yaml")));
    }

    [Fact]
    public void Like_drops_addresses_and_calibration_however_they_are_written()
    {
        var text = File.ReadAllText(Root.At("config", "one-room", "site.yaml"))
            .Replace("host: 192.0.2.10", "host: \"module-7.lan\"   # in the cupboard", StringComparison.Ordinal)
            .Replace("    unit: 1\n", "    unit: 17\n", StringComparison.Ordinal)
            .Replace("{device: io-1, channel: air-temperature,", "{offset: -0.4 K, device: io-1, channel: air-temperature,", StringComparison.Ordinal)
            .Replace("      air.humidity: {device: io-1, channel: air-humidity, accuracy: 2 %}", "      air.humidity:\n        device: io-1\n        channel: air-humidity\n        offset: 1.5 %   # by salt", StringComparison.Ordinal)
            .Replace("    floor_area: 24 m²\n", "    floor_area: 24 m²\n    air_capacity: 400 kJ/K\n", StringComparison.Ordinal);
        var other = Path.Combine(folder.FullName, "other");
        NewSiteFiles.Write(other, text, File.ReadAllText(Root.At("config", "one-room", "household.yaml")));
        Assert.NotNull(SiteReader.Read(other, Drivers.All).Files);
        Assert.Equal(0, Typed.Verb("new", At, "--like", other, "--name", "Mill").Code);
        var house = Read().House;
        Assert.Equal("Mill", house.Name);
        Assert.All(house.Inputs, input => Assert.Equal(0, input.Sensor.Offset));
        Assert.Equal(15 * 24, house.Rooms[0].Settings.AirCapacityKJPerK);
        var made = File.ReadAllText(Path.Combine(At, "site.yaml"));
        Assert.DoesNotContain("module-7", made, StringComparison.Ordinal);
        Assert.DoesNotContain("17", made, StringComparison.Ordinal);
        Assert.Contains("in the cupboard", made, StringComparison.Ordinal);
        Assert.Contains("by salt", made, StringComparison.Ordinal);
    }
}

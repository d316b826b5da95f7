// An estimate as a whole: what it says hangs together, the starting site passes the strict readers and is rehearsable, wishes that do not work are named with what would.
// Must never judge a design: only that the estimate is true to itself and to what it wrote.
using System.Text.Json;
using RoomSupervisor.Desk.Estimate;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Hardware;
using RoomSupervisor.Site;
using Xunit.Abstractions;

namespace RoomSupervisor.VirtualHouse.Tests.Estimate;

public sealed class EstimateTests(ITestOutputHelper output) : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("estimate-");

    public void Dispose() => folder.Delete(true);

    private const string FloorsOnABoiler = """
        name: Old mill
        units: us
        time_zone: America/Chicago
        place: {latitude: 41.9, longitude: -87.9, winter_outdoor: -19 °C, summer_outdoor: 33 °C, summer_dew_point: 23 °C, mean_outdoor: 10 °C}
        building: {insulation: old, wall_u: 0.6 W/m²K}
        source: {type: boiler}
        rooms:
          hall: {floor_area: 500 ft2, below: ground, above: outside, floor: {covering: wood}}
          store: {floor_area: 20 m², below: ground, coil: {fan: steps}}
        """;

    private const string Chiller = """
        name: Flat
        time_zone: America/New_York
        place: {latitude: 40.6, longitude: -73.8, winter_outdoor: -9 °C, summer_outdoor: 32 °C, summer_dew_point: 22 °C}
        source: {type: chiller}
        rooms:
          great-room: {floor_area: 40 m², wall_west: 20 m², glass_west: 8 m², ceiling: {build: plaster, spacing: 10 cm}, wall-east: {build: plaster}, coil: {shared_with: bedroom}}
          bedroom: {floor_area: 15 m², ceiling: {}, noise_at_most: 28 dB}
        doors:
          between: {from: great-room, to: bedroom}
        """;

    public static TheoryData<string> Files => new(Asked.Small, FloorsOnABoiler, Chiller, File.ReadAllText(Asked.Ferry));

    [Theory]
    [MemberData(nameof(Files))]
    public void The_starting_site_is_clean_and_can_be_rehearsed(string text)
    {
        EstimateResult result = text == Asked.Small ? Asked.BoatShed : Asked.Make(text);
        string at = Path.Combine(folder.FullName, "site");
        StartingSite.Write(at, result, Data.Root);
        SiteResult read = SiteReader.Read(at, Drivers.All);
        Assert.True(read.Files is not null && read.Problems.Count == 0, string.Join('\n', read.Problems));
        string[] scenarios = [.. Directory.GetFiles(Path.Combine(at, "scenarios")).Select(file => Path.GetFileNameWithoutExtension(file)).Where(name => name is StartingSite.Summer or StartingSite.Door or StartingSite.Winter)];
        Assert.NotEmpty(scenarios);
        foreach (string scenario in scenarios)
        {
            RehearsalPlan? plan = RehearsalReader.Read(new RehearsalWish(at) { Scenario = scenario }, out IReadOnlyList<string> problems);
            Assert.True(plan is not null, string.Join('\n', problems));
            using RoomSupervisor.Desk.Rehearsal.Rehearsal run = new(plan);
            while (run.ElapsedS < 300) run.Step();
            Assert.All(run.Recorder.Now, room => Assert.InRange(room.AirC, 5, 40));
        }

        Assert.Throws<IOException>(() => StartingSite.Write(at, result, Data.Root));
    }

    [Theory]
    [MemberData(nameof(Files))]
    public void Table_page_json_and_quantities_tell_the_same_house(string text)
    {
        EstimateResult result = text == Asked.Small ? Asked.BoatShed : Asked.Make(text);
        using StringWriter table = new(), page = new();
        EstimateTable.Write(table, result);
        output.WriteLine(table.ToString());
        EstimateReport.Write(page, result);
        using MemoryStream json = new();
        EstimateJson.Write(json, result);
        using JsonDocument document = JsonDocument.Parse(json.ToArray());
        Assert.Equal(1 + result.Variants.Count, document.RootElement.GetProperty("ways").GetArrayLength());
        System.Xml.Linq.XDocument.Parse(page.ToString().Replace("<!DOCTYPE html>", "", StringComparison.Ordinal));
        foreach (RoomEstimate room in result.Wish.Rooms)
        {
            Assert.Contains(room.Name, table.ToString(), StringComparison.Ordinal);
            Assert.Contains(room.Name, page.ToString(), StringComparison.Ordinal);
        }

        Assert.Contains(EstimateResult.Caution, table.ToString(), StringComparison.Ordinal);
        Assert.Contains(EstimateResult.Caution, page.ToString(), StringComparison.Ordinal);
        string csv = QuantityList.Csv(result.Wish);
        Assert.All(csv.TrimEnd().Split('\n'), line => Assert.Equal(4, CommasOutside(line)));
        Assert.DoesNotContain("NaN", table.ToString() + page + csv, StringComparison.Ordinal);
        Assert.DoesNotContain("∞", table.ToString() + page + csv, StringComparison.Ordinal);
    }

    private static int CommasOutside(string line)
    {
        int commas = 0;
        bool inside = false;
        foreach (char c in line)
        {
            if (c == '"') inside = !inside;
            else if (c == ',' && !inside) commas++;
        }

        return commas;
    }

    [Fact]
    public void The_quantities_are_those_of_the_site_that_is_written()
    {
        WayEstimate way = Asked.FerryHouse.Wish;
        IReadOnlyList<QuantityLine> all = QuantityList.Of(way);
        double Of(string what) => all.Where(line => line.Where == "house" && line.What == what).Sum(line => line.Count);
        string site = way.Drafted.Texts.Site;
        int Registers(string table) => site.Split('\n').Count(line => line.Contains($"{{table: {table},", StringComparison.Ordinal));
        Assert.Equal((Registers("holding-register"), Registers("coil"), Registers("discrete-input"), Registers("input-register")), ((int)Of("outputs 0-10 V"), (int)Of("relay outputs"), (int)Of("contact inputs"), (int)Of("measured inputs")));
        Assert.Equal(44 + 16 + 12 + 18 + 11, all.Where(line => line.What.EndsWith("active surface", StringComparison.Ordinal)).Sum(line => line.Count));
        Assert.Equal(6, all.Where(line => line.What.StartsWith("fan coil", StringComparison.Ordinal)).Sum(line => line.Count));
        Assert.Equal(1, Of("high-limit thermostats of heated floors"));
    }

    [Fact]
    public void A_coil_without_a_size_gives_at_its_slowest_what_the_room_usually_needs()
    {
        CoilEstimate coil = Assert.Single(Asked.BoatShed.Wish.Rooms[0].Coils);
        output.WriteLine(coil.ToString());
        Assert.True(coil.IsSized);
        Assert.InRange(coil.Ratio, 0.7, 1.25);   // rule 2.8 aims at 1.2 at most; sizes are rounded to 50 W
    }

    [Fact]
    public void A_ceiling_alone_in_humid_air_is_told_with_what_would_do()
    {
        EstimateResult result = Asked.Make(Asked.Small.Replace("    coil: {}\n", "", StringComparison.Ordinal));
        output.WriteLine(string.Join('\n', result.Advice));
        Assert.Contains(result.Advice, line => line.StartsWith("shed: the ceiling alone does not cool it", StringComparison.Ordinal) && line.Contains("add coil", StringComparison.Ordinal));
        Assert.True(result.Wish.Rooms[0].OutsideH > 3);
    }

    [Fact]
    public void A_coil_too_large_for_its_room_is_told_with_the_size_that_would_do()
    {
        EstimateResult result = Asked.Make(Asked.Small.Replace("coil: {}", "coil: {output: 6 kW}", StringComparison.Ordinal));
        Assert.Contains(result.Advice, line => line.Contains("it can only start and stop", StringComparison.Ordinal) && line.Contains("A coil of", StringComparison.Ordinal));
        Assert.Contains(Asked.Make(Asked.Small.Replace("noise_at_most: 35 dB", "fan_at_most: 10 %", StringComparison.Ordinal)).Advice, line => line.Contains("never runs", StringComparison.Ordinal));
    }

    [Fact]
    public void Variants_move_what_they_should()
    {
        EstimateResult ferry = Asked.FerryHouse;
        WayEstimate Of(string name) => ferry.Variants.First(way => way.Name == name);
        Assert.Equal(0, Of("without-ceilings").SurfaceShare);
        Assert.True(ferry.Wish.SurfaceShare > 0);
        // Over 20 °C nothing is cooled: no way tells of warmer water in its surfaces.
        Assert.All([ferry.Wish, .. ferry.Variants], way => Assert.False(way.SupplyHighC > SurfaceGives.WarmestC, way.Name));
        Assert.True(Of("larger-coils").RecoveryMin < ferry.Wish.RecoveryMin);
        RoomEstimate wished = ferry.Wish.Rooms[3], quieter = Of("quieter-loft").Rooms[3];
        Assert.Equal(wished.Coils[0].AtCap.LevelDb - 5, quieter.Coils[0].AtCap.LevelDb, 0.3);
        Assert.True(quieter.Coils[0].AtCap.SensibleW < wished.Coils[0].AtCap.SensibleW);
    }
}

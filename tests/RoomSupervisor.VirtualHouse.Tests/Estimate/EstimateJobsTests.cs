// Estimates of quite different jobs, read as a designer reads them: what is promised must be what the written site can do, and follow from what stands beside it.
// Must never take a figure from the estimate to check it by where one by hand will do.
using RoomSupervisor.Desk.Estimate;
using RoomSupervisor.Hardware;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;
using Xunit.Abstractions;

namespace RoomSupervisor.VirtualHouse.Tests.Estimate;

public sealed class EstimateJobsTests(ITestOutputHelper output) : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("estimate-");

    public void Dispose() => folder.Delete(true);

    private const string Humid = "name: Bungalow\ntime_zone: America/Chicago\nplace: {latitude: 29.7, longitude: -95.3, winter_outdoor: 0 °C, summer_outdoor: 36 °C, summer_range: 8 K, summer_dew_point: 26.5 °C, mean_outdoor: 21 °C}\n";

    private const string Cold = "name: Prairie\ntime_zone: America/Winnipeg\nplace: {latitude: 49.9, longitude: -97.1, winter_outdoor: -33 °C, summer_outdoor: 31 °C, summer_dew_point: 17 °C, mean_outdoor: 3 °C}\n";

    private const string Room = "floor_area: 20 m², wall_south: 12 m², glass_south: 4 m², above: outside, below: ground";

    private EstimateResult Make(string text)
    {
        EstimateResult result = Asked.Make(text);
        using StringWriter table = new();
        EstimateTable.Write(table, result);
        output.WriteLine(table.ToString());
        return result;
    }

    private static string Table(EstimateResult result)
    {
        using StringWriter table = new();
        EstimateTable.Write(table, result);
        return table.ToString();
    }

    // It got 19 °C water at a dew point of 26 °C and was told 0.8 K too warm; rehearsed it was 10 K, for the sequence isolates it.
    [Fact]
    public void A_room_too_humid_for_the_water_of_its_loop_gets_none()
    {
        EstimateResult result = Make(Humid + $"rooms:\n  dried: {{{Room}, ceiling: {{}}, coil: {{}}}}\n  humid: {{{Room}, ceiling: {{}}}}\nvariants: {{same: {{coils: yes}}}}\n");
        RoomEstimate humid = result.Wish.Rooms[1];
        Assert.Equal(0, humid.PeakGivenW, 5);
        Assert.True(humid.OutsideKh > 60, $"{humid.OutsideKh} K·h");
        // Air that is held at 24 °C cannot have a dew point over that.
        Assert.InRange(humid.HumidDewC, 23.9, 24.0);
        Assert.True(humid.Surfaces[0].Humid.SupplyC > humid.HumidDewC + 1);
        // The dried room's ceiling is what drying would give the humid one, and is told so: 60·(dT/8)^1.1 with water that warms by the rated output over 3 K.
        Assert.Equal(0, humid.Surfaces[0].HumidW);
        Assert.Equal(result.Wish.Rooms[0].Surfaces[0].DryW, humid.Surfaces[0].DryW, 3);
        Assert.True(humid.Reserve < 0.01);
        Assert.Contains(result.Advice, line => line.StartsWith("humid: 24.0 h", StringComparison.Ordinal) && line.Contains("it gets 0 W", StringComparison.Ordinal));
    }

    [Fact]
    public void A_floor_that_is_only_to_be_heated_has_no_cold_water_beside_one_that_is_cooled()
    {
        EstimateResult result = Make(Cold + $"rooms:\n  down: {{{Room}, floor: {{cooled: yes}}, coil: {{}}}}\n  up: {{{Room}, floor: {{covering: wood}}, ceiling: {{}}}}\n");
        var house = result.Wish.Drafted.Files.House;
        Assert.Equal(["ceiling-loop", "floor-loop", "warm-floor-loop", "coil-loop"], house.Loops.Select(loop => loop.Id));
        Assert.False(house.Loops[2].Cools);
        Assert.False(result.Wish.Rooms[1].Surfaces.First(surface => surface.Key == "floor").IsCooled);
        Assert.True(double.IsNaN(result.Wish.Loops[2].CoolingSupplyC));
        StartingSite.Write(Path.Combine(folder.FullName, "site"), result, Data.Root);
        SiteResult read = SiteReader.Read(Path.Combine(folder.FullName, "site"), Drivers.All);
        Assert.True(read.Files is not null && read.Problems.Count == 0, string.Join('\n', read.Problems));
        // Without ceilings nothing cools the upper room any more: that way is not the better one.
        Assert.True(result.Variants.First(way => way.Name == "without ceilings").Rooms[1].OutsideH > 12);
        // Nobody's air-source machine is sure to run there.
        Assert.Contains(result.Advice, line => line.StartsWith("source: at -33 °C", StringComparison.Ordinal) && line.Contains("second source", StringComparison.Ordinal));
    }

    // By hand: a panel of 60 W/m² at 8 K has 8/60 − 1/10.8 = 0.0407 m²K/W before its face; a heated ceiling's face gives 6 W/(m²·K) (ISO 11855-2): 8/(0.0407 + 1/6) = 38.6 W/m².
    [Fact]
    public void A_heated_ceiling_gives_what_its_face_can_and_is_never_warmer_than_its_water()
    {
        SurfaceEstimate ceiling = Asked.BoatShed.Wish.Rooms[0].Surfaces[0];
        WishedSurface wished = Asked.BoatShed.Wish.Drafted.Wish.Rooms[0].Surfaces[0];
        Assert.Equal((60, 38.6), (wished.CoolingWPerM2, wished.HeatingWPerM2));
        double faceC = 20.5 + ceiling.HeatingW / ceiling.AreaM2 / 6;
        Assert.InRange(faceC, 28, 35);
    }

    [Fact]
    public void A_way_that_would_leave_a_room_with_nothing_is_left_out_and_told()
    {
        EstimateResult result = Make(Cold + $"source: {{type: chiller}}\nrooms:\n  a: {{{Room}, coil: {{}}}}\n  b: {{{Room}, ceiling: {{}}}}\n");
        Assert.DoesNotContain(result.Variants, way => way.Name == "without ceilings");
        Assert.Contains("without ceilings: not set beside it, for b would have nothing", Table(result), StringComparison.Ordinal);
        EstimateResult only = Make(Humid + $"source: {{type: chiller}}\nrooms:\n  a: {{{Room}, ceiling: {{}}}}\n");
        Assert.Empty(only.Variants);
        Assert.Single(only.LeftOut);
        // A site without coils has no coil's valve among its kinds.
        StartingSite.Write(Path.Combine(folder.FullName, "site"), only, Data.Root);
        Assert.Empty(SiteReader.Read(Path.Combine(folder.FullName, "site"), Drivers.All).Problems);
    }

    // Sized by the load alone it gave 1.4 times the usual load at its slowest, and the estimate found fault with its own coil.
    [Fact]
    public void A_coil_that_is_sized_here_is_not_too_large_for_the_day_that_is_played()
    {
        EstimateResult result = Make(Asked.Small.Replace("    ceiling: {area: 16 m²}\n", "", StringComparison.Ordinal).Replace("rooms:", "source: {type: chiller}\nrooms:", StringComparison.Ordinal).Replace("    noise_at_most: 35 dB\n", "", StringComparison.Ordinal));
        CoilEstimate coil = result.Wish.Rooms[0].Coils[0];
        Assert.InRange(coil.Ratio, 0.9, 1.25);
        Assert.True(result.Wish.Rooms[0].Reserve >= 1.14);
        Assert.DoesNotContain(result.Advice, line => line.Contains("usual load", StringComparison.Ordinal));
    }

    [Fact]
    public void No_smaller_coil_is_advised_that_would_not_hold_the_room()
    {
        const string Flat = "name: Flat\ntime_zone: America/Chicago\nplace: {weather: chicago}\nbuilding: {weight: heavy}\nrooms:\n  living: {floor_area: 28 m², wall_west: 14 m², glass_west: 6 m², above: neighbour, below: neighbour, noise_at_most: 27 dB, coil: {output: 1350 W}}\nvariants: {same: {coils: yes}}\n";
        EstimateResult result = Make(Flat);
        string line = Assert.Single(result.Advice, line => line.Contains("usual load", StringComparison.Ordinal));
        Assert.Contains("A smaller one would not hold the room in its hardest hour; one that starts at", line, StringComparison.Ordinal);
    }

    [Fact]
    public void What_keeps_a_fan_from_running_is_named_and_a_limit_that_is_not_kept()
    {
        string chiller = Humid + $"source: {{type: chiller}}\nrooms:\n  a: {{{Room}, coil: {{output: 2 kW}}}}\nvariants: {{same: {{coils: yes}}}}\n";
        string Advice(string keys) => string.Join('\n', Make(chiller.Replace("coil:", keys + ", coil:", StringComparison.Ordinal)).Advice);
        Assert.Contains("fan_at_most lets it turn at 0 %", Advice("fan_at_most: 0 %"), StringComparison.Ordinal);
        // By hand: 42 dB(A) and 50·log10(29/100) make 15.1; with the 12 dB(A) that are there at any speed 16.8.
        string quiet = Advice("devices: 2 kW, noise_at_most: 15 dB");
        Assert.Contains("is 17 dB(A) at its limit of 29 %, and 15 dB(A) are asked", quiet, StringComparison.Ordinal);
        Assert.Contains("at full speed", quiet, StringComparison.Ordinal);
    }

    [Fact]
    public void Only_what_is_cooled_is_told_a_cold_load()
    {
        EstimateResult result = Make(Cold + $"rooms:\n  a: {{{Room}, coil: {{output: 800 W}}}}\n  bath: {{{Room}, floor: {{}}}}\nvariants: {{same: {{coils: yes}}}}\n");
        Assert.Contains("Not cooled: bath.", Table(result), StringComparison.Ordinal);
        Assert.Equal(9, Table(result).Split('\n').First(line => line.StartsWith("  bath ", StringComparison.Ordinal)).Count(c => c == '–'));
        Assert.Contains(result.Advice, line => line.StartsWith("a: ", StringComparison.Ordinal) && line.Contains("a coil 1.25 times as large", StringComparison.Ordinal));   // 800·1.5·19.5/20 = 1170 of 1420 W
        // One machine for a winter of −33 °C: in summer even its least is more than the house takes.
        Assert.Contains("more than the house ever takes at once", Table(result), StringComparison.Ordinal);
    }

    // A room whose limits change nothing has none in its household: the site that is written has no warning.
    [Fact]
    public void A_room_that_is_only_heated_or_only_cooled_has_a_clean_site_and_is_told()
    {
        EstimateResult result = Make(Cold + $"source: {{type: four-pipe}}\nrooms:\n  a: {{{Room}, coil: {{}}}}\n  bath: {{{Room}, floor: {{}}}}\n  porch: {{{Room}, ceiling: {{}}}}\nvariants: {{same: {{coils: yes}}}}\n");
        Assert.Contains("Not cooled: bath.", Table(result), StringComparison.Ordinal);
        Assert.Contains("Not heated: porch.", Table(result), StringComparison.Ordinal);
        string at = Path.Combine(folder.FullName, "site");
        StartingSite.Write(at, result, Data.Root);
        SiteResult read = SiteReader.Read(at, Drivers.All);
        Assert.True(read.Files is not null && read.Problems.Count == 0, string.Join('\n', read.Problems));
    }

    [Theory]
    [InlineData("it gets 1055 W", "it gets 3.6 kBtu/h")]
    [InlineData("1277 of 1891 W of heat", "4.36 of 6.45 kBtu/h of heat")]
    [InlineData("(together 10.0 K·h)", "(together 18 °F·h)")]
    [InlineData("kv 1.73 m³/h", "Cv 2.00")]
    [InlineData("0.23 m³/h at 29 kPa", "1.01 gpm at 4.2 psi")]
    [InlineData("more than 0.3 K too warm", "more than 0.5 °F too warm")]
    public void Sentences_are_in_the_units_of_the_reader(string metric, string us)
    {
        Assert.Equal(us, EstimateWords.In(metric, UnitSystem.Us));
        Assert.Equal(metric, EstimateWords.In(metric, UnitSystem.Metric));
    }

    [Fact]
    public void A_house_in_other_units_has_none_of_the_metric_ones()
    {
        EstimateResult result = Make(Humid + $"units: us\nsource: {{type: chiller}}\nrooms:\n  a: {{{Room}, ceiling: {{area: 10 m²}}, coil: {{output: 700 W}}}}\nvariants: {{same: {{coils: yes}}}}\n");
        string table = Table(result), csv = QuantityList.Csv(result.Wish);
        Assert.Contains("ft/100 ft", table, StringComparison.Ordinal);
        Assert.Contains("lb a day", table, StringComparison.Ordinal);
        foreach (string unit in (string[])["kg", "m/s", "Pa/m", "K·h", "kv", " W.", " W,", " W ", "0.3 K"]) Assert.DoesNotContain(unit, table.Replace("pump W", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Contains("active surface\",107.64,ft²,", csv, StringComparison.Ordinal);   // 10 m² over 0.3048²
        foreach (string unit in (string[])[",m,", ",m²,", ",l,", " W ", "m³/h"]) Assert.DoesNotContain(unit, csv, StringComparison.Ordinal);
    }
}

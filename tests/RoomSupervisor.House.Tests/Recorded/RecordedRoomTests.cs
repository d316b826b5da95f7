// Eight rooms of a house and an office as they were measured (open data, shared/PROVENANCE.md), played line by line through lockstep.
// Every record is played: about three million lines.
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Physics;
using RoomSupervisor.Runtime.Lockstep;
using RoomSupervisor.Sequence;
using RoomSupervisor.Story;
using Xunit.Abstractions;

namespace RoomSupervisor.House.Tests.Recorded;

public class RecordedRoomTests(ITestOutputHelper output)
{
    private static readonly IReadOnlyList<Recording> Rooms = Recording.All(Root.At("shared"));

    private static RecordedCheck Play(int room, Func<Sequence.House, Sequence.House>? altered = null, int? records = null)
    {
        var files = OneRoom.Files(Root.Path);
        using var session = new LockstepSession(files.House, files.Site.TimeZone) { Altered = altered };
        var check = new RecordedCheck();
        new RoomPlayer(Rooms[room], session, seed: 100 + room).Play(check.Line, 0, records ?? int.MaxValue);
        return check;
    }

    [Fact]
    public void Recorded_rooms_keep_every_rule_and_go_through_every_stage_guard_level_and_cap()
    {
        var checks = new RecordedCheck[Rooms.Count];
        Parallel.For(0, Rooms.Count, room => checks[room] = Play(room));
        var entered = checks.SelectMany(check => check.Entered).GroupBy(pair => pair.Key).ToDictionary(group => group.Key, group => group.Sum(pair => pair.Value));
        output.WriteLine($"{checks.Sum(check => check.Lines):N0} lines");
        foreach (var (what, times) in entered.OrderBy(pair => pair.Key))
            output.WriteLine($"{what,-28}{times,7}");
        for (var room = 0; room < checks.Length; room++)
            Assert.True(checks[room].Broken.Count == 0, $"{Rooms[room].Name}:\n{string.Join('\n', checks[room].Broken)}");
        string[] wanted =
        [
            "stage satisfied", "stage pull-down", "stage easing-off", "stage coil-helps", "stage radiant-hold", "stage opening",
            "stage off", "guard clear", "guard raised", "guard shut", "surface water-too-cold", "surface water-far-too-cold",
            "surface warm-through", "cap household-limit", "cap quiet-hours", "cap noise-limit", "cap draught-limit",
        ];
        foreach (var what in wanted)
            Assert.True(entered.GetValueOrDefault(what) >= 20, $"{what} was entered only {entered.GetValueOrDefault(what)} times");
    }

    [Fact]
    public void A_supervisor_without_its_guard_fails_the_same_check()
    {
        var check = Play(4, WithoutGuard, records: 900);
        Assert.Contains(check.Broken, broken => broken.Contains("under the worst-case dew point", StringComparison.Ordinal));
        Assert.Contains(check.Broken, broken => broken.Contains(" s after the water came within", StringComparison.Ordinal));
    }

    [Fact]
    public void A_supervisor_without_its_caps_fails_the_same_check() =>
        Assert.Contains(Play(0, WithoutCaps, records: 300).Broken, broken => broken.Contains("over a cap of", StringComparison.Ordinal));

    [Fact]
    public void Humidity_ratio_agrees_with_the_published_column_within_a_hundredth_of_a_percent()
    {
        // Candanedo & Feldheim, Energy and Buildings 112 (2016) 28–39; the column differs from the ASHRAE form by a constant 0.004 %.
        var worst = Rooms[^1].Records.Max(record =>
        {
            Assert.True(MoistAir.TryHumidityRatio(record.TemperatureC, record.HumidityPercent, 101325, out var ours, out _));
            return Math.Abs(ours / record.HumidityRatio - 1);
        });
        output.WriteLine($"largest difference {worst:P4} on {Rooms[^1].Records.Count} records");
        Assert.InRange(worst, 0, 1e-4);
    }

    [Fact]
    public void Outdoor_dew_point_agrees_with_the_station_s_column_within_half_a_kelvin()
    {
        // Candanedo, Feldheim, Deramaix, Energy and Buildings 140 (2017) 81–97; station values, interpolated by the authors.
        var lines = File.ReadAllLines(Root.At("shared", "data", "indoor", "uci-appliances-testing.csv"));
        var header = Cells(lines[0]);
        int t = Array.IndexOf(header, "T_out"), h = Array.IndexOf(header, "RH_out"), d = Array.IndexOf(header, "Tdewpoint");
        var worst = lines.Skip(1).Select(Cells).Max(cells =>
        {
            Assert.True(MoistAir.TryDewPoint(Number(cells[t]), Number(cells[h]), out var dewPoint, out _));
            return Math.Abs(dewPoint - Number(cells[d]));
        });
        output.WriteLine($"largest difference {worst:0.000} K on {lines.Length - 1} records");
        Assert.InRange(worst, 0, 0.5);
    }

    /// <summary>The guard's own numbers put out of reach: nothing shuts and nothing is held up.</summary>
    private static Sequence.House WithoutGuard(Sequence.House house)
    {
        Set(house.Settings, SequenceSettings.Parameters, "shut_under", -100);
        Set(house.Settings, SequenceSettings.Parameters, "shut_at_once_under", -100);
        Set(house.Settings, SequenceSettings.Parameters, "margin", -100);
        return house;
    }

    private static Sequence.House WithoutCaps(Sequence.House house)
    {
        var household = house.Rooms[0].Household.Copy();
        Set(household, HouseholdRoom.Parameters, "fan_at_most", double.NaN);
        Set(household, HouseholdRoom.Parameters, "noise_at_most", double.NaN);
        Set(household, HouseholdRoom.QuietParameters, "fan_at_most", double.NaN);
        Set(house.Coils[0].Settings, CoilSettings.Parameters, "draught_fan_at_most", 100);
        return house.WithHousehold(0, household);
    }

    private static void Set<T>(T owner, IReadOnlyList<Terms.Parameter<T>> parameters, string key, double value)
        => parameters.Single(parameter => parameter.Key == key).SetNumber!(owner, value);

    private static string[] Cells(string line) => [.. line.Split(',').Select(cell => cell.Trim().Trim('"').Trim())];

    private static double Number(string text) => double.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
}

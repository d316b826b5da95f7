// Recorded rooms: open data as it was measured, read from shared/data. Never fills a gap and never corrects a value.
using System.Globalization;

namespace RoomSupervisor.Story;

/// <summary>One record of a room.</summary>
/// <param name="Utc">Wall time as recorded, taken as UTC.</param>
/// <param name="TemperatureC">Air temperature, °C.</param>
/// <param name="HumidityPercent">Relative humidity, %.</param>
/// <param name="OutdoorC">Temperature at the outside north wall, °C; NaN where the recording has none.</param>
/// <param name="OutdoorPercent">Relative humidity there, %; NaN where the recording has none.</param>
/// <param name="HumidityRatio">Published humidity ratio, kg/kg; NaN where the recording has none.</param>
public sealed record RoomRecord(
    DateTime Utc, double TemperatureC, double HumidityPercent, double OutdoorC = double.NaN, double OutdoorPercent = double.NaN, double HumidityRatio = double.NaN);

/// <summary>A recorded room.</summary>
public sealed record Recording(string Name, IReadOnlyList<RoomRecord> Records)
{
    private static readonly int[] Pairs = [1, 2, 3, 4, 5, 7, 8, 9];

    private static readonly string[] RoomNames = ["", "kitchen", "living room", "laundry", "office", "bathroom", "", "ironing room", "teenager's room", "parents' room"];

    /// <summary>The eight rooms of the house (pairs 1–5 and 7–9; pair 6 is outdoors), then the office.</summary>
    /// <param name="shared">The repository's folder shared/.</param>
    public static IReadOnlyList<Recording> All(string shared) => [.. Pairs.Select(pair => HouseRoom(shared, pair)), Office(shared)];

    /// <summary>A room of the house by its pair of columns.</summary>
    public static Recording HouseRoom(string shared, int pair)
    {
        var lines = File.ReadAllLines(Path.Combine(shared, "data", "indoor", "uci-appliances-testing.csv"));
        var header = Cells(lines[0]);
        int Column(string name) => Array.IndexOf(header, name);
        int date = Column("date"), t = Column($"T{pair}"), h = Column($"RH_{pair}"), outdoorT = Column("T6"), outdoorH = Column("RH_6");
        var records = lines.Skip(1).Select(Cells).Select(cells => new RoomRecord(
            Time(cells[date]), Number(cells[t]), Number(cells[h]), Number(cells[outdoorT]), Number(cells[outdoorH])));
        return new Recording(RoomNames[pair], [.. records]);
    }

    /// <summary>The office, a record a minute, with its published humidity ratio.</summary>
    public static Recording Office(string shared)
    {
        var lines = File.ReadAllLines(Path.Combine(shared, "data", "indoor", "uci-occupancy-datatest.txt"));
        var records = lines.Skip(1).Select(Cells).Select(cells => new RoomRecord(
            Time(cells[1]), Number(cells[2]), Number(cells[3]), HumidityRatio: Number(cells[6])));
        return new Recording("second office", [.. records]);
    }

    private static string[] Cells(string line) => [.. line.Split(',').Select(cell => cell.Trim().Trim('"').Trim())];

    private static DateTime Time(string text) => DateTime.ParseExact(text, "yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal);

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}

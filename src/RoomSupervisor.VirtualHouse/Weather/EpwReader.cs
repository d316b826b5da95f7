// Reads an EPW weather file: eight header lines, then a row an hour.
// Must never put a number of its own where the file has none without naming the rule that allows it.
using System.Globalization;

namespace RoomSupervisor.VirtualHouse;

/// <summary>
/// Reader of the EPW format (Crawley, Hand and Lawrie, Improving the weather information available to simulation programs, Building Simulation
/// 1999; columns as in its public data dictionary). Files of 8,760 or 8,784 hourly rows.
/// </summary>
public sealed class EpwReader
{
    // Zero-based column, name, missing from, lowest, highest, unit; order of the columns array below.
    private static readonly (int Column, string Name, double Missing, double Lowest, double Highest, string Unit)[] Fields =
    [
        (6, "dry bulb", 99.9, -70, 70, "°C"), (7, "dew point", 99.9, -75, 70, "°C"), (8, "relative humidity", 999, 0, 110, "%"),
        (9, "pressure", 999_999, 31_000, 120_000, "Pa"), (12, "infrared from the sky", 9999, 40, 800, "W/m²"),
        (13, "global horizontal", 9999, 0, 1500, "W/m²"), (14, "direct normal", 9999, 0, 1400, "W/m²"), (15, "diffuse horizontal", 9999, 0, 1000, "W/m²"),
        (20, "wind direction", 999, 0, 360, "degrees"), (21, "wind speed", 999, 0, 40, "m/s"), (23, "opaque sky cover", 99, 0, 10, "tenths"),
    ];

    private const int DryBulb = 0, DewPoint = 1, Humidity = 2, Pressure = 3, Infrared = 4, Global = 5, Beam = 6, Diffuse = 7, Direction = 8, Wind = 9, Cover = 10;

    /// <summary>Longest gap that is bridged by a straight line, hours.</summary>
    public const int LongestGapH = 6;

    private static readonly int[] MonthDays = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

    private readonly List<WeatherProblem> _problems = [];
    private readonly List<WeatherRepair> _repairs = [];
    private readonly List<double>[] _columns = [.. Fields.Select(_ => new List<double>(8784))];
    private string _place = "";
    private double _latitude, _longitude, _zone, _altitude;
    private int _frost;

    private EpwReader()
    {
    }

    /// <summary>Reads a file.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="WeatherFileException">It cannot be used.</exception>
    public static EpwFile Read(string path)
    {
        string name = Path.GetFileName(path);
        if (!File.Exists(path))
            throw new WeatherFileException(name, [new(0, "file", path, "an EPW file that exists", "Check the path, or take one of the files the program ships.")]);
        using StreamReader text = new(path, System.Text.Encoding.Latin1);
        return Read(name, text);
    }

    /// <summary>Reads from text.</summary>
    /// <param name="name">Name for messages.</param>
    /// <param name="text">The file's text.</param>
    /// <exception cref="WeatherFileException">It cannot be used.</exception>
    public static EpwFile Read(string name, TextReader text)
    {
        ArgumentNullException.ThrowIfNull(text);
        EpwReader reader = new();
        reader.Headers(text);
        if (reader._problems.Count == 0) reader.Rows(text);
        if (reader._problems.Count == 0) reader.Bridge();
        if (reader._problems.Count > 0) throw new WeatherFileException(name, reader._problems);
        return reader.Finish();
    }

    private void Headers(TextReader text)
    {
        for (int line = 1; line <= 8; line++)
        {
            string? row = text.ReadLine();
            if (row is null)
            {
                _problems.Add(new(line, "header", "(end of file)", "eight header lines, then hourly rows", "The file is cut off: fetch it again."));
                return;
            }

            string[] cells = row.Split(',');
            if (line == 1) Location(cells);
            if (line == 8) Periods(cells);
        }
    }

    private void Location(string[] cells)
    {
        if (cells.Length < 10 || !cells[0].Trim().Equals("LOCATION", StringComparison.OrdinalIgnoreCase))
        {
            string shown = cells[0].Length > 40 ? cells[0][..40] + "…" : cells[0];
            _problems.Add(new(1, "first word", shown, "LOCATION and nine more cells", "This is no EPW file: fetch the .epw, not the .zip, .ddy or .stat."));
            return;
        }

        _place = string.Join(", ", cells[1].Trim(), cells[3].Trim());
        _latitude = Number(1, "latitude", cells[6], -90, 90, "degrees");
        _longitude = Number(1, "longitude", cells[7], -180, 180, "degrees");
        _zone = Number(1, "time zone", cells[8], -12, 14, "hours");
        _altitude = Number(1, "altitude", cells[9], -500, 9000, "m");
        if (_problems.Count == 0 && Math.Abs(_longitude / 15 - _zone) > 3)
        {
            _problems.Add(new(1, "time zone", cells[8].Trim(), $"within 3 hours of the sun's, which is {(_longitude / 15).ToString("F1", CultureInfo.InvariantCulture)}",
                "Sign of longitude (east is positive) or of the time zone is wrong."));
        }
    }

    private void Periods(string[] cells)
    {
        if (cells.Length < 3 || cells[1].Trim() != "1" || cells[2].Trim() != "1")
            _problems.Add(new(8, "DATA PERIODS", string.Join(',', cells.Take(3)), "one period with one record an hour", "Files of other steps are not read; make an hourly one."));
    }

    private void Rows(TextReader text)
    {
        int line = 8, day = 0, month = 0, hour = 0, leap = 0;
        while (text.ReadLine() is { } row && _problems.Count < 100)
        {
            line++;
            if (row.AsSpan().Trim().IsEmpty) continue;
            string[] cells = row.Split(',');
            if (cells.Length < 24)
            {
                _problems.Add(new(line, "row", $"{cells.Length} cells", "at least 24 cells", "The row is cut off: fetch the file again."));
                continue;
            }

            int m = (int)Number(line, "month", cells[1], 1, 12, ""), d = (int)Number(line, "day", cells[2], 1, 31, ""), h = (int)Number(line, "hour", cells[3], 1, 24, "");
            (int nm, int nd, int nh) = Next(month, day, hour, leap);
            if (nm == 3 && nd == 1 && nh == 1 && m == 2 && d == 29) (leap, nm, nd) = (1, 2, 29);
            if ((m, d, h) != (nm, nd, nh) && _problems.Count == 0)
                _problems.Add(new(line, "month/day/hour", $"{m}/{d}/{h}", $"{nm}/{nd}/{nh}, the hour after the row before", "Rows are missing, doubled or out of order."));
            (month, day, hour) = (m, d, h);
            for (int i = 0; i < Fields.Length; i++) _columns[i].Add(Field(line, i, cells[Fields[i].Column]));
        }

        int rows = _columns[0].Count;
        if (_problems.Count == 0 && rows is not (8760 or 8784))
            _problems.Add(new(0, "number of hourly rows", rows.ToString(CultureInfo.InvariantCulture), "8760 or 8784", "A whole year is needed: the file is cut off or a part of a year."));
    }

    private static (int Month, int Day, int Hour) Next(int month, int day, int hour, int leap)
    {
        if (month == 0) return (1, 1, 1);
        if (hour < 24) return (month, day, hour + 1);
        int days = MonthDays[month - 1] + (month == 2 ? leap : 0);
        return day < days ? (month, day + 1, 1) : (month % 12 + 1, 1, 1);
    }

    private double Number(int line, string field, string text, double lowest, double highest, string unit)
    {
        if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && value >= lowest && value <= highest) return value;
        string allowed = string.Create(CultureInfo.InvariantCulture, $"a number from {lowest} to {highest} {unit}").TrimEnd();
        _problems.Add(new(line, field, text.Trim(), allowed, "Correct the cell, or take the file from its source again."));
        return double.NaN;
    }

    // A missing mark becomes NaN, to be bridged; a number out of range is a mistake.
    private double Field(int line, int index, string text)
    {
        (_, string name, double missing, double lowest, double highest, string unit) = Fields[index];
        bool number = double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value);
        if (string.IsNullOrWhiteSpace(text) || (number && value >= missing && value > highest)) return double.NaN;
        if (number && index == Humidity && value > 110 && value < missing) number = false;
        return number && double.IsFinite(value) && value >= lowest && value <= highest ? value : Number(line, name, text, lowest, highest, unit);
    }

    private void Bridge()
    {
        for (int i = 0; i < Fields.Length; i++)
        {
            if (i is Infrared or Cover or Global) continue;
            List<double> column = _columns[i];
            for (int at = 0; at < column.Count; at++)
            {
                if (!double.IsNaN(column[at])) continue;
                int end = at;
                while (end < column.Count && double.IsNaN(column[end])) end++;
                if (end - at > LongestGapH || at == 0 || end == column.Count)
                {
                    _problems.Add(new(at + 9, Fields[i].Name, $"missing for {end - at} hours", $"gaps of at most {LongestGapH} hours inside the year",
                        "Fill it from another record, or take another year."));
                    break;
                }

                double from = column[at - 1], step = (column[end] - from) / (end - at + 1);
                for (int k = at; k < end; k++)
                {
                    column[k] = from + step * (k - at + 1);
                    Repaired(k, Fields[i].Name, "missing", column[k], "straight line over a gap of at most six hours");
                }
            }
        }
    }

    private void Repaired(int row, string field, string was, double now, string rule) =>
        _repairs.Add(new(row + 9, field, was, now.ToString("G5", CultureInfo.InvariantCulture), rule));

    private EpwFile Finish()
    {
        int rows = _columns[0].Count;
        double[] ratio = new double[rows], sky = new double[rows];
        double[] air = [.. _columns[DryBulb]], pressure = [.. _columns[Pressure]];
        for (int i = 0; i < rows; i++)
        {
            HumidityRule.Result result = HumidityRule.Decide(air[i], _columns[DewPoint][i], _columns[Humidity][i], pressure[i], NearSeam(i, rows));
            ratio[i] = result.HumidityRatio;
            if (result.Frost) _frost++;
            if (result.Rule is { } rule) Repaired(i, result.Field, result.Was, result.Now, rule);
            double infrared = _columns[Infrared][i];
            if (double.IsNaN(infrared))
            {
                infrared = HumidityRule.SkyRadiation(air[i], ratio[i], pressure[i], double.IsNaN(_columns[Cover][i]) ? 5 : _columns[Cover][i]);
                Repaired(i, "infrared from the sky", "missing", infrared, "worked out from dew point and cloud (Walton 1983 after Clark and Allen 1978)");
            }

            sky[i] = Matter.SkyC(infrared);
        }

        return new EpwFile
        {
            Place = _place,
            LatitudeDegrees = _latitude,
            LongitudeDegrees = _longitude,
            StandardTimeH = _zone,
            AltitudeM = _altitude,
            AirC = air,
            HumidityRatio = ratio,
            PressurePa = pressure,
            SkyC = sky,
            GlobalWPerM2 = [.. _columns[Global]],
            BeamWPerM2 = [.. _columns[Beam]],
            DiffuseWPerM2 = [.. _columns[Diffuse]],
            WindMPerS = [.. _columns[Wind]],
            WindFromDegrees = [.. _columns[Direction]],
            Repairs = _repairs,
            FrostPointHours = _frost,
        };
    }

    // Months of a typical year come from different years: their seams are smoothed in some columns only, six hours to each side.
    private static bool NearSeam(int row, int rows)
    {
        int at = 0;
        for (int month = 0; month <= 12; month++)
        {
            if (Math.Abs(row + 0.5 - at) <= 6) return true;
            if (month < 12) at += 24 * (MonthDays[month] + (rows == 8784 && month == 1 ? 1 : 0));
        }

        return false;
    }
}

// Weather files: read, repaired by rule, refused with line and field.
// Must never accept a number nobody gave: each broken file here must be told, or repaired by name.
using System.Globalization;
using System.Text;

namespace RoomSupervisor.VirtualHouse.Tests;

public class EpwTests
{
    private static readonly string[] Chicago = File.ReadAllLines(Data.Shared("weather", "USA_IL_Chicago-OHare.725300_TMY3.epw"), Encoding.Latin1);

    private static EpwFile Read(IEnumerable<string> lines) => EpwReader.Read("house.epw", new StringReader(string.Join('\n', lines)));

    private static string[] With(int line, int cell, string value)
    {
        string[] lines = [.. Chicago], cells = lines[line - 1].Split(',');
        cells[cell] = value;
        lines[line - 1] = string.Join(',', cells);
        return lines;
    }

    private static WeatherProblem Refused(IEnumerable<string> lines, int line, string field)
    {
        WeatherFileException refused = Assert.Throws<WeatherFileException>(() => Read(lines));
        WeatherProblem problem = refused.Problems[0];
        Assert.Equal((line, field), (problem.Line, problem.Field));
        Assert.StartsWith("house.epw" + (line > 0 ? $", line {line}: {field} is “" : ": "), refused.Message, StringComparison.Ordinal);
        Assert.Contains("allowed", refused.Message, StringComparison.Ordinal);
        Assert.False(string.IsNullOrWhiteSpace(problem.Advice));
        return problem;
    }

    [Fact]
    public void Three_places_are_read_as_their_files_say()
    {
        EpwFile chicago = Data.Chicago.Value.File, york = Data.NewYork.Value.File, denver = Data.Denver.Value.File;
        Assert.Equal((41.98, -87.92, -6.0, 201.0), (chicago.LatitudeDegrees, chicago.LongitudeDegrees, chicago.StandardTimeH, chicago.AltitudeM));
        Assert.Equal((40.65, -73.80, -5.0, 5.0), (york.LatitudeDegrees, york.LongitudeDegrees, york.StandardTimeH, york.AltitudeM));
        Assert.Equal(1650, denver.AltitudeM);
        Assert.All(new[] { chicago, york, denver }, file => Assert.Equal(8760, file.AirC.Length));
        // First row of the Denver file: −18 °C, 83,700 Pa, infrared 181 W/m².
        Assert.Equal((-18, 83_700), (denver.AirC[0], denver.PressurePa[0]));
        Data.Near(Math.Pow(181 / 5.670374e-8, 0.25) - 273.15, denver.SkyC[0], 1e-9);
    }

    [Fact] // TMY3 Chicago: humidity and dew point contradict each other by up to 4 K within three hours of each month's end
    public void Contradictions_lie_at_the_month_seams_and_are_told()
    {
        EpwFile file = Data.Chicago.Value.File;
        WeatherRepair[] seams = [.. file.Repairs.Where(r => r.Rule.StartsWith("month seam", StringComparison.Ordinal))];
        Assert.InRange(seams.Length, 12, 80);
        Assert.Equal(file.Repairs.Count, seams.Length);
        Assert.Contains(seams, r => Math.Abs(r.Line - 8 - 31 * 24) <= 6);
        Assert.All(seams, r => Assert.Contains("beside a dew point of", r.Was, StringComparison.Ordinal));
    }

    [Fact] // bad-input/tmy3_month_seam.csv: 31 July 22:00, 23.0 °C, dew point 16.1, humidity 50 %: the dew point counts, 65 %
    public void The_seam_rule_gives_the_dew_point_its_due()
    {
        string[][] rows = [.. Data.Rows("bad-input", "tmy3_month_seam.csv")];
        string[] worst = rows.Single(r => r[0] == "1986-7-31h22");
        HumidityRule.Result result = HumidityRule.Decide(Data.Number(worst[1]), Data.Number(worst[2]), Data.Number(worst[3]), 101_325, true);
        Data.Near(65.1, result.Now, 0.3);
        Data.Near(0.01143, result.HumidityRatio, 0.00005, "16.1 °C dew point at sea level (ASHRAE form)");
        Assert.StartsWith("month seam", result.Rule, StringComparison.Ordinal);
        string[] calm = rows.Single(r => r[0] == "1986-7-31h14");
        Assert.Null(HumidityRule.Decide(Data.Number(calm[1]), Data.Number(calm[2]), Data.Number(calm[3]), 101_325, false).Rule);
    }

    [Fact] // below 0 °C: −10 °C and 90 % over water is a dew point of −11.3 and a frost point of −10.1 °C (ASHRAE forms); both are understood
    public void A_frost_point_in_the_dew_point_column_is_understood()
    {
        HumidityRule.Result frost = HumidityRule.Decide(-10, -10.1, 90, 101_325, false), dew = HumidityRule.Decide(-10, -11.3, 90, 101_325, false);
        Assert.Null(frost.Rule);
        Assert.Null(dew.Rule);
        Data.Near(dew.HumidityRatio, frost.HumidityRatio, 0.02 * dew.HumidityRatio);
    }

    [Theory]
    [InlineData(6, "12,4", "dry bulb", true)]
    [InlineData(6, "-82", "dry bulb", false)]
    [InlineData(7, "nan", "dew point", false)]
    [InlineData(8, "140", "relative humidity", false)]
    [InlineData(9, "1013", "pressure", false)]
    [InlineData(14, "-5", "direct normal", false)]
    [InlineData(15, "x", "diffuse horizontal", false)]
    [InlineData(21, "468", "wind speed", false)]
    public void A_wrong_cell_is_told_with_line_field_value_and_range(int cell, string value, string field, bool shifts)
    {
        string[] lines = With(1009, cell, value);
        if (shifts)
        {
            // A decimal comma makes one cell more: what then stands in the pressure's place cannot be a pressure.
            Assert.Throws<WeatherFileException>(() => Read(lines));
            return;
        }

        WeatherProblem problem = Refused(lines, 1009, field);
        Assert.Equal(value, problem.Value);
    }

    [Fact]
    public void Missing_marks_are_bridged_up_to_six_hours_and_told()
    {
        string[] lines = [.. Chicago];
        for (int line = 1000; line < 1004; line++)
        {
            string[] cells = lines[line - 1].Split(',');
            cells[6] = "99.9";
            lines[line - 1] = string.Join(',', cells);
        }

        EpwFile file = Read(lines);
        WeatherRepair[] bridged = [.. file.Repairs.Where(r => r.Was == "missing" && r.Field == "dry bulb")];
        Assert.Equal([1000, 1001, 1002, 1003], bridged.Select(r => r.Line));
        double before = file.AirC[1000 - 9 - 1], after = file.AirC[1003 - 9 + 1];
        Data.Near(before + (after - before) / 5, file.AirC[1000 - 9], 1e-9);
    }

    [Fact]
    public void A_longer_gap_is_refused()
    {
        string[] lines = [.. Chicago];
        for (int line = 1000; line < 1008; line++)
        {
            string[] cells = lines[line - 1].Split(',');
            cells[14] = "9999";
            lines[line - 1] = string.Join(',', cells);
        }

        Refused(lines, 1000, "direct normal");
    }

    [Fact]
    public void Missing_sky_radiation_is_worked_out_and_told()
    {
        EpwFile file = Read(With(5009, 12, "9999")), whole = Data.Chicago.Value.File;
        Assert.Contains(file.Repairs, r => r.Line == 5009 && r.Field == "infrared from the sky" && r.Rule.Contains("Clark and Allen", StringComparison.Ordinal));
        Data.Near(whole.SkyC[5000], file.SkyC[5000], 5);
    }

    [Fact]
    public void Broken_files_are_told_as_what_they_are()
    {
        Refused(["<html>", "404"], 1, "first word");
        Refused([], 1, "header");
        Refused(Chicago.Take(5), 6, "header");
        Refused(Chicago.Take(2000), 0, "number of hourly rows");
        Refused(Chicago.Where((_, i) => i != 500), 501, "month/day/hour");
        Refused(With(1, 7, "87.92"), 1, "time zone");
        Refused(With(1, 6, "91"), 1, "latitude");
        Refused(With(8, 2, "4"), 8, "DATA PERIODS");
        Refused([.. Chicago.Take(700), Chicago[700][..40], .. Chicago.Skip(701)], 701, "row");
        Assert.Contains("EPW file that exists", Assert.Throws<WeatherFileException>(() => EpwReader.Read("no-such.epw")).Message, StringComparison.Ordinal);
        WeatherFileException many = Assert.Throws<WeatherFileException>(() => Read(Chicago.Select((l, i) => i > 8 ? l.Replace(",9", ",z", StringComparison.Ordinal) : l)));
        Assert.True(many.Message.Split('\n').Length <= 21 && many.Message.EndsWith("more.", StringComparison.Ordinal), many.Message.Length.ToString(CultureInfo.InvariantCulture));
    }
}

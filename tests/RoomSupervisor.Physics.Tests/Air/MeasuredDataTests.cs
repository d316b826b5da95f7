// Humidity columns of real instruments: indoor loggers, station records, a typical year.
// Must never drop a row because it disagrees: rows are left out only by a rule stated before looking at them.
using Xunit;
using Xunit.Abstractions;
using static RoomSupervisor.Physics.Tests.Reference;

namespace RoomSupervisor.Physics.Tests;

public class MeasuredDataTests(ITestOutputHelper output)
{
    [Fact] // UCI Occupancy Detection (Candanedo and Feldheim, Energy and Buildings 112, 2016): its humidity ratio column, one office, 1 min
    public void The_office_humidity_ratio_column_is_ours_within_0_05_percent()
    {
        Worst worst = new("office W, relative");
        int rows = 0;
        foreach (string[] c in Rows("data/indoor/uci-occupancy-datatest.txt"))
        {
            worst.Add(Of(MoistAir.TryHumidityRatio, Number(c[2]), Number(c[3]), 101325) / Number(c[6]) - 1, c[1]);
            rows++;
        }

        output.WriteLine($"{rows} rows, {worst}");
        Assert.Equal(2665, rows);
        Assert.True(worst.Value <= 5e-4, worst.ToString());
    }

    [Fact] // UCI Appliances (Candanedo and others, Energy and Buildings 140, 2017): station columns T, RH (whole %) and dew point, Chièvres
    public void The_outdoor_dew_point_of_the_house_data_is_ours_within_a_kelvin()
    {
        Worst above = new("outdoor dew point from 0 °C up, K"), below = new("below 0 °C, K");
        double sum = 0;
        int rows = 0;
        foreach (string[] c in Rows("data/indoor/uci-appliances-testing.csv"))
        {
            double given = Number(c[26]), ours = Of(MoistAir.TryDewPoint, Number(c[21]), Number(c[23]));
            (given >= 0 ? above : below).Add(ours - given, c[0]);
            (sum, rows) = (sum + Math.Abs(ours - given), rows + 1);
        }

        output.WriteLine($"{rows} rows, mean {sum / rows:F3} K, {above}; {below}");
        // Columns are interpolated between hourly records with RH in whole percent; below 0 °C water and ice conventions differ by up to 0.8 K.
        Assert.True(above.Value <= 0.5, above.ToString());
        Assert.True(below.Value <= 1.0, below.ToString());
        Assert.True(sum / rows <= 0.15);
    }

    [Fact] // nycflights13 (Iowa Environmental Mesonet ASOS), three airports 2013: T and dew point in °F, RH made from them by the source
    public void Station_humidity_comes_back_from_temperature_and_dew_point()
    {
        List<double> off = [];
        int refused = 0;
        foreach (string[] c in Rows("data/weather/nycflights13_weather_2013.csv"))
        {
            double t = (Number(c[5]) - 32) / 1.8, dew = (Number(c[6]) - 32) / 1.8, given = Number(c[7]);
            if (double.IsNaN(t) || double.IsNaN(dew) || double.IsNaN(given)) continue;
            if (MoistAir.TryRelativeHumidity(t, dew, out double ours, out _)) off.Add(Math.Abs(ours - given));
            else refused++;
        }

        // No row is left out: special reports carry temperatures rounded to whole °C beside a humidity from tenths, hence the tail.
        off.Sort();
        double median = off[off.Count / 2], nine = off[off.Count * 9 / 10], tail = off.Count(d => d > 0.7);
        output.WriteLine($"{off.Count} rows, {refused} refused: median {median:F3}, 90 % {nine:F3} % RH; {tail} rows off by more than 0.7 %");
        Assert.True(off.Count > 26_000);
        Assert.True(median <= 0.15 && nine <= 0.3 && tail <= 0.06 * off.Count && refused == 0);
    }

    [Fact] // NREL TMY3, Chicago O'Hare: T, dew point, RH (whole %), hourly; 3 h each side of a month's end left out (joined from other years)
    public void Typical_year_dew_points_are_ours_but_for_the_month_seams()
    {
        string[][] rows = [.. Rows("data/weather/USA_IL_Chicago-OHare.725300_TMY3.epw", headers: 8)];
        Worst above = new("dew point from 0 °C up, K"), below = new("below 0 °C, K"), seams = new("at seams, K");
        List<double> all = [];
        for (int i = 0; i < rows.Length; i++)
        {
            // Near in time to another month's rows, round the year: a seam.
            bool seam = Enumerable.Range(-3, 7).Any(near => rows[(i + near + rows.Length) % rows.Length][1] != rows[i][1]);
            double t = Number(rows[i][6]), given = Number(rows[i][7]), rh = Number(rows[i][8]), off = Of(MoistAir.TryDewPoint, t, rh) - given;
            // RH is in whole %: half a percent is worth this much dew point, and both temperatures have one decimal.
            Assert.True(MoistAir.TryDewPointSlopes(t, rh, out _, out double perPercent, out _));
            // Below 0 °C some of the joined months report a frost point in that column: there the nearer of the two conventions is taken.
            if (given < 0 && MoistAir.TryFrostPoint(t, rh, out double frost, out _) && Math.Abs(frost - given) < Math.Abs(off)) off = frost - given;
            double beyond = Math.Max(Math.Abs(off) - 0.5 * perPercent - 0.1, 0);
            (seam ? seams : given >= 0 ? above : below).Add(beyond, string.Join('-', rows[i][1..4]));
            if (!seam) all.Add(Math.Abs(off));
        }

        output.WriteLine($"{all.Count} hours, mean {all.Average():F3} K; beyond rounding: {above}; {below}; {seams}");
        Assert.Equal(8760, rows.Length);
        Assert.True(all.Average() <= 0.1);
        Assert.True(above.Value <= 0.15, above.ToString());
        Assert.True(below.Value <= 0.3, below.ToString());
        Assert.True(seams.Value > 2, "the seams are the worst hours, which is why the rule leaves them out");
    }
}

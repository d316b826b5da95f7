// The head of a report, the energy bars and the table of measures against figures worked out by hand.
using System.Globalization;
using System.Xml.Linq;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Desk.Report.Pictures;
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.VirtualHouse.Tests.Report;

public sealed class HeadlineTests
{
    private static Headline Of(RunRecord run, out RunWindow window)
    {
        window = new RunWindow(run);
        return new Headline(window, new ReportUnits(run.InUsUnits), Margins.Find(run, window.All));
    }

    [Fact]
    public void The_hottest_day_is_the_second_and_its_peak_is_told_in_local_time()
    {
        var run = MadeUpRun.Make();
        run.Outdoor.AirC[1440 + 16 * 60 + 5] = 36.25f;
        var figures = Of(run, out _).Figures();
        Assert.Equal(("36.3 °C", "hottest outside, at 16:05"), (figures[0].Value, figures[0].Words));
        Assert.Equal(4, figures.Length);
        Assert.StartsWith("On Wednesday 17 July the air outside rose to 36.3 °C", Of(run, out _).Sentence(), StringComparison.Ordinal);
    }

    [Fact]
    public void Time_in_the_band_is_counted_with_doors_shut_and_rounded_down()
    {
        var run = MadeUpRun.Make(days: 1, rooms: 1);
        Array.Fill(run.Rooms[0].TrueAirC, 24f);
        Array.Fill(run.Rooms[0].CoolAboveC, 24.5f);
        Array.Fill(run.Rooms[0].TrueAirC, 24.79f, 100, 100);   // 0.29 over: still where it is wanted
        Array.Fill(run.Rooms[0].TrueAirC, 25.5f, 300, 200);    // out, of which 100 with the door open
        Array.Fill(run.Rooms[0].Open, true, 300, 100);
        var share = Of(run, out var window).ShareInBand([0], window.All);
        Data.Near(1240.0 / 1340, share, 1e-9);
        Assert.Equal("92 %", Headline.Percent(share));
        Assert.Equal("99 %", Headline.Percent(0.9999));
        Assert.Equal("100 %", Headline.Percent(1));
    }

    [Fact]
    public void Electricity_of_the_day_is_that_of_its_hours()
    {
        var hours = Enumerable.Range(0, 48).Select(hour => new HourOfEnergy(1, 1, 1, hour < 24 ? 100 : 0.5)).ToArray();
        Assert.Equal("12 kWh", Of(MadeUpRun.Make() with { Hours = hours }, out _).Figures()[3].Value);
    }

    [Fact]
    public void A_cold_run_tells_of_the_coldest_day()
    {
        var run = MadeUpRun.Make();
        for (var i = 0; i < 2880; i++)
            run.Outdoor.AirC[i] -= 30;
        foreach (var loop in run.Loops)
            Array.Fill(loop.Cools, false);
        var headline = Of(run, out _);
        Assert.Equal("The coldest day in your house", headline.Title);
        Assert.Contains("On Tuesday 16 July the air outside fell to", headline.Sentence(), StringComparison.Ordinal);
    }

    // A kWh is 3.412 kBtu (international table), whatever the axis counts in.
    [Theory]
    [InlineData(false, 1)]
    [InlineData(true, 3.412142)]
    public void Bars_of_an_hour_stand_on_each_other_at_their_kilowatt_hours(bool us, double perKwh)
    {
        var hours = Enumerable.Range(0, 48).Select(hour => hour == 30 ? new HourOfEnergy(2, 1.5, 0.5, 1.25) { FuelKwh = 2 } : default).ToArray();
        var window = new RunWindow(MadeUpRun.Make() with { Hours = hours });
        var picture = XElement.Parse(new EnergyPicture(window, new ReportUnits(us)).Draw(Sheet.Wide).Single());
        var up = Drawn.Axis(Drawn.Marks(picture, isUpright: true));
        foreach (var (name, from, to) in (ReadOnlySpan<(string, double, double)>)[("bar-surface", 0, 2), ("bar-sensible", 2, 3.5), ("bar-latent", 3.5, 4), ("bar-electric", 0, 1.25), ("bar-fuel", 1.25, 3.25)])
        {
            var bar = Drawn.Of(picture, "rect", name).Single(rectangle => Drawn.Number(rectangle, "height") != 11);
            Data.Near(up(to * perKwh), Drawn.Number(bar, "y"), 0.5, name);
            Data.Near(up(from * perKwh), Drawn.Number(bar, "y") + Drawn.Number(bar, "height"), 0.5, name);
        }
    }

    [Theory]
    [InlineData(false, "0.17", "at most 0.2\u00A0K", "1.84")]
    [InlineData(true, "0.31", "at most 0.4\u00A0°F", "3.31")]
    public void Measures_are_shown_in_the_owners_units_with_their_goals(bool us, string overshoot, string goal, string discomfort)
    {
        var table = XElement.Parse(MeasureTableHtml.Write(MadeUpRun.Measures(), new ReportUnits(us)));
        XElement Row(string name) => table.Descendants("tr").Single(row => row.Descendants("code").Any(code => code.Value == name));
        Assert.Equal(overshoot, Row("overshoot_k").Elements("td").First().Value);
        Assert.Equal(goal + " ✓ met", Row("overshoot_k").Elements("td").Last().Value);
        Assert.Equal(discomfort, Row("discomfort_kh").Elements("td").First().Value);
        Assert.Equal("0.21 ✗", XElement.Parse(MeasureTableHtml.Write(MadeUpRun.Measures(), new ReportUnits(false))).Descendants("tr").Single(row => row.Value.Contains("control_accuracy_k", StringComparison.Ordinal)).Elements("td").First().Value);
        Assert.All(Row("electric_kwh").Elements("td").Skip(1), cell => Assert.Equal("none", cell.Attribute("class")!.Value.Split(' ')[^1]));
        Assert.Equal(8, Row("min_margin_k").Elements("td").Count());
    }

    [Fact]
    public void A_house_of_many_rooms_gets_blocks_instead_of_columns()
    {
        var few = MeasureTableHtml.Write(MadeUpRun.Measures(), new ReportUnits(false));
        var many = MeasureTableHtml.Write(MadeUpRun.Measures() with { Rooms = [.. Enumerable.Range(1, 12).Select(n => $"Room {n}")] }, new ReportUnits(false));
        Assert.Equal(("measures", "measures many"), (XElement.Parse(few).Attribute("class")!.Value, XElement.Parse(many).Attribute("class")!.Value));
        Assert.Contains(".measures.many td.goal:not(.none){display:block}", PageStyle.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("FOLDED", PageStyle.Text, StringComparison.Ordinal);
        Assert.Equal(PageStyle.Text.Count(letter => letter == '{'), PageStyle.Text.Count(letter => letter == '}'));
    }

    [Fact]
    public void A_table_of_another_country_is_the_same()
    {
        Assert.Equal("−0.16", ReportUnits.Figure(-0.16));
        Assert.Equal("1.2", string.Create(CultureInfo.InvariantCulture, $"{ReportUnits.Figure(1.2)}"));
        Assert.Equal("–", ReportUnits.Figure(double.NaN));
    }

    // A pound is 0.45359237 kg; 1 kWh is 3.412142 kBtu. Electricity is sold in kWh on both sides.
    [Theory]
    [InlineData(false, "kWh heat", "100 kWh", "kg", "10 kg")]
    [InlineData(true, "kWh heat", "341 kBtu", "kg", "22 lb")]
    public void Heat_and_water_have_the_owners_units_and_electricity_stays(bool us, string heat, string heatShown, string water, string waterShown)
    {
        var units = new ReportUnits(us);
        Assert.Equal(heatShown, units.MeasureText(100, heat, 0));
        Assert.Equal(waterShown, units.MeasureText(us ? 9.97903214 : 10, water, 1));
        Assert.Equal("7.5 kWh", units.MeasureText(7.5, "kWh", 1));
    }
}

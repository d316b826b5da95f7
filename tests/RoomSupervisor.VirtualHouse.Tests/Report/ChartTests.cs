// The psychrometric chart and the ladder against published moist air, read off the picture.
using System.Globalization;
using System.Xml.Linq;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Desk.Report.Pictures;
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.VirtualHouse.Tests.Report;

public sealed class ChartTests
{
    private static XElement Chart(RunRecord run, bool phone = false)
    {
        var window = new RunWindow(run);
        return XElement.Parse(new PsychrometricPicture(window, new ReportUnits(run.InUsUnits), Margins.Find(run, window.All)).Draw(phone ? Sheet.Phone : Sheet.Wide));
    }

    /// <summary>Height of a curve at a place, between its two nearest points.</summary>
    private static double At(List<(double X, double Y)> curve, double x)
    {
        var right = curve.FindIndex(point => point.X >= x);
        var (a, b) = (curve[Math.Max(right - 1, 0)], curve[right]);
        return a.X == b.X ? b.Y : a.Y + (b.Y - a.Y) * (x - a.X) / (b.X - a.X);
    }

    // shared/reference/psychro_grid.csv: npm psychrolib 1.1.1 (MIT), ASHRAE Handbook Fundamentals 2017 ch. 1. 84,555.9 Pa is 1500 m, 95,460.8 Pa 500 m of the standard atmosphere.
    [Theory]
    [InlineData(0, 101325.0, false)]
    [InlineData(500, 95460.8, false)]
    [InlineData(1500, 84555.9, true)]
    public void The_saturation_line_lies_where_published_moist_air_does(double altitudeM, double pascals, bool us)
    {
        var chart = Chart(MadeUpRun.Make(us: us, altitudeM: altitudeM));
        var (across, up) = (Drawn.Axis(Drawn.Marks(chart, isUpright: false)), Drawn.Axis(Drawn.Marks(chart, isUpright: true)));
        var curve = Drawn.Pieces(Drawn.Of(chart, "path", "saturation").Single().Attribute("d")!.Value).Single();
        var seen = 0;
        foreach (var row in File.ReadLines(Path.Combine(Data.Root, "shared", "reference", "psychro_grid.csv")).Where(line => line[0] != '#').Skip(1).Select(line => line.Split(',')))
        {
            double celsius = Data.Number(row[0]), ratio = Data.Number(row[7]) * 1000;
            if (Data.Number(row[1]) != 100 || Math.Abs(Data.Number(row[2]) - pascals) > 1 || celsius < 16 || celsius > 34 || ratio > 19.8)
                continue;
            Data.Near(up(us ? ratio * 7 : ratio), At(curve, across(us ? celsius * 1.8 + 32 : celsius)), 0.5, $"{celsius} °C");
            seen++;
        }
        Assert.InRange(seen, 3, 20);
    }

    // ASHRAE Handbook Fundamentals 2017 ch. 1 Table 2: saturated air at 25 °C holds 20.173 g/kg (real gas); the ideal-gas form agrees to 0.5 %: at 24 °C 18.879 (psychrolib).
    [Fact]
    public void Half_saturated_air_of_24_degrees_lies_between_the_named_curves()
    {
        var chart = Chart(MadeUpRun.Make(altitudeM: 0));
        var (across, up) = (Drawn.Axis(Drawn.Marks(chart, isUpright: false)), Drawn.Axis(Drawn.Marks(chart, isUpright: true)));
        var curves = Drawn.Of(chart, "path", "humidity").Select(path => Drawn.Pieces(path.Attribute("d")!.Value).Single()).ToArray();
        Assert.Equal(4, curves.Length);
        Data.Near(up(11.1917), At(curves[2], across(24)), 0.5, "24 °C, 60 %: 11.1917 g/kg (psychrolib, ASHRAE forms)");
        Assert.Contains(chart.Descendants(), element => element.Value == "60 %");
    }

    [Fact]
    public void A_loops_line_is_the_saturation_of_its_supply_and_a_room_above_it_is_over_it()
    {
        var run = MadeUpRun.Make(altitudeM: 0);
        foreach (var loop in run.Loops)
            Array.Fill(loop.SupplyC, 16f);
        Array.Fill(run.Rooms[0].HumidityRatioGPerKg, 11.8f);
        Array.Fill(run.Rooms[0].TrueAirC, 24f);
        var chart = Chart(run);
        var (across, up) = (Drawn.Axis(Drawn.Marks(chart, isUpright: false)), Drawn.Axis(Drawn.Marks(chart, isUpright: true)));
        var line = Drawn.Of(chart, "line", "wet-line").First();
        Data.Near(up(11.36578), Drawn.Number(line, "y1"), 0.5, "16 °C saturated: 11.36578 g/kg (psychro_grid.csv)");
        Assert.Contains(Drawn.Of(chart, "circle", "mark"), mark => Math.Abs(Drawn.Number(mark, "cx") - across(24)) < 0.5 && Math.Abs(Drawn.Number(mark, "cy") - up(11.8)) < 0.5);
        Assert.True(up(11.8) < Drawn.Number(line, "y1"));
        Assert.Equal(2, Drawn.Of(chart, "line", "wet-line").Count());
    }

    [Fact]
    public void The_ladder_names_the_gap_of_the_tightest_moment()
    {
        var run = MadeUpRun.Make();
        run.Loops[0].SupplyC[900] = run.Rooms[1].WorstDewC[900] - 1.25f;
        run.Rooms[1].SurfaceFlows[900] = run.Loops[0].Flows[900] = true;
        run.Rooms[3].SurfaceFlows[900] = false;
        var window = new RunWindow(run);
        var moment = Margins.Find(run, window.All);
        Assert.Equal((900, 0), (moment.Sample, moment.Loop));
        var ladder = XElement.Parse(new MarginLadderPicture(window, new ReportUnits(false), moment).Draw(Sheet.Wide));
        var texts = ladder.Descendants().Where(element => element.Name.LocalName == "text").Select(element => element.Value).ToList();
        Assert.Contains(moment.SpareK.ToString("0.0", CultureInfo.InvariantCulture).TrimStart('-') + " K short", texts);
        Assert.DoesNotContain("Studio \"north\"", texts);
        Assert.Contains("15:00", window.Clock(moment.Sample), StringComparison.Ordinal);
    }

    [Fact]
    public void Water_that_stands_still_or_heats_has_no_margin()
    {
        var run = MadeUpRun.Make(days: 1);
        foreach (var loop in run.Loops)
            Array.Fill(loop.Cools, false);
        Assert.False(Margins.Find(run, new RunWindow(run).All).Is);
        Assert.Contains("no surface was cooled in this run", Page.Text(run), StringComparison.Ordinal);
    }
}

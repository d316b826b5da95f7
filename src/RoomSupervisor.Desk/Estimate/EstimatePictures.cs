// Pictures of an estimate: what each room asks hour by hour and what its emitters give; what water may be at a dew point and what surfaces give then. Must never say anything by colour alone.
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Desk.Report.Pictures;
using RoomSupervisor.Desk.Report.Svg;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Estimate;

internal sealed class EstimatePictures(EstimateResult result, UnitSystem units)
{
    private static readonly KeyEntry[] LoadKey =
    [
        new("bar-sensible", "asked, temperature", true), new("bar-latent", "asked, moisture", true, Patterns.Latent), new("air", "taken by surfaces and coils"),
    ];

    private static readonly KeyEntry[] SurfaceKey = [new("water", "coldest water the guard allows"), new("air", "what it gives for its area")];

    /// <summary>The house's day: what is asked, and what is taken.</summary>
    public string Day(Sheet sheet)
    {
        var rooms = result.Wish.Rooms;
        double[] sensible = Sum(room => room.Day.SensibleW), latent = Sum(room => room.Day.LatentW), given = Sum(room => room.GivenW);
        double[] Sum(Func<RoomEstimate, double[]> of) => [.. Enumerable.Range(0, 24).Select(hour => rooms.Sum(room => of(room)[hour]) * Factor)];
        var top = Key.Height(LoadKey, sheet) + sheet.Letters + 8;
        var plot = new Frame(sheet.Narrow ? 36 : 48, top, sheet.Width - (sheet.Narrow ? 44 : 56), sheet.Narrow ? 150 : 190);
        var svg = new SvgWriter(sheet.Width, plot.Bottom + 2 * sheet.Letters, "Cold asked and taken on the design day, by hour", "picture load");
        Key.Draw(svg, LoadKey, sheet, 0);
        var high = Math.Max(Enumerable.Range(0, 24).Max(hour => Math.Max(sensible[hour] + latent[hour], given[hour])), 0.1);
        var up = new Scale(0, high * 1.05, plot.Bottom, plot.Top);
        var across = new Scale(0, 24, plot.Left, plot.Right);
        ValueAxis.Draw(svg, plot, up.At, up.Ticks(up.Step(5)), value => XmlText.Number(value), sheet.Letters, sheet.Letters - 0.5);
        svg.Text(2, plot.Top - sheet.Letters * 0.7, PowerUnit, sheet.Letters - 1, Anchor.Start, "quiet");
        for (var hour = 0; hour < 24; hour++)
        {
            var (left, width) = (across.At(hour + 0.12), across.At(hour + 0.88) - across.At(hour + 0.12));
            svg.Rectangle(new Frame(left, up.At(sensible[hour]), width, up.At(0) - up.At(sensible[hour])), "bar-sensible");
            svg.Rectangle(new Frame(left, up.At(sensible[hour] + latent[hour]), width, up.At(sensible[hour]) - up.At(sensible[hour] + latent[hour])), "bar-latent", Patterns.Latent);
        }
        svg.Path(Steps(given, across, up), "air");
        for (var hour = 0; hour <= 24; hour += sheet.Narrow ? 6 : 3)
            svg.Text(across.At(hour), plot.Bottom + sheet.Letters + 4, XmlText.Number(hour), sheet.Letters - 1, Anchor.Middle, "quiet");
        return svg.End();
    }

    private static string Steps(double[] values, Scale across, Scale up)
    {
        var text = "";
        for (var hour = 0; hour < 24; hour++)
            text += $"{(hour == 0 ? 'M' : 'L')}{XmlText.Number(across.At(hour), 1)} {XmlText.Number(up.At(values[hour]), 1)}L{XmlText.Number(across.At(hour + 1), 1)} {XmlText.Number(up.At(values[hour]), 1)}";
        return text;
    }

    /// <summary>The trade between dew point and a cooled surface; empty where nothing is cooled.</summary>
    public string DewPoint(Sheet sheet)
    {
        var wished = result.Wish.Drafted.Wish.Rooms.SelectMany(room => room.Surfaces.Where(surface => surface.From.IsCooled).Select(surface => (Room: room, Surface: surface))).FirstOrDefault();
        if (wished.Surface is null || !result.File.Source.Cools)
            return "";
        var room = wished.Room.From.CoolAboveC;
        var top = Key.Height(SurfaceKey, sheet) + sheet.Letters + 8;
        var plot = new Frame(sheet.Narrow ? 36 : 48, top, sheet.Width - (sheet.Narrow ? 72 : 96), sheet.Narrow ? 150 : 190);
        var svg = new SvgWriter(sheet.Width, plot.Bottom + 3 * sheet.Letters, "Coldest water and output of a surface over the dew point of the room", "picture dew-point");
        Key.Draw(svg, SurfaceKey, sheet, 0);
        double Water(double dew) => Math.Max(SurfaceGives.LowestSafeC(room, dew), SurfaceGives.ColdestC);
        double Gives(double dew) => Water(dew) > SurfaceGives.WarmestC ? 0 : SurfaceGives.At(wished.Surface.CoolingWPerM2, wished.Surface.Exponent, wished.Surface.CoolingWPerM2 / 3 / 4190, Water(dew), room, 10).WPerM2 * AreaFactor;
        Scale across = new(8, 24, plot.Left, plot.Right), left = new(Shown(14), Shown(24), plot.Bottom, plot.Top), right = new(0, Math.Max(Gives(8), 1) * 1.05, plot.Bottom, plot.Top);
        ValueAxis.Draw(svg, plot, left.At, left.Ticks(left.Step(6)), value => XmlText.Number(value), sheet.Letters, sheet.Letters - 0.5);
        foreach (var tick in right.Ticks(right.Step(5)))
            svg.Text(plot.Right + 5, right.At(tick) + sheet.Letters * 0.35, XmlText.Number(tick), sheet.Letters - 0.5, Anchor.Start, "quiet");
        svg.Text(2, plot.Top - sheet.Letters * 0.7, "water " + Quantities.ShownUnit(Quantity.Temperature, units), sheet.Letters - 1, Anchor.Start, "quiet");
        svg.Text(sheet.Width - 2, plot.Top - sheet.Letters * 0.7, Quantities.ShownUnit(Quantity.AreaPower, units), sheet.Letters - 1, Anchor.End, "quiet");
        svg.Path(Curve(across, dew => left.Within(Shown(Water(dew)))), "water");
        svg.Path(Curve(across, dew => right.Within(Gives(dew))), "air");
        for (var dew = 8; dew <= 24; dew += sheet.Narrow ? 4 : 2)
            svg.Text(across.At(dew), plot.Bottom + sheet.Letters + 4, XmlText.Number(Shown(dew), 0), sheet.Letters - 1, Anchor.Middle, "quiet");
        svg.Text((plot.Left + plot.Right) / 2, plot.Bottom + 2 * sheet.Letters + 6, $"dew point of the room, {Quantities.ShownUnit(Quantity.Temperature, units)}", sheet.Letters - 1, Anchor.Middle, "quiet");
        return svg.End();
    }

    private static string Curve(Scale across, Func<double, double> y)
    {
        var text = "";
        for (var i = 0; i <= 64; i++)
        {
            var dew = 8 + i * 0.25;
            text += $"{(i == 0 ? 'M' : 'L')}{XmlText.Number(across.At(dew), 1)} {XmlText.Number(y(dew), 1)}";
        }
        return text;
    }

    private bool IsUs => units == UnitSystem.Us;

    private string PowerUnit => IsUs ? "kBtu/h" : "kW";

    private double Factor => IsUs ? 1 / Quantities.Find("kBtu/h", Quantity.Power)!.Factor : 0.001;

    private double AreaFactor => IsUs ? 1 / Quantities.Find("Btu/h/ft²", Quantity.AreaPower)!.Factor : 1;

    private double Shown(double celsius) => IsUs ? celsius * 1.8 + 32 : celsius;
}

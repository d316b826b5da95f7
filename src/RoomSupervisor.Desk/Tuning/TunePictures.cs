// Two pictures of a test: what was set and what came, with the model's curve through it; and how the loop would answer a kelvin of disturbance, as it is and as proposed. Must never tell curves apart by colour alone.
using System.Globalization;
using RoomSupervisor.Desk.Report.Pictures;
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Tuning;

/// <summary>Draws a test.</summary>
internal static class TunePictures
{
    private const double Width = 760, Height = 300, InputHeight = 60;

    private static readonly Frame Plot = new(64, 40, 676, 150), Input = new(64, 206, 676, InputHeight), Whole = new(64, 40, 676, 222);

    /// <summary>Record and model.</summary>
    internal static string Test(Tuned tuned)
    {
        var samples = tuned.Samples;
        var svg = new SvgWriter(Width, Height, $"{tuned.What}: the test and the model", "picture");
        var time = new Scale(samples[0].AtS, samples[^1].AtS, Plot.Left, Plot.Right);
        var fit = Curve(tuned);
        var values = samples.Select(sample => sample.Output).Concat(fit.Select(point => point.Y)).ToArray();
        var output = Padded(values, Plot);
        Legend(svg, [("measured", "air"), ("model", "water")]);
        ValueAxis.Draw(svg, Plot, output.At, output.Ticks(output.Step(5)), value => value.ToString("0.##", CultureInfo.InvariantCulture), 11, 11);
        svg.Path(Line(samples.Select(sample => (time.At(sample.AtS), output.At(sample.Output)))), "air");
        svg.Path(Line(fit.Select(point => (time.At(point.X), output.At(point.Y)))), "water");
        var input = Padded([.. samples.Select(sample => sample.Input)], Input);
        ValueAxis.Draw(svg, Input, input.At, input.Ticks(input.Step(3)), value => value.ToString("0.##", CultureInfo.InvariantCulture), 11, 11);
        svg.Path(Steps(samples.Select(sample => (time.At(sample.AtS), input.At(sample.Input)))), "third");
        svg.Text(Plot.Left, Plot.Top - 6, tuned.IsLoop ? "supply, °C" : "air, °C", 11, className: "quiet");
        svg.Text(Input.Left, Input.Top - 5, tuned.IsLoop ? "mixing valve, %, as with source and return of the beginning" : "coil as typed in, W", 11, className: "quiet");
        Minutes(svg, time, Input);
        return svg.End();
    }

    /// <summary>Before and after; null: there is nothing to compare.</summary>
    internal static string? Answers(Tuned tuned)
    {
        if (tuned is not { Before: { } before, After: { } after })
            return null;
        var svg = new SvgWriter(Width, Height, $"{tuned.What}: a kelvin of disturbance, as it is and as proposed", "picture");
        var time = new Scale(0, before.TimesS[^1], Whole.Left, Whole.Right);
        var error = Padded([.. before.Values, .. after.Values, 0], Whole);
        var changes = tuned.Values.Any(value => value.Path.StartsWith("sequence.", StringComparison.Ordinal));
        Legend(svg, changes ? [("as it is", "dew"), ("as proposed", "air")] : [("as it is: no gain is changed", "dew")]);
        ValueAxis.Draw(svg, Whole, error.At, error.Ticks(error.Step(6)), value => value.ToString("0.##", CultureInfo.InvariantCulture), 11, 11);
        svg.Line(Whole.Left, error.At(0), Whole.Right, error.At(0), "limit");
        svg.Path(Line(before.TimesS.Zip(before.Values, (t, v) => (time.At(t), error.At(v)))), "dew");
        if (changes)
            svg.Path(Line(after.TimesS.Zip(after.Values, (t, v) => (time.At(t), error.At(v)))), "air");
        svg.Text(Whole.Left, Whole.Top - 6, "error of the water, K, after a kelvin of disturbance", 11, className: "quiet");
        Minutes(svg, time, Whole);
        return svg.End();
    }

    /// <summary>The model through the record of a step, from its own beginning and drift; nothing for a relay.</summary>
    private static List<(double X, double Y)> Curve(Tuned tuned)
    {
        var samples = tuned.Samples;
        if (tuned.Model is not { } model || tuned.Relay is not null)
            return [];
        var at = samples.First(sample => sample.Input == samples[^1].Input).AtS;
        var (start, drift) = StepFit.Line([.. samples.Where(sample => sample.AtS <= at)], at);
        var step = samples[^1].Input - samples[0].Input;
        return [.. samples.Select(sample => (sample.AtS, start + drift * (sample.AtS - at) + step * model.StepResponse(sample.AtS - at)))];
    }

    private static Scale Padded(double[] values, Frame frame)
    {
        var (low, high) = (values.Min(), values.Max());
        var spare = Math.Max(0.05 * (high - low), 1e-3);
        return new Scale(low - spare, high + spare, frame.Bottom, frame.Top);
    }

    private static void Legend(SvgWriter svg, (string Words, string Class)[] all)
    {
        var x = Plot.Left + 250;
        foreach (var (words, name) in all)
        {
            svg.Line(x, 16, x + 30, 16, name);
            svg.Text(x + 38, 20, words, 12);
            x += 60 + 7.5 * words.Length + 30;
        }
    }

    private static void Minutes(SvgWriter svg, Scale time, Frame frame)
    {
        var minutes = new Scale(time.Low / 60, time.High / 60, time.AtLow, time.AtHigh);
        foreach (var tick in minutes.Ticks(minutes.Step(8)))
            svg.Text(minutes.At(tick), frame.Bottom + 18, tick.ToString("0.#", CultureInfo.InvariantCulture) + " min", 11, Anchor.Middle, "quiet");
    }

    private static string Line(IEnumerable<(double X, double Y)> points)
    {
        var path = new PathText();
        var isFirst = true;
        foreach (var (x, y) in points)
        {
            if (isFirst)
                path.Move(x, y);
            else
                path.Line(x, y);
            isFirst = false;
        }
        return path.ToString()!;
    }

    private static string Steps(IEnumerable<(double X, double Y)> points)
    {
        List<(double X, double Y)> corners = [];
        foreach (var (x, y) in points)
        {
            if (corners.Count > 0 && corners[^1].Y != y)
                corners.Add((x, corners[^1].Y));
            corners.Add((x, y));
        }
        return Line(corners);
    }
}

// An axis of a trade-off: straight, or logarithmic where one control gives many times what another gives. Must never cut a value off.
using RoomSupervisor.Desk.Report.Svg;

namespace RoomSupervisor.Desk.Compare;

/// <summary>From a value to a place.</summary>
/// <param name="Line">The straight axis of the values, or of their logarithms.</param>
/// <param name="IsLog">Logarithmic.</param>
internal readonly record struct TradeAxis(Scale Line, bool IsLog)
{
    /// <summary>Over so many times from the least to the most, a straight axis would press all but one into a corner.</summary>
    private const double LogFrom = 15;

    /// <summary>An axis for these values, all 0 or more.</summary>
    internal static TradeAxis Of(IReadOnlyList<double> values, double low, double high)
    {
        var (least, most) = (values.Min(), values.Max());
        if (least > 0 && most > LogFrom * least)
            return new(new Scale(Math.Log10(least / 1.5), Math.Log10(most * 1.5), low, high), true);
        // What never comes near zero, as humidity, would crowd in a corner: its axis begins nearer.
        var from = least > 0.5 * most ? Math.Max(0, least - 0.3 * Math.Max(most - least, 0.1 * most)) : 0;
        return new(new Scale(from, Math.Max(most + 0.12 * (most - from), 0.1), low, high), false);
    }

    /// <summary>Pixel of a value.</summary>
    internal double At(double value) => Line.At(IsLog ? Math.Log10(Math.Max(value, 1e-6)) : value);

    /// <summary>Round values on it.</summary>
    internal IEnumerable<double> Ticks()
    {
        if (!IsLog)
            return Line.Ticks(Line.Step(6));
        var line = Line;
        return Enumerable.Range(-3, 9).SelectMany(power => (double[])[Math.Pow(10, power), 3 * Math.Pow(10, power)]).Where(value => Math.Log10(value) >= line.Low && Math.Log10(value) <= line.High);
    }

    /// <summary>What a reader has to know.</summary>
    internal string Remark => IsLog ? " (each step about 3 times)" : "";
}

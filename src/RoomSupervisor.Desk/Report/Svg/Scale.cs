// From a value to a place in a picture, and the round values at which an axis is marked. Must never bend: it is a straight line.
namespace RoomSupervisor.Desk.Report.Svg;

/// <summary>A straight axis: <paramref name="Low"/> lies at pixel <paramref name="AtLow"/>, <paramref name="High"/> at <paramref name="AtHigh"/>.</summary>
internal readonly record struct Scale(double Low, double High, double AtLow, double AtHigh)
{
    /// <summary>Pixel of a value, also outside the axis.</summary>
    internal double At(double value) => AtLow + (value - Low) / (High - Low) * (AtHigh - AtLow);

    /// <summary>Pixel of a value; values outside lie at the end of the axis.</summary>
    internal double Within(double value) => At(Math.Clamp(value, Low, High));

    /// <summary>The multiples of a step that lie on the axis.</summary>
    internal IEnumerable<double> Ticks(double step)
    {
        for (var n = (long)Math.Ceiling(Low / step - 1e-9); n * step <= High + 1e-9 * step; n++)
            yield return n * step;
    }

    /// <summary>The finest of 1, 2 and 5 times a power of ten that gives at most that many ticks.</summary>
    internal double Step(int mostTicks)
    {
        var span = Math.Max(High - Low, 1e-9);
        var power = Math.Pow(10, Math.Floor(Math.Log10(span / mostTicks)));
        foreach (var times in (ReadOnlySpan<double>)[1, 2, 5, 10, 20, 50])
            if (span / (times * power) <= mostTicks)
                return times * power;
        return span;
    }
}

/// <summary>A rectangle of a picture, pixels.</summary>
internal readonly record struct Frame(double Left, double Top, double Width, double Height)
{
    internal double Right => Left + Width;
    internal double Bottom => Top + Height;

    /// <summary>True when two rectangles share some of their inside.</summary>
    internal bool Hits(Frame other) => Left < other.Right && other.Left < Right && Top < other.Bottom && other.Top < Bottom;
}

/// <summary>The sheet a picture is drawn on: a wide one for screens and paper, a narrow one for phones.</summary>
/// <param name="Width">Pixels of the view box.</param>
/// <param name="Narrow">For a phone.</param>
/// <param name="Letters">Height of ordinary letters, pixels.</param>
internal readonly record struct Sheet(double Width, bool Narrow, double Letters)
{
    internal static readonly Sheet Wide = new(760, false, 13);
    internal static readonly Sheet Phone = new(340, true, 12.5);
}

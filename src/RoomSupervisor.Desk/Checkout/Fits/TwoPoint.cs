// Calibration of a sensor at two points: a straight line through what it said and what the reference said. Must never hide what one offset cannot mend.
namespace RoomSupervisor.Desk.Checkout.Fits;

/// <summary>
/// A straight line: true value = <paramref name="Gain"/> · raw + <paramref name="Zero"/>. From (raw1, reference1) and (raw2, reference2): gain = (reference2 − reference1)/(raw2 − raw1),
/// zero = reference1 − gain · raw1 (two-point calibration, textbook).
/// </summary>
public readonly record struct TwoPoint(double Gain, double Zero)
{
    /// <summary>Makes the line; false where the two points lie closer together than <paramref name="atLeast"/> in the reference, or the sensor did not tell them apart.</summary>
    public static bool TryMake(double raw1, double reference1, double raw2, double reference2, double atLeast, out TwoPoint line)
    {
        line = default;
        if (!(Math.Abs(reference2 - reference1) >= atLeast) || !(Math.Abs(raw2 - raw1) >= atLeast / 2))
            return false;
        var gain = (reference2 - reference1) / (raw2 - raw1);
        line = new TwoPoint(gain, reference1 - gain * raw1);
        return true;
    }

    /// <summary>The true value behind a raw one.</summary>
    public double TrueOf(double raw) => Gain * raw + Zero;

    /// <summary>What the sensor says at a true value.</summary>
    public double RawOf(double real) => (real - Zero) / Gain;

    /// <summary>The offset (added to every raw value) that makes the sensor right at a true value.</summary>
    public double OffsetAt(double real) => real - RawOf(real);

    /// <summary>The largest error that one offset leaves between two true values: at one of the ends, for the line is straight.</summary>
    public double LeftBy(double offset, double from, double to) => Math.Max(Math.Abs(RawOf(from) + offset - from), Math.Abs(RawOf(to) + offset - to));

    /// <summary>The offset that leaves least between two true values: the mean of what the ends want.</summary>
    public double BestOffset(double from, double to) => (OffsetAt(from) + OffsetAt(to)) / 2;
}

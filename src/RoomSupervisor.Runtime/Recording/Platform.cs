// What decides whether two computers reckon alike, as a short text: processor kind, and a sum over results of the functions that a maker of a runtime may change. Must never
// name a machine or its owner.
using System.Globalization;
using System.Runtime.InteropServices;

namespace RoomSupervisor.Runtime.Recording;

/// <summary>The fingerprint of a platform.</summary>
public static class Platform
{
    /// <summary>Processor and a sum over results; equal where a replay must be equal bit for bit.</summary>
    public static string Fingerprint { get; } = $"{RuntimeInformation.ProcessArchitecture.ToString().ToLowerInvariant()} {Sum().ToString("x16", CultureInfo.InvariantCulture)}";

    private static ulong Sum()
    {
        var sum = 14695981039346656037UL;
        for (var i = 1; i <= 200; i++)
        {
            var x = i * 0.0371;
            foreach (var value in (double[])[Math.Exp(x), Math.Log(x), Math.Pow(x, 0.7), Math.Sin(x), Math.Atan(x), Math.Sqrt(x), Math.Log10(x)])
                sum = (sum ^ BitConverter.DoubleToUInt64Bits(value)) * 1099511628211;
        }
        return sum;
    }
}

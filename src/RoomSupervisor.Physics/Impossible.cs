// What every function of this project says when its input cannot be: which parameter, its value, and the range allowed.
// Must never be turned into a number: a caller that has no result has none.
using System.Runtime.CompilerServices;

namespace RoomSupervisor.Physics;

/// <summary>Typed failure of a physical function.</summary>
/// <param name="Parameter">Name of the parameter that cannot be.</param>
/// <param name="Value">The value given (may be NaN or infinite).</param>
/// <param name="Lowest">Lowest value allowed, in the parameter's own unit.</param>
/// <param name="Highest">Highest value allowed, in the parameter's own unit.</param>
public readonly record struct Impossible(string Parameter, double Value, double Lowest, double Highest);

/// <summary>The one range test of the project. NaN and infinities fail it because every comparison with them is written to fail.</summary>
internal static class Allowed
{
    /// <summary>True when value lies in [lowest, highest]; otherwise <paramref name="why"/> names it.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static bool Range(string parameter, double value, double lowest, double highest, out Impossible why)
    {
        if (value >= lowest && value <= highest)
        {
            why = default;
            return true;
        }

        why = new Impossible(parameter, value, lowest, highest);
        return false;
    }
}

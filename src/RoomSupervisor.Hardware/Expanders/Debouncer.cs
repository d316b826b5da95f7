// A contact bounces: a new level counts only when it has stood for a while. Pure; time is a parameter.
// It must never count a level that was seen once only, except the very first.
namespace RoomSupervisor.Hardware.Expanders;

/// <summary>Level of one input that counts.</summary>
/// <param name="standsS">How long a new level must have stood, s; at least two looks in any case.</param>
internal sealed class Debouncer(double standsS)
{
    private const double TinyS = 1e-6;
    private bool isKnown, candidate;
    private double sinceS;

    /// <summary>The level that counts.</summary>
    public bool Level { get; private set; }

    /// <summary>Takes one look.</summary>
    public bool Look(bool level, double nowS)
    {
        if (!isKnown)
            (isKnown, Level, candidate, sinceS) = (true, level, level, nowS);
        else if (level != candidate)
            (candidate, sinceS) = (level, nowS);
        else if (candidate != Level && nowS - sinceS >= standsS - TinyS)
            Level = candidate;
        return Level;
    }

    /// <summary>Nobody looked for a while: the next look counts at once.</summary>
    public void Anew() => isKnown = false;
}

// The three categories of ISO 7730, and which one a room's figures meet.
// Must never judge a part that was not measured: NaN in means no category out.
namespace RoomSupervisor.Physics;

/// <summary>Category of thermal environment, best first.</summary>
public enum ComfortCategory
{
    /// <summary>PPD under 6 %, vote within ±0.2, draught under 10 %, vertical difference under 2 K.</summary>
    A,

    /// <summary>PPD under 10 %, vote within ±0.5, draught under 20 %, vertical difference under 3 K.</summary>
    B,

    /// <summary>PPD under 15 %, vote within ±0.7, draught under 30 %, vertical difference under 4 K.</summary>
    C,

    /// <summary>Outside all three.</summary>
    None,
}

/// <summary>
/// Limits of ISO 7730 (PPD, draught and vertical difference as quoted in public sources; vote bands and asymmetry limits from memory).
/// </summary>
public static class ComfortCategories
{
    /// <summary>Category by predicted mean vote: ±0.2, ±0.5, ±0.7 (ISO 7730, from memory). NaN is outside all.</summary>
    /// <param name="vote">Predicted mean vote.</param>
    public static ComfortCategory ByVote(double vote) => By(Math.Abs(vote), 0.2, 0.5, 0.7);

    /// <summary>Category by draught rate, %: 10, 20, 30 (ISO 7730). NaN is outside all.</summary>
    /// <param name="draughtPercent">Draught rate, %.</param>
    public static ComfortCategory ByDraught(double draughtPercent) => By(draughtPercent, 10, 20, 30);

    /// <summary>Category by vertical difference, K: 2, 3, 4 (ISO 7730). NaN is outside all.</summary>
    /// <param name="differenceK">K, 1.1 m less 0.1 m.</param>
    public static ComfortCategory ByVertical(double differenceK) => By(differenceK, 2, 3, 4);

    /// <summary>
    /// Category by radiant asymmetry, K (ISO 7730, from memory): warm ceiling 5, 5, 7; cool wall 10, 10, 13; cool ceiling 14, 14, 18; warm
    /// wall 23, 23, 35. NaN is outside all.
    /// </summary>
    /// <param name="kind">Which surface stands out.</param>
    /// <param name="differenceK">K.</param>
    public static ComfortCategory ByAsymmetry(AsymmetryKind kind, double differenceK) => kind switch
    {
        AsymmetryKind.WarmCeiling => By(differenceK, 5, 5, 7),
        AsymmetryKind.CoolWall => By(differenceK, 10, 10, 13),
        AsymmetryKind.CoolCeiling => By(differenceK, 14, 14, 18),
        AsymmetryKind.WarmWall => By(differenceK, 23, 23, 35),
        _ => ComfortCategory.None,
    };

    private static ComfortCategory By(double value, double a, double b, double c) =>
        value < a ? ComfortCategory.A : value < b ? ComfortCategory.B : value < c ? ComfortCategory.C : ComfortCategory.None;
}

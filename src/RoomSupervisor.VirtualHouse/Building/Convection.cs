// Heat from a face to the air beside it.
// Must never be used for a surface that water heats or cools from within: those follow ISO 11855-2, see Cooled.
namespace RoomSupervisor.VirtualHouse;

/// <summary>
/// Natural convection by temperature difference and lie: Walton, Thermal Analysis Research Program Reference Manual, NBSSIR 83-2655 (1983),
/// numbers from memory. W/(m²·K).
/// </summary>
internal static class Convection
{
    /// <summary>Part of ISO 11855-2's total exchange that is radiation (Olesen, AIVC 2008), W/(m²·K).</summary>
    internal const double RadiantPart = 5.5;

    private const double Third = 1.0 / 3;

    /// <summary>Still air. <paramref name="faces"/> is the lie of the face, <paramref name="difference"/> face minus air, K.</summary>
    internal static double Natural(Lie faces, double difference)
    {
        double root = Math.Pow(Math.Max(Math.Abs(difference), 0.05), Third);
        if (faces == Lie.Wall) return 1.31 * root;
        bool rises = faces == Lie.Floor ? difference > 0 : difference < 0;
        return rises ? 9.482 / 6.238 * root : 1.810 / 2.382 * root;
    }

    /// <summary>
    /// Outside, still air and wind together: glass √(n² + (a·v^b)²) with a 3.26, b 0.89 to windward and 3.55, 0.617 to leeward (Yazdanian and
    /// Klems, ASHRAE Transactions 100 (1994) 1087, measured at full size on low buildings); rough faces n + R·(glass − n), R as Walton's. The laboratory plate
    /// behind Walton's own wind term gives about half of what buildings show.
    /// </summary>
    internal static double Outside(double natural, double windMPerS, double roughness, bool lee)
    {
        double wind = lee ? 3.55 * Math.Pow(windMPerS, 0.617) : 3.26 * Math.Pow(windMPerS, 0.89);
        return natural + roughness * (Math.Sqrt(natural * natural + wind * wind) - natural);
    }

    /// <summary>
    /// Convective part of a face that is heated or cooled from within: total exchange of ISO 11855-2 (floor heating and ceiling cooling
    /// 8.92·dT^0.1, wall 8, ceiling heating 6, floor cooling 7) less the radiation of 5.5.
    /// </summary>
    internal static double Cooled(Lie faces, double difference)
    {
        bool warm = difference > 0;
        double total = faces switch
        {
            Lie.Wall => 8,
            Lie.Floor => warm ? Strong(difference) : 7,
            _ => warm ? 6 : Strong(difference),
        };
        return total - RadiantPart;
    }

    private static double Strong(double difference) => 8.92 * Math.Pow(Math.Clamp(Math.Abs(difference), 0.1, 30), 0.1);
}

// The factor tables of EN 1264-2 (Annex A) for types A and C, straight between their points.
// Must never reach past the tables: callers check spacing 0.05…0.375 m and covering 0…0.15 m²K/W first.
namespace RoomSupervisor.Physics;

/// <summary>Factors aT, aU and aD. As in two public transcriptions of the standard that agree with each other.</summary>
internal static class EmbeddedPipeTables
{
    private static ReadOnlySpan<double> Spacings => [0.05, 0.075, 0.1, 0.15, 0.2, 0.225, 0.3, 0.375];

    private static ReadOnlySpan<double> SpacingFactors => [1.23, 1.188, 1.156, 1.134];

    // Rows: spacing; columns: covering 0, 0.05, 0.10, 0.15 m²K/W.
    private static ReadOnlySpan<double> ScreedFactors =>
    [
        1.069, 1.056, 1.043, 1.037,
        1.066, 1.053, 1.041, 1.035,
        1.063, 1.050, 1.039, 1.0335,
        1.057, 1.046, 1.035, 1.0305,
        1.051, 1.041, 1.0315, 1.0275,
        1.048, 1.038, 1.0295, 1.026,
        1.0395, 1.031, 1.024, 1.021,
        1.030, 1.0221, 1.0181, 1.015,
    ];

    private static ReadOnlySpan<double> DiameterFactors =>
    [
        1.013, 1.013, 1.012, 1.011,
        1.021, 1.019, 1.016, 1.014,
        1.029, 1.025, 1.022, 1.018,
        1.040, 1.034, 1.029, 1.024,
        1.046, 1.040, 1.035, 1.030,
        1.049, 1.043, 1.038, 1.033,
        1.053, 1.049, 1.044, 1.039,
        1.056, 1.051, 1.046, 1.042,
    ];

    internal static double Spacing(double covering)
    {
        (int column, double share) = Column(covering);
        return SpacingFactors[column] + share * (SpacingFactors[column + 1] - SpacingFactors[column]);
    }

    internal static double Screed(double spacing, double covering) => Between(ScreedFactors, spacing, covering);

    internal static double Diameter(double spacing, double covering) => Between(DiameterFactors, spacing, covering);

    private static (int Column, double Share) Column(double covering)
    {
        int column = Math.Min((int)(covering / 0.05), 2);
        return (column, covering / 0.05 - column);
    }

    private static double Between(ReadOnlySpan<double> table, double spacing, double covering)
    {
        int row = 0;
        while (row < Spacings.Length - 2 && spacing > Spacings[row + 1]) row++;
        double down = (spacing - Spacings[row]) / (Spacings[row + 1] - Spacings[row]);
        (int column, double across) = Column(covering);
        int at = 4 * row + column;
        double near = table[at] + across * (table[at + 1] - table[at]);
        double far = table[at + 4] + across * (table[at + 5] - table[at + 4]);
        return near + down * (far - near);
    }
}

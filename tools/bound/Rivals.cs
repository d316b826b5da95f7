// Simple controls on the linear house, only to try the bound: none of them knows the future. Must never be quoted as rivals of the controller: those run in the virtual house.
namespace RoomSupervisor.Bound;

/// <summary>Makes plans that the bound must not lose to.</summary>
internal static class Rivals
{
    private const double BandK = 0.5;

    /// <summary>Names and heat taken by slot and cooler, W.</summary>
    public static IEnumerable<(string Name, double[][] HeatW)> Of(LinearCase given, LinearHouse house)
    {
        double[] full = [.. Enumerable.Range(0, house.Coolers.Length).Select(c => Math.Max(house.RunW.Max(row => row[c]), 200))];
        yield return ("proportional, all coolers", Play(given, house, (c, error) => full[c] * Math.Clamp(error / BandK, 0, 1)));
        yield return ("on and off, coils alone", Play(given, house, (c, error) => house.Coolers[c].Surface < 0 && error > 0 ? full[c] : 0));
        yield return ("proportional, surfaces", Play(given, house, (c, error) => house.Coolers[c].Surface >= 0 ? full[c] * Math.Clamp(error / BandK, 0, 1) : 0));
    }

    // What is taken in a slot follows from the air at the end of the slot before.
    private static double[][] Play(LinearCase given, LinearHouse house, Func<int, double, double> law)
    {
        var heat = new double[house.BaseC.Length][];
        double[][] air = [.. house.BaseC.Select(row => row.ToArray())];
        for (var k = 0; k < heat.Length; k++)
        {
            heat[k] = new double[house.Coolers.Length];
            for (var c = 0; c < heat[k].Length; c++)
            {
                var room = house.Coolers[c].Room;
                heat[k][c] = law(c, k == 0 ? 0 : air[k - 1][room] - given.CoolAboveC[k - 1][room] + BandK / 2);
            }
            var scale = Math.Min(1, given.SourceW[k] / Math.Max(heat[k].Sum(), 1));
            for (var c = 0; c < heat[k].Length; c++)
            {
                heat[k][c] *= scale;
                house.Take(air, k, c, heat[k][c]);
            }
        }
        return heat;
    }
}

// Two rooms small enough to be solved with a pencil, to know that the programme finds what a person finds. Must never be solved by the code it checks.
namespace RoomSupervisor.Bound;

/// <summary>The pencil's case: no losses, so that heat taken early stays taken; electricity twice as dear in the second hour.</summary>
internal static class HandCase
{
    /// <summary>
    /// Two rooms of 1 kWh/K each, 1 kW of gain in each hour, two hours, beginning at 24 °C: 25 °C and 26 °C untouched. Room one may not pass 25.0 °C, room two not 24.5 °C. The first hour's watt
    /// costs 0.2 W, the second's 0.4 W, and 1.2 kW is the most that all may take at once.
    /// Room one must be rid of 1 kWh by the end of the second hour and of none by the end of the first; room two of 0.5 kWh by the end of the first and of 1.5 kWh by the end of the second. Together 2.5 kWh, of
    /// which room one may keep 0.2 kWh, because it may be 0.2 K too warm for the last hour: 2.3 kWh. The source gives at most 1.2 kWh of them in the cheap hour: 1.2 kWh at 0.2 and 1.1 kWh at 0.4, 0.68 kWh.
    /// With a source of 4 kW all of them are taken in the cheap hour: 2.3 kWh at 0.2, 0.46 kWh. Without that slack 2.5 kWh are needed and 2.4 kWh is all there is.
    /// </summary>
    public static IEnumerable<string> Check()
    {
        foreach (var (sourceW, expected) in new[] { (1200.0, 0.68), (4000.0, 0.46) })
        {
            var found = Programme.Solve(Case(sourceW));
            if (found is null || Math.Abs(found.Kwh - expected) > 1e-6)
                yield return $"hand case with {sourceW} W: {found?.Kwh ?? double.NaN} kWh, by hand {expected} kWh";
        }
        // A room that may not be too warm at all cannot be kept by that source.
        if (Programme.Solve(Case(1200) with { DiscomfortKh = [0, 0] }) is not null)
            yield return "hand case without slack: solved, though 0.1 kWh is missing";
    }

    private static LinearCase Case(double sourceW)
    {
        const float KPerW = 1 / 1000f;
        double[][] none = [[0, 0], [0, 0]];
        float[][] one = [[-KPerW, 0], [-KPerW, 0]], two = [[0, -KPerW], [0, -KPerW]];
        return new LinearCase(
            3600, [[25, 25], [26, 26]], none, [[one, [one[0]]], [two, [two[0]]]], [[25, 24.5], [25, 24.5]], [[10, 10], [10, 10]], [0.2, 0.4], [5000, 5000], [sourceW, sourceW], [0.2, 0]);
    }
}

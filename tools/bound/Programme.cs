// The least electricity with which rooms could have been as comfortable, as a linear programme. Knows nothing of houses: numbers in, numbers out.
// Must never be told more than it may use: what is not a limit here, the bound is free to do.
using Google.OrTools.LinearSolver;

namespace RoomSupervisor.Bound;

/// <summary>A case. Arrays by slot first.</summary>
/// <param name="SlotS">Length of a slot, s.</param>
/// <param name="BaseC">Air at slots' ends with <paramref name="RunW"/> taken, by slot and room, °C.</param>
/// <param name="RunW">Heat taken in the base, by slot and cooler, W.</param>
/// <param name="Answers">K/W: [cooler][slot of the heat][slots later][room].</param>
/// <param name="CoolAboveC">Upper end of the wanted band, by slot and room, °C.</param>
/// <param name="HeatBelowC">Lower end of the wanted band, by slot and room, °C.</param>
/// <param name="PriceWPerW">Electricity for a watt of sensible heat, by slot.</param>
/// <param name="MostW">Most heat a cooler can take, by cooler, W.</param>
/// <param name="SourceW">Most heat all can take together, latent heat included, by slot, W.</param>
/// <param name="DiscomfortKh">Kelvin hours outside the band allowed by room.</param>
internal sealed record LinearCase(
    double SlotS, double[][] BaseC, double[][] RunW, float[][][][] Answers, double[][] CoolAboveC, double[][] HeatBelowC, double[] PriceWPerW, double[] MostW, double[] SourceW, double[] DiscomfortKh)
{
    /// <summary>Latent heat to be taken in the whole time, J.</summary>
    public double LatentJ { get; init; }

    /// <summary>Electricity for a watt of latent heat, by slot; the price of sensible heat where not said.</summary>
    public double[]? LatentPriceWPerW { get; init; }

    /// <summary>Electricity of a plan, kWh.</summary>
    public double CostKwh(double[][] heatW, double[] latentW)
    {
        var sum = 0.0;
        for (var k = 0; k < heatW.Length; k++)
            sum += (PriceWPerW[k] * heatW[k].Sum() + (LatentPriceWPerW ?? PriceWPerW)[k] * latentW[k]) * SlotS;
        return sum / 3.6e6;
    }

    /// <summary>Kelvin hours outside the band by room.</summary>
    public double[] OutsideKh(double[][] airC)
        => [.. Enumerable.Range(0, DiscomfortKh.Length).Select(room
            => airC.Select((row, k) => Math.Max(Math.Max(row[room] - CoolAboveC[k][room], HeatBelowC[k][room] - row[room]), 0) * SlotS / 3600).Sum())];
}

/// <summary>An answer.</summary>
/// <param name="Kwh">Least electricity.</param>
/// <param name="HeatW">Heat taken by slot and cooler, W.</param>
/// <param name="LatentW">Latent heat taken by slot, W.</param>
internal sealed record LeastElectricity(double Kwh, double[][] HeatW, double[] LatentW);

/// <summary>Solves cases.</summary>
internal static class Programme
{
    /// <summary>The least electricity; null when the case cannot be met at all.</summary>
    public static LeastElectricity? Solve(LinearCase given)
    {
        using var solver = Solver.CreateSolver("GLOP");
        int slots = given.BaseC.Length, rooms = given.DiscomfortKh.Length, coolers = given.MostW.Length;
        var heat = new Variable[slots, coolers];
        var latent = new Variable[slots];
        var (over, under) = (new Variable[slots, rooms], new Variable[slots, rooms]);
        var goal = solver.Objective();
        goal.SetMinimization();
        var dry = solver.MakeConstraint(given.LatentJ, double.PositiveInfinity);
        for (var k = 0; k < slots; k++)
        {
            var source = solver.MakeConstraint(double.NegativeInfinity, given.SourceW[k]);
            for (var c = 0; c < coolers; c++)
            {
                heat[k, c] = solver.MakeNumVar(0, given.MostW[c], "");
                goal.SetCoefficient(heat[k, c], given.PriceWPerW[k] * given.SlotS / 3.6e6);
                source.SetCoefficient(heat[k, c], 1);
            }
            latent[k] = solver.MakeNumVar(0, double.PositiveInfinity, "");
            goal.SetCoefficient(latent[k], (given.LatentPriceWPerW ?? given.PriceWPerW)[k] * given.SlotS / 3.6e6);
            source.SetCoefficient(latent[k], 1);
            dry.SetCoefficient(latent[k], given.SlotS);
        }
        for (var room = 0; room < rooms; room++)
        {
            var allowed = solver.MakeConstraint(double.NegativeInfinity, given.DiscomfortKh[room] * 3600 / given.SlotS);
            for (var k = 0; k < slots; k++)
            {
                allowed.SetCoefficient(over[k, room] = solver.MakeNumVar(0, double.PositiveInfinity, ""), 1);
                allowed.SetCoefficient(under[k, room] = solver.MakeNumVar(0, double.PositiveInfinity, ""), 1);
            }
        }
        for (var k = 0; k < slots; k++)
            for (var room = 0; room < rooms; room++)
                Comfort(solver, given, heat, (over[k, room], under[k, room]), k, room);
        if (solver.Solve() != Solver.ResultStatus.OPTIMAL)
            return null;
        return new LeastElectricity(
            goal.Value(), [.. Enumerable.Range(0, slots).Select(k => Enumerable.Range(0, coolers).Select(c => heat[k, c].SolutionValue()).ToArray())], [.. latent.Select(one => one.SolutionValue())]);
    }

    // heat below ≤ base − Σ answer · (heat − run) + under − over ≤ cool above, all numbers to the ends.
    private static void Comfort(Solver solver, LinearCase given, Variable[,] heat, (Variable Over, Variable Under) slack, int k, int room)
    {
        var known = given.BaseC[k][room];
        var row = solver.MakeConstraint();
        for (var j = 0; j <= k; j++)
        {
            for (var c = 0; c < given.MostW.Length; c++)
            {
                double answer = given.Answers[c][j][k - j][room];
                row.SetCoefficient(heat[j, c], answer);
                known -= answer * given.RunW[j][c];
            }
        }
        row.SetCoefficient(slack.Over, -1);
        row.SetCoefficient(slack.Under, 1);
        row.SetBounds(given.HeatBelowC[k][room] - known, given.CoolAboveC[k][room] - known);
    }
}

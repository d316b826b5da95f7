// Plays a rehearsal, makes its house linear, finds the bound, tries to beat it, and tells. Must never leave out what makes the bound loose.
using System.Globalization;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Physics;

namespace RoomSupervisor.Bound;

/// <summary>The bound of one rehearsal.</summary>
internal static class BoundOfRun
{
    /// <summary>Warmest water with which anything is cooled here, °C: nothing that cools a room of 24 °C can do with much warmer, so no price can be lower.</summary>
    private const double SensibleWaterC = 20;

    /// <summary>Warmest water that dries, °C: dew points aimed at are at most this.</summary>
    private const double LatentWaterC = 15;

    /// <summary>Kelvin by which the water of the store may swing in a slot: what the source need not give at the moment.</summary>
    private const double StoreSwingK = 10;

    /// <summary>Prints the bound; false when something beats it.</summary>
    public static bool Print(RehearsalPlan plan, int slotS)
    {
        var slots = (int)Math.Ceiling(plan.Scenario.Days * 86_400.0 / slotS);
        var taken = new HeatTaken(plan, slots, slotS);
        using var run = new Rehearsal(plan) { AfterScan = taken.See };
        var house = new LinearHouse(plan, taken, run.Run.Building, slotS);
        run.RunToEnd();
        house.Make(done => Console.Error.Write($"\rmaking the house linear {100 * done:0} %   "));
        Console.Error.WriteLine();
        var given = Case(plan, taken, house, slotS);
        var own = given with { DiscomfortKh = given.OutsideKh(house.BaseC) };
        if (Programme.Solve(own) is not { } best)
        {
            Console.WriteLine("the programme has no answer to what the run itself did: the bound is wrong");
            return false;
        }
        Console.WriteLine(Invariant($"{plan.Files.House.Name}, {plan.ScenarioName}, {slots} slots of {slotS / 60} min, {house.Coolers.Length} coolers"));
        var priced = own.CostKwh(house.RunW, taken.LatentW);
        Console.WriteLine(Invariant($"electricity of the run, pumps and fans with it   {run.Recorder.ElectricKwh,8:0.00} kWh"));
        Console.WriteLine(Invariant($"of it the source                                 {taken.SourceKwh,8:0.00} kWh"));
        Console.WriteLine(Invariant($"its heat at the water it was taken with          {taken.AtOwnWaterKwh,8:0.00} kWh   (no starting, no losses)"));
        Console.WriteLine(Invariant($"its heat at the best price water allows          {priced,8:0.00} kWh"));
        Console.WriteLine(Invariant($"least with perfect foresight, same comfort       {best.Kwh,8:0.00} kWh   {100 * best.Kwh / priced:0} % of that price, {100 * best.Kwh / run.Recorder.ElectricKwh:0} % of the run"));
        Errors(taken, house, best);
        return Beaten(own, house, taken, best.Kwh, priced);
    }

    private static LinearCase Case(RehearsalPlan plan, HeatTaken taken, LinearHouse house, int slotS)
    {
        var machine = plan.Plant.Machine;
        var slots = taken.OutdoorC.Length;
        var (price, latent, most) = (new double[slots], new double[slots], new double[slots]);
        for (var k = 0; k < slots; k++)
        {
            (price[k], latent[k]) = (Price(taken.OutdoorC[k], SensibleWaterC, plan), Price(taken.OutdoorC[k], LatentWaterC, plan));
            // What the source can at the coldest outdoors there is, and the store beside it; never less than the run took.
            var took = house.RunW[k].Sum() + Math.Max(taken.LatentW[k], 0);
            most[k] = Math.Max(1.2 * machine.CoolingW + plan.Plant.Store.VolumeL * 4186 * StoreSwingK / slotS, took);
        }
        var each = Enumerable.Repeat(most.Max(), house.Coolers.Length).ToArray();
        return new LinearCase(slotS, house.BaseC, house.RunW, house.Answers, taken.CoolAboveC, taken.HeatBelowC, price, each, most, new double[house.Rooms])
        {
            LatentJ = taken.LatentW.Sum() * slotS,
            LatentPriceWPerW = latent,
        };
    }

    private static double Price(double outdoorC, double waterC, RehearsalPlan plan)
        => HeatPump.TryCooling(Math.Clamp(outdoorC, -10, 55), waterC, plan.Plant.Machine.ShareOfIdeal, plan.Plant.Machine.ApproachK, out var performance, out var why)
            ? 1 / performance : throw new InvalidOperationException(why.ToString());

    private static void Errors(HeatTaken taken, LinearHouse house, LeastElectricity best)
    {
        var (mean, worst) = Apart(house.BaseC, taken.AirC);
        Console.WriteLine(Invariant($"building alone against the run: {mean:0.000} K mean, {worst:0.00} K at most"));
        (mean, worst) = Apart(house.Linear(best.HeatW), house.Played(best.HeatW));
        Console.WriteLine(Invariant($"linear house against the building, with the least: {mean:0.000} K mean, {worst:0.00} K at most"));
    }

    private static (double Mean, double Worst) Apart(double[][] one, double[][] other)
    {
        double[] apart = [.. one.SelectMany((row, k) => row.Select((t, room) => Math.Abs(t - other[k][room])))];
        return (apart.Average(), apart.Max());
    }

    /// <summary>Other plans on the same linear house, each against the bound for its own comfort and dryness.</summary>
    private static bool Beaten(LinearCase own, LinearHouse house, HeatTaken taken, double leastKwh, double runKwh)
    {
        var held = leastKwh <= runKwh + 1e-6;
        Console.WriteLine(Invariant($"  the run                   {runKwh,8:0.00} kWh, bound {leastKwh,8:0.00} kWh{(held ? "" : "   BEATS ITS BOUND")}"));
        foreach (var (name, heatW) in Rivals.Of(own, house))
        {
            var cost = own.CostKwh(heatW, taken.LatentW);
            var bound = Programme.Solve(own with { DiscomfortKh = own.OutsideKh(house.Linear(heatW)) })?.Kwh ?? double.NaN;
            var isHeld = bound <= cost + 1e-6;
            held &= isHeld;
            Console.WriteLine(Invariant($"  {name,-25} {cost,8:0.00} kWh, bound {bound,8:0.00} kWh{(isHeld ? "" : "   BEATS ITS BOUND")}"));
        }
        return held;
    }

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}

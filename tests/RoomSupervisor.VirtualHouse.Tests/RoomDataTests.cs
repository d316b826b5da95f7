// Section 2, rule 7, in the virtual house: what the controller measured of its rooms against what the building, its coils and sensors really are. Must never give the controller anything but its sensors.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.RoomData;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using RoomSupervisor.VirtualHouse.Tests.Desk;
using Xunit.Abstractions;

namespace RoomSupervisor.VirtualHouse.Tests;

public class RoomDataTests(ITestOutputHelper output)
{
    /// <summary>What is true of a room: coil as a share of its rating, capacity and walls of its air, and what the controller measured.</summary>
    private sealed record Found(string Room, RoomDataMemory Data, double TypicalJPerK, double CoilShare, double CapacityJPerK, double WallsWPerK, double AirJPerK)
    {
        public double Capacity => Data.Capacity.Factor * TypicalJPerK;

        public override string ToString() => FormattableString.Invariant(
            $"{Room,-14} {Data.PullDowns} pull-downs, coil {Data.Coil.Factor:0.00} of {CoilShare:0.00}, capacity {Capacity / 1000:0} of {CapacityJPerK / 1000:0} kJ/K (air {AirJPerK / 1000:0}), ratio {Data.Ratio.Factor:0.00} of {CoilShare * TypicalJPerK / CapacityJPerK:0.00}, lag {Data.Lag.Factor:0.00} ± {Data.Lag.Deviation:0.00}");
    }

    /// <summary>A hot day on which every room's door or window stands open for half an hour every three hours, one room after another.</summary>
    private static RehearsalPlan Doors(string site, string from, ulong seed, params (string Old, string New)[] changes)
    {
        string folder = Path.Combine(Path.GetTempPath(), $"doors-{Guid.NewGuid():N}");
        Directory.CreateDirectory(folder);
        try
        {
            foreach (string path in Directory.GetFiles(HouseFromSiteTests.Site(site))) File.Copy(path, Path.Combine(folder, Path.GetFileName(path)));
            string text = File.ReadAllText(Path.Combine(folder, "site.yaml"));
            foreach ((string old, string changed) in changes)
            {
                Assert.Contains(old, text, StringComparison.Ordinal);
                text = text.Replace(old, changed, StringComparison.Ordinal);
            }

            File.WriteAllText(Path.Combine(folder, "site.yaml"), text);
            return Doors(site, folder, from, seed);
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    private static RehearsalPlan Read(RehearsalWish wish) => RehearsalReader.Read(wish, out var problems) ?? throw new InvalidOperationException(string.Join('\n', problems));

    private static RehearsalPlan Doors(string site, string folder, string from, ulong seed)
    {
        RehearsalPlan first = Read(new RehearsalWish(folder));
        List<string> lines = ["weather: " + (site == "brick-row" ? "chicago" : "new-york"), "from: " + from, "days: 1", "happenings:"];
        for (int i = 0; i < first.Building.OpeningsOf.Length; i++)
        {
            for (int hour = 9; hour <= 21; hour += 3)
            {
                double at = 60 * hour + 40 * (i % 4) + 10;
                lines.Add(FormattableString.Invariant($"  door-{i}-{hour}: {{what: open, where: {first.Building.Plan.Openings[first.Building.OpeningsOf[i][0]].Name}, at: \"{(int)at / 60:00}:{(int)at % 60:00}\", for: 30 min}}"));
            }
        }

        string file = Path.Combine(folder, "doors.yaml");
        File.WriteAllLines(file, lines);
        return Read(new RehearsalWish(folder) { Scenario = file }) with { Seed = seed };
    }

    /// <summary>Lives through the day and tells what was measured of each room with coils of its own, and what is true of it.</summary>
    private static List<Found> Live(RehearsalPlan plan)
    {
        House house = plan.Files.House;
        double[] real = new double[house.Rooms.Length], believed = new double[house.Rooms.Length];
        using Rehearsal run = new(plan) { AfterScan = one => Count(one, real, believed) };
        while (!run.IsOver) run.Step();
        List<Found> found = [];
        for (int i = 0; i < house.Rooms.Length; i++)
        {
            if (house.Rooms[i].Coils.Length == 0 || house.Rooms[i].Coils.Any(c => house.Coils[c].Rooms.Length > 1)) continue;
            double watts = 0.5 * house.Rooms[i].Coils.Sum(c => house.Coils[c].Kind.OutputW);
            (double capacity, double walls) = TrueAir(plan, run, i, watts);
            found.Add(new Found(house.Rooms[i].Id, run.Controller!.Memory.RoomData[i], RoomDataKeeping.TypicalCapacityJPerK(house.Rooms[i]), real[i] / believed[i], capacity, walls, run.Run.Building.DryAirKg[i] * BuildingModel.MoistJPerKgK));
        }

        return found;
    }

    /// <summary>
    /// Capacity and walls that a measurement without noise would find: the building goes on for a quarter of an hour with and without some watts taken from the room's air; the difference obeys
    /// watts = C·dT/dt + K·(T − S), S its first-order mean of 25 min, and C and K are its ordinary least squares.
    /// </summary>
    private static (double CapacityJPerK, double WallsWPerK) TrueAir(RehearsalPlan plan, Rehearsal run, int room, double watts)
    {
        HouseRun with = Prepared.Twin(plan, 1), without = Prepared.Twin(plan, 1);
        with.Restore(run.Run.Save());
        without.Restore(run.Run.Save());
        double rr = 0, rk = 0, kk = 0, r1 = 0, k1 = 0, before = 0, stored = 0;
        for (int s = 1; s <= 900; s++)
        {
            Step(with, room, watts);
            Step(without, room, 0);
            double fell = without.Building.AirC[room] - with.Building.AirC[room];
            stored += (fell - stored) / 1500;
            (double rate, double walls) = (fell - before, fell - stored);
            before = fell;
            (rr, rk, kk, r1, k1) = (rr + rate * rate, rk + rate * walls, kk + walls * walls, r1 + rate * watts, k1 + walls * watts);
        }

        double determinant = rr * kk - rk * rk;
        return ((r1 * kk - k1 * rk) / determinant, (k1 * rr - r1 * rk) / determinant);

        static void Step(HouseRun one, int room, double watts)
        {
            one.WeatherNow(out WeatherNow now);
            one.SetHousehold();
            one.Building.ConvectiveW[room] -= watts;
            one.Plant.Step(now);
        }
    }

    private static void Count(Rehearsal run, double[] real, double[] believed)
    {
        for (var i = 0; i < run.House.Coils.Length; i++)
        {
            var coil = run.House.Coils[i];
            ref RoomMemory room = ref run.Controller!.Memory.Rooms[coil.Rooms[0]];
            var waterC = run.Run.Plant.Loops[coil.Loop].SupplyC;
            if (coil.Rooms.Length > 1 || room.Heats || room.Stage is not (Stage.PullDown or Stage.EasingOff) || room.StageForS < 120 || run.Controller.Memory.Coils[i].FanPercent < 10 || waterC > 16)
                continue;
            real[coil.Rooms[0]] += run.Run.Plant.Coils[i].SensibleW;
            believed[coil.Rooms[0]] += coil.Kind.OutputW * (run.Run.Building.AirC[coil.Rooms[0]] - waterC) / (coil.Kind.RatedRoomC - coil.Kind.RatedWaterC) * Math.Pow(run.Controller.Memory.Coils[i].FanPercent / 100, 0.7);
        }
    }

    /// <summary>What a room loses to outdoors for a kelvin, W/K: all rooms held at 21 °C by an ideal plant in two steady weathers without sun, ten kelvins apart, for a month each.</summary>
    private static double[] TrueLoss(RehearsalPlan plan)
    {
        double[][] watts = [.. new[] { -3.0, 7.0 }.Select(outdoorC =>
        {
            BuildingModel building = new(plan.Building.Plan, 3600);
            Array.Fill(building.NeighbourC, 22);
            Array.Fill(building.IdealHeatC, 21);
            Array.Fill(building.IdealCoolC, 21);
            for (int hour = 0; hour < 30 * 24; hour++) building.Step(Data.Still(outdoorC, 0.003, 3));
            return building.IdealW.ToArray();
        })];
        return [.. watts[0].Zip(watts[1], (cold, mild) => (cold - mild) / 10)];
    }

    [Fact]
    public void Table_of_losses()
    {
        if (Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_ROOM_DATA") != "loss") return;   // minutes
        foreach (string site in new[] { "ferry-house", "brick-row" })
        {
            string file = Path.Combine(Path.GetTempPath(), $"cold-{Guid.NewGuid():N}.yaml");
            File.WriteAllLines(file, ["weather: " + (site == "brick-row" ? "chicago" : "new-york"), "from: 2026-02-04", "days: 4"]);
            RehearsalPlan plan = Read(new RehearsalWish(HouseFromSiteTests.Site(site)) { Scenario = file });
            File.Delete(file);
            double[] real = TrueLoss(plan);
            using Rehearsal run = new(plan);
            while (!run.IsOver) run.Step();
            for (int i = 0; i < real.Length; i++)
            {
                LossMemory loss = run.Controller!.Memory.RoomData[i].Loss;
                output.WriteLine(FormattableString.Invariant($"{site} {plan.Files.House.Rooms[i].Id,-14} loss {loss.LossWPerK:0} ± {loss.DeviationWPerK:0} of {real[i]:0} W/K, gains {loss.GainsW:0} W, {loss.Hours} hours, floor {plan.Files.House.Rooms[i].Settings.FloorAreaM2:0}"));
            }
        }
    }

    private static bool Within(double value, double truth, double share) => Math.Abs(value / truth - 1) <= share;

    /// <summary>
    /// After three pull-downs capacity and coil are known within a fifth. The sensor is found up to twice as slow as it is: metal and pipes make the coil late, which a thermometer cannot tell from itself, so the lag is not used.
    /// </summary>
    [Theory]
    [InlineData("harbour-flat", "2026-07-08")]
    [InlineData("brick-row", "2026-07-20")]
    public void After_three_pull_downs_capacity_is_known_and_coil_and_lag_roughly(string site, string from)
    {
        int known = 0;
        foreach (Found found in Live(Doors(site, from, 2101)))
        {
            output.WriteLine(found.ToString());
            if (found.Data.PullDowns < 3) continue;
            known++;
            Assert.True(Within(found.Data.Coil.Factor, found.CoilShare, 0.2), found.ToString());
            Assert.True(Within(found.Capacity, found.CapacityJPerK, 0.2), found.ToString());
            Assert.True(found.Data.Lag.Factor is > 0.667 and < 2, found.ToString());
        }

        Assert.True(known > 1, "too few rooms were pulled down three times");
    }

    /// <summary>The site as it is, with other lags of its sensors and other sizes of its coils.</summary>
    private static IEnumerable<(string Name, (string, string)[] Changes)> Variants(string site)
    {
        yield return ("as it is", []);
        if (site == "harbour-flat")
        {
            yield return ("lag 30 s", [("lag: 90 s", "lag: 30 s")]);
            yield return ("lag 240 s", [("lag: 90 s", "lag: 240 s")]);
            yield return ("small coils", [("output: 3.6 kW", "output: 2.2 kW"), ("output: 1 kW", "output: 0.7 kW")]);
            yield return ("large coils", [("output: 3.6 kW", "output: 5.5 kW"), ("output: 1 kW", "output: 1.6 kW")]);
        }
        else if (site == "brick-row")
        {
            yield return ("lag 60 s", [("lag: 180 s", "lag: 60 s")]);
            yield return ("large coils", [("output: 1.9 kW", "output: 3 kW"), ("output: 1.1 kW", "output: 1.8 kW")]);
        }
    }

    /// <summary>Printed, never judged: "house" the days the rules were shaped with, "house-unseen" days and a seed looked at when they stood.</summary>
    [Fact]
    public void Table_of_what_is_measured()
    {
        string asked = Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_ROOM_DATA") ?? "";
        if (asked is not ("house" or "house-unseen")) return;   // minutes
        string[] days = asked == "house" ? ["2026-07-08", "2026-07-20", "2026-08-04"] : ["2026-06-24", "2026-07-14", "2026-08-21"];
        List<Found> all = [];
        foreach (string site in new[] { "harbour-flat", "brick-row", "ferry-house" })
        {
            foreach (string from in days)
            {
                foreach (var (name, changes) in Variants(site))
                {
                    foreach (Found found in Live(Doors(site, from, asked == "house" ? 71UL : 2203UL, changes)))
                    {
                        output.WriteLine($"{site} {from} {name} {found}");
                        if (found.Data.PullDowns >= 3) all.Add(found);
                    }
                }
            }
        }

        Spread("coil over its true output", [.. all.Select(one => one.Data.Coil.Factor / one.CoilShare)], 0.2);
        Spread("capacity over the true one", [.. all.Select(one => one.Capacity / one.CapacityJPerK)], 0.2);
        Spread("lag over the true one", [.. all.Select(one => one.Data.Lag.Factor)], 1 / 3.0);
    }

    /// <summary>Median, and how far off the median, nine of ten and the worst are.</summary>
    private void Spread(string what, double[] ratios, double goal)
    {
        Array.Sort(ratios);
        double[] off = [.. ratios.Select(ratio => Math.Abs(ratio - 1)).Order()];
        output.WriteLine(FormattableString.Invariant($"{what}, {ratios.Length} rooms: median {ratios[ratios.Length / 2]:0.00} ({ratios[0]:0.00}…{ratios[^1]:0.00}); off by {100 * off[off.Length / 2]:0} % (median), {100 * off[(int)(0.9 * (off.Length - 1))]:0} % (90th), {100 * off[^1]:0} % (worst); within {100 * goal:0} %: {off.Count(one => one <= goal)}"));
    }
}

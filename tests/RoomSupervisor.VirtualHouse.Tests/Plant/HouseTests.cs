// Building and plant together: heat and moisture of the whole house in the books, the step short enough, saved and resumed, fast.
// Must never judge control: a crude thermostat keeps things moving.
using System.Diagnostics;
using RoomSupervisor.Physics;
using Xunit.Abstractions;

namespace RoomSupervisor.VirtualHouse.Tests;

public class HouseTests(ITestOutputHelper output)
{
    private static readonly DateTimeOffset Start = new(2026, 7, 12, 4, 0, 0, TimeSpan.Zero);

    internal static PlantModel Make(BuildingModel building)
    {
        CoilModel coil = new(new CoilConductances(280, 560), 0.13, 0.12, 0.6, 0.8);
        FanCoilPlan[] coils = [.. Enumerable.Range(0, 6).Select(i => new FanCoilPlan(i, new FanPlan(450, 45, 46), new CoilUnitPlan(coil, 0.3)) { Name = $"room-{i}.coil" })];
        PipePlan branch = new(8, 0.02, 0.016, 0.009), trunk = new(15, 0.032, 0.028, 0.019);
        List<LoopCircuitPlan> surfaces = [];
        for (int i = 0; i < building.Plan.Surfaces.Length; i++)
        {
            if (building.Plan.Surfaces[i].Water is null) continue;
            surfaces.Add(new(i, -1, new CircuitPlan(0.006 * building.Plan.Surfaces[i].AreaM2, 15_000, 0.5), new ValvePlan(ActuatorKind.Wax, 240), branch));
        }

        LoopCircuitPlan[] coilCircuits = [.. Enumerable.Range(0, 6).Select(i => new LoopCircuitPlan(-1, i, new CircuitPlan(0.1, 18_000, 0.4), new ValvePlan(ActuatorKind.Motor, 90) { Rangeability = 30 }, branch) { Name = $"room-{i}.coil" })];
        ValvePlan mixing = new(ActuatorKind.Motor, 90);
        return new PlantModel(
            new PlantPlan(new MachinePlan(9000, 10_000, 0.3), 0.45, new StorePlan(100, 1.5), 0,
                [
                    new LoopPlan(true, 0, new PumpPlan(45_000, 2.2, 4000, 1), mixing, trunk, [.. surfaces]) { Name = "surface-loop" },
                    new LoopPlan(false, 0, new PumpPlan(45_000, 1.5, 4000, 0.6), mixing, trunk, coilCircuits) { Name = "coil-loop" },
                ],
                coils)
            {
                HotWater = new HotWaterPlan(new StorePlan(200, 1.5), 50),
            },
            building);
    }

    internal static void Crude(PlantModel plant, BuildingModel building)
    {
        plant.Call = true;
        plant.Cooling = true;
        plant.SetPointC = 9;
        LoopRun surfaces = plant.Loops[0], coils = plant.Loops[1];
        for (int i = 0; i < 6; i++)
        {
            double over = building.AirC[i] - 24;
            plant.FanVolts[i] = over > 0.5 ? Math.Min(2 + 2 * over, 10) : over < 0 ? 0 : plant.FanVolts[i];
            coils.ValveCommand[i] = Math.Clamp(over, 0, 1);
        }

        for (int k = 0; k < surfaces.ValveCommand.Length; k++) surfaces.ValveCommand[k] = building.AirC[k % 6] > 23.5 ? 1 : 0;
        (surfaces.PumpCommand, coils.PumpCommand) = (0.8, 0.9);
        surfaces.MixingCommand = Math.Clamp(surfaces.MixingCommand + 0.0005 * building.StepS * (surfaces.SupplyC - 17), 0, 1);
    }

    // A morning and an evening at the taps: half an hour of 4 l/min each.
    private static void Taps(PlantModel plant, long second)
    {
        if (plant.HotWater is { } hot) hot.TapKgPerS = second % 86_400 / 1800 is 20 or 46 ? 0.066 : 0;
    }

    private static void Run(PlantModel plant, BuildingModel building, long from, long to)
    {
        double step = building.StepS;
        for (long i = from; i < to; i++)
        {
            Data.NewYork.Value.At(Start.AddSeconds((i + 1) * step), out WeatherNow now);
            Household(building, (long)(i * step));
            Taps(plant, (long)(i * step));
            Crude(plant, building);
            plant.Step(now);
        }
    }

    private static void Household(BuildingModel building, long second)
    {
        for (int room = 0; room < 6; room++)
        {
            bool there = second / 3600 % 3 == room % 3;
            Gain gain = there ? Life.Person(1.2, Math.Clamp(building.AirC[room], 10, 40)).Times(2) : default;
            Gain devices = Life.Devices(40);
            if (room == 5 && second % 86_400 / 600 == 66) gain = Life.Shower;
            (building.ConvectiveW[room], building.RadiantW[room]) = (gain.ConvectiveW + devices.ConvectiveW, gain.RadiantW + devices.RadiantW);
            building.VapourKgPerS[room] = gain.VapourKgPerS;
            building.DoorOpen[room] = second / 1800 % 2 == 0 ? 1 : 0;
        }

        building.OpeningOpen[0] = second % 86_400 / 2400 == 25 ? 1 : 0;
        building.OpeningOpen[1] = second % 86_400 / 7200 == 8 ? 1 : 0;
    }

    [Fact]
    public void Heat_and_moisture_of_a_week_with_everything_running_close_to_a_thousandth()
    {
        BuildingModel building = new(Samples.SixRooms(), 5);
        PlantModel plant = Make(building);
        double house = building.StoredJ(), moisture = building.StoredKg(), water = plant.StoredJ();
        Run(plant, building, 0, 7 * 17_280);
        double booked = 0, turned = 0;
        for (int k = 0; k < 7; k++) (booked, turned) = (booked + building.Booked(k), turned + Math.Abs(building.Booked(k)));
        double houseError = building.StoredJ() - house - booked;
        double moved = Math.Abs(building.Booked(Account.MoistureIn)) + plant.DrippedKg;
        double moistureError = building.StoredKg() - moisture - building.Booked(Account.MoistureIn) + building.Booked(Account.Dripped);
        double waterBooked = plant.MachineHeatJ + plant.CoilHeatJ + plant.PipeHeatJ - plant.SurfaceHeatJ - plant.StoreLossJ;
        double waterError = plant.StoredJ() - water - waterBooked, waterTurned = -plant.MachineHeatJ;
        output.WriteLine($"house {turned / 3.6e6:F0} kWh turned over, {houseError:G3} J unaccounted; water {waterTurned / 3.6e6:F1} kWh cold, {waterError:G4} J; moisture {moved:F1} kg, {moistureError * 1e6:G3} mg");
        output.WriteLine($"coils {plant.CoilHeatJ / 3.6e6:F1}, surfaces {-plant.SurfaceHeatJ / 3.6e6:F1}, pipes {plant.PipeHeatJ / 3.6e6:F2} kWh; work {plant.WorkJ / 3.6e6:F1} kWh; drained {plant.DrippedKg:F2} kg; starts {plant.Machine.StartsSoFar}");
        output.WriteLine(string.Join(' ', building.AirC.Select(t => t.ToString("F2"))) + " °C; " + string.Join(' ', building.DewPointC.Select(t => t.ToString("F2"))));
        Assert.True(waterTurned > 50 * 3.6e6 && plant.DrippedKg > 1, "everything must have run");
        Assert.True(Math.Abs(houseError) < 1e-3 * turned);
        Assert.True(Math.Abs(waterError) < 1e-3 * waterTurned);
        Assert.True(Math.Abs(moistureError) < 1e-3 * moved);
    }

    [Fact]
    public void Half_the_step_changes_nothing_that_counts()
    {
        (double[] air, double[] dew, double cold, double work, double drained, int starts) Day(double step)
        {
            BuildingModel building = new(Samples.SixRooms(), step);
            PlantModel plant = Make(building);
            long steps = (long)(86_400 / step);
            double[] air = new double[6], dew = new double[6];
            for (long i = 0; i < steps; i++)
            {
                Run(plant, building, i, i + 1);
                for (int room = 0; room < 6; room++) (air[room], dew[room]) = (air[room] + building.AirC[room] / steps, dew[room] + building.DewPointC[room] / steps);
            }

            return (air, dew, plant.MachineHeatJ, plant.WorkJ, plant.DrippedKg, plant.Machine.StartsSoFar);
        }

        var one = Day(1);
        var half = Day(0.5);
        output.WriteLine($"cold {one.cold / 3.6e6:F3} {half.cold / 3.6e6:F3} kWh, work {one.work / 3.6e6:F3} {half.work / 3.6e6:F3}, drained {one.drained:F3} {half.drained:F3} kg, starts {one.starts} {half.starts}");
        for (int room = 0; room < 6; room++)
        {
            Data.Near(half.air[room], one.air[room], 0.02, "mean air of room " + room);
            Data.Near(half.dew[room], one.dew[room], 0.02, "mean dew point of room " + room);
        }

        Data.Near(half.cold, one.cold, Math.Abs(0.02 * half.cold), "cold");
        Data.Near(half.work, one.work, 0.02 * half.work, "work");
        Data.Near(half.drained, one.drained, 0.02 * half.drained + 0.01, "drained");
        Assert.InRange(one.starts - half.starts, -1, 1);
    }

    [Fact]
    public void A_resumed_house_gives_the_same_bits()
    {
        BuildingModel one = new(Samples.SixRooms(), 1), other = new(Samples.SixRooms(), 1);
        PlantModel plant = Make(one), resumed = Make(other);
        Run(plant, one, 0, 5000);
        (double[] building, double[] state) = (one.Save(), plant.Save());
        other.Restore(building);
        resumed.Restore(state);
        (resumed.Loops[0].MixingCommand, resumed.Loops[1].MixingCommand) = (plant.Loops[0].MixingCommand, plant.Loops[1].MixingCommand);
        Array.Copy(plant.FanVolts, resumed.FanVolts, 6);
        Run(plant, one, 5000, 8000);
        Run(resumed, other, 5000, 8000);
        Assert.Equal(plant.Save(), resumed.Save());
        Assert.Equal(one.Save(), other.Save());
    }

    [Fact]
    public void Six_rooms_with_plant_are_fast_and_allocate_nothing()
    {
        BuildingModel building = new(Samples.SixRooms(), 1);
        PlantModel plant = Make(building);
        Run(plant, building, 30_000, 50_000);
        long before = GC.GetAllocatedBytesForCurrentThread();
        double best = double.MaxValue;
        for (int round = 0; round < 8; round++)
        {
            long from = Stopwatch.GetTimestamp();
            Run(plant, building, 50_000 + 2500 * round, 52_500 + 2500 * round);
            best = Math.Min(best, Stopwatch.GetElapsedTime(from).TotalMicroseconds / 2500);
        }

        long allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        output.WriteLine($"{best:F2} µs a step with weather, household and crude control; six coils, nine surfaces, two loops");
        Assert.Equal(0, allocated);
        Assert.True(best < 100, $"{best:F1} µs; the goal is 25 on one quiet core");
    }

    [Fact]
    public void While_it_makes_hot_water_the_house_gets_nothing()
    {
        BuildingModel building = new(Samples.SixRooms(), 1);
        PlantModel plant = Make(building);
        HotWater hot = plant.HotWater!;
        hot.TapKgPerS = 0.1;
        int charging = 0;
        double heat = 0;
        for (long i = 0; i < 4 * 3600; i++)
        {
            if (i == 1500) hot.TapKgPerS = 0;
            Data.NewYork.Value.At(Start.AddSeconds(i + 1), out WeatherNow now);
            Crude(plant, building);
            plant.Step(now);
            if (!hot.IsCharging) continue;
            charging++;
            heat += hot.HeatW;
            Assert.Equal(0, plant.Machine.HeatW);
            Assert.True(plant.Machine.MakingHotWater);
        }

        output.WriteLine($"charged {charging / 60.0:F1} min, {heat / 3.6e6:F2} kWh; sensor {hot.SensorC:F1} °C");
        // 150 kg from 50 to 12 °C are 6.6 kWh at most; at some 11 kW about half an hour.
        Assert.InRange(charging, 600, 5400);
        Assert.True(hot.SensorC > 43 && heat > 0.5 * 150 * 4190 * 38 * 0.5);
        hot.ChargeAllowed = false;
        Data.NewYork.Value.At(Start, out WeatherNow last);
        plant.Step(last);
        Assert.False(hot.IsCharging);
    }

    /// <summary>Memory does not grow; ROOM_SUPERVISOR_DAYS=365 makes it a simulated year of one-second steps.</summary>
    [Fact]
    public void A_long_run_keeps_its_memory_flat()
    {
        long days = long.TryParse(Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_DAYS"), out long asked) ? asked : 1;
        BuildingModel building = new(Samples.SixRooms(), 1);
        PlantModel plant = Make(building);
        Run(plant, building, 0, 3600);
        long before = GC.GetAllocatedBytesForCurrentThread();
        Run(plant, building, 3600, days * 86_400);
        long allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        output.WriteLine($"{days} days, {allocated} bytes allocated");
        // What the runtime makes once when a path is first taken (632 bytes over a whole year); one byte a step would be 86,400 a day.
        Assert.InRange(allocated, 0, 4096);
        Assert.True(building.Save().All(double.IsFinite) && plant.Save().All(double.IsFinite));
    }
}

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
    /// <summary>Lives through the same days so often, a seed each, what was measured carried on by the rooms' names.</summary>
    private static (House House, RoomDataMemory[] Data, double[] TrueShare) Live(string site, string scenario, ulong firstSeed, int times)
    {
        RehearsalPlan plan = HouseFromSiteTests.Plan(site, scenario);
        House house = plan.Files.House;
        RoomDataMemory[] data = new RoomDataMemory[house.Rooms.Length];
        double[] real = new double[house.Rooms.Length], believed = new double[house.Rooms.Length];
        string[] names = [.. house.Rooms.Select(room => room.Id)];
        for (var i = 0; i < times; i++)
        {
            using Rehearsal run = new(plan with { Seed = firstSeed + (ulong)i }) { AfterScan = one => Count(one, real, believed) };
            RoomDataKeeping.Move(names, data, house, run.Controller!.Memory);
            while (!run.IsOver) run.Step();
            run.Controller!.Memory.RoomData.CopyTo(data, 0);
        }

        return (house, data, [.. real.Zip(believed, (a, b) => a / b)]);
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

    [Fact]
    public void Table_of_what_is_measured_in_a_flat()
    {
        if (Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_ROOM_DATA") != "house") return;   // minutes
        var (house, data, real) = Live("harbour-flat", "two-summer-days", 71, 3);
        var known = 0;
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            output.WriteLine(FormattableString.Invariant($"{house.Rooms[i].Id}: {data[i].PullDowns} pull-downs, coil {data[i].Coil.Factor:0.00} of {real[i]:0.00}, capacity {data[i].Capacity.Factor:0.00} of the air's, lag {data[i].Lag.Factor:0.00} of the true one"));
            if (data[i].PullDowns < 3 || house.Rooms[i].Coils.Length == 0)
                continue;
            known++;
            StringWriter text = new();
            RoomDataReport.Write(text, house, i, data[i], 0, plain: true);
            output.WriteLine(text.ToString());
        }

        Assert.True(known > 0, "no room was pulled down three times");
    }
}

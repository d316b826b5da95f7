// A house as it stands at the scenario's first midnight: five days of the same weather and household behind it, rooms within their bands.
// Must never settle the house under the control that is judged: an ideal plant does it, so every rehearsal of a scenario begins alike.
using RoomSupervisor.Physics;
using RoomSupervisor.Sequence;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>Makes the house of a plan.</summary>
internal static class Prepared
{
    private const double BeforeS = 5 * 86_400, StepS = 300, NeighbourC = 22, GroundOfDesignDayC = 12, DryTargetC = 14, DryS = 3600;

    /// <summary>The house at its beginning.</summary>
    /// <param name="plan">What is played.</param>
    /// <param name="stepS">Step it will run in.</param>
    public static HouseRun House(RehearsalPlan plan, double stepS)
    {
        var building = New(plan, stepS);
        var run = new HouseRun(plan.Scenario, plan.Weather, building, new PlantModel(plan.Plant, building), plan.Files.Site.TimeZone);
        var state = Settled(plan, run.Start);
        // Steps taken and steps to the next look at wind and sun begin anew.
        (state[0], state[1]) = (0, 0);
        building.Restore(state);
        return run;
    }

    /// <summary>A second house that runs the same scenario; its state is to be restored.</summary>
    public static HouseRun Twin(RehearsalPlan plan, double stepS)
    {
        var building = New(plan, stepS);
        return new HouseRun(plan.Scenario, plan.Weather, building, new PlantModel(plan.Plant, building), plan.Files.Site.TimeZone);
    }

    private static BuildingModel New(RehearsalPlan plan, double stepS)
    {
        var building = new BuildingModel(plan.Building.Plan, stepS);
        Surround(building, plan.Building, plan.Weather);
        return building;
    }

    /// <summary>Neighbours and ground as they stand all through a run.</summary>
    public static void Surround(BuildingModel building, VirtualBuilding virtualBuilding, Weather weather)
    {
        var (file, air) = (weather.File, weather.File.AirC);
        Array.Fill(building.NeighbourC, NeighbourC);
        foreach (var surface in virtualBuilding.OnGround)
            building.NeighbourC[surface] = double.IsFinite(file.GroundC) ? file.GroundC : air.Length > 24 ? air.Average() : GroundOfDesignDayC;
    }

    private static double[] Settled(RehearsalPlan plan, DateTimeOffset start)
    {
        var building = New(plan, StepS);
        var household = new HouseholdPlay(plan.Scenario, building);
        var house = plan.Files.House;
        MoistAir.TryHumidityRatio(DryTargetC, 100, building.Plan.PressurePa, out var dry, out _);
        for (var s = -BeforeS; s < 0; s += StepS)
        {
            var now = start.AddSeconds(s);
            var local = ScheduleTime.Of(now.UtcDateTime, plan.Files.Site.TimeZone);
            household.Set(s);
            for (var i = 0; i < house.Rooms.Length; i++)
            {
                var wanted = Schedule.Now(house.Rooms[i].Household, local);
                (building.IdealCoolC[i], building.IdealHeatC[i]) = (wanted.CoolAboveC, wanted.HeatBelowC);
                if (house.Rooms[i].Coils.Length > 0 && building.HumidityRatio[i] > dry)
                    building.VapourKgPerS[i] -= building.DryAirKg[i] * (building.HumidityRatio[i] - dry) / DryS;
            }
            plan.Weather.At(now.AddSeconds(StepS), out var weather);
            building.Step(weather);
        }
        return building.Save();
    }
}

// A site becomes a house that gives what the site file says: panels, slabs and coils at their ratings; every example site can be made. Must never rate a part by itself.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Physics;

namespace RoomSupervisor.VirtualHouse.Tests.Desk;

public class HouseFromSiteTests
{
    internal static string Site(string name) => Path.Combine(Data.Root, "config", name);

    internal static RehearsalPlan Plan(string site, string? scenario = null)
        => RehearsalReader.Read(new RehearsalWish(Site(site)) { Scenario = scenario }, out var problems) ?? throw new InvalidOperationException(string.Join('\n', problems));

    private static WeatherNow Mild => Data.Still(22, 0.008);

    // One room held at a temperature by an ideal plant, plenty of water at its mean. Ratings refer to the operative temperature (EN 14240 and EN 1264 use a globe):
    // the share of the rated output that the difference there was calls for, exponent 1.1.
    private static double ShareOfRated(double rated, (Layer[] Layers, WaterSide Water) made, Lie lie, double roomC, double waterC)
    {
        SurfacePlan surface = new("surface", 0, 12, lie, Beyond.Nothing, made.Layers) { Water = made.Water };
        SurfacePlan rest = new("rest", 0, 60, Lie.Wall, Beyond.Nothing, new Layer(0.1, 0.6, 1200, 1000));
        BuildingModel model = new(new BuildingPlan([new RoomPlan("room", 16, 42) { InfiltrationPerH = 0, StartC = roomC, StartHumidityPercent = 30 }], [surface, rest], [], [], []), 60);
        model.WaterInC[0] = waterC;
        model.WaterKgPerS[0] = 5;
        (model.IdealHeatC[0], model.IdealCoolC[0]) = (roomC, roomC);
        for (int i = 0; i < 3 * 1440; i++) model.Step(Mild);
        double kelvin = Math.Abs(model.OperativeC(0) - waterC);
        Assert.InRange(kelvin, 6, 9);
        return Math.Abs(model.WaterW[0]) / 12 / (rated * Math.Pow(kelvin / 8, 1.1));
    }

    [Theory]
    [InlineData(45, 300)]
    [InlineData(60, 300)]
    [InlineData(75, 600)]
    public void A_panel_gives_its_rated_output_at_eight_kelvin(double rated, double response)
    {
        double given = ShareOfRated(rated, ShellLayers.Panel(rated, response, 1.2, [new Layer(0.1, 0.6, 1200, 1000)]), Lie.Ceiling, 26, 18);
        Assert.InRange(given, 0.93, 1.07);
    }

    [Theory]
    [InlineData(40)]
    [InlineData(55)]
    public void A_slab_gives_its_rated_heat_at_eight_kelvin(double rated)
    {
        double given = ShareOfRated(rated, ShellLayers.Slab(rated, 1, [new Layer(0.1, 0.6, 1200, 1000)]), Lie.Floor, 20, 28);
        Assert.InRange(given, 0.93, 1.07);
    }

    [Fact]
    public void Coils_give_their_rated_sensible_output_with_rated_water_and_room()
    {
        var plan = Plan("ferry-house");
        for (int i = 0; i < plan.Plant.FanCoils.Length; i++)
        {
            var (kind, model) = (plan.Files.House.Coils[i].Kind, plan.Plant.FanCoils[i].Coil.Coil);
            Assert.True(AirState.TryFromRelativeHumidity(kind.RatedRoomC, 50, 101_325, out AirState air, out _));
            Assert.True(Coil.TrySolve(new CoilInput(air, model.DryAirKgPerS, kind.RatedWaterC, model.WaterKgPerS, 4.19), model.Reference, out CoilResult result, out _));
            Assert.InRange(result.SensibleW / kind.OutputW, 0.99, 1.01);
            // Usual fan coils take 65 to 80 % of their heat out as sensible at such a rating (common practice, no published source).
            Assert.InRange(result.SensibleHeatRatio, 0.6, 0.85);
        }
    }

    [Theory]
    [InlineData("ferry-house")]
    [InlineData("one-room")]
    [InlineData("coil-only")]
    [InlineData("floor-only")]
    [InlineData("two-pipe")]
    public void Every_example_site_becomes_a_house_with_its_rooms_areas_and_surfaces(string site)
    {
        var plan = Plan(site);
        var (house, building) = (plan.Files.House, plan.Building);
        Assert.Equal(house.Rooms.Select(room => (room.Id, room.Settings.FloorAreaM2)), building.Plan.Rooms.Select(room => (room.Name, room.FloorAreaM2)));
        for (int i = 0; i < house.Circuits.Length; i++)
        {
            SurfacePlan surface = building.Plan.Surfaces[building.SurfaceOf[i]];
            Assert.Equal((house.Circuits[i].Id, house.Circuits[i].Room, house.Circuits[i].Settings.AreaM2), (surface.Name, surface.Room, surface.AreaM2));
            Assert.NotNull(surface.Water);
        }

        Assert.All(building.OpeningsOf, openings => Assert.NotEmpty(openings));
        // Ceiling and floor of a room cover it once; what a lower room has as its ceiling is not a floor again.
        foreach (RoomPlan room in building.Plan.Rooms.Where(room => plan.BuildingFile.Rooms.All(other => other.Value.Above != room.Name)))
        {
            int index = Array.FindIndex(building.Plan.Rooms, one => one.Name == room.Name);
            foreach (Lie lie in new[] { Lie.Floor, Lie.Ceiling })
                Assert.Equal(room.FloorAreaM2, building.Plan.Surfaces.Where(s => s.Room == index && s.Lie == lie).Sum(s => s.AreaM2), 0.2);
        }
    }

    [Fact]
    public void What_nobody_wrote_is_told_as_default_and_what_was_written_is_not()
    {
        var plan = Plan("ferry-house");
        Assert.DoesNotContain(plan.Defaults, value => value.Path is "air_changes_at_50_pa" or "rooms.landing-hall.height");
        Assert.Contains(plan.Defaults, value => value.Path == "rooms.kitchen.height");
        Assert.Contains(Plan("one-room").Defaults, value => value.Path == "insulation");
    }

    [Fact]
    public void A_shared_coil_takes_from_its_rooms_together_what_it_gives_and_no_more()
    {
        var plan = Plan("ferry-house", "two-summer-days");
        BuildingModel building = new(plan.Building.Plan, 1);
        PlantModel plant = new(plan.Plant, building);
        int shared = Array.FindIndex(plan.Plant.FanCoils, coil => coil.OtherRooms.Length > 0);
        (building.AirC[3], building.AirC[5]) = (27, 23);
        plant.FanVolts[shared] = 10;
        for (int i = 0; i < 60; i++) plant.Step(Mild);
        Ducts ducts = plant.Ducts[shared];
        Assert.Equal(-plant.Coils[shared].SensibleW + plant.Fans[shared].PowerW, ducts.HeatW.Sum(), 1e-6);
        Assert.Equal(-plant.Coils[shared].VapourKgPerS, ducts.VapourKgPerS.Sum(), 1e-12);
        Assert.True(ducts.HeatW[0] < ducts.HeatW[1], "the warmer room loses heat to the colder one");
    }
}

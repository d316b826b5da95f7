// How the building runs: same bits, saved and resumed, nothing allocated; and plans that cannot be.
// Must never measure speed: a rehearsal prints what a step of the building costs.
namespace RoomSupervisor.VirtualHouse.Tests;

public class RunningTests
{
    private static readonly DateTimeOffset Start = new(2026, 7, 12, 4, 0, 0, TimeSpan.Zero);

    private static void Run(BuildingModel building, int from, int to)
    {
        for (int i = from; i < to; i++)
        {
            Data.NewYork.Value.At(Start.AddSeconds(i + 1), out WeatherNow now);
            MoistureTests.Life(building, i * 20);
            building.Step(now);
        }
    }

    [Fact]
    public void The_same_run_gives_the_same_bits_and_a_resumed_one_too()
    {
        BuildingModel one = new(Samples.SixRooms(), 1), other = new(Samples.SixRooms(), 1), resumed = new(Samples.SixRooms(), 1);
        Run(one, 0, 4000);
        Run(other, 0, 1777);
        resumed.Restore(other.Save());
        Run(other, 1777, 4000);
        Run(resumed, 1777, 4000);
        Assert.Equal(one.Save(), other.Save());
        Assert.Equal(one.Save(), resumed.Save());
        Assert.True(one.Save().All(double.IsFinite));
    }

    [Fact]
    public void A_state_of_another_building_is_refused()
    {
        double[] state = new BuildingModel(Samples.SixRooms(), 1).Save();
        ArgumentException refused = Assert.Throws<ArgumentException>(() => new BuildingModel(Samples.Box(), 1).Restore(state));
        Assert.Contains(state.Length.ToString(System.Globalization.CultureInfo.InvariantCulture), refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_step_allocates_nothing()
    {
        BuildingModel building = new(Samples.SixRooms(), 1);
        Run(building, 0, 200);
        long before = GC.GetAllocatedBytesForCurrentThread();
        Run(building, 200, 600);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    [Theory]
    [InlineData(0.05, "step")]
    [InlineData(double.NaN, "step")]
    public void An_impossible_step_is_refused_by_name(double step, string names) =>
        Assert.Contains(names, Assert.Throws<ArgumentException>(() => new BuildingModel(Samples.Box(), step)).Message, StringComparison.Ordinal);

    [Fact]
    public void Plans_that_cannot_be_are_refused_with_what_and_the_range()
    {
        BuildingPlan plan = Samples.SixRooms();
        void Refused(BuildingPlan wrong, string says) =>
            Assert.Contains(says, Assert.Throws<ArgumentException>(() => new BuildingModel(wrong, 1)).Message, StringComparison.Ordinal);
        Refused(plan with { Rooms = [.. plan.Rooms.Select(r => r with { VolumeM3 = 0 })] }, "room 0: volume is 0 m³; allowed 2 to 20000 m³");
        Refused(plan with { Surfaces = [plan.Surfaces[0] with { Room = 9 }] }, "wall 0: room 9 is not in the plan");
        Refused(plan with { Doors = [plan.Doors[0] with { RoomB = 0 }] }, "door 0: leads from a room into itself");
        Refused(plan with { Surfaces = [plan.Surfaces[0], plan.Surfaces[0]] }, "are called wall 0");
        Refused(plan with { Surfaces = [plan.Surfaces[0] with { Layers = [new Layer(0.1, double.NaN, 1, 1)] }] }, "wall 0: conductivity is NaN");
        Refused(plan with { Rooms = [plan.Rooms[0] with { FastFurnitureJPerM2K = 0 }], Surfaces = [], Windows = [], Doors = [], Openings = [] }, "moisture");
    }

    [Fact] // Brown and Solvason 1962, through Physics' own copy of the formula: 0.9 × 2.05 m, 22 against 26 °C
    public void A_door_passes_what_the_published_formula_says()
    {
        Assert.True(Physics.Openings.TryDoor(0.9, 2.05, 26, 22, 0.6, out double published, out Physics.Impossible why), why.ToString());
        Data.Near(published, 3600 * AirExchange.Door(0.9 * 2.05, 2.05, 0.6, 299.15, 295.15), 0.001 * published);
        Assert.True(Physics.Openings.TryWindow(2, 1.2, 22, 30, 3, out published, out why), why.ToString());
        Data.Near(published, 3600 * AirExchange.Opening(2, 1.2, 3, 8), 0.001 * published);
    }

    /// <summary>
    /// The two-way flow by hand: speed √(2·g·z·dT/T) over the upper half of the door, added up strip by strip, times the discharge coefficient. An independent way to
    /// Brown and Solvason's closed form.
    /// </summary>
    [Fact]
    public void The_closed_form_is_the_sum_over_the_door()
    {
        double sum = 0, strip = 2.05 / 2 / 10_000;
        for (int i = 0; i < 10_000; i++) sum += 0.6 * 0.9 * strip * Math.Sqrt(2 * 9.80665 * (i + 0.5) * strip * 4 / 297.15);
        Data.Near(sum, AirExchange.Door(0.9 * 2.05, 2.05, 0.6, 299.15, 295.15), 1e-3 * sum);
    }

    [Fact] // two rooms and a door: what one room's air loses through it the other gains, and both end at one temperature
    public void An_open_door_brings_two_rooms_together()
    {
        BuildingPlan plan = Samples.Box();
        plan = plan with
        {
            Rooms = [plan.Rooms[0] with { StartC = 28 }, plan.Rooms[0] with { Name = "cool", StartC = 20 }],
            Surfaces = [.. plan.Surfaces, .. plan.Surfaces.Select(s => s with { Name = s.Name + " cool", Room = 1 })],
            Doors = [new DoorPlan("door", 0, 1, 0.9, 2.05)],
        };
        BuildingModel open = new(plan, 1), shut = new(plan, 1);
        open.DoorOpen[0] = 1;
        double stored = open.StoredJ();
        for (int i = 0; i < 7200; i++)
        {
            open.Step(Data.Still(20));
            shut.Step(Data.Still(20));
        }

        Assert.True(Math.Abs(open.AirC[0] - open.AirC[1]) < 0.6 * Math.Abs(shut.AirC[0] - shut.AirC[1]));
        double vapour = open.Booked(Account.Vapour);
        Data.Near(stored + vapour, open.StoredJ(), 1);
    }

    /// <summary>
    /// Wind through two rooms: 2 m² to the west, a door of 1.845 m², 1 m² to the east, 5 m/s of west wind at 0.55: by hand 1/A² = 1/4 + 1/3.404 + 1, dCp = 0.4 + 0.25,
    /// 0.6·2.75·√(0.65/1.5438) = 1.0706 m³/s; the first room gets outdoor air, the second the first one's.
    /// </summary>
    [Fact]
    public void Wind_blows_through_open_doors()
    {
        BuildingPlan plan = Samples.Box();
        plan = plan with
        {
            Rooms = [plan.Rooms[0], plan.Rooms[0] with { Name = "lee" }],
            Surfaces = [.. plan.Surfaces, .. plan.Surfaces.Select(s => s with { Name = s.Name + " lee", Room = 1 })],
            Doors = [new DoorPlan("door", 0, 1, 0.9, 2.05)],
            Openings = [new("west", 0, 2, 1.2) { AzimuthDegrees = 270 }, new("east", 1, 1, 1.2) { AzimuthDegrees = 90 }],
        };
        BuildingModel building = new(plan, 1), shut = new(plan, 1);
        WeatherNow west = Data.Still(24, 0.012, 5) with { WindFromDegrees = 270 };
        building.DoorOpen[0] = building.OpeningOpen[0] = building.OpeningOpen[1] = 1;
        shut.DoorOpen[0] = shut.OpeningOpen[0] = 1;
        building.Step(west);
        shut.Step(west);
        Data.Near(1.0706, (building.OutdoorAirKgPerS[0] - shut.OutdoorAirKgPerS[0]) / 1.17, 0.02);
        double start = building.StoredKg() - building.Booked(Account.MoistureIn);
        for (int i = 0; i < 600; i++) building.Step(west);
        Data.Near(start, building.StoredKg() - building.Booked(Account.MoistureIn), 1e-9, "moisture in the books");
        Assert.True(building.HumidityRatio[1] > 0.0115);
        // From the east the way is the other way round.
        building.Step(west with { WindFromDegrees = 90 });
        Assert.True(building.OutdoorAirKgPerS[1] > building.OutdoorAirKgPerS[0]);
    }
}

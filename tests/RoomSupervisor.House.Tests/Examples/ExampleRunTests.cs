// Every example is run: hours of a warm afternoon with an open door and a humid hour, and of a cold night, against the model house.
using Xunit.Abstractions;

namespace RoomSupervisor.House.Tests.Examples;

public class ExampleRunTests(ITestOutputHelper output)
{
    private static readonly DateTime Summer = new(2026, 7, 14, 12, 0, 0), Winter = new(2026, 1, 20, 16, 0, 0);
    private static readonly HashSet<string> Shut = [];

    /// <summary>29 °C outside; a door stands open from 13:00 to 13:35; from 15:00 an hour of cooking and wet clothes.</summary>
    private static Func<double, Moment> Afternoon(string door)
    {
        HashSet<string> open = [door];
        return hours => new Moment(29, 60, hours < 5 ? 28 : 12, hours is > 3 and < 4 ? 25 : 2, hours is > 1 and < 1.58 ? open : Shut);
    }

    private static Moment ColdNight(double hours) => new(hours < 2 ? -2 : -5, 80, 3, 2, Shut);

    private ExampleRun Run(string name, DateTime start, double roomC, double percent, double hours, Func<double, Moment> weather)
    {
        var run = new ExampleRun(name, start, roomC, percent, weather(0));
        run.Run(hours, weather);
        output.WriteLine(string.Join('\n', run.Story));
        output.WriteLine(string.Join('\n', run.Model.Rooms.Select(room => FormattableString.Invariant($"{room.Id} {room.AirC:0.0} °C {room.Percent:0} %"))));
        output.WriteLine(string.Join('\n', run.OnForS.Select(pair => FormattableString.Invariant($"{pair.Key} on for {pair.Value / 60:0} min"))));
        output.WriteLine(string.Join('\n', run.SetPoints.Select(pair => FormattableString.Invariant($"{pair.Key} {pair.Value.Lowest:0.0} to {pair.Value.Highest:0.0} °C"))));
        Assert.True(run.Broken.Count == 0, string.Join("\n", run.Broken));
        return run;
    }

    [Fact]
    public void Ferry_House_cools_every_room_through_a_warm_afternoon()
    {
        using var run = Run("ferry-house", Summer, 27, 50, 9, Afternoon("landing-hall"));
        Assert.True(run.Saw("landing-hall", "pull-down", "opening", "easing-off"));
        foreach (var room in run.Model.Rooms)
            Assert.True(run.AirC(room.Id) < Wanted(room.Id) + 0.6, FormattableString.Invariant($"{room.Id} is at {room.AirC:0.0} °C"));
        Assert.All(["landing-hall.coil-north.fan", "landing-hall.coil-south.fan", "weaving-room.coil.fan", "kitchen.coil.fan", "loft-coil.coil.fan", "landing-hall.ceiling.valve",
            "weaving-room.ceiling.valve", "kitchen.ceiling.valve", "sleeping-loft.ceiling.valve"], id => Assert.True(run.OnForS[id] > 600, id));
        Assert.Equal(0, run.OnForS["drying-room.floor.valve"]);

        static double Wanted(string room) => room switch { "landing-hall" or "kitchen" => 25, "weaving-room" => 24, "sleeping-loft" => 24, "drying-room" => 27, _ => 24.5 };
    }

    [Fact]
    public void Ferry_House_heats_every_room_through_a_cold_night()
    {
        using var run = Run("ferry-house", Winter, 15.5, 45, 10, ColdNight);
        foreach (var room in run.Model.Rooms)
            Assert.True(run.AirC(room.Id) > Wanted(room.Id) - 0.8, FormattableString.Invariant($"{room.Id} is at {room.AirC:0.0} °C"));
        Assert.True(run.Saw("landing-hall", "warm-up"));
        Assert.True(run.OnForS["drying-room.floor.valve"] > 3600);
        Assert.InRange(run.SetPoints["floor-loop"].Highest, 30, 40);

        static double Wanted(string room) => room switch { "landing-hall" => 18, "kitchen" => 19, "sleeping-loft" => 17, "drying-room" => 22, "office" => 16, _ => 20.5 };
    }

    [Fact]
    public void Ferry_House_sends_no_cold_water_into_the_floor_when_one_room_alone_is_too_cold_in_summer()
    {
        using var run = Run("ferry-house", Summer, 21, 50, 6, Afternoon("landing-hall"));
        Assert.True(run.OnForS["floor-loop.pump.run"] >= 0);
    }

    [Fact]
    public void Coil_only_pulls_down_eases_off_and_holds_with_its_coils()
    {
        using var run = Run("coil-only", Summer, 27.5, 50, 7, Afternoon("waiting-room"));
        Assert.True(run.Saw("ticket-office", "pull-down", "easing-off", "coil-hold"));
        Assert.True(run.Saw("waiting-room", "pull-down", "opening", "coil-hold"));
        Assert.InRange(run.AirC("ticket-office"), 22.5, 24.6);
        Assert.InRange(run.AirC("waiting-room"), 23.5, 25.6);
    }

    [Fact]
    public void Floor_only_holds_its_rooms_with_warm_floors()
    {
        using var run = Run("floor-only", Winter, 17.5, 45, 12, ColdNight);
        Assert.True(run.Saw("changing-room", "radiant-hold"));
        Assert.True(run.Saw("bath", "radiant-hold"));
        Assert.True(run.OnForS["bath.floor.valve"] > 3600 && run.OnForS["changing-room.floor.valve"] > 3600);
        Assert.InRange(run.AirC("bath"), 22, 24.5);
        Assert.InRange(run.SetPoints["floor-loop"].Lowest, 24, 42);
        Assert.InRange(run.SetPoints["floor-loop"].Highest, 30, 42);
    }

    [Fact]
    public void Two_pipe_cools_in_a_warm_afternoon_and_heats_in_a_cold_night()
    {
        using var warm = Run("two-pipe", Summer, 27, 50, 7, Afternoon("day-room"));
        Assert.True(warm.Saw("day-room", "pull-down", "opening", "coil-hold"));
        Assert.True(warm.SetPoints["coil-loop"].Highest <= 12);
        Assert.InRange(warm.AirC("bunk-room"), 22.5, 24.5);   // 75 °F is 23.9 °C
        using var cold = Run("two-pipe", Winter, 15, 45, 9, ColdNight);
        Assert.True(cold.Saw("day-room", "warm-up", "coil-hold"));
        Assert.InRange(cold.AirC("day-room"), 20, 21.6);      // 69 °F is 20.6 °C
        Assert.InRange(cold.SetPoints["coil-loop"].Lowest, 34.9, 43.4);   // 95 °F to 110 °F
    }
}

// Tests in the virtual house: the whole way from hand value to proposal on the real sequence, what ends them, and that the old values are back.
using RoomSupervisor.Desk.InHand;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Tuning;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse.Tests.Tuning;

public class VirtualTuneTests(Xunit.Abstractions.ITestOutputHelper output)
{
    private static TuneLimits Patient(Rehearsal run) => new() { PatienceS = 30 * 3600, EveryS = run.ScanS };

    private static int LoopOf(Rehearsal run, string id) => run.House.Loops.ToList().FindIndex(loop => loop.Id == id);

    [Fact]
    public void What_has_nothing_to_tune_is_refused_with_the_reason()
    {
        var house = Desk.HouseFromSiteTests.Plan("ferry-house").Files.House;
        int Room(string id) => house.Rooms.ToList().FindIndex(room => room.Id == id);
        Assert.Contains("no mixing valve", LoopTest.WhyNot(house, house.Loops.ToList().FindIndex(loop => loop.Id == "coil-loop")), StringComparison.Ordinal);
        Assert.Contains("more than one", RoomTest.WhyNot(house, Room("landing-hall")), StringComparison.Ordinal);
        Assert.Contains("all to itself", RoomTest.WhyNot(house, Room("office")), StringComparison.Ordinal);
        Assert.Null(RoomTest.WhyNot(house, Room("weaving-room")));
    }

    [Fact]
    public void A_step_of_a_fan_finds_what_the_air_holds_and_ends_when_a_door_opens()
    {
        using var run = new Rehearsal(Desk.HouseFromSiteTests.Plan("ferry-house", "two-summer-days"));
        var room = run.House.Rooms.ToList().FindIndex(one => one.Id == "weaving-room");
        var record = new RoomTest(new VirtualPlant(run), run.House, room, Patient(run), output.WriteLine).Step();
        var tuned = Tuned.OfRoom(run.House, room, record);
        foreach (var line in tuned.Lines)
            output.WriteLine(line);
        Assert.Equal(0, run.Controller!.Memory.Hands.Count(hand => hand.Active));
        Assert.NotNull(tuned.Model);
    }
}

// Tests in the virtual house: the whole way from hand value to proposal on the real sequence, what ends them, and that the old values are back.
using RoomSupervisor.Desk.InHand;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Tuning;
using RoomSupervisor.Hardware;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse.Tests.Tuning;

public class VirtualTuneTests(Xunit.Abstractions.ITestOutputHelper output)
{
    private static TuneLimits Patient(Rehearsal run) => new() { PatienceS = 30 * 3600, EveryS = run.ScanS };

    private static int LoopOf(Rehearsal run, string id) => run.House.Loops.ToList().FindIndex(loop => loop.Id == id);

    [Fact]
    public void A_step_of_the_ceilings_mixing_valve_finds_the_pipe_that_the_virtual_house_has()
    {
        using var run = new Rehearsal(Desk.HouseFromSiteTests.Plan("ferry-house", "two-summer-days"));
        var loop = LoopOf(run, "ceiling-loop");
        var record = new LoopTest(new VirtualPlant(run), run.House, loop, Patient(run), output.WriteLine).Step();
        var tuned = Tuned.OfLoop(run.House, loop, record);
        foreach (var line in tuned.Lines)
            output.WriteLine(line);
        Assert.NotNull(tuned.Model);
        // A valve without bend moves the water by a hundredth of the difference.
        Assert.InRange(Math.Abs(tuned.Model.Value.Gain) / (Math.Abs(record.DifferenceK) / 100), 0.5, 1.8);
        Assert.Equal(0, run.Controller!.Memory.Hands.Count(hand => hand.Active));
    }

    /// <summary>The same pipe by a relay: with the valve's own gain known (a hundredth of the difference) its model must lie where the step's lies.</summary>
    [Fact]
    public void A_relay_in_the_place_of_the_control_swings_the_same_pipe_and_stays_over_the_dew_point()
    {
        using var run = new Rehearsal(Desk.HouseFromSiteTests.Plan("ferry-house", "two-summer-days"));
        var loop = LoopOf(run, "ceiling-loop");
        var tuned = Tuned.OfLoop(run.House, loop, new LoopTest(new VirtualPlant(run), run.House, loop, Patient(run), output.WriteLine).Swing());
        foreach (var line in tuned.Lines)
            output.WriteLine(line);
        Assert.NotNull(tuned.Relay);
        Assert.True(tuned.Relay.Value.Swings >= 3);
        Assert.InRange(tuned.Model!.Value.DeadS, 20, 160);
        run.Step();
        Assert.Equal(0, run.Controller!.Memory.Hands.Count(hand => hand.Active));
    }

    [Fact]
    public void A_rail_that_is_touched_ends_the_test_and_gives_the_valve_back()
    {
        using var run = new Rehearsal(Desk.HouseFromSiteTests.Plan("ferry-house", "two-summer-days"));
        var loop = LoopOf(run, "ceiling-loop");
        var narrow = Patient(run) with { WaterSwingK = 0.2 };
        var e = Assert.Throws<TestEndedException>(() => new LoopTest(new VirtualPlant(run), run.House, loop, narrow, output.WriteLine).Step());
        Assert.Contains("0.2 K", e.Message, StringComparison.Ordinal);
        run.Step();
        Assert.Equal(0, run.Controller!.Memory.Hands.Count(hand => hand.Active));
    }

    /// <summary>Somebody has set the integral five times as high as shipped. The test is played with seed 1; seeds 2 and 3 judge.</summary>
    [Fact]
    public void A_loop_that_was_set_wild_is_tuned_and_keeps_its_water_better_on_seeds_the_test_never_saw()
    {
        var folder = Desk.HouseFromSiteTests.Site("ferry-house");
        var (site, household) = (File.ReadAllText(Path.Combine(folder, "site.yaml")), File.ReadAllText(Path.Combine(folder, "household.yaml")));
        Assert.True(SiteEdit.TrySet(site, "sequence.mixing_integral", "0.3", "", out site, out var why), why);
        var plan = Desk.HouseFromSiteTests.Plan("ferry-house", "two-summer-days") with { Files = SiteReader.Read(site, household, Drivers.All).Files!, Seed = 1 };
        using var run = new Rehearsal(plan);
        var loop = LoopOf(run, "ceiling-loop");
        var tuned = Tuned.OfLoop(run.House, loop, new LoopTest(new VirtualPlant(run), run.House, loop, Patient(run), output.WriteLine).Step());
        foreach (var line in tuned.Lines.Concat(tuned.Values.Select(value => $"{value.Path}: {value.After} (now {value.Before})")))
            output.WriteLine(line);
        Assert.Contains(tuned.Values, value => value.Path == "sequence.mixing_integral");
        var tried = TuneTrial.Play(plan, site, household, loop, tuned.Values, [2, 3], 20);
        foreach (var line in TuneTrial.Lines(tried))
            output.WriteLine(line);
        Assert.All(tried, one => Assert.True(one.AfterK <= one.BeforeK && one.AfterStrokes <= one.BeforeStrokes));
        Assert.Throws<ArgumentException>(() => TuneTrial.Play(plan, site, household, loop, tuned.Values, [1], 1));   // its own seed judges nothing
    }

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

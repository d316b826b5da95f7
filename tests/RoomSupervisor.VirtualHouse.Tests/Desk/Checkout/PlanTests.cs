// The plan of a walk: only steps that a site needs, each with an id of its own, by room and by panel; and the season's self-test needs nobody.
using RoomSupervisor.Desk.Checkout;

namespace RoomSupervisor.VirtualHouse.Tests.Desk.Checkout;

public class PlanTests
{
    public static TheoryData<string> Sites => ["one-room", "ferry-house", "coil-only", "floor-only", "garden-studio", "two-pipe", "brick-row", "harbour-flat"];

    private static IReadOnlyList<CheckStep> Plan(string site) => CheckPlan.Of(Site(site));

    private static RoomSupervisor.Site.SiteFiles Site(string site)
        => RoomSupervisor.Site.SiteReader.Read(HouseFromSiteTests.Site(site), RoomSupervisor.Hardware.Drivers.All).Files!;

    [Theory]
    [MemberData(nameof(Sites))]
    public void Every_wired_point_is_looked_at_and_no_id_comes_twice(string site)
    {
        var (files, plan) = (Site(site), Plan(site));
        Assert.Equal(plan.Select(step => step.Id).Distinct(), plan.Select(step => step.Id));
        var looked = plan.Where(step => step.Kind is "input" or "output" or "protection" or "pump" or "mixing").Select(step => step.What).ToHashSet();
        foreach (var point in files.Wiring.Select(wire => wire.PointId).Distinct())
        {
            var isOfLoop = files.House.Loops.Any(loop => point.StartsWith(loop.Id + ".", StringComparison.Ordinal) && looked.Contains(loop.Id));
            Assert.True(looked.Contains(point) || isOfLoop || point.EndsWith("charge.enable", StringComparison.Ordinal) || point.EndsWith("standby_pump.run", StringComparison.Ordinal), $"{point} is looked at by no step");
        }
        Assert.All(plan, step => Assert.Contains(CheckPlan.Kinds, kind => kind.Kind == step.Kind));
        Assert.All(plan, step => Assert.NotEqual("", step.Expected));
    }

    [Fact]
    public void A_house_without_cooling_has_no_guard_and_one_without_surfaces_no_mixing_valve()
    {
        Assert.DoesNotContain(Plan("floor-only"), step => step.Kind is "guard" or "pull-down" or "fan-start");
        Assert.DoesNotContain(Plan("coil-only"), step => step.Kind is "mixing" or "guard" or "slab-step");
        Assert.Contains(Plan("ferry-house"), step => step.Id == "slab-step/drying-room.floor");
        Assert.Contains(Plan("ferry-house"), step => step.Id == "protection/floor-loop.high_limit.tripped");
    }

    [Fact]
    public void By_room_and_by_panel_there_is_only_what_belongs_there()
    {
        var plan = Plan("ferry-house");
        var loft = CheckPlan.Only(plan, "office", null);
        Assert.All(loft, step => Assert.Contains("office", step.Rooms));
        Assert.Contains(loft, step => step.Id == "fan-sound/loft-coil.coil");   // its coil is the loft's too
        Assert.DoesNotContain(loft, step => step.What.StartsWith("kitchen", StringComparison.Ordinal));
        var panel = CheckPlan.Only(plan, null, "io-upper");
        Assert.Contains(panel, step => step.Id == "power/io-upper");
        Assert.Contains(panel, step => step.Id == "protection/loft-coil.coil.drip_tray_full");
        Assert.DoesNotContain(panel, step => step.Id == "output/kitchen.coil.fan");
    }

    [Fact]
    public void What_stands_on_an_input_comes_behind_it()
    {
        var ids = Plan("ferry-house").Select(step => step.Id).ToList();
        foreach (var step in Plan("ferry-house"))
            Assert.All(step.After, before => Assert.InRange(ids.IndexOf(before), 0, ids.IndexOf(step.Id) - 1));
        Assert.Contains("input/weaving-room.air.temperature", Plan("ferry-house").Single(step => step.Id == "lag/weaving-room.air.temperature").After);
    }

    [Fact]
    public void The_seasons_test_asks_nobody_and_has_ids_of_its_own()
    {
        var test = CheckPlan.SelfTest(Site("ferry-house"), "2027-spring");
        Assert.Contains(test, step => step.Id == "self-test/2027-spring/device/io-plant");
        Assert.All(test, step => Assert.Equal("", step.Caution));
        Assert.DoesNotContain(test, step => step.Id.Contains("/input/", StringComparison.Ordinal));
    }
}

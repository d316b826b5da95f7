// What a walk asks of a run beside points and hand values: a fan below its start speed, only when it says so; and a room whose measured data are forgotten, between two scans.
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.House.Tests.Control;

public sealed class WalkRequestTests
{
    [Fact]
    public void A_fan_goes_below_its_start_speed_only_for_who_looks_for_that()
    {
        using var rig = new ControlRig();
        rig.ReadAll();
        rig.Scans.Scan();
        rig.KeepScanning();
        rig.Listen();
        using var client = rig.Connect();
        Assert.Contains("slowest speed, 20", client.Error("""{"version":1,"id":1,"do":"set","point":"weaving-room.coil.fan","value":"10 %","for":"20 s"}"""), StringComparison.Ordinal);
        var answer = client.Ask("""{"version":1,"id":2,"do":"set","point":"weaving-room.coil.fan","value":"10 %","for":"20 s","below_start":"yes"}""");
        Assert.True(answer.GetProperty("ok").GetBoolean());
        Assert.Equal(10, answer.GetProperty("value").GetDouble());
        // A stepped fan has nothing below its first step.
        var house = Examples.Example.Files("ferry-house").House;
        var stepped = house.Coils.Single(coil => coil.Kind.FanSignal == CoilKind.Steps);
        Assert.False(HandValues.IsAllowed(house, stepped.Fan, 10, 20, out _, belowStart: true));
        Assert.False(HandValues.IsAllowed(house, stepped.Fan, -1, 20, out _, belowStart: true));
    }

    [Fact]
    public void A_room_is_forgotten_and_no_other_and_it_is_said_who_wanted_it()
    {
        using var rig = new ControlRig("ferry-house");
        rig.Loop.Memory.RoomData[0].PullDowns = 4;
        rig.Loop.Memory.RoomData[1].PullDowns = 6;
        rig.Listen();
        using var client = rig.Connect();
        Assert.Contains("there is no room attic", client.Error("""{"version":1,"id":1,"do":"forget","room":"attic"}"""), StringComparison.Ordinal);
        Assert.True(client.Ask("""{"version":1,"id":2,"do":"forget","room":"landing-hall","why":"coil replaced"}""").GetProperty("ok").GetBoolean());
        Assert.Equal(4, rig.Loop.Memory.RoomData[0].PullDowns);   // not before the next scan
        rig.ReadAll();
        rig.Scans.Scan();
        Assert.Equal((0, 6), (rig.Loop.Memory.RoomData[0].PullDowns, rig.Loop.Memory.RoomData[1].PullDowns));
        Assert.Contains(rig.Said, line => line.Contains("has what was measured of landing-hall forgotten: coil replaced", StringComparison.Ordinal));
        Assert.True(HandRequest.Forget(0).IsForget);
    }
}

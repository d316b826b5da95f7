// Section 5, rules 2 and 6 in one room: openings too short to count, contacts that say open for hours against all appearance, and actuators that are slow. Told like a log.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class OpeningTests
{
    private static Rig Open(double outdoors, double outdoorHumidity, double air = 24.5, double humidity = 45)
    {
        var rig = new Rig(TestHouse.OneRoom(household: [("fan_at_most", 0)]));
        rig.Set("outdoor.air.temperature", outdoors);
        rig.Set("outdoor.air.humidity", outdoorHumidity);
        rig.Air(air, humidity);
        rig.Run(300);
        rig.Set("room.opening.open", 1);
        rig.Run(100);
        Assert.Equal(Stage.Opening, rig.Stage);
        return rig;
    }

    [Fact]
    public void Rule_5_6_a_contact_open_for_four_hours_in_a_room_that_looks_shut_is_ignored_until_it_has_said_shut_once()
    {
        var rig = Open(outdoors: 31, outdoorHumidity: 60);
        // 12:00 open, 16:00 the room still has 24.5 °C and a dew point of 11.8 °C, outdoors 31 °C and 22.3 °C.
        rig.Run(4 * 3600 - 300, 5);
        Assert.Equal(Stage.Opening, rig.Stage);
        rig.RunUntil(r => r.Stage != Stage.Opening, 400, 5);
        var told = Assert.Single(rig.Happened, h => h.EventId == SequenceEvents.ContactIgnored.Id);
        Assert.Equal(Cause.ContactDoubted, told.Reason.Cause);
        Assert.Equal(Priority.Warning, SequenceEvents.ContactIgnored.Priority);
        rig.RunUntil(r => r.Ceiling.Value > 0, 900);
        rig.Run(3600);
        Assert.True(rig.Ceiling.Value > 0);
        rig.Set("room.opening.open", 0);
        rig.Scan();
        Assert.True(rig.Has(SequenceEvents.ContactBelieved));
        rig.Set("room.opening.open", 1);
        rig.Run(65);
        Assert.Equal(Stage.Opening, rig.Stage);
    }

    [Theory]
    [InlineData(25.8, 60)]   // as warm as outdoors
    [InlineData(31, 31)]     // as humid as outdoors: 11.9 °C
    public void Rule_5_6_a_room_that_may_be_open_is_believed_for_as_long_as_its_contact_says_so(double outdoors, double humidity)
    {
        var rig = Open(outdoors, humidity);
        rig.Run(6 * 3600, 5);
        Assert.Equal(Stage.Opening, rig.Stage);
        Assert.False(rig.Has(SequenceEvents.ContactIgnored));
    }

    [Fact]
    public void Rule_5_6_without_outdoor_readings_a_contact_is_always_believed()
    {
        var rig = Open(outdoors: 31, outdoorHumidity: 60);
        rig.Silence("outdoor.air.humidity");
        rig.Run(6 * 3600, 5);
        Assert.Equal(Stage.Opening, rig.Stage);
    }

    [Fact]
    public void Rule_5_2_an_opening_of_55_seconds_leaves_nothing_behind()
    {
        var rig = new Rig(TestHouse.OneRoom(household: [("fan_at_most", 0)]));
        rig.Air(24.5, 45);
        rig.RunUntil(r => r.Ceiling.Value > 0 && r.CeilingPump, 900);
        var happened = rig.Happened.Count;
        rig.Set("room.opening.open", 1);
        rig.Run(55);
        rig.Set("room.opening.open", 0);
        for (var second = 0; second < 600; second++)
        {
            rig.Scan();
            Assert.True(rig.Ceiling.Value > 0 && rig.CeilingPump);
        }
        Assert.Equal(happened, rig.Happened.Count);
        Assert.Equal(0, rig.Memory.Rooms[0].OpeningsLikelyForS);
    }

    /// <summary>14:00:00 a door for 40 s: the dew point rises by 1.5 K and the circuit shuts; back when the air has been steady for three minutes, not for ten.</summary>
    [Fact]
    public void Rule_5_2_a_short_gust_of_humid_air_shuts_the_circuit_for_three_minutes_of_steady_air_and_no_longer()
    {
        var rig = new Rig(TestHouse.OneRoom(household: [("fan_at_most", 0)]));
        rig.Air(24.5, 45);
        rig.Set("ceiling-loop.supply.temperature", 19.5);
        rig.RunUntil(r => r.Ceiling.Value > 0 && r.CeilingPump, 900);
        rig.Set("room.opening.open", 1);
        for (var second = 0; second < 40; second++)
        {
            rig.Air(24.5, 45 + 0.15 * second);
            rig.Scan();
        }
        rig.Set("room.opening.open", 0);
        Assert.Equal(GuardLevel.Shut, rig.Guard);
        Assert.InRange(rig.RunUntil(r => r.Ceiling.Value > 0, 900), 180, 360);
    }

    [Fact]
    public void Rule_5_2_the_guard_acts_earlier_by_the_time_a_slow_actuator_takes_to_shut()
    {
        double Added(ActuatorKind actuator)
        {
            var rig = GuardHouse.Follow(GuardHouse.Build([GuardHouse.Room("room", GuardHouse.Surface("ceiling", actuator: actuator))]));
            rig.Air(24.5, 42);
            rig.RunUntil(r => r.Ceiling.Value > 0, 900);
            var (humidity, water) = (42.0, rig.EachScan);
            rig.EachScan = r =>
            {
                water!(r);
                r.Set("room.air.humidity", humidity += 1.0 / 60);   // 0.35 K/min of dew point
            };
            rig.Run(300);
            return rig.Memory.Circuits[0].LowestSafeC - rig.Memory.Circuits[0].WorstC - 1;
        }

        var wax = TestHouse.Fill(ActuatorKind.OnOff(), ActuatorKind.OnOffParameters, ("closing_time", 240));
        var quick = TestHouse.Fill(ActuatorKind.Modulating(), ActuatorKind.Parameters, ("opening_time", 30));
        var (slow, fast) = (Added(wax), Added(quick));
        Assert.InRange(slow, 1.2, 1.6);
        Assert.Equal(240.0 / 45, slow / fast, 0.01);   // the loop's lag of 45 s, where it is longer
    }
}

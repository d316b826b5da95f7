// Section 1, rules 1 and 7: last-good, and what stands in for a humidity that is missing: never under what may still be true.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class StandInTests
{
    private const string Humidity = "room.air.humidity";

    private static Rig Two(double percent, double others)
    {
        var rig = new Rig(TestHouse.OneRoom(rooms: 2));
        rig.Air(24, percent);
        rig.Set("room-2.air.temperature", 24);
        rig.Set("room-2.air.humidity", others);
        rig.Run(120);
        return rig;
    }

    [Fact]
    public void Rule_1_7_a_humid_room_whose_sensor_is_lost_is_not_taken_for_as_dry_as_its_neighbours()
    {
        // 24 °C and 75 % is a dew point of 19.3 °C; the neighbour's 45 % and 2 K make 13.3 °C.
        var rig = Two(75, 45);
        var known = rig.Room.DewPointWorstC;
        rig.Silence(Humidity, Fault.Crc);
        var before = known;
        for (var second = 0; second < 66; second++)
        {
            rig.Scan();
            Assert.True(rig.Room.DewPointWorstC >= before - 1e-9, $"after {second} s {rig.Room.DewPointWorstC:0.00} °C under {before:0.00} °C");
            before = rig.Room.DewPointWorstC;
        }
        rig.Run(1100);
        Assert.True(rig.Room.DewPointWorstC >= known, "twenty minutes later it may still be as humid as it was");
        Assert.True(double.IsNaN(rig.Room.DewPointC));
    }

    [Fact]
    public void Rule_1_7_what_was_known_fades_into_the_stand_in_as_a_tight_house_changes_its_air()
    {
        var rig = Two(75, 45);
        rig.Silence(Humidity, Fault.Crc);
        rig.Run(130);   // interval, last-good, and the worst case that grew for a minute
        var standIn = rig.Image.Rooms[1].DewPointC + 2;
        var first = rig.Room.DewPointWorstC - standIn;
        rig.Run(9000);  // 2.5 h at 0.4 changes an hour: a mean air's age
        Assert.Equal(first * Math.Exp(-1), rig.Room.DewPointWorstC - standIn, 0.05);
        rig.Run(10 * 9000, 10);
        Assert.Equal(standIn, rig.Room.DewPointWorstC, 0.02);
    }

    [Fact]
    public void Rule_1_7_a_dry_room_gets_the_stand_in_at_once()
    {
        var rig = Two(40, 60);
        rig.Silence(Humidity, Fault.Crc);
        rig.Run(140);
        Assert.Equal(rig.Image.Rooms[1].DewPointC + 2, rig.Room.DewPointWorstC, 0.001);
    }

    [Fact]
    public void Rule_1_1_last_good_lasts_the_devices_interval_and_a_minute_and_no_longer()
    {
        var slow = TestHouse.Fill(new SensorKind(), SensorKind.Parameters, ("interval", 30));
        var house = new HouseBuilder(_ => slow.Settings, _ => false).Build(
            new HouseParts("Bench", 12, UnitSystem.Metric, new SequenceSettings(), [BenchHouse.Room("room", [], [BenchHouse.Surface("ceiling", "ceiling-loop")])], [BenchHouse.Surfaces("ceiling-loop"), BenchHouse.Coils()]));
        var rig = new Rig(house);
        rig.Run(60);
        rig.Silence(Humidity);
        rig.Run(30);
        Assert.Equal(new Reading(50, 30, Quality.Good, Cause.None), Rounded(rig.Reading(Humidity)));
        rig.Run(1);
        Assert.Equal(new Reading(50, 31, Quality.LastGood, Cause.Stale), Rounded(rig.Reading(Humidity)));
        rig.Run(59);
        Assert.Equal(Quality.LastGood, rig.Reading(Humidity).Quality);
        rig.Run(1);
        Assert.Equal((Quality.Missing, Cause.Stale), (rig.Reading(Humidity).Quality, rig.Reading(Humidity).Cause));
    }

    private static Reading Rounded(Reading reading) => reading with { Value = Math.Round(reading.Value, 6), AgeS = Math.Round(reading.AgeS, 6) };
}

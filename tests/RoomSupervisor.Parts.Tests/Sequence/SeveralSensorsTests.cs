// Section 1, rules 2 and 6: several air sensors in one room: which of them counts, when they are said to disagree, what is learned of their standing offsets.
// Dew points by Magnus (WMO-No. 8: 611.2 Pa, 17.62, 243.12 °C, over water), within 0.05 K of ours.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class SeveralSensorsTests
{
    private const string Temperature = "room.air.temperature";

    private static double Magnus(double celsius, double percent)
    {
        var x = Math.Log(percent / 100) + 17.62 * celsius / (243.12 + celsius);
        return 243.12 * x / (17.62 - x);
    }

    private static List<Happening> Told(Rig rig, EventDefinition what) => [.. rig.Happened.Where(h => h.EventId == what.Id)];

    [Fact]
    public void Rule_1_6_each_dew_point_is_of_its_own_chip_and_the_guard_takes_the_highest_of_two()
    {
        // A warm, dry-looking corner: 26 °C and 48 % is 14.1 °C; the room's sensor 24 °C and 50 % is 12.9 °C. Mixed up, 24 °C with 48 % would be 12.3 °C.
        var rig = new Rig(ReadingHouse.Of(["air-window"]));
        rig.Chip("air-window", 25.2, 50);
        rig.Run(60);
        Assert.Equal(Magnus(25.2, 50), rig.Room.DewPointC, 0.05);
        Assert.True(rig.Room.DewPointWorstC > rig.Room.DewPointC + 0.5);
        rig.Chip("air-window", 23.2, 50);
        rig.Run(60);
        Assert.Equal(Magnus(24, 50), rig.Room.DewPointC, 0.05);
    }

    [Fact]
    public void Rule_1_6_the_guard_takes_the_second_highest_of_three_so_that_one_liar_does_not_stop_the_ceiling()
    {
        var rig = new Rig(ReadingHouse.Of(["air-desk", "air-window"]));
        rig.Chip("air-desk", 24, 52);
        rig.Chip("air-window", 24, 57);
        rig.Run(60);
        Assert.Equal(Magnus(24, 52), rig.Room.DewPointC, 0.05);
        rig.Air(24, 54);   // any order
        rig.Run(60);
        Assert.Equal(Magnus(24, 54), rig.Room.DewPointC, 0.05);
    }

    [Fact]
    public void Rule_1_6_one_chip_that_is_lost_leaves_the_room_with_the_other_and_its_loss_is_no_rise()
    {
        var rig = new Rig(ReadingHouse.Of(["air-desk"]));
        rig.Chip("air-desk", 24, 54);
        rig.Run(300);
        rig.Silence("room.air-desk.humidity", Fault.Crc);
        rig.Run(120);
        Assert.Equal(Magnus(24, 50), rig.Room.DewPointC, 0.05);
        rig.Silence("room.air.humidity", Fault.Crc);
        rig.Chip("air-desk", 24, 54);
        rig.Run(120);
        Assert.Equal(Magnus(24, 54), rig.Room.DewPointC, 0.05);
        Assert.True(double.IsFinite(rig.Room.DewPointWorstC));
        Assert.DoesNotContain(rig.Happened, h => h.Reason.Cause == Cause.DewPointRising);
    }

    [Fact]
    public void Rule_1_6_a_standing_offset_is_learned_while_the_room_rests_and_kept_over_a_restart()
    {
        var rig = new Rig(ReadingHouse.Of(["air-desk"], cool: 26));
        rig.Chip("air-desk", 24, 53);   // 0.9 K of dew point more than 50 %
        rig.Run(1.9 * 3600);
        Assert.Equal(Magnus(24, 53), rig.Room.DewPointC, 0.05);   // not yet rested for two hours
        rig.Run(4 * 3600);
        var mean = (Magnus(24, 50) + Magnus(24, 53)) / 2;
        Assert.Equal(mean, rig.Room.DewPointC, 0.05);
        var memory = new Memory(rig.House);
        rig.Memory.Inputs.CopyTo(memory.Inputs, 0);
        rig.Memory.Rooms.CopyTo(memory.Rooms, 0);
        Resume.Prepare(rig.House, memory, 3600);
        var next = new Rig(rig.House) { Memory = memory };
        next.Chip("air-desk", 24, 53);
        next.Run(60);
        Assert.Equal(mean, next.Room.DewPointC, 0.05);
        Assert.Empty(Told(rig, SequenceEvents.HumiditySpread));
    }

    [Fact]
    public void Rule_1_6_nothing_is_learned_while_coil_or_opening_work_and_never_more_than_a_kelvin()
    {
        var open = new Rig(ReadingHouse.Of(["air-desk"], cool: 26));
        open.Chip("air-desk", 24, 53);
        for (var hour = 0; hour < 8; hour++)
        {
            open.Set("room.opening.open", 1);
            open.Run(60);
            open.Set("room.opening.open", 0);
            open.Run(3540);
        }
        Assert.Equal(Magnus(24, 53), open.Room.DewPointC, 0.05);
        var wide = new Rig(ReadingHouse.Of(["air-desk"], cool: 26));
        wide.Chip("air-desk", 24, 57.9);   // 2.3 K apart: under 8 %, and more than two offsets of 1 K take away
        wide.Run(8 * 3600);
        Assert.Equal(Magnus(24, 57.9) - 1, wide.Room.DewPointC, 0.05);
    }

    [Fact]
    public void Rule_1_6_a_spread_that_stays_is_told_once_and_clears()
    {
        var rig = new Rig(ReadingHouse.Of(["air-desk", "air-window"], cool: 26));
        rig.Chip("air-desk", 24, 46.3);
        rig.Chip("air-window", 24, 57.5);   // 3.4 K: learned offsets take a kelvin off at each end
        rig.Run(3.8 * 3600);
        Assert.Empty(Told(rig, SequenceEvents.HumiditySpread));
        rig.Run(3 * 3600);
        Assert.Single(Told(rig, SequenceEvents.HumiditySpread));
        rig.Chip("air-window", 24, 50);
        rig.Chip("air-desk", 24, 50);
        rig.Run(4 * 3600);
        Assert.Single(Told(rig, SequenceEvents.HumiditySpread));
        Assert.Contains(Told(rig, SequenceEvents.SensorsAgree), h => h.Reason.Cause == Cause.DewPointsSpread);
    }

    [Fact]
    public void Rule_1_2_two_temperatures_that_differ_are_told_after_ten_minutes_control_stays_and_it_clears()
    {
        var rig = new Rig(ReadingHouse.Of(["air-desk"]));
        rig.Chip("air-desk", 26, 44);
        rig.Run(590);
        Assert.Empty(Told(rig, SequenceEvents.SensorsDisagree));
        rig.Run(20);
        var told = Assert.Single(Told(rig, SequenceEvents.SensorsDisagree));
        Assert.Equal("room.air-desk.temperature", rig.House.NameOf(told.Owner, told.Index));
        Assert.Equal("says 26 °C, the other sensors of this air say 24 °C", CauseWords.Sentence(told.Reason, UnitSystem.Metric));
        Assert.Equal(Quality.Good, rig.Reading(Temperature).Quality);
        Assert.Equal(Quality.Good, rig.Reading("room.air-desk.temperature").Quality);
        Assert.Equal(Stage.Satisfied, rig.Stage);   // 24 °C is what was asked for, whatever the desk says
        rig.Chip("air-desk", 24.5, 48.5);
        rig.Run(700);
        Assert.Single(Told(rig, SequenceEvents.SensorsAgree));
        Assert.Single(Told(rig, SequenceEvents.SensorsDisagree));
    }

    [Fact]
    public void Rule_1_2_humidities_are_compared_at_one_temperature()
    {
        // 50 % at 24 °C and 44.4 % at 26 °C are the same vapour; 44.4 % against 50 % as they stand would be within 8 % anyway, so a wider pair: 58 % and 46 % of 28 °C.
        var same = new Rig(ReadingHouse.Of(["air-desk"]));
        same.Air(24, 58);
        same.Chip("air-desk", 25.4, 53.3);
        same.Run(900);
        Assert.DoesNotContain(Told(same, SequenceEvents.SensorsDisagree), h => h.Reason.Cause == Cause.HumiditiesDiffer);
        var apart = new Rig(ReadingHouse.Of(["air-desk"]));
        apart.Air(24, 58);
        apart.Chip("air-desk", 25.4, 58);   // at 24 °C it would be 63.1 %
        apart.Run(900);
        Assert.Empty(Told(apart, SequenceEvents.SensorsDisagree));
        apart.Chip("air-desk", 25.4, 62);   // 67.5 %
        apart.Run(900);
        Assert.Equal(Cause.HumiditiesDiffer, Assert.Single(Told(apart, SequenceEvents.SensorsDisagree)).Reason.Cause);
        Assert.True(apart.Room.DewPointC > Magnus(25, 60), "the guard takes the worse");
    }

    [Fact]
    public void Rule_1_2_of_three_the_one_apart_is_left_out_and_if_it_is_the_rooms_own_control_goes_by_the_others_without_a_step()
    {
        var rig = new Rig(ReadingHouse.Of(["air-desk", "air-window"]));
        rig.Chip("air-desk", 24, 50);
        rig.Chip("air-window", 27, 42);
        rig.Run(700);
        Assert.Equal(new Reading(double.NaN, 0, Quality.Missing, Cause.Disagreement), rig.Reading("room.air-window.temperature") with { AgeS = 0 });
        Assert.Equal(Quality.Good, rig.Reading("room.air-desk.temperature").Quality);
        Assert.Contains(rig.Happened, h => h.EventId == SequenceEvents.ReadingMissing.Id && h.Reason.Cause == Cause.TemperaturesDiffer);
        rig.Chip("air-window", 24, 50);
        rig.Run(700);
        Assert.Equal(Quality.Good, rig.Reading("room.air-window.temperature").Quality);
        // Now the room's own sensor goes wrong.
        var own = new Rig(ReadingHouse.Of(["air-desk", "air-window"]));
        own.Air(26.5, 43);
        own.Chip("air-desk", 24, 50);
        own.Chip("air-window", 24.2, 50);
        own.Run(590);
        var before = own.Memory.Rooms[0].ControlC;
        var largest = 0.0;
        for (var second = 0; second < 120; second++)
        {
            own.Scan();
            largest = Math.Max(largest, Math.Abs(own.Memory.Rooms[0].ControlC - before));
            before = own.Memory.Rooms[0].ControlC;
        }
        Assert.Equal(24, before, 0.05);
        Assert.InRange(largest, 0.01, 2.5 / 60 + 0.001);   // a sixtieth of the difference a second
        Assert.NotEqual(Stage.Off, own.Stage);
    }

    [Fact]
    public void Rule_1_2_return_air_that_differs_in_steady_air_is_told_and_in_a_quick_change_it_is_not()
    {
        var rig = new Rig(ReadingHouse.Of());
        rig.Air(24.5, 50);
        rig.Set("room.coil.return_air_temperature", 22.5);
        rig.RunUntil(r => r.Fan.Value > 0, 1800);
        rig.Run(640);
        Assert.True(rig.Fan.Value > 0);
        Assert.Empty(Told(rig, SequenceEvents.SensorsDisagree));
        rig.RunUntil(r => Told(r, SequenceEvents.SensorsDisagree).Count == 1, 60);
        // The room's sensor comes 0.3 K a minute behind the air: two kelvins between the two are its lag.
        var quick = new Rig(ReadingHouse.Of(lags: [(Temperature, 300)]));
        var air = 32.0;
        quick.EachScan = r =>
        {
            air -= 0.3 / 60;
            r.Air(air, 45);
            r.Set("room.coil.return_air_temperature", air - 2);
        };
        quick.Run(1150);
        Assert.True(quick.Fan.Value > 0);
        Assert.Empty(Told(quick, SequenceEvents.SensorsDisagree));
    }

    [Fact]
    public void A_step_with_several_sensors_allocates_nothing()
    {
        var rig = new Rig(ReadingHouse.Of(["air-desk", "air-window"]));
        rig.Chip("air-desk", 24.4, 52);
        rig.Chip("air-window", 24, 56);
        rig.Set("outdoor.air.temperature", 30);
        rig.Set("outdoor.air.humidity", 60);
        rig.Run(200);
        var before = rig.AllocatedInSteps;
        rig.Run(2000);
        Assert.Equal(before, rig.AllocatedInSteps);
    }
}

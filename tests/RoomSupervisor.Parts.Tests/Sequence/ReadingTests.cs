// Section 1, first checks, on the bench: what is believed, what is not, and what the reading says then.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class ReadingTests
{
    private const string Temperature = "room.air.temperature";
    private const string Humidity = "room.air.humidity";

    [Fact]
    public void Humidity_of_6553_5_percent_is_missing_with_its_reason_and_nothing_else_changes()
    {
        var rig = new Rig();
        rig.Run(30);
        var air = rig.Reading(Temperature);
        rig.Set(Humidity, 6553.5);
        rig.Scan();
        Assert.Equal(Quality.Missing, rig.Reading(Humidity).Quality);
        Assert.Equal(Cause.OutOfRange, rig.Reading(Humidity).Cause);
        Assert.Equal(air, rig.Reading(Temperature));
        Assert.Equal(Stage.Satisfied, rig.Stage);
        rig.Set(Humidity, 50);
        rig.Scan();
        Assert.Equal(Quality.Good, rig.Reading(Humidity).Quality);
    }

    [Theory]
    [InlineData(100.5)]
    [InlineData(103)]
    public void Humidity_a_little_over_100_percent_counts_as_100(double humidity)
    {
        var rig = new Rig();
        rig.Air(20, humidity);
        rig.Run(10);
        Assert.Equal(100, rig.Reading(Humidity).Value);
        Assert.Equal(20, rig.Room.DewPointC, 0.001);
    }

    [Theory]
    [InlineData(-0.5)]
    [InlineData(50.5)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void An_air_temperature_no_room_can_have_is_missing(double temperature)
    {
        var rig = new Rig();
        rig.Run(30);
        rig.Set(Temperature, temperature);
        rig.Scan();
        Assert.Equal(Cause.OutOfRange, rig.Reading(Temperature).Cause);
        Assert.Equal(Stage.Off, rig.Stage);
    }

    [Fact]
    public void A_jump_is_not_believed_until_it_has_agreed_with_itself_for_a_minute()
    {
        var rig = new Rig();
        rig.Run(30);
        rig.Set(Temperature, 27);
        rig.Run(58);
        Assert.Equal(Cause.Jumped, rig.Reading(Temperature).Cause);
        rig.Run(5);
        Assert.Equal(Quality.Good, rig.Reading(Temperature).Quality);
        Assert.Equal(27, rig.Reading(Temperature).Value);
    }

    [Fact]
    public void A_single_spike_costs_one_scan()
    {
        var rig = new Rig();
        rig.Run(30);
        rig.Set(Temperature, 29);
        rig.Scan();
        Assert.Equal(Cause.Jumped, rig.Reading(Temperature).Cause);
        rig.Set(Temperature, 24);
        rig.Scan();
        Assert.Equal(Quality.Good, rig.Reading(Temperature).Quality);
        Assert.Equal(24, rig.Reading(Temperature).Value, 0.01);
    }

    [Fact]
    public void A_sensor_by_a_door_that_moves_three_kelvin_a_minute_is_believed_five_for_half_a_minute_is_not()
    {
        var rig = new Rig();
        rig.Run(30);
        var temperature = 24.0;
        rig.EachScan = r => r.Set(Temperature, temperature += 3.0 / 60);
        rig.Run(90);
        Assert.Equal(Quality.Good, rig.Reading(Temperature).Quality);
        rig.EachScan = r => r.Set(Temperature, temperature += 5.0 / 60);
        rig.Run(28);
        Assert.Equal(Quality.Good, rig.Reading(Temperature).Quality);
        rig.Run(5);
        Assert.Equal(Cause.Jumped, rig.Reading(Temperature).Cause);
    }

    [Fact]
    public void A_silent_sensor_is_last_good_then_stale_and_the_worst_case_grows_meanwhile()
    {
        var rig = new Rig();
        rig.Run(60);
        var worst = rig.Room.DewPointWorstC;
        rig.Silence(Humidity);
        rig.Run(6);
        Assert.Equal(Quality.LastGood, rig.Reading(Humidity).Quality);
        rig.Run(30);
        Assert.Equal(worst + 31 * 0.02, rig.Room.DewPointWorstC, 0.03);   // 36 s old, 31 s beyond the interval
        rig.Run(31);
        Assert.Equal(Quality.Missing, rig.Reading(Humidity).Quality);
        Assert.Equal(Cause.Stale, rig.Reading(Humidity).Cause);
    }

    [Theory]
    [InlineData(Fault.BusError, Cause.BusError)]
    [InlineData(Fault.Crc, Cause.Crc)]
    [InlineData(Fault.NoAcknowledge, Cause.NoAcknowledge)]
    [InlineData(Fault.Timeout, Cause.Timeout)]
    public void A_fault_names_itself_when_the_reading_is_missing(Fault fault, Cause cause)
    {
        var rig = new Rig();
        rig.Run(10);
        rig.Silence(Temperature, fault);
        rig.Run(70);
        Assert.Equal(new Reading(double.NaN, 70, Quality.Missing, cause), rig.Reading(Temperature) with { AgeS = 70 });
    }

    [Fact]
    public void A_gap_of_an_hour_is_time_that_passed_with_nothing_known()
    {
        var rig = new Rig();
        rig.Air(26, 50);
        rig.RunUntil(r => r.Stage == Stage.PullDown, 300);
        rig.Set(Temperature, 24.5);
        rig.Scan(3600);
        Assert.Equal(Stage.Satisfied, rig.Stage);   // it was off meanwhile, and begins again
        Assert.Contains(rig.Happened, h => h.EventId == SequenceEvents.StageChanged.Id && h.To == (byte)Stage.Off);
    }
}

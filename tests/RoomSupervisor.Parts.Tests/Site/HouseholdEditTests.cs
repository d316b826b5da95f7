// Household settings changed one by one, as a lockstep line does.
using RoomSupervisor.Parts.Tests.Sequence;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;

namespace RoomSupervisor.Parts.Tests.Site;

public class HouseholdEditTests
{
    [Fact]
    public void An_edit_makes_a_house_with_the_new_value_and_leaves_the_old_one_alone()
    {
        var house = TestHouse.OneRoom();
        Assert.True(HouseholdEdits.TryApply(house, "room.fan_at_most", "40 %", out var changed, out _));
        Assert.Equal(40, changed.Rooms[0].Household.FanAtMostPercent);
        Assert.Equal(100, house.Rooms[0].Household.FanAtMostPercent);
        Assert.True(HouseholdEdits.TryApply(changed, "room.quiet.from", "22:30", out changed, out _));
        Assert.Equal(22.5 * 60, changed.Rooms[0].Household.QuietFromMinutes);
    }

    [Theory]
    [InlineData("room.fan_at_most", "140 %", "0 % to 100 %")]
    [InlineData("room.fan_at_most", "40 °C", "a percentage is wanted")]
    [InlineData("room.fan_at_mst", "40 %", "did you mean fan_at_most?")]
    [InlineData("attic.fan_at_most", "40 %", "rooms: room")]
    [InlineData("room", "40 %", "names no room and key")]
    [InlineData("room.cool_above", "75", "did you mean 75 °F (23.9 °C)?")]
    [InlineData("room.quiet.from", "noon", "is not a time of day")]
    public void A_refused_edit_says_why_and_changes_nothing(string path, string text, string says)
    {
        var house = TestHouse.OneRoom();
        Assert.False(HouseholdEdits.TryApply(house, path, text, out var changed, out var why));
        Assert.Same(house, changed);
        Assert.Contains(says, why, StringComparison.Ordinal);
    }

    /// <summary>Every group of the file can be edited by path; one that is not complete does not hold yet.</summary>
    [Fact]
    public void The_keys_of_schedules_are_edited_like_any_other()
    {
        var house = TestHouse.OneRoom();
        foreach (var (path, text) in new[]
        {
            ("room.heat_below", "21 °C"), ("room.week.evening.cool_above", "23 °C"), ("room.week.evening.from", "18:00"), ("room.week.evening.to", "22:00"), ("room.week.evening.days", "mon-fri"),
            ("room.quiet.from", "20:30"), ("room.quiet.to", "07:00"), ("room.noise_allowance.until", "22:30"), ("room.once.cool_above", "25 °C"), ("absence.from", "2027-02-06"), ("absence.to", "2027-02-20"),
        })
            Assert.True(HouseholdEdits.TryApply(house, path, text, out house, out var why), $"{path}: {why}");
        var room = house.Rooms[0].Household;
        Assert.Equal((23.0, 21.0), Wanted(new DateTime(2026, 11, 25, 19, 0, 0)));
        Assert.Equal((24.0, 21.0), Wanted(new DateTime(2026, 11, 28, 19, 0, 0)));
        Assert.Equal((28.0, 16.0), Wanted(new DateTime(2027, 2, 10, 19, 0, 0)));
        Assert.False(Schedule.Now(room, new DateTime(2026, 11, 25, 22, 29, 0)).IsQuiet);
        Assert.True(HouseholdEdits.TryApply(house, "room.once.until", "2026-11-25 20:00", out house, out _));
        Assert.Equal(25, Schedule.Now(house.Rooms[0].Household, new DateTime(2026, 11, 25, 19, 0, 0)).CoolAboveC);

        (double, double) Wanted(DateTime local)
        {
            var wanted = Schedule.Now(room, local);
            return (wanted.CoolAboveC, wanted.HeatBelowC);
        }
    }

    [Theory]
    [InlineData("room.heat_below", "23.5 °C", "less than 1 K apart")]
    [InlineData("room.week.evening.cool_above", "21 °C", "week.evening")]
    [InlineData("room.week.evening.days", "mon-fry", "is no day of the week")]
    [InlineData("room.week.evening.too", "22:00", "week.NAME.to")]
    [InlineData("room.week.cool_above", "22 °C", "unknown key")]
    [InlineData("room.once.until", "2026-12-24", "no time of day")]
    [InlineData("absence.to", "2027-01-01", "to is not after from")]
    [InlineData("absence.until", "2027-01-01", "unknown key")]
    [InlineData("absence.heat_below", "28 °C", "less than 1 K apart")]
    [InlineData("room.noise_allowance.until", "12:00", "within quiet hours")]
    [InlineData("room.start_early_at_most", "2", "has no unit; allowed: 0 s to 6 h; write 2 h, 2 min or 2 s")]
    [InlineData("absence.back_before", "12", "has no unit")]
    public void An_edit_that_leaves_no_sense_is_refused(string path, string text, string says)
    {
        var house = TestHouse.OneRoom();
        foreach (var (before, value) in new[] { ("room.heat_below", "21 °C"), ("absence.from", "2027-02-06"), ("room.quiet.from", "20:30"), ("room.quiet.to", "07:00") })
            Assert.True(HouseholdEdits.TryApply(house, before, value, out house, out _));
        Assert.False(HouseholdEdits.TryApply(house, path, text, out var changed, out var why));
        Assert.Same(house, changed);
        Assert.Contains(says, why, StringComparison.Ordinal);
    }
}

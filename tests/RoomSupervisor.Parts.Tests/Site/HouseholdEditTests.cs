// Household settings changed one by one, as a lockstep line does.
using RoomSupervisor.Parts.Tests.Sequence;
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
}

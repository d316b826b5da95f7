// Section 8, rules 1 and 5: rooms begin one after another, and a clock that jumps moves no timer. Invented houses.
using System.Runtime.InteropServices;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

public class StartTests
{
    [Theory]
    [InlineData(3, 20)]
    [InlineData(7, 20)]
    [InlineData(13, 10)]
    public void Rule_8_1_rooms_begin_one_after_another_and_all_within_two_minutes(int rooms, double apartS)
    {
        var rig = Hot(rooms);
        var begun = new double[rooms];
        rig.EachScan = null;
        for (var second = 0; second <= 125; second++)
        {
            rig.Scan();
            for (var i = 0; i < rooms; i++)
            {
                if (begun[i] == 0 && rig.Image.Rooms[i].Stage != Stage.Off)
                    begun[i] = rig.NowS;
            }
        }
        for (var i = 1; i < rooms; i++)
            Assert.InRange(begun[i] - begun[i - 1], apartS - 1, apartS + 1);
        Assert.InRange(begun[^1], 1, 121);
    }

    [Fact]
    public void Rule_8_1_a_room_whose_turn_has_not_come_is_safe_and_says_so()
    {
        var rig = Hot(3);
        rig.Run(15);
        Assert.Equal(Stage.Off, rig.Image.Rooms[2].Stage);
        Assert.Equal(0, rig.Output("room-3.coil.fan").Value);
        Assert.Equal(Cause.StartsInTurn, rig.Output("room-3.coil.fan").Binding.Cause);
        Assert.Contains("one after another", CauseWords.Sentence(rig.Output("room-3.ceiling.valve").Binding, UnitSystem.Metric), StringComparison.Ordinal);
    }

    [Fact]
    public void Rule_8_1_rooms_that_were_there_start_again_in_turn_after_a_restart()
    {
        var rig = Hot(3);
        rig.Run(600);
        Assert.All(rig.Image.Rooms, room => Assert.NotEqual(Stage.Off, room.Stage));
        Resume.Prepare(rig.House, rig.Memory, 5);
        rig.Run(30);
        Assert.NotEqual(Stage.Off, rig.Image.Rooms[1].Stage);
        Assert.Equal(Stage.Off, rig.Image.Rooms[2].Stage);
        rig.Run(15);
        Assert.NotEqual(Stage.Off, rig.Image.Rooms[2].Stage);
    }

    [Fact]
    public void Rule_8_5_a_wall_clock_that_jumps_moves_no_timer()
    {
        var (steady, jumping) = (Hot(1), Hot(1));
        var hours = new Random(5);
        jumping.EachScan = rig =>
        {
            if (rig.NowS % 300 == 200)
                rig.Local = rig.Local.AddHours(hours.Next(-30, 30));
        };
        for (var minute = 0; minute < 120; minute++)
        {
            foreach (var rig in new[] { steady, jumping })
            {
                rig.Air(25.5 - minute * 0.02, 55 + minute % 7);
                rig.Run(60);
            }
            Assert.Equal(MemoryMarshal.AsBytes(steady.Memory.Rooms.AsSpan()).ToArray(), MemoryMarshal.AsBytes(jumping.Memory.Rooms.AsSpan()).ToArray());
            Assert.Equal(steady.Image.Commands, jumping.Image.Commands);
        }
        Assert.True(steady.StagesEntered().Distinct().Count() >= 3, "the afternoon must go through stages");
    }

    private static Rig Hot(int rooms)
    {
        var rig = new Rig(TestHouse.OneRoom(rooms: rooms, sharedLoop: true));
        for (var i = 1; i <= rooms; i++)
        {
            var name = i == 1 ? "room" : $"room-{i}";
            rig.Set($"{name}.air.temperature", 26);
            rig.Set($"{name}.air.humidity", 50);
            rig.Set($"{name}.opening.open", 0);
        }
        return rig;
    }
}

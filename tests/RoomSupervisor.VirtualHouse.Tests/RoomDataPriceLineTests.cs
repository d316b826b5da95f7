// The line of `room-data` that tells what a limit on the fan costs. Must never tell minutes of data that are not believed.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.RoomData;
using RoomSupervisor.Sequence;
using RoomSupervisor.VirtualHouse.Tests.Desk;

namespace RoomSupervisor.VirtualHouse.Tests;

public class RoomDataPriceLineTests
{
    private static readonly House House = RehearsalReader.Read(new RehearsalWish(HouseFromSiteTests.Site("ferry-house")), out _)!.Files.House;

    private static RoomDataMemory Measured() => new()
    {
        PullDowns = 4,
        NowWalls = 0.45,
        Ratio = new Measured { Log = -0.1, Deviation = 0.15 },
    };

    [Fact]
    public void Each_limit_of_a_room_has_its_minutes_with_how_sure()
    {
        for (int room = 0; room < House.Rooms.Length; room++)
        {
            string line = RoomDataLines.Price(House, room, Measured());
            if (House.Rooms[room].Coils.Length == 0)
            {
                Assert.Contains("no coil", line, StringComparison.Ordinal);
                continue;
            }

            Assert.Contains("full speed in ", line, StringComparison.Ordinal);
            Assert.Contains("; at ", line, StringComparison.Ordinal);
            Assert.Equal(line.Split(" at ").Length - 1, line.Split("(likely ").Length - 1);
            bool isQuiet = !double.IsNaN(House.Rooms[room].Household.QuietBeginsMinutes);
            Assert.Equal(isQuiet, line.Contains("quiet hours", StringComparison.Ordinal));
        }
    }

    [Fact]
    public void Data_that_are_not_believed_have_no_price()
    {
        RoomDataMemory data = Measured();
        data.Dropped = true;
        string line = RoomDataLines.Price(House, 0, data);
        Assert.Contains("not reckoned", line, StringComparison.Ordinal);
        Assert.DoesNotContain(" min", line, StringComparison.Ordinal);
    }
}

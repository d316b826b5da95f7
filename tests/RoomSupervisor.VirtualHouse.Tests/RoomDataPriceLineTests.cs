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

    [Fact]
    public void What_starts_have_taught_is_told_with_what_becomes_of_it()
    {
        Assert.Empty(RoomDataLines.Starts(House, 0, Measured()));
        RoomDataMemory data = new() { EarlyCooling = new EarlyLearned { Log = Math.Log(1.5), Starts = 4, DataMiss = 0.1, TypedMiss = 0.4, LastTookMin = 38, LastGivenMin = 44 } };
        string line = Assert.Single(RoomDataLines.Starts(House, 0, data));
        Assert.Contains("1.5 times what its kind of emitter usually takes, from 4; the last took 38 min and was given 44 min; not used: start_early_at_most is 0 s", line, StringComparison.Ordinal);
        Assert.True(RoomSupervisor.Site.HouseholdEdits.TryApply(House, House.Rooms[0].Id + ".start_early_at_most", "2 h", out House asked, out string why), why);
        Assert.Contains("; used: ", Assert.Single(RoomDataLines.Starts(asked, 0, data)), StringComparison.Ordinal);
        data.EarlyHeating = data.EarlyCooling with { DataMiss = 0.9 };
        string[] both = [.. RoomDataLines.Starts(asked, 0, data)];
        Assert.StartsWith("starts to heat", both[1], StringComparison.Ordinal);
        Assert.Contains("; not used: what is usual foresees them better", both[1], StringComparison.Ordinal);
        using StringWriter told = new();
        RoomDataReport.Write(told, asked, 0, data, 0, plain: true);   // a room that was never pulled down tells them too
        Assert.Contains("starts to cool", told.ToString(), StringComparison.Ordinal);
    }
}

// Measured room data in the saved memory: found by the room's id whatever house the rest belongs to, refused when a byte is wrong. Nothing runs here.
using RoomSupervisor.House.Tests.Examples;
using RoomSupervisor.Runtime;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.House.Tests.Live;

public class RoomDataMemoryTests
{
    private static (Sequence.House House, Memory Memory) Saved()
    {
        var house = Example.Files("ferry-house").House;
        var memory = new Memory(house);
        memory.RoomData[1].PullDowns = 4;
        memory.RoomData[1].Coil = new Measured { Log = -0.2, Deviation = 0.1 };
        return (house, memory);
    }

    [Fact]
    public void Data_are_read_by_the_rooms_id_into_another_house()
    {
        var (house, memory) = Saved();
        var bytes = MemoryFile.Save(memory, house);
        Assert.True(MemoryFile.TryLoad(bytes, house, out var same, out _));
        Assert.Equal(4, same.RoomData[1].PullDowns);

        var read = MemoryFile.RoomData(bytes);
        Assert.NotNull(read);
        Assert.Equal(house.Rooms.Select(room => room.Id), read.Value.Rooms);
        var other = Example.Files("one-room").House;
        Assert.False(MemoryFile.TryLoad(bytes, other, out _, out _));
        var into = new Memory(other);
        Assert.Equal(1, RoomDataKeeping.Move([other.Rooms[0].Id], read.Value.Data.AsSpan(1, 1), other, into));
        Assert.Equal(-0.2, into.RoomData[0].Coil.Log);
        Assert.Equal(0, RoomDataKeeping.Move(["no-such-room"], read.Value.Data.AsSpan(1, 1), other, new Memory(other)));
    }

    [Fact]
    public void Damaged_bytes_give_no_data()
    {
        var (house, memory) = Saved();
        var bytes = MemoryFile.Save(memory, house);
        for (var i = 40; i < bytes.Length; i += 997)
        {
            bytes[i] ^= 1;
            Assert.Null(MemoryFile.RoomData(bytes));
            bytes[i] ^= 1;
        }

        for (var length = 0; length < bytes.Length; length += 1009)
            Assert.Null(MemoryFile.RoomData(bytes.AsSpan(0, length)));
    }
}

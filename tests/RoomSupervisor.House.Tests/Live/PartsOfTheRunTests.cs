// Parts of a run that need no bus: memory as bytes, the lock of a site, the event catalogue.
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Runtime;
using RoomSupervisor.Sequence;
using RoomSupervisor.Story;
using RoomSupervisor.Terms;

namespace RoomSupervisor.House.Tests.Live;

public sealed class PartsOfTheRunTests
{
    [Fact]
    public void Memory_goes_through_bytes_without_a_difference_and_damage_is_refused()
    {
        var house = OneRoom.Files(Root.Path).House;
        var memory = new Memory(house);
        var image = house.NewOutputImage();
        var samples = Enumerable.Repeat(new Sample(20, 0, Fault.None), house.InputTable.Count).ToArray();
        for (var second = 0; second < 50; second++)
        {
            for (var i = 0; i < samples.Length; i++)
                samples[i] = samples[i] with { TakenAtS = second };
            Supervisor.Step(new ScanTime(second, 1, DateTime.UnixEpoch, DateTime.UnixEpoch), house, samples, memory, image);
        }
        var bytes = MemoryFile.Save(memory, house);
        Assert.True(MemoryFile.TryLoad(bytes, house, out var loaded, out _));
        Assert.Equal(bytes, MemoryFile.Save(loaded, house));
        bytes[100] ^= 1;
        Assert.False(MemoryFile.TryLoad(bytes, house, out _, out var why));
        Assert.Contains("checksum", why, StringComparison.Ordinal);
        Assert.False(MemoryFile.TryLoad([], house, out _, out _));
    }

    [Fact]
    public void One_site_has_one_controller()
    {
        var folder = Directory.CreateTempSubdirectory("lock-");
        Assert.True(InstanceLock.TryTake(folder.FullName, out var first, out _));
        Assert.False(InstanceLock.TryTake(folder.FullName, out _, out var why));
        Assert.Contains("two controllers", why, StringComparison.Ordinal);
        first!.Dispose();
        Assert.True(InstanceLock.TryTake(folder.FullName, out var second, out _));
        second!.Dispose();
        folder.Delete(true);
    }

    [Fact]
    public void Every_event_has_a_number_of_its_own_words_and_something_to_check()
    {
        Assert.True(EventCatalogue.All.Count >= 15);
        Assert.All(EventCatalogue.All.Values, definition =>
        {
            Assert.NotEqual("", definition.Text);
            Assert.NotEqual("", definition.Meaning);
            Assert.NotEqual("", definition.Check);
            Assert.Matches("^[a-z]+(-[a-z]+)*$", definition.Name);
        });
        Assert.Equal(EventCatalogue.All.Count, EventCatalogue.All.Values.Select(definition => definition.Name).Distinct().Count());
    }
}

// What the service manager hears. Words and variables from systemd's manual: sd_notify(3), sd_watchdog_enabled(3).
using RoomSupervisor.Runtime.Board;

namespace RoomSupervisor.House.Tests.Board;

public class ServiceNotesTests
{
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Each_word_is_a_datagram_of_its_own(bool isAbstract)
    {
        using var manager = new Manager(isAbstract);
        using var notes = manager.Notes();
        Assert.True(notes.Ready("Ferry House: controls"));
        Assert.True(notes.Feed());
        Assert.True(notes.Status("two\nlines"));
        Assert.True(notes.Stopping());
        Assert.Equal(["READY=1\nSTATUS=Ferry House: controls", "WATCHDOG=1", "STATUS=two lines", "STOPPING=1"], manager.All());
    }

    [Theory]
    [InlineData("20000000", null, 20)]
    [InlineData("20000000", "7", 20)]
    [InlineData("20000000", "8", double.PositiveInfinity)]   // meant for another process
    [InlineData(null, null, double.PositiveInfinity)]
    [InlineData("0", null, double.PositiveInfinity)]
    [InlineData("twenty", null, double.PositiveInfinity)]
    [InlineData("-5", null, double.PositiveInfinity)]
    public void The_managers_patience_is_read(string? us, string? pid, double expectedS)
    {
        using var notes = ServiceNotes.Of(key => key switch { "NOTIFY_SOCKET" => "/run/none", "WATCHDOG_USEC" => us, "WATCHDOG_PID" => pid, _ => null }, 7);
        Assert.Equal(expectedS, notes!.WatchdogS);
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("/")]
    [InlineData("vsock:2:1234")]
    public void Without_a_socket_nobody_is_told(string? name) => Assert.Null(ServiceNotes.Of(key => key == "NOTIFY_SOCKET" ? name : null, 1));

    [Fact]
    public void A_manager_that_is_not_there_or_does_not_read_costs_nothing()
    {
        using var nobody = ServiceNotes.Of(key => key == "NOTIFY_SOCKET" ? "/nowhere/notify" : null, 1)!;
        Assert.False(nobody.Feed());
        using var tooLong = ServiceNotes.Of(key => key == "NOTIFY_SOCKET" ? "/" + new string('x', 300) : null, 1);
        Assert.Null(tooLong);
        using var deaf = new Manager(isDeaf: true);
        using var notes = deaf.Notes();
        for (var i = 0; i < 10_000; i++)
            notes.Feed();   // its queue is full long before: a datagram is lost, nobody waits
        Assert.False(notes.Feed());
    }
}

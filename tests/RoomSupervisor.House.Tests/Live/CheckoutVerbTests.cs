// checkout and replace as a person types them, against the real program and a Modbus device that is not ours, through the service's control socket; and what they refuse.
using RoomSupervisor.Story;

namespace RoomSupervisor.House.Tests.Live;

public sealed partial class ControlVerbTests
{
    [ModbusFact]
    public async Task Checkout_goes_through_the_service_keeps_its_book_and_goes_on_where_it_was()
    {
        using var room = Room(24, 50);
        using var service = new ControllerProcess(folder.FullName, Program);
        await Until(() => room.Writes.Count >= 7);
        await Until(() => Type("points").Out.Contains(", scan ", StringComparison.Ordinal));

        // A file of answers that ends in the middle: what was done is kept, the rest is for another time.
        await File.WriteAllLinesAsync(At("answers.txt"), ["yes", "yes"]);
        var first = Said(1, Type("checkout", "--only", "power", "--only", "device", "--who", "A. Smith", "--answers", At("answers.txt")));
        Assert.Contains("the answers end here. Nothing is lost: the same command goes on here.", first, StringComparison.Ordinal);
        Assert.Contains("0 passed, 0 failed, 0 left out, 0 told, 2 to do", first, StringComparison.Ordinal);
        await File.WriteAllLinesAsync(At("answers.txt"), ["power/* = yes"]);
        var second = Said(0, Type("checkout", "--only", "power", "--only", "device", "--who", "A. Smith", "--answers", At("answers.txt")));
        Assert.Contains("pass: 5 input(s) read, 7 output(s) written", second, StringComparison.Ordinal);
        Assert.Contains("2 passed, 0 failed, 0 left out, 0 told, 0 to do", second, StringComparison.Ordinal);
        Assert.Equal(2, File.ReadLines(At("checkout", "book.jsonl")).Count());
        Assert.Matches("pass +device/io-1", Said(0, Type("checkout", "--list", "--only", "device")));
        Assert.Contains("there is no room attic; there is: weaving-room", Said(2, Type("checkout", "--list", "--room", "attic")), StringComparison.Ordinal);
        Assert.Contains("--built belongs to --virtual", Said(2, Type("checkout", "--built", "backwards ceiling-loop")), StringComparison.Ordinal);

        // A replaced sensor, told to the service that has the room's data.
        Assert.Contains("did you mean weaving-room.air", Said(2, Type("replace", "weaving-room.ai.temperature")), StringComparison.Ordinal);
        Assert.Contains("forgotten: what was measured of weaving-room", Said(0, Type("replace", "weaving-room.air")), StringComparison.Ordinal);
        Assert.Contains("lag: 0 s was the old sensor's", await File.ReadAllTextAsync(At("site.yaml")), StringComparison.Ordinal);
        Assert.Contains("report: ", Said(1, Type("handover", "--html", At("report.html"))), StringComparison.Ordinal);
        Assert.Equal(0, service.Stop());
        Assert.Contains("has what was measured of weaving-room forgotten: weaving-room.air was replaced", await File.ReadAllTextAsync(At("log", "room-supervisor.log")), StringComparison.Ordinal);
    }
}

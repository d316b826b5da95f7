// The heat-up programme of a screed on a run: what is asked for is checked, taken by the loop, kept on disk, taken up again by the next run, and ended by order; with its events.
using System.Text.Json;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.Screed;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Terms;

namespace RoomSupervisor.House.Tests.Control;

public sealed class ScreedRequestTests : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("screed-");
    private readonly List<string> said = [];

    public void Dispose() => folder.Delete(true);

    private StateFolder State => new(folder.FullName);

    private ControlRig Rig(out ScreedKeeper keeper)
    {
        var rig = new ControlRig("floor-only");
        keeper = rig.Loop.Screed = new ScreedKeeper(rig.Files.House, State, said.Add);
        said.AddRange(keeper.TakeUp(rig.Clock.Utc));
        keeper.Start();
        rig.ReadAll();
        rig.Scans.Scan();
        return rig;
    }

    private JsonElement Ask(ControlRig rig, ScreedKeeper? keeper, string members)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream))
        {
            json.WriteStartObject();
            using var asked = JsonDocument.Parse("{" + members + "}");
            new ScreedRequest(rig.Parts, () => keeper, new ControlSay((_, line) => said.Add(line), TimeProvider.System)).Answer(asked.RootElement, new PeerUser("ann", 1000, 1), json);
            json.WriteEndObject();
        }
        return JsonDocument.Parse(stream.ToArray()).RootElement;
    }

    private static string Begin(ControlRig rig, string steps = "1d 25 °C, 1d 40 °C", int age = 30)
        => $"\"action\":\"begin\",\"loop\":\"floor-loop\",\"steps\":\"{steps}\",\"screed\":\"cement\",\"laid\":\"{rig.Clock.Utc.AddDays(-age):yyyy-MM-dd}\",\"sheet\":\"sheet 7\"";

    private static int Events(ControlRig rig, EventDefinition what)
    {
        var count = 0;
        while (rig.Loop.Ring.TryTake(out var entry))
            count += entry.Happening.EventId == what.Id ? 1 : 0;
        return count;
    }

    [Fact]
    public void Begun_it_holds_the_loop_and_is_kept_taken_up_again_and_ended_by_order()
    {
        using (var rig = Rig(out var keeper))
        {
            Assert.Equal(JsonValueKind.Null, Ask(rig, keeper, "\"loop\":\"floor-loop\"").GetProperty("programme").ValueKind);
            Ask(rig, keeper, Begin(rig));
            rig.Scans.Scan();
            Assert.True(rig.Loop.Memory.Loops[0].IsHeld);
            Assert.Equal(25, rig.Loop.Memory.Loops[0].HeldC);
            Assert.Equal(1, Events(rig, RuntimeEvents.ScreedBegun));
            Assert.Contains(said, line => line.Contains("ann", StringComparison.Ordinal) && line.Contains("begins heating up floor-loop: 1 d 25", StringComparison.Ordinal));
            Assert.Contains("already", Assert.Throws<ControlException>(() => Ask(rig, keeper, Begin(rig))).Message, StringComparison.Ordinal);
            keeper.KeepAtStop();
        }
        using (var rig = Rig(out var keeper))
        {
            Assert.Contains(said, line => line.Contains("day 1 of 2", StringComparison.Ordinal));
            Assert.True(rig.Loop.Memory.Loops[0].IsHeld);
            Ask(rig, keeper, "\"action\":\"end\",\"loop\":\"floor-loop\"");
            rig.Scans.Scan();
            Assert.False(rig.Loop.Memory.Loops[0].IsHeld);
            Assert.Equal(1, Events(rig, RuntimeEvents.ScreedEnded));
            Assert.Equal("ended-by-order", Ask(rig, keeper, "\"loop\":\"floor-loop\"").GetProperty("programme").GetProperty("state").GetString());
            keeper.KeepAtStop();
        }
        using (var rig = Rig(out var keeper))
        {
            Assert.False(rig.Loop.Memory.Loops[0].IsHeld);   // what was ended stays ended
            keeper.Dispose();
        }
    }

    [Theory]
    [InlineData("\"action\":\"begin\",\"loop\":\"attic\"", "there is no loop attic")]
    [InlineData("\"action\":\"stir\",\"loop\":\"floor-loop\"", "allowed: begin, end, show")]
    [InlineData("\"action\":\"end\",\"loop\":\"floor-loop\"", "no heat-up programme runs")]
    [InlineData("\"action\":\"begin\",\"loop\":\"floor-loop\",\"screed\":\"mud\",\"laid\":\"2026-01-01\"", "cement, anhydrite")]
    [InlineData("\"action\":\"begin\",\"loop\":\"floor-loop\",\"screed\":\"cement\",\"laid\":\"soon\"", "when was it laid")]
    public void What_is_wrong_is_refused_with_what_is_allowed(string asked, string because)
    {
        using var rig = Rig(out var keeper);
        Assert.Contains(because, Assert.Throws<ControlException>(() => Ask(rig, keeper, asked)).Message, StringComparison.Ordinal);
        Assert.Contains("days old", Assert.Throws<ControlException>(() => Ask(rig, keeper, Begin(rig, age: 5))).Message, StringComparison.Ordinal);
        Assert.Contains("heating_warmest", Assert.Throws<ControlException>(() => Ask(rig, keeper, Begin(rig, "1d 50 °C"))).Message, StringComparison.Ordinal);
        Assert.Contains("keeps no heat-up programme", Assert.Throws<ControlException>(() => Ask(rig, null, Begin(rig))).Message, StringComparison.Ordinal);
        rig.Scans.Scan();
        Assert.False(rig.Loop.Memory.Loops[0].IsHeld);
        keeper.Dispose();
    }

    [Fact]
    public void What_the_water_request_says_comes_back_whole()
    {
        using var rig = Rig(out var keeper);
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream))
        {
            json.WriteStartObject();
            new WaterRequest(rig.Parts).Answer(default, default, json);
            json.WriteEndObject();
        }
        var facts = PlantFacts.Read(JsonDocument.Parse(stream.ToArray()).RootElement);
        var loop = facts.Loop("floor-loop")!;
        Assert.True(loop.Heats);
        Assert.Equal(20, loop.SupplyC);
        Assert.Equal(2, loop.Circuits.Count);
        Assert.Equal(2, facts.Rooms.Count);
        keeper.Dispose();
    }
}

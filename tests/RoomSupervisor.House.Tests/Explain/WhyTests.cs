// why: each kind of verdict brought about by readings and settings, with the numbers that a person would look for, and the same out of the trends afterwards.
using RoomSupervisor.Records;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.Explain;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;
using Xunit.Abstractions;

namespace RoomSupervisor.House.Tests.Explain;

public sealed class WhyTests(ITestOutputHelper output)
{
    private const string Room = "weaving-room";

    [Fact]
    public void Every_cause_has_a_kind()
    {
        foreach (var cause in Enum.GetValues<Cause>())
            Assert.NotEmpty(Verdicts.Name(Verdicts.Of(cause)));
    }

    [Fact]
    public void The_households_limit_binds_and_its_price_is_told()
    {
        using var rig = Warm(28);
        rig.House = Edit(rig.House, "fan_at_most", "35 %");
        var answer = Say(rig.Run(20).Why(Room));
        Assert.Equal(VerdictKind.Setting, answer.Kind);
        Assert.Matches(@"air 28 °C, wanted 24 °C, 4 K too warm; weaving-room\.coil\.fan 35 %: household's limit 35 %", answer.Verdict);
        var fan = answer.Lines.Single(line => line.Place == "weaving-room.coil.fan");
        Assert.Matches(@"^35 % \(\d\.\d V\): household's limit 35 %; .* allow", fan.Text);
        Assert.Matches(@"^since 14:\d\d, [\d.]+ min", fan.Since);
        Assert.Matches(@"^at \d+ % a room 4 K too warm recovers in about \d+ min instead of \d+, about \d+ dB louder", fan.Price);
        // From the room to the source, nothing between left out.
        Assert.Contains(answer.Lines, line => line.Place == "coil-loop" && line.Text.Contains("supply 8 °C, set point", StringComparison.Ordinal));
        Assert.Contains(answer.Lines, line => line.Place == "source" && line.Text.StartsWith("called (cooling)", StringComparison.Ordinal));
    }

    [Fact]
    public void A_coil_that_gives_all_it_can_is_capacity()
    {
        using var rig = Warm(28);
        rig.House = Edit(rig.House, "fan_at_most", "100 %");
        var answer = Say(rig.Run(30).Why(Room));
        Assert.True(answer.Kind is VerdictKind.Capacity || answer.Verdict.Contains("draught limit", StringComparison.Ordinal), answer.Verdict);
    }

    [Fact]
    public void Warm_water_explains_a_warm_room_before_any_setting()
    {
        using var rig = Warm(28).Read("coil-loop.supply.temperature", 19);
        rig.House = Edit(rig.House, "fan_at_most", "35 %");
        var answer = Say(rig.Run(20).Why(Room));
        Assert.Equal(VerdictKind.Water, answer.Kind);
        Assert.Contains("coil-loop has water of 19 °C, wanted ", answer.Verdict, StringComparison.Ordinal);
    }

    [Fact]
    public void An_open_door_is_named_with_its_time()
    {
        using var rig = Warm(26).Run(10).Read("weaving-room.opening.open", 1);
        var answer = Say(rig.Run(15).Why(Room));
        Assert.Equal(VerdictKind.Opening, answer.Kind);
        Assert.Matches(@"a door or window is open since 14:\d\d", answer.Verdict);
    }

    [Fact]
    public void A_missing_air_temperature_is_a_sensor()
    {
        using var rig = Warm(26).Run(10).Read("weaving-room.air.temperature", double.NaN);
        var answer = Say(rig.Run(60).Why(Room));
        Assert.Equal(VerdictKind.Sensor, answer.Kind);
        Assert.Contains("bus error", answer.Verdict, StringComparison.Ordinal);
        Assert.Contains(answer.Lines, line => line.Place == "weaving-room.air.temperature" && line.Since.StartsWith("since 14:", StringComparison.Ordinal));
    }

    [Fact]
    public void A_hand_on_the_fan_is_a_setting()
    {
        using var rig = Warm(26).Run(10);
        HandValues.Set(rig.Memory, rig.House.OutputTable.All.ToList().FindIndex(point => point.Id == "weaving-room.coil.fan"), 50, 3600);
        var answer = Say(rig.Run(2).Why(Room));
        Assert.Equal(VerdictKind.Setting, answer.Kind);
        Assert.Contains("set by hand: weaving-room.coil.fan 50 %: set by hand, ends in", answer.Verdict, StringComparison.Ordinal);
    }

    [Fact]
    public void A_room_that_is_where_it_is_wanted_is_content_and_told_what_its_surface_could_not_do()
    {
        using var rig = Warm(23.5);
        Assert.Equal(VerdictKind.Content, Say(rig.Run(20).Why(Room)).Kind);
        // 23.5 °C and 80 %: dew point 19.9 °C (Magnus, WMO-No. 8), over the ceiling's water.
        var wet = Say(rig.Read("weaving-room.air.humidity", 80).Run(20).Why(Room));
        Assert.Equal(VerdictKind.Content, wet.Kind);
        Assert.Contains("asked, its surface could not help: the guard holds it shut, dew point 20.5 °C (worst case)", wet.Verdict, StringComparison.Ordinal);
        Assert.Contains(wet.Lines, line => line.Place == "weaving-room.ceiling" && line.Text.StartsWith("guard shut, lowest safe water", StringComparison.Ordinal));
    }

    [Fact]
    public void Loop_and_source_are_explained_and_a_wrong_name_is_answered_with_the_right_one()
    {
        using var rig = Warm(28).Run(20);
        Assert.Contains("supply", Say(rig.Why("coil-loop")).Lines[0].Text, StringComparison.Ordinal);
        Assert.StartsWith("called", Say(rig.Why("source")).Verdict, StringComparison.Ordinal);
        Assert.Contains("did you mean weaving-room?", Assert.Throws<ControlException>(() => rig.Why("weavin-room")).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_trends_say_afterwards_what_the_controller_said_then()
    {
        using var rig = Warm(28);
        rig.House = Edit(rig.House, "fan_at_most", "35 %");
        var then = rig.Run(40).Why(Room);
        var at = rig.Utc;
        rig.Read("weaving-room.opening.open", 1).Run(40).Spill();
        var left = new LeftOnDisk(rig.Files, new StateFolder(Path.Combine(rig.Folder, "state")), rig.Folder, rig.Utc.AddHours(1));
        using var reader = TrendReader.Open(left.Trends, out var why)!;
        Assert.True(reader is not null, why);

        var after = Say(Why.Of(left.At(reader, at, out _)!, Room).Single());
        Assert.Equal(then.Kind, after.Kind);
        Assert.Contains("35 %: household's limit 35 %", after.Verdict, StringComparison.Ordinal);
        // What would have bound next, and so what a higher limit would have gained, is what was said then.
        var (fanThen, fanAfter) = (then.Lines.Single(line => line.Place == "weaving-room.coil.fan"), after.Lines.Single(line => line.Place == "weaving-room.coil.fan"));
        Assert.Contains("; ", fanThen.Text, StringComparison.Ordinal);
        Assert.Equal(fanThen.Text, fanAfter.Text);
        Assert.NotEmpty(fanThen.Price);
        Assert.Equal(fanThen.Price, fanAfter.Price);
        Assert.Matches(@"since 14:\d\d", after.Lines.Single(line => line.Place == "weaving-room.coil.fan").Since);
        Assert.Equal(VerdictKind.Opening, Why.Of(left.At(reader, null, out _)!, Room).Single().Kind);
        // Before the first sample nothing is known, and nothing is made up.
        Assert.Null(left.At(reader, at.AddDays(-1), out why));
        Assert.Contains("nothing was recorded", why, StringComparison.Ordinal);

        var status = left.Status();
        Assert.False(status.IsLive);
        Assert.Matches(@"^no controller answers; trends, newest sample \d.* ago; no memory was kept$", status.From);
    }

    private static WhyRig Warm(double airC) => new WhyRig("one-room")
        .Read("weaving-room.air.temperature", airC).Read("coil-loop.supply.temperature", 8).Read("ceiling-loop.supply.temperature", 18);

    private static Sequence.House Edit(Sequence.House house, string key, string value)
    {
        Assert.True(HouseholdEdits.TryApply(house, $"{Room}.{key}", value, out var changed, out var why), why);
        return changed;
    }

    private WhyAnswer Say(WhyAnswer answer)
    {
        output.WriteLine($"{answer.Place}: {Verdicts.Name(answer.Kind)}: {answer.Verdict}");
        foreach (var line in answer.Lines)
            output.WriteLine($"  {line.Place}: {line.Text} [{line.Since}] {line.Price}");
        return answer;
    }
}

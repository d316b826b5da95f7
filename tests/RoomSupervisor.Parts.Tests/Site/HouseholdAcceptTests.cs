// household.yaml taken group by group: what is broken stays, what is deleted returns to its default, what contradicts stays as it was.
// site-file.md of the design is the contract; each case reads like a save that went wrong.
using System.Text;
using RoomSupervisor.Hardware;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;
using static RoomSupervisor.Parts.Tests.Site.SiteTexts;

namespace RoomSupervisor.Parts.Tests.Site;

public class HouseholdAcceptTests
{
    private const string Before = """
        rooms:
          weaving-room:
            cool_above: 25 °C
            heat_below: 21 °C
            fan_at_most: 40 %
            noise_at_most: 40 dB
            quiet:
              from: 21:00
              to: 06:00
              fan_at_most: 25 %
            noise_allowance:
              until: 22:00
            week:
              evening:
                days: mon-fri
                from: 18:00
                to: 22:30
                cool_above: 23 °C
            once:
              until: 2026-12-24 22:00
              cool_above: 24 °C
        absence:
          from: 2027-02-06
          to: 2027-02-20
        """;

    private static readonly DateTime Now = new(2026, 11, 25, 12, 0, 0, DateTimeKind.Utc);

    private static SiteResult Accept(string? household, HouseholdInForce? before)
        => SiteReader.Accept(Encoding.UTF8.GetBytes(SiteText), household is null ? null : Encoding.UTF8.GetBytes(household), before, Drivers.All, Now);

    private static HouseholdInForce InForce(string household = Before)
    {
        var result = Accept(household, null);
        Assert.Equal(HouseholdState.Fine, result.Household!.State);
        return HouseholdInForce.Of(result.Files!.House);
    }

    /// <summary>What holds after a save, as differences from what held before.</summary>
    private static (string Changes, HouseholdOutcome Outcome, SiteResult Result) Save(string? household, string before = Before)
    {
        var was = InForce(before);
        var result = Accept(household, was);
        Assert.NotNull(result.Files);
        return (string.Join(" | ", HouseholdList.Changes(was, HouseholdInForce.Of(result.Files.House), UnitSystem.Metric)), result.Household!, result);
    }

    [Theory]
    [InlineData("    fan_at_most: 40 %", "    fan_at_most: 400 %", "weaving-room.Fan")]
    [InlineData("    fan_at_most: 40 %", "    fan_at_most:", "weaving-room.Fan")]
    [InlineData("    cool_above: 25 °C", "    cool_above: 75", "weaving-room.Wanted")]
    [InlineData("    heat_below: 21 °C", "    heat_below: 21 K", "weaving-room.Wanted")]
    [InlineData("      from: 21:00", "      from: 9 pm", "weaving-room.Quiet")]
    [InlineData("      to: 06:00\n", "", "weaving-room.Quiet")]
    [InlineData("      to: 06:00", "      too: 06:00", "weaving-room.Quiet")]
    [InlineData("        days: mon-fri", "        days: mon-fry", "weaving-room.Week")]
    [InlineData("        to: 22:30", "        to: 18:00", "weaving-room.Week")]
    [InlineData("      until: 22:00", "      until: 12:00", "weaving-room.NoiseAllowance")]
    [InlineData("      until: 2026-12-24 22:00", "      until: 24/12/2026 22:00", "weaving-room.Once")]
    [InlineData("  to: 2027-02-20", "  to: 2027-02-05", ".Absence")]
    [InlineData("  from: 2027-02-06", "  from: 2027-02-30", ".Absence")]
    public void A_broken_group_keeps_its_last_good_value_and_nothing_else_changes(string old, string broken, string kept)
    {
        var (changes, outcome, result) = Save(With(Before, (old, broken)));
        Assert.Equal("", changes);
        Assert.Equal(HouseholdState.BrokenGroup, outcome.State);
        Assert.Equal([kept], outcome.Kept.Select(group => $"{group.Room}.{group.Group}"));
        Assert.Contains(result.Problems, problem => problem.Severity == Severity.Error && problem.Mark.File == SiteReader.HouseholdFile && problem.Mark.Line > 1);
    }

    /// <summary>The others in the same save are taken.</summary>
    [Fact]
    public void Beside_a_broken_group_the_others_take_effect()
    {
        var (changes, outcome, _) = Save(With(Before, ("from: 21:00", "from: nine"), ("fan_at_most: 40 %", "fan_at_most: 30 %"), ("heat_below: 21 °C", "heat_below: 20 °C")));
        Assert.Equal("weaving-room.heat_below: 21 °C → 20 °C | weaving-room.fan_at_most: 40 % → 30 %", changes);
        Assert.Equal(HouseholdGroup.Quiet, Assert.Single(outcome.Kept).Group);
    }

    [Theory]
    [InlineData("    fan_at_most: 40 %\n", "weaving-room.fan_at_most: 40 % → 100 %")]
    [InlineData("    heat_below: 21 °C\n", "weaving-room.heat_below: 21 °C → none")]
    [InlineData("    noise_at_most: 40 dB\n", "weaving-room.noise_at_most: 40 dB → none")]
    [InlineData("    once:\n      until: 2026-12-24 22:00\n      cool_above: 24 °C\n", "weaving-room.once.until: 2026-12-24 22:00 → none | weaving-room.once.cool_above: 24 °C → none")]
    [InlineData("    noise_allowance:\n      until: 22:00\n", "weaving-room.noise_allowance.until: 22:00 → none")]
    public void A_deleted_group_returns_to_its_default(string deleted, string changed)
    {
        var (changes, outcome, _) = Save(With(Before, (deleted, "")));
        Assert.Equal(changed, changes);
        Assert.Equal(HouseholdState.Fine, outcome.State);
    }

    /// <summary>A slip in a name makes a key vanish; that must not make a room cold, wet or loud.</summary>
    [Theory]
    [InlineData("    heat_below: 21 °C", "    heat_belwo: 21 °C")]
    [InlineData("    fan_at_most: 40 %", "    fan at most: 40 %")]
    [InlineData("  weaving-room:", "  weaving-rom:")]
    [InlineData("absence:", "absense:")]
    [InlineData("    quiet:", "    quite:")]
    [InlineData("rooms:", "room:")]
    public void A_slip_in_a_name_is_no_deletion(string old, string slip)
    {
        var (changes, outcome, _) = Save(With(Before, (old, slip)));
        Assert.Equal("", changes);
        Assert.Equal(HouseholdState.BrokenGroup, outcome.State);
    }

    [Theory]
    [InlineData("", HouseholdState.Empty)]
    [InlineData("  \n# nothing here\n", HouseholdState.Empty)]
    [InlineData("rooms:\n\tweaving-room:\n", HouseholdState.NoStructure)]
    [InlineData("rooms: {weaving-room: {cool_above: 24", HouseholdState.NoStructure)]
    [InlineData("just some words", HouseholdState.NoStructure)]
    [InlineData("- a list\n", HouseholdState.NoStructure)]
    [InlineData(null, HouseholdState.Missing)]
    public void Without_structure_the_whole_last_good_file_holds(string? text, HouseholdState state)
    {
        var (changes, outcome, _) = Save(text);
        Assert.Equal(("", state), (changes, outcome.State));
    }

    [Fact]
    public void With_no_last_good_one_the_defaults_hold()
    {
        foreach (var text in new[] { null, "", "rooms: {", "rooms:\n  weaving-room:\n    cool_above: cold\n" })
        {
            var room = Accept(text, null).Files!.House.Rooms[0].Household;
            Assert.Equal((24.0, 20.5, 100.0), (room.CoolAboveC, room.HeatBelowC, room.FanAtMostPercent));
        }
    }

    /// <summary>Each sound alone; together a room would be heated and cooled by turns. Both stay as they were.</summary>
    [Theory]
    [InlineData("        cool_above: 23 °C", "        cool_above: 21,5 °C", "Wanted,Week")]
    [InlineData("      cool_above: 24 °C", "      cool_above: 20 °C", "Wanted,Once")]
    public void Two_groups_that_contradict_each_other_both_stay(string old, string changed, string kept)
    {
        var (changes, outcome, result) = Save(With(Before, (old, changed), ("fan_at_most: 40 %", "fan_at_most: 33 %")));
        Assert.Equal("weaving-room.fan_at_most: 40 % → 33 %", changes);
        Assert.Equal(kept, string.Join(",", outcome.Kept.Select(group => group.Group).Order()));
        Assert.Contains(result.Problems, problem => problem.Message.Contains("less than 1 K apart", StringComparison.Ordinal));
    }

    [Fact]
    public void A_group_that_contradicts_itself_stays()
    {
        var (changes, outcome, _) = Save(With(Before, ("    heat_below: 21 °C", "    heat_below: 24.5 °C")));
        Assert.Equal("", changes);
        Assert.Contains(outcome.Kept, group => group.Group == HouseholdGroup.Wanted);
    }

    [Fact]
    public void A_key_written_twice_breaks_its_own_group_wherever_it_stands()
    {
        var (changes, outcome, _) = Save(With(Before, ("      cool_above: 24 °C", "      cool_above: 24 °C\n    fan_at_most: 10 %"), ("    fan_at_most: 40 %", "    fan_at_most: 90 %")));
        Assert.Equal("", changes);
        Assert.Contains(outcome.Kept, group => group.Group == HouseholdGroup.Fan);
    }

    /// <summary>For check and lockstep the same is a mistake, with its line.</summary>
    [Fact]
    public void Read_strictly_a_missing_dead_band_is_a_mistake()
    {
        Told(Read(SiteText, "rooms:\n  weaving-room:\n    cool_above: 24\n    heat_below: 23.5\n"), 4, "error", "less than 1 K apart");
        Told(Read(SiteText, "rooms:\n  weaving-room:\n    cool_above: 24\n    heat_below: 21\n    week:\n      a:\n        from: 10:00\n        to: 11:00\n        cool_above: 21\n"), 6, "error", "week.a", "the room's own");
        Told(Read(SiteText, "rooms:\n  weaving-room:\n    cool_above: 24\nabsence:\n  from: 2027-01-01\n  to: 2027-01-02\n  heat_below: 27.5\n"), 7, "error", "1 K under");
        Assert.NotNull(Read(SiteText, "rooms:\n  weaving-room:\n    cool_above: 24\n    heat_below: 23\n").Files);
    }

    /// <summary>Traps of YAML and of typing in the new keys: each named where it stands.</summary>
    [Theory]
    [InlineData("    week:\n      a: {days: mon-fri, sat, from: 18:00, to: 20:00, cool_above: 23}\n", 4, "write days in quotes")]
    [InlineData("    week:\n      a: {days: \"mon-fri, sat\", from: 18:00, to: 20:00, cool_above: 24,5}\n", 4, "inside braces a comma separates keys")]
    [InlineData("    week:\n      A: {from: 18:00, to: 20:00, cool_above: 23}\n", 4, "lower-case")]
    [InlineData("    week: mon-fri\n", 3, "one value or nothing stands where a group is wanted")]
    [InlineData("    week:\n      a: {from: 18:00, to: 20:00}\n", 4, "wants nothing")]
    [InlineData("    week:\n      a: {to: 20:00, cool_above: 23}\n", 4, "is missing: the period begins")]
    [InlineData("    once: {until: 24.12.2026, cool_above: 23}\n", 3, "write 2026-12-24, with a time of day such as 22:00")]
    [InlineData("    once: {until: 2026-12-24 22:00}\n", 3, "wants nothing")]
    [InlineData("    noise_allowance: 22:30\n", 3, "one value or nothing stands where a group is wanted")]
    [InlineData("    start_early_at_most: 2\n", 3, "has no unit")]
    [InlineData("    cool_above: 24\nabsence: 2027-02-06\n", 4, "one value or nothing stands where a group is wanted")]
    [InlineData("    cool_above: 24\nabsence:\n  from: 2027-02-06\n", 5, "is missing: first day somebody is back")]
    [InlineData("    cool_above: 24\nabsence:\n  from: 2027-02-06\n  to: 2027-02-06\n", 6, "is not after from")]
    public void A_slip_in_a_schedule_is_named_where_it_stands(string text, int line, string says)
        => Told(Read(SiteText, "rooms:\n  weaving-room:\n" + text), line, "error", says);

    [Fact]
    public void Overlapping_periods_that_disagree_are_told_and_so_is_what_is_past()
    {
        var text = "rooms:\n  weaving-room:\n    week:\n      a:\n        from: 10:00\n        to: 12:00\n        cool_above: 23\n      b:\n        days: sun\n        from: 11:00\n        to: 13:00\n        cool_above: 25\n    once:\n      until: 2026-11-25 06:59\n      cool_above: 25\nabsence:\n  from: 2026-01-01\n  to: 2026-02-01\n";
        var result = SiteReader.Read(SiteText, text, Drivers.All, Now);   // 07:00 in New York
        Told(result, 8, "warning", "overlaps with a (sun 11:00)", "begins later wins");
        Told(result, 14, "warning", "is over since 2026-11-25 06:59");
        Told(result, 18, "warning", "is over since 2026-02-01");
        Assert.NotNull(result.Files);
        Assert.DoesNotContain(SiteReader.Read(SiteText, text.Replace("06:59", "07:01", StringComparison.Ordinal), Drivers.All, Now).Problems, problem => problem.Mark.Line == 14);
    }

    [Fact]
    public void A_start_ahead_of_a_week_that_is_not_there_is_told_and_nought_needs_no_unit()
    {
        Told(Read(SiteText, "rooms:\n  weaving-room:\n    start_early_at_most: 2 h\n"), 3, "warning", "there is no week");
        var week = "    week:\n      a:\n        from: 10:00\n        to: 12:00\n        cool_above: 23\n";
        Assert.DoesNotContain(Read(SiteText, "rooms:\n  weaving-room:\n    start_early_at_most: 2 h\n" + week).Problems, problem => problem.KeyPath.EndsWith("start_early_at_most", StringComparison.Ordinal));
        Assert.Equal(0, Read(SiteText, "rooms:\n  weaving-room:\n    start_early_at_most: 0\n" + week).Files!.House.Rooms[0].Household.StartEarlyAtMostS);
    }

    /// <summary>What holds, written and read again, is the same to the last bit: last good on disk.</summary>
    [Fact]
    public void What_holds_is_written_and_read_back_unchanged()
    {
        foreach (var text in new[] { Before, "rooms:\n  weaving-room:\n    control: off\n    cool_above: 73.123 °F\n", "rooms:\n  weaving-room:\n    control: on\n", With(Before, ("25 °C", "24.333 °C"), ("  to: 2027-02-20", "  to: 2027-02-20 17:30\n  back_before: 90 min")) })
        {
            var was = InForce(text);
            var written = HouseholdWriter.Write(was);
            var again = InForce(written);
            Assert.Equal(HouseholdList.Of(was, UnitSystem.Metric), HouseholdList.Of(again, UnitSystem.Metric));
            Assert.Equal(was.Room("weaving-room").CoolAboveC, again.Room("weaving-room").CoolAboveC);
            Assert.Equal(written, HouseholdWriter.Write(again));
        }
    }

    /// <summary>Seeded mutations of a full file: whatever is saved, every value stays within its limits, the dead band holds, and every mistake has a line.</summary>
    [Fact]
    public void Whatever_is_saved_no_setting_leaves_its_limits()
    {
        var saves = int.Parse(Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_SAVES") ?? "500", System.Globalization.CultureInfo.InvariantCulture);   // more in tools/long
        var random = new Random(19);
        const string Characters = ":{}[]&*!|>%@`'\"#-?,.0123456789 \n\tabF°\u00A0“";
        var was = InForce();
        for (var i = 0; i < saves; i++)
        {
            var text = new StringBuilder(Before);
            for (var edits = random.Next(1, 5); edits > 0; edits--)
            {
                var at = random.Next(text.Length);
                if (random.Next(3) == 0)
                    text.Remove(at, Math.Min(random.Next(1, 30), text.Length - at));
                else
                    text[at] = Characters[random.Next(Characters.Length)];
            }
            var result = Accept(text.ToString(), was);
            Assert.NotNull(result.Files);
            Assert.All(result.Problems, problem => Assert.InRange(problem.Mark.Line, 1, text.Length));
            var room = result.Files.House.Rooms[0].Household;
            Within(room, HouseholdRoom.Parameters);
            Within(room, HouseholdRoom.QuietParameters);
            foreach (var period in room.Week)
                Within(period, WeekPeriod.Parameters);
            for (var at = new DateTime(2026, 11, 23); at.Day < 28; at = at.AddHours(3))
            {
                var wanted = Schedule.Now(room, at);
                Assert.True(wanted.CoolAboveC - wanted.HeatBelowC >= 1, $"{text}\n{wanted}");
            }
        }
    }

    private static void Within<T>(T owner, IReadOnlyList<Parameter<T>> parameters)
    {
        foreach (var parameter in parameters.Where(parameter => parameter.GetNumber is not null && parameter.Quantity != Quantity.Switch))
        {
            var value = parameter.GetNumber!(owner);
            Assert.True(double.IsNaN(value) || (value >= parameter.Lowest && value <= parameter.Highest), $"{parameter.Key} = {value}");
        }
    }
}

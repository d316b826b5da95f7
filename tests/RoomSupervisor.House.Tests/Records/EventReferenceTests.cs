// The event catalogue against what is committed of it: the generated reference, and the list of numbers that are never given twice.
using System.Text.RegularExpressions;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Terms;

namespace RoomSupervisor.House.Tests.Records;

public sealed partial class EventReferenceTests
{
    private static readonly string[] Ledger = [.. File.ReadAllLines(Root.At(EventReference.LedgerPath)).Where(line => line.Length > 0 && line[0] != '#')];

    [Fact]
    public void The_committed_reference_is_what_the_declarations_say()
        => Assert.True(File.ReadAllText(Root.At(EventReference.Path)) == EventReference.Text(), $"{EventReference.Path} differs from the declarations: run tools/generate");

    [Fact]
    public void A_number_keeps_its_name_and_one_that_is_not_in_the_list_was_not_given_yet()
    {
        var living = Ledger.Where(line => !line.EndsWith(" retired", StringComparison.Ordinal));
        Assert.Equal(living, EventCatalogue.All.Values.OrderBy(definition => definition.Id).Select(definition => $"{definition.Id} {definition.Name}"));
    }

    [Fact]
    public void A_retired_number_or_name_is_not_given_again_and_the_list_names_each_once()
    {
        var retired = Ledger.Where(line => line.EndsWith(" retired", StringComparison.Ordinal)).Select(line => line.Split(' ')).ToList();
        Assert.NotEmpty(retired);
        Assert.DoesNotContain(retired, line => EventCatalogue.All.ContainsKey(int.Parse(line[0], null)) || EventCatalogue.All.Values.Any(definition => definition.Name == line[1]));
        Assert.Equal(Ledger.Length, Ledger.Select(line => line.Split(' ')[0]).Distinct().Count());
    }

    [Fact]
    public void What_clears_and_what_is_cleared_exist_and_only_what_asks_for_somebody_is_cleared()
    {
        foreach (var definition in EventCatalogue.All.Values)
        {
            foreach (var id in definition.Clears)
                Assert.True(EventCatalogue.All[id].Priority >= Priority.Warning, $"{definition.Name} clears {id}");
            Assert.True(definition.Clears.Count == 0 || definition.Priority == Priority.Note, $"{definition.Name} clears another and asks for somebody itself");
        }
    }

    /// <summary>IEC 62682: an alarm is what needs a timely action. So whoever reads it at home must be told to act, and when; and nobody else must be.</summary>
    [Fact]
    public void The_household_reads_one_plain_sentence_that_says_today_or_now_exactly_where_somebody_must_act()
    {
        foreach (var definition in EventCatalogue.All.Values)
        {
            var said = definition.Household;
            Assert.Matches(@"^[A-Z][^.!?]{15,150}\.$", said);
            Assert.DoesNotMatch(Jargon(), said);
            Assert.True(Today().IsMatch(said) == (definition.Priority == Priority.Alarm), $"{definition.Name}, {definition.Priority}: {said}");
            Assert.True(Now().IsMatch(said) == (definition.Priority == Priority.Urgent), $"{definition.Name}, {definition.Priority}: {said}");
        }
    }

    [Theory]
    [InlineData("The coil's supply loop is shut.")]
    [InlineData("The dew point rises.")]
    public void The_rule_against_jargon_can_fail(string said) => Assert.Matches(Jargon(), said);

    [GeneratedRegex(@"\b(coil|loop|supply|return water|dew point|set point|guard|bus|actuator|register|relay|condensation|manifold|lockstep|hysteresis|stage|driver|yaml|event|scan|reading)s?\b", RegexOptions.IgnoreCase)]
    private static partial Regex Jargon();

    [GeneratedRegex(@"\btoday\b")]
    private static partial Regex Today();

    [GeneratedRegex(@"\b(now[.,]|(to it|service|help) now\b)")]
    private static partial Regex Now();
}

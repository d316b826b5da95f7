// shared/reference/events.md: every event there is, written from the declarations. tools/generate writes it, a test compares. Decides nothing.
using System.Text;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Recording;

/// <summary>The reference of events.</summary>
public static class EventReference
{
    /// <summary>Path from the repository's root.</summary>
    public const string Path = "shared/reference/events.md";

    /// <summary>Every id ever given, with its name: a line each, <c>101 stage-changed</c>; one that is no longer used ends with <c>retired</c>. Kept by people: an id is never taken out.</summary>
    public const string LedgerPath = "shared/reference/event-ids.txt";

    /// <summary>The file.</summary>
    public static string Text()
    {
        var text = new StringBuilder();
        text.Append("""
            <!-- Written by tools/generate from the declarations in the sources; do not edit. -->
            # Events

            An event is told in the log with its priority, and asks for a response: **note**: read it later; **warning**: see to it on the next visit; **alarm**: somebody must see to it
            today; **urgent**: now. Only what needs somebody's timely action is an alarm (the sense of IEC 62682); a healthy house has none on most days.

            Warnings and more *stand* until the event that clears them comes, or for a day after their last coming where nothing clears them. An alarm that has gone stays in the list until
            somebody has acknowledged it. Three comings within a minute are *chattering*: then it is counted and no longer told until it has been quiet for a minute, and that is told. A note or a warning that comes five times within an hour
            *keeps coming*: it is told with its number once an hour until it has been quiet for half an hour. Anything
            but an urgent event can be *shelved* for at most a week, by somebody with a name.

            Numbers are stable and never given twice (`event-ids.txt` beside this file keeps those that are retired). In texts, A, B and C stand for figures, "cause" for the reason.


            """.ReplaceLineEndings("\n"));
        foreach (var definition in EventCatalogue.All.Values.OrderBy(definition => definition.Id))
            One(text, definition);
        return text.ToString();
    }

    private static void One(StringBuilder text, EventDefinition definition)
    {
        text.Append($"## {definition.Id} {definition.Name}\n\n");
        text.Append($"- **{Names.Of(definition.Priority)}** ({Response(definition.Priority)}){Ends(definition)}\n");
        text.Append($"- text: `{Figures(definition)}`\n");
        text.Append($"- means: {definition.Meaning.TrimEnd('.')}\n");
        text.Append($"- check: {definition.Check.TrimEnd('.')}\n");
        text.Append($"- for the people in the house: {definition.Household}\n\n");
    }

    private static string Response(Priority priority) => priority switch
    {
        Priority.Note => "read it later",
        Priority.Warning => "next visit",
        Priority.Alarm => "today",
        _ => "now",
    };

    private static string Ends(EventDefinition definition)
    {
        if (definition.Priority < Priority.Warning)
            return definition.Clears.Count == 0 ? "" : $", clears {string.Join(", ", definition.Clears)}";
        var by = EventCatalogue.All.Values.Where(other => other.Clears.Contains(definition.Id)).Select(other => other.Id).Order().ToList();
        return definition.EndsWithRun ? ", stands until the controller is started again"
            : by.Count > 0 ? $", cleared by {string.Join(", ", by)}"
            : ", stands for a day after its last coming";
    }

    /// <summary>The text with the units of its figures.</summary>
    private static string Figures(EventDefinition definition) => definition.Text
        .Replace("{A}", Figure("A", definition.A), StringComparison.Ordinal)
        .Replace("{B}", Figure("B", definition.B), StringComparison.Ordinal)
        .Replace("{C}", Figure("C", definition.C), StringComparison.Ordinal);

    private static string Figure(string letter, Quantity quantity) => Quantities.BaseUnit(quantity) is { Length: > 0 } unit ? $"{{{letter} {unit}}}" : $"{{{letter}}}";
}

// Turns log entries into the one line a tech reads. Pure text; knows neither files nor threads.
using System.Globalization;
using RoomSupervisor.Terms;
using Serilog.Events;

namespace RoomSupervisor.Records;

/// <summary>What the log needs to know of the house to name things.</summary>
/// <param name="NameOf">Name of an owner by kind and index.</param>
/// <param name="Events">Every event there is, by id.</param>
/// <param name="StageChangedId">Id of the event that gets the long line.</param>
/// <param name="Units">Units people read.</param>
public sealed record LogVocabulary(Func<Owner, int, string> NameOf, IReadOnlyDictionary<int, EventDefinition> Events, int StageChangedId, UnitSystem Units)
{
    /// <summary>What the driver says of it in its own words ("connection refused: nothing listens there"), or "": better than the general cause.</summary>
    public Func<Happening, string> InDriversWords { get; init; } = _ => "";
}

/// <summary>Lines of the log.</summary>
public static class LogWords
{
    /// <summary>The line of an entry, without its time stamps.</summary>
    /// <param name="entry">What happened.</param>
    /// <param name="words">Names and events.</param>
    /// <param name="isExplained">True when the meaning of such an event was told a moment ago: one dead device must not fill the screen with one advice.</param>
    public static string Line(in LogEntry entry, LogVocabulary words, bool isExplained = false)
        => Line(entry, words.NameOf(entry.Happening.Owner, entry.Happening.Index), Sentence(entry, words), words, isExplained);

    /// <summary>The same for who has its place and sentence already.</summary>
    internal static string Line(in LogEntry entry, string where, string text, LogVocabulary words, bool isExplained)
    {
        var definition = words.Events[entry.Happening.EventId];
        if (definition.Id == words.StageChangedId)
            return $"{where}: {text} | {State(entry, words.Units)}";
        if (definition.Priority < Priority.Warning)
            return $"{where}: {text}";
        return isExplained ? $"{where}: {text} | check: as said before" : $"{where}: {text} | means: {definition.Meaning} | check: {definition.Check}";
    }

    /// <summary>The state of a room in fixed keys without blanks in their values: <c>stage=pull-down … fan=35%</c>. What does not exist is "-".</summary>
    public static string StatusLine(in LogEntry entry, LogVocabulary words)
    {
        var room = entry.Room;
        var units = words.Units;
        string Value(double value, Quantity quantity) => double.IsFinite(value) ? Quantities.Show(value, quantity, units).Replace(" ", "", StringComparison.Ordinal) : "-";
        var volts = double.IsNaN(entry.FanVolts) ? "-" : entry.FanVolts.ToString("0.0", CultureInfo.InvariantCulture) + "V";
        return $"{words.NameOf(Owner.Room, entry.Happening.Index)}: stage={Names.Of(room.Stage)} moisture={Names.Of(room.Moisture)} guard={Names.Of(room.Guard)} "
            + $"air={Value(room.AirTemperatureC, Quantity.Temperature)} humidity={Value(room.HumidityPercent, Quantity.Percent)} wanted={Value(room.WantedC, Quantity.Temperature)} "
            + $"dew_point={Value(room.DewPointC, Quantity.Temperature)} dew_point_worst={Value(room.DewPointWorstC, Quantity.Temperature)} demand={Value(room.DemandW, Quantity.Power)} "
            + $"{(room.FanOutput < 0 ? "valve" : "fan")}={Value(entry.Fan.Value, Quantity.Percent)} volts={volts} reason={CauseWords.Name(entry.Fan.Binding.Cause)}";
    }

    /// <summary>What a program wants to read of an entry beside its line.</summary>
    internal static IReadOnlyList<LogEventProperty> Facts(in LogEntry entry, LogVocabulary words)
    {
        var happening = entry.Happening;
        return [
            Fact("Where", words.NameOf(happening.Owner, happening.Index)), Fact("Event", happening.EventId), Fact("Name", words.Events[happening.EventId].Name), Fact("Cause", CauseWords.Name(happening.Reason.Cause)),
            Number("A", happening.Reason.A), Number("B", happening.Reason.B), Number("C", happening.Reason.C)];
    }

    private static LogEventProperty Fact(string name, object value) => new(name, new ScalarValue(value));

    /// <summary>JSON knows no "not a number": then nothing.</summary>
    private static LogEventProperty Number(string name, double value) => new(name, new ScalarValue(double.IsFinite(value) ? Math.Round(value, 2) : null));

    /// <summary>What happened, without place, state, meaning and advice.</summary>
    internal static string Sentence(in LogEntry entry, LogVocabulary words)
    {
        var (happening, definition) = (entry.Happening, words.Events[entry.Happening.EventId]);
        var driver = words.InDriversWords(happening);
        if (driver.Length == 0)
            return definition.Sentence(happening, words.Units);
        return definition.Text.Contains("{cause}", StringComparison.Ordinal)
            ? (definition with { Text = definition.Text.Replace("{cause}", driver, StringComparison.Ordinal) }).Sentence(happening, words.Units)
            : $"{definition.Sentence(happening, words.Units)} ({driver})";
    }

    /// <summary>More changes of a fan than this within an hour are worth a word (sequence of operation, rule 4.6).</summary>
    private const int HeardOften = 6;

    /// <summary>Temperature, wanted, dew point, fan with volts and reason: "air 25.6 °C, wanted 24 °C, dew point 15.2 °C, fan 35 % (3.3 V): household's limit 35 %".</summary>
    private static string State(in LogEntry entry, UnitSystem units)
    {
        var room = entry.Room;
        var what = room.FanOutput < 0 ? "surface" : "fan";
        var volts = double.IsNaN(entry.FanVolts) ? "" : $" ({entry.FanVolts.ToString("0.0", CultureInfo.InvariantCulture)} V)";
        var heard = room.AudibleChanges > HeardOften ? $", fan heard {room.AudibleChanges.ToString(CultureInfo.InvariantCulture)} times within the hour" : "";
        return $"air {Quantities.Show(room.AirTemperatureC, Quantity.Temperature, units)}, wanted {Quantities.Show(room.WantedC, Quantity.Temperature, units)}, "
            + $"dew point {Quantities.Show(room.DewPointC, Quantity.Temperature, units)}, "
            + $"{what} {Quantities.Show(entry.Fan.Value, Quantity.Percent, units)}{volts}: {CauseWords.Sentence(entry.Fan, units)}{heard}";
    }
}

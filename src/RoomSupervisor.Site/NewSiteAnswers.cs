// What a new site is written from, and the questions for what nobody said. Asks only on a terminal; otherwise it names what is missing.
namespace RoomSupervisor.Site;

/// <summary>Answers for a new site; null: not said yet.</summary>
public sealed class NewSiteAnswers
{
    /// <summary>Words of <see cref="Source"/>.</summary>
    public static IReadOnlyList<string> Sources => PlantReader.SourceTypes;

    public string? Name { get; set; }

    /// <summary>Time zone as in the tz database.</summary>
    public string? Zone { get; set; }

    /// <summary>metric or us.</summary>
    public string? Units { get; set; }

    /// <summary>heat-pump, chiller or boiler.</summary>
    public string? Source { get; set; }

    /// <summary>Rooms as typed, see <see cref="NewSiteRooms"/>.</summary>
    public string? Rooms { get; set; }

    /// <summary>The rooms understood.</summary>
    public IReadOnlyList<NewSiteRoom> ReadRooms { get; private set; } = [];

    /// <summary>The questions in order: option, question, how the answer is taken, what is wrong with it or nothing.</summary>
    private IEnumerable<(string Option, string Question, string? Answer, Action<string> Take, Func<string, string> Fault)> Questions =>
    [
        ("--name", "Name of the site", Name, v => Name = v, v => v.Length == 0 ? "a name is wanted" : v.Any(c => char.IsControl(c) || c is '\u2028' or '\u2029') ? "holds a control character" : ""),
        ("--time-zone", "Time zone, such as America/New_York", Zone, v => Zone = v, v => TimeZones.Fault(v) ?? ""),
        ("--units", "Units shown to people, metric or us", Units, v => Units = v, v => v is "metric" or "us" ? "" : $"\"{v}\" is neither metric nor us"),
        ("--source", "What makes the water: " + string.Join(", ", Sources), Source, v => Source = v, v => Sources.Contains(v) ? "" : $"\"{v}\" is none of {string.Join(", ", Sources)}"),
        ("--rooms", "Rooms with what heats or cools them and their floor area, such as " + NewSiteRooms.Example, Rooms, v => Rooms = v, RoomsFault),
    ];

    /// <summary>Asks for what is missing, again and again until the answer is sound or the input ends.</summary>
    /// <param name="input">Where answers come from; null: nobody can be asked.</param>
    /// <param name="output">Where questions go.</param>
    /// <returns>What is missing or wrong, a line each; empty when all is there.</returns>
    public IReadOnlyList<string> Complete(TextReader? input, TextWriter output)
    {
        var wrong = new List<string>();
        foreach (var (option, question, answer, take, fault) in Questions)
        {
            if (answer is not null && fault(answer) is { Length: > 0 } why)
                wrong.Add($"{option}: {why}");
            else if (answer is null && (input is null || !Asking.Ask(input, output, question, null, take, fault)))
                wrong.Add($"{option} is missing: {question}");
        }
        return wrong;
    }

    private string RoomsFault(string text)
    {
        if (!NewSiteRooms.TryRead(text, out var rooms, out var why))
            return why;
        ReadRooms = rooms;
        return "";
    }
}

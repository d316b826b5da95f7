// Events: what happened, where, and what somebody should do about it. Definitions are declared beside their user and
// collected by Runtime; ids are stable and never used twice.
namespace RoomSupervisor.Terms;

/// <summary>The response an event asks for: note = read later; warning = next visit; alarm = today; urgent = now.</summary>
public enum Priority : byte
{
    Note, Warning, Alarm, Urgent,
}

/// <summary>What kind of thing an event or a status belongs to.</summary>
public enum Owner : byte
{
    Site, Room, Loop, Source, Input, Output, Device,
}

/// <summary>One kind of event.</summary>
/// <param name="Id">Stable number; never reused.</param>
/// <param name="Name">Stable kebab-case name.</param>
/// <param name="Priority">Response it asks for.</param>
/// <param name="Text">Sentence with {A} {B} {C} for its numbers and {cause} for its cause.</param>
/// <param name="Meaning">What it means for the room.</param>
/// <param name="Check">What to check.</param>
/// <param name="A">Quantity of the first number.</param>
/// <param name="B">Quantity of the second number.</param>
/// <param name="C">Quantity of the third number.</param>
public sealed record EventDefinition(
    int Id, string Name, Priority Priority, string Text, string Meaning, string Check,
    Quantity A = Quantity.Number, Quantity B = Quantity.Number, Quantity C = Quantity.Number)
{
    /// <summary>Names of the states of a change, for {from} and {to}.</summary>
    public Func<byte, string>? StateName { get; init; }

    /// <summary>The same for the people in the house: one plain sentence, no word of the trade.</summary>
    public required string Household { get; init; }

    /// <summary>Ids of the events that are over when this one comes, of the same owner.</summary>
    public IReadOnlyList<int> Clears { get; init; } = [];

    /// <summary>For an event that clears only sometimes: whether this happening does.</summary>
    public Func<Happening, bool> ClearsWhen { get; init; } = _ => true;

    /// <summary>True for what a new start of the controller ends.</summary>
    public bool EndsWithRun { get; init; }

    /// <summary>The sentence of one happening. Allocates.</summary>
    public string Sentence(in Happening happening, UnitSystem units) => Text
        .Replace("{from}", StateName?.Invoke(happening.From) ?? "", StringComparison.Ordinal)
        .Replace("{to}", StateName?.Invoke(happening.To) ?? "", StringComparison.Ordinal)
        .Replace("{A}", Quantities.Show(happening.Reason.A, A, units), StringComparison.Ordinal)
        .Replace("{B}", Quantities.Show(happening.Reason.B, B, units), StringComparison.Ordinal)
        .Replace("{C}", Quantities.Show(happening.Reason.C, C, units), StringComparison.Ordinal)
        .Replace("{cause}", CauseWords.Sentence(happening.Reason, units), StringComparison.Ordinal);
}

/// <summary>One event as it happened. Text is made outside the loop.</summary>
/// <param name="EventId">Id of its <see cref="EventDefinition"/>.</param>
/// <param name="Owner">Kind of owner.</param>
/// <param name="Index">Index of the owner within its kind.</param>
/// <param name="Reason">Cause and numbers.</param>
/// <param name="From">For a change of state: the state before (an enum's number).</param>
/// <param name="To">For a change of state: the state after.</param>
public readonly record struct Happening(int EventId, Owner Owner, int Index, Reason Reason, byte From = 0, byte To = 0);

/// <summary>A bounded list of happenings of one scan. When it is full the rest are counted, never silently lost.</summary>
public sealed class HappeningList(int capacity)
{
    private readonly Happening[] items = new Happening[capacity];

    /// <summary>How many are held.</summary>
    public int Count { get; private set; }

    /// <summary>How many did not fit since the last <see cref="Clear"/>.</summary>
    public int Lost { get; private set; }

    public ReadOnlySpan<Happening> Items => items.AsSpan(0, Count);

    public void Add(in Happening happening)
    {
        if (Count == items.Length)
            Lost++;
        else
            items[Count++] = happening;
    }

    public void Clear()
    {
        Count = 0;
        Lost = 0;
    }
}

// The measures of a rehearsal as a report shows them. Must never judge by itself: whether a goal is met is worked out where the measure is.
namespace RoomSupervisor.Desk.Report;

/// <summary>Measures per room and of the house.</summary>
/// <param name="Rooms">Names of rooms for people, in the order of the values.</param>
/// <param name="Rows">Measures in the order shown.</param>
public sealed record MeasureTable(IReadOnlyList<string> Rooms, IReadOnlyList<MeasureRow> Rows)
{
    /// <summary>No measures.</summary>
    public static MeasureTable None { get; } = new([], []);
}

/// <summary>One measure. NaN where a room has none.</summary>
/// <param name="Name">Name in the JSON, as "overshoot_k".</param>
/// <param name="Unit">Base unit: "K", "°C", "K·h", "min", "kWh", "kg", "g/m²", "dB", "1/h" and the like; empty for a plain number.</param>
/// <param name="Label">What it says, in plain words. Figures with units are shown in the reader's.</param>
/// <param name="House">Value of the house, base unit.</param>
/// <param name="ByRoom">Values in the order of <see cref="MeasureTable.Rooms"/>, base unit.</param>
public sealed record MeasureRow(string Name, string Unit, string Label, double House, IReadOnlyList<double> ByRoom)
{
    /// <summary>The goal in words, as "at most 0.2 K"; empty when there is none.</summary>
    public string Goal { get; init; } = "";

    /// <summary>Whether the house meets the goal; null when there is none.</summary>
    public bool? IsMet { get; init; }

    /// <summary>Whether each room meets it, or empty; null where there is none.</summary>
    public IReadOnlyList<bool?> IsMetByRoom { get; init; } = [];

    /// <summary>Why a goal is missed, one sentence; empty when there is nothing to say.</summary>
    public string Why { get; init; } = "";
}

/// <summary>What a report says besides figures.</summary>
public sealed record ReportNotes
{
    /// <summary>Values nobody set, one sentence each: "Kitchen: fan cap 35 dB(A) (default)".</summary>
    public IReadOnlyList<string> Defaults { get; init; } = [];

    /// <summary>The story of the run, one sentence each.</summary>
    public IReadOnlyList<string> Story { get; init; } = [];

    /// <summary>Level of the background, dB(A): a quiet bedroom at night (project choice).</summary>
    public double BackgroundDba { get; init; } = 25;

    /// <summary>Version of the program, for the foot; empty for none.</summary>
    public string Version { get; init; } = "";
}

// What is counted of a house's moving parts, and when they want care. Words and rules only; no file, no clock. Must never be a reason to stop or hold up a part: it reminds.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Care;

/// <summary>What wears.</summary>
public enum CareKind : byte
{
    /// <summary>Running time and starts of a fan.</summary>
    Fan,

    /// <summary>Running time of a fan since its filter was last seen to.</summary>
    Filter,

    /// <summary>Time a coil has been wet since it and its drain were last cleaned.</summary>
    Coil,

    /// <summary>Running time and starts of a pump.</summary>
    Pump,

    /// <summary>Running time and starts of a source: by its own running contact where one is wired, else by its call.</summary>
    Source,

    /// <summary>Whole strokes of a valve, opening and shutting counted together as one half each.</summary>
    Valve,
}

/// <summary>One part of a house.</summary>
/// <param name="Kind">What wears.</param>
/// <param name="Id">Its name, by which its figures are kept: a coil, an output or a source.</param>
/// <param name="Index">Index of the coil, output or source.</param>
/// <param name="Rooms">Rooms it serves, for who names it by its room.</param>
public sealed record CarePart(CareKind Kind, string Id, int Index, IReadOnlyList<string> Rooms)
{
    /// <summary>Name of a kind as people type it.</summary>
    public static string Word(CareKind kind) => Words[(int)kind];

    /// <summary>The kinds as people type them.</summary>
    public static IReadOnlyList<string> Words { get; } = ["fan", "filter", "coil", "pump", "source", "valve"];

    /// <summary>Every part of a house that is counted.</summary>
    public static IReadOnlyList<CarePart> Of(House house)
    {
        List<CarePart> parts = [];
        for (var i = 0; i < house.Coils.Length; i++)
        {
            var coil = house.Coils[i];
            string[] rooms = [.. coil.Rooms.Select(room => house.Rooms[room].Id)];
            foreach (var kind in (CareKind[])[CareKind.Fan, CareKind.Filter, CareKind.Coil])
                parts.Add(new CarePart(kind, coil.Id, i, rooms));
        }
        foreach (var pump in house.Loops.SelectMany(loop => new[] { loop.Pump, loop.StandbyPump }).Where(output => output >= 0).Distinct())
            parts.Add(new CarePart(CareKind.Pump, house.OutputTable[pump].Id, pump, []));
        for (var i = 0; i < house.Sources.Length; i++)
            parts.Add(new CarePart(CareKind.Source, house.Sources[i].Id, i, []));
        var valves = house.Coils.SelectMany(coil => new[] { coil.Valve, coil.HeatingValve }).Concat(house.Circuits.Select(circuit => circuit.Valve)).Concat(house.Loops.Select(loop => loop.Mixing));
        foreach (var valve in valves.Where(output => output >= 0).Distinct().Order())
            parts.Add(new CarePart(CareKind.Valve, house.OutputTable[valve].Id, valve, []));
        return parts;
    }

    /// <summary>True when somebody who types this means the part: its name, the beginning of it, or a room it serves.</summary>
    public bool IsMeantBy(string text) => Id == text || Id.StartsWith(text + ".", StringComparison.Ordinal) || Rooms.Contains(text);
}

/// <summary>What was counted of a part.</summary>
public struct CareFigures
{
    /// <summary>Time it ran, s; of a coil, time it was wet.</summary>
    public double RunS;

    /// <summary>How often it began to run.</summary>
    public double Starts;

    /// <summary>Whole strokes.</summary>
    public double Strokes;

    /// <summary>Of a coil: how long it has been dry without a break, s, while a controller ran.</summary>
    public double DryS;

    /// <summary>True once it was told that care is due.</summary>
    public bool IsTold;
}

/// <summary>When care is due.</summary>
/// <param name="FilterAfterS">Running time of a fan, s; 0: never.</param>
/// <param name="CoilAfterS">Wet time of a coil, s; 0: never.</param>
public readonly record struct CareLimits(double FilterAfterS, double CoilAfterS)
{
    /// <summary>A coil that was wet for so long has something to clean when its season is over, s (project choice: about three wet days).</summary>
    public const double WorthCleaningS = 72 * 3600;

    /// <summary>A coil that has been dry for so long has its cooling season behind it, s (project choice: four months; a holiday is shorter).</summary>
    public const double SeasonOverS = 120 * 86400.0;

    /// <summary>True when a part wants care.</summary>
    public bool IsDue(CareKind kind, in CareFigures figures) => kind switch
    {
        CareKind.Filter => FilterAfterS > 0 && figures.RunS >= FilterAfterS,
        CareKind.Coil => CoilAfterS > 0 && (figures.RunS >= CoilAfterS || IsSeasonOver(figures)),
        _ => false,
    };

    /// <summary>True for a coil that was wet in a season that is over.</summary>
    public static bool IsSeasonOver(in CareFigures figures) => figures.RunS >= WorthCleaningS && figures.DryS >= SeasonOverS;

    /// <summary>The reminder, or "": what is due, of what, and what to type afterwards.</summary>
    public string Reminder(CareKind kind, string id, in CareFigures figures)
    {
        if (!IsDue(kind, figures))
            return "";
        var done = $"then: room-supervisor care done {CarePart.Word(kind)} {id}";
        return kind == CareKind.Filter
            ? $"{id}: its fan has run {Hours(figures.RunS)} since its filter was last seen to, {Hours(FilterAfterS)} are usual: clean or change it, {done}"
            : $"{id}: wet for {Hours(figures.RunS)} since it was last cleaned{(IsSeasonOver(figures) ? ", and its cooling season is over" : $", {Hours(CoilAfterS)} are usual")}: clean coil, tray, drain and trap before the next season, {done}";
    }

    /// <summary>Hours as they are counted: whole ones, however many.</summary>
    public static string Hours(double seconds) => FormattableString.Invariant($"{Math.Floor(seconds / 3600):#,0} h");
}

/// <summary>Declared events of care.</summary>
public static class CareEvents
{
    public static EventDefinition FilterDue { get; } = new(
        930, "filter-due", Priority.Warning, "its fan has run {A} since its filter was last seen to", "a clogged filter takes air and so heat from the room, and makes the fan louder",
        "clean or change the filter, then: room-supervisor care done filter ROOM", Quantity.Duration)
    { Household = "An air filter has been in use for long; please clean or change it, or have it done on the next visit." };

    public static EventDefinition FilterDone { get; } = new(
        931, "filter-done", Priority.Note, "its filter was seen to after {A}", "counting begins anew", "nothing", Quantity.Duration)
    { Household = "An air filter was cleaned or changed.", Clears = [930] };

    public static EventDefinition CoilDue { get; } = new(
        932, "coil-cleaning-due", Priority.Warning, "its coil was wet for {A} since it was last cleaned", "slime in tray and drain smells, and a blocked drain overflows in the first humid days",
        "clean coil, tray, drain and trap before the next cooling season, pour water through, then: room-supervisor care done coil ROOM", Quantity.Duration)
    { Household = "A cooling unit and its drain should be cleaned before the next warm season." };

    public static EventDefinition CoilDone { get; } = new(
        933, "coil-cleaned", Priority.Note, "its coil and drain were cleaned after {A} of wet", "counting begins anew", "nothing", Quantity.Duration)
    { Household = "A cooling unit and its drain were cleaned.", Clears = [932] };

    public static IReadOnlyList<EventDefinition> All { get; } = [FilterDue, FilterDone, CoilDue, CoilDone];
}

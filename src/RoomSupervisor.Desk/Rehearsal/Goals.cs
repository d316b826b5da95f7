// What section 10 of the sequence of operation promises, beside what the run gave. Must never drop a goal because it was missed.
using RoomSupervisor.Desk.Rehearsal.Measures;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>One goal of one room.</summary>
/// <param name="What">What is asked.</param>
/// <param name="Where">Room or house.</param>
/// <param name="Value">What the run gave; NaN: it did not arise.</param>
/// <param name="Limit">At most this.</param>
public readonly record struct Goal(string What, string Where, double Value, double Limit)
{
    /// <summary>What is asked without its unit.</summary>
    public string Words => UnitAt < 0 ? What : What[..UnitAt];

    /// <summary>Unit of value and limit; empty for a plain number.</summary>
    public string Unit => UnitAt < 0 ? "" : What[(UnitAt + 2)..];

    private int UnitAt => What.LastIndexOf(", ", StringComparison.Ordinal);

    /// <summary>Met, or not arisen.</summary>
    public bool IsMet => !(Value > Limit + 1e-9);
}

/// <summary>All goals.</summary>
public static class Goals
{
    /// <summary>A recovery whose shortest possible is shorter than this is judged by minutes, not by a ratio, min.</summary>
    public const double ShortBoundMin = 5;

    /// <summary>So much later than the shortest possible, min: what a wall sensor's lag and the actuators take (project choice; section 10 promises nothing here).</summary>
    public const double LaterMin = 2;

    /// <summary>Goals of a run, room by room.</summary>
    public static IReadOnlyList<Goal> Of(RehearsalPlan plan, Rehearsal run)
    {
        List<Goal> all = [];
        var house = plan.Files.House;
        for (var i = 0; i < house.Rooms.Length; i++)
            Of(house, house.Rooms[i], run.Recorder.Rooms[i], all);
        return all;
    }

    /// <summary>Rooms that were told that their coil is too large (rule 2.8): section 10 promises nothing there, and they are judged all the same.</summary>
    public static IReadOnlyList<string> WithTooLargeCoil(Rehearsal run)
        => [.. run.House.Rooms.Index().Where(room => run.Recorder.Rooms[room.Index].Events.ContainsKey(SequenceEvents.CoilTooLarge.Name)).Select(room => room.Item.Id)];

    internal const string LaterThanPossible = "recovery later than the shortest possible, min";

    /// <summary>
    /// How soon a recovery has to be over: a ratio is promised where the shortest possible is five minutes and more; of a shorter one a sensor's lag alone is a multiple.
    /// Null where nobody knows what was possible.
    /// </summary>
    public static Goal? OfTime(Measures.Recovery one, string room)
        => double.IsNaN(one.BoundMin) ? null
            : one.BoundMin >= ShortBoundMin ? new Goal("recovery over the shortest possible", room, one.PullDownMin / one.BoundMin, 1.15)
            : new Goal(LaterThanPossible, room, one.PullDownMin - one.BoundMin, LaterMin);

    private static void Of(House house, Room room, RoomMeasures measures, List<Goal> all)
    {
        void Add(string what, double value, double limit) => all.Add(new Goal(what, room.Id, value, limit));
        Add("fan over its cap, min", measures.OverCapMin, 0);
        Add("condensing later than 10 min after an opening, min", measures.CondensingMin, 0);
        foreach (var one in measures.PullDowns.All)
        {
            if (OfTime(one, room.Id) is { } time)
                all.Add(time);
            Add("overshoot, K", one.OvershootK, 0.2);
            Add("bounce, K", one.BounceK, 0.5);
        }
        var isFloor = room.Circuits.Length > 0 && house.Circuits[room.Circuits[0]].Kind.IsSlab;
        Add("control accuracy without a start or stop, K", SteadyWindows.Percentile90(measures.Steady.Without), isFloor ? 0.3 : 0.15);
        Add("control accuracy with one, K", SteadyWindows.Percentile90(measures.Steady.With), 0.45);
        if (room.Circuits.Length > 0)
            Add("film of water, g/m²", measures.FilmGPerM2, isFloor ? 10 : 5);
        Add("audible changes in the worst hour", measures.Heard.MostInAnHour, 6);
        Add("hold over a background of 25 dB(A), dB", measures.HoldOverBackgroundDb, 1);
    }
}

// Every event there is, collected from the places that declare them. A number used twice stops the program at start, not at night.
using RoomSupervisor.Hardware;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime;

/// <summary>The collected events.</summary>
public static class EventCatalogue
{
    public static IReadOnlyDictionary<int, EventDefinition> All { get; } =
        SequenceEvents.All.Concat(HardwareEvents.All).Concat(RuntimeEvents.All).ToDictionary(definition => definition.Id);
}

/// <summary>Events of the runtime itself. Ids 900–999; never reused.</summary>
public static class RuntimeEvents
{
    public static EventDefinition ScanLate { get; } = new(
        901, "scan-late", Priority.Warning, "a scan came {A} late", "rooms were decided on late; timers know it", "load of the board, its power supply, its card", Quantity.Duration);

    public static EventDefinition Crashed { get; } = new(
        902, "crashed", Priority.Urgent, "the controller has stopped on an error of its own; safe values were tried", "nothing controls the house until it runs again",
        "restart it; send the log to whoever maintains this program");

    public static EventDefinition HappeningsLost { get; } = new(
        903, "happenings-lost", Priority.Warning, "{A} events of one scan did not fit and were not logged", "the log has a hole; control has not", "what happened just before");

    public static IReadOnlyList<EventDefinition> All { get; } = [ScanLate, Crashed, HappeningsLost];
}

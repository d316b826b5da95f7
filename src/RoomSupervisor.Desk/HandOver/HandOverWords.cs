// Cautions of a hand-over. Must never be left out of it.
namespace RoomSupervisor.Desk.HandOver;

/// <summary>Words.</summary>
internal static class HandOverWords
{
    internal static IReadOnlyList<string> Cautions { get; } =
    [
        "The controller is not a safety device. It is software on a small computer and may stop at any time: every hazard has its own hardware limit (condensation switch, tray switch, frost and high-limit thermostat, hand–off–auto), and those were tested above or are open points.",
        "Mains, pressure, refrigerant and hot water are the business of licensed people; local codes come before anything said here.",
        "Results are those of the day. Sensors age, mostly to the unsafe side in damp air: calibrate them again every two years (common practice, no published source), and have the self-test of spring and autumn run.",
        "What is replaced is measured again: room-supervisor replace says what.",
        "Sound levels were measured at one seat with one meter and hold to about 2 dB.",
        "A cooled surface stays dry only while the controller runs, its sensors are right and openings are shut: on the first humid days look at valves, manifolds and pipes.",
    ];
}

// What stands on every paper about a site, so that no paper is taken for more than it is. Must never promise anything.
namespace RoomSupervisor.Desk.Describe;

/// <summary>Cautions printed with papers.</summary>
internal static class Cautions
{
    private const string NotSafety = "Not a safety device: the controller is software on a small computer and may stop at any time. Whatever may hurt or damage has its own hardware limit.";

    private const string Codes = "Local codes come before anything said here.";

    /// <summary>On wiring lists.</summary>
    public static IReadOnlyList<string> Wiring { get; } =
    [
        NotSafety, $"{Codes} Mains is wired by a licensed electrician, with the supply locked off.",
        "This list is made from the site file. It knows what is written there and nothing of the building: check every terminal against the device's own papers.",
    ];

    /// <summary>On descriptions.</summary>
    public static IReadOnlyList<string> Description { get; } =
    [
        NotSafety, $"{Codes} Mains, pressure, refrigerant and hot water are the business of licensed people.",
        "Made from the site's own files and the program's own tables; it says what the controller does, not whether pipes, pumps and surfaces were sized and built rightly.",
    ];

    /// <summary>On drawings.</summary>
    public static IReadOnlyList<string> Drawing { get; } =
    [
        "Not to scale, and only what the site file knows: no isolating, draining, venting and balancing valves, no expansion vessel, no safety valve. A licensed designer adds what code and water ask for.",
        NotSafety, Codes,
    ];
}

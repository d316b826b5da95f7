// How far a test may go. Must never be wider than what a household would not notice.
namespace RoomSupervisor.Desk.Tuning;

/// <summary>Guard rails of a test.</summary>
public sealed record TuneLimits
{
    /// <summary>How far a loop's supply may leave where it was, K.</summary>
    public double WaterSwingK { get; init; } = 4;

    /// <summary>How far a room's air may leave where it was, K.</summary>
    public double AirSwingK { get; init; } = 1.5;

    /// <summary>Cooled water keeps so far over the lowest safe supply, K.</summary>
    public double OverLowestSafeK { get; init; } = 0.3;

    /// <summary>Longest test, s.</summary>
    public double MostS { get; init; } = 3600;

    /// <summary>Longest wait for a plant that can be tested, s.</summary>
    public double PatienceS { get; init; }

    /// <summary>Time between two samples, s.</summary>
    public double EveryS { get; init; } = 2;

    /// <summary>What is said without its figures: a wait is told once, not with every tenth of a kelvin.</summary>
    internal static string Kind(string why) => string.Concat(why.Where(letter => !char.IsAsciiDigit(letter)));
}

// A plant in somebody's hand for a while: what it shows, outputs set by hand that end by themselves, time. The running controller behind its control socket, or the virtual house: the same work on both.
// Must never offer a way round the guard and the protections.
using RoomSupervisor.Runtime.Control;

namespace RoomSupervisor.Desk.InHand;

/// <summary>A plant for fill, vent and tune.</summary>
public interface IHandledPlant
{
    /// <summary>Wall time.</summary>
    DateTime Utc { get; }

    /// <summary>True for the virtual house.</summary>
    bool IsVirtual { get; }

    /// <summary>The last scan.</summary>
    PlantFacts Look();

    /// <summary>Sets an output by hand; it ends by itself.</summary>
    /// <param name="point">Id of the output.</param>
    /// <param name="value">In its unit; a switch 0 or 1.</param>
    /// <param name="forS">Its life, 1 s to 4 h.</param>
    /// <param name="why">What holds it instead; "": it holds.</param>
    /// <returns>True when it holds.</returns>
    /// <exception cref="ControlException">It is never set by hand, not wired, or the value is not allowed.</exception>
    bool Set(string point, double value, double forS, out string why);

    /// <summary>Ends a hand value; nothing where there is none.</summary>
    void End(string point);

    /// <summary>Lets time pass; false when somebody ended the work.</summary>
    bool Wait(double seconds);
}

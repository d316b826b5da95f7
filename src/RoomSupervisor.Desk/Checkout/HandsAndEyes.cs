// What a walk asks of whoever is in the house: hands that touch, eyes that look, ears that listen. A person at a terminal, a file of answers, or somebody in the virtual house. Must never
// be asked to do what could hurt without saying so in the request.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Checkout;

/// <summary>What is to be done or looked at. The text of a request says it to people; this says it to those who are no people.</summary>
public enum Deed : byte
{
    /// <summary>Only a question: yes, no, or a reason to skip.</summary>
    Confirm,

    /// <summary>Warm a sensor by some kelvin, by hand or breath.</summary>
    Warm,

    /// <summary>Make a humidity sensor feel wet air: a wet cloth round it.</summary>
    WetCloth,

    /// <summary>Bring a sensor and the reference to a known state and read the reference.</summary>
    Reference,

    /// <summary>Let go of a sensor or contact: as it was before.</summary>
    LetGo,

    /// <summary>Make a contact do what it is there for: open the door, lift the float, wet the switch, trip the limit.</summary>
    Make,

    /// <summary>Where a valve stands, 0 shut to 100 open.</summary>
    Position,

    /// <summary>Whether something turns, runs or is drawn: yes or no.</summary>
    Turns,

    /// <summary>Speed by a tachometer, percent of full speed.</summary>
    Speed,

    /// <summary>Level at the ear, dB(A).</summary>
    Listen,

    /// <summary>Time until a valve stands still, s.</summary>
    TimeUntilStill,

    /// <summary>Whether the pipe behind a shut valve becomes as cold or warm as the manifold.</summary>
    FeelPipe,

    /// <summary>Whether water goes the way of the arrow.</summary>
    Arrow,

    /// <summary>Pull the bus cable of a device, and plug it in again.</summary>
    PullCable,

    PlugCable,

    /// <summary>Cut the board's and the plant's supply, and give it back.</summary>
    CutPower,

    GivePower,

    /// <summary>Open a room to outdoors, and shut it.</summary>
    OpenRoom,

    ShutRoom,
}

/// <summary>One request.</summary>
/// <param name="Deed">What.</param>
/// <param name="Target">Point, device or room.</param>
/// <param name="Text">The same for people.</param>
public sealed record Request(Deed Deed, string Target, string Text)
{
    /// <summary>Quantity of the number that is asked for; null: yes, no, or done.</summary>
    public Quantity? Number { get; init; }

    /// <summary>By how much (<see cref="Deed.Warm"/>), which point of two (<see cref="Deed.Reference"/>: 1 or 2).</summary>
    public double By { get; init; }

    /// <summary>Step it belongs to.</summary>
    public string Step { get; init; } = "";
}

/// <summary>An answer.</summary>
/// <param name="Yes">Done, or yes. False: no.</param>
/// <param name="Number">The number asked for; NaN: nobody knows it.</param>
public readonly record struct Reply(bool Yes, double Number)
{
    /// <summary>Done, yes.</summary>
    public static Reply Done { get; } = new(true, double.NaN);

    /// <summary>No.</summary>
    public static Reply No { get; } = new(false, double.NaN);
}

/// <summary>Whoever is in the house.</summary>
public interface IHandsAndEyes
{
    /// <summary>Asks, and waits for the answer.</summary>
    /// <exception cref="SkipStepException">The step is not to be done; with the reason.</exception>
    /// <exception cref="StopWalkException">The walk ends here and is taken up again later.</exception>
    Reply Ask(Request request);
}

/// <summary>A step is left out; its message is the reason.</summary>
public sealed class SkipStepException(string reason) : Exception(reason);

/// <summary>The walk ends here.</summary>
public sealed class StopWalkException(string reason) : Exception(reason);

/// <summary>Nobody is there: what the controller can do by itself. Every request is a reason to skip.</summary>
public sealed class NobodyThere : IHandsAndEyes
{
    /// <inheritdoc/>
    public Reply Ask(Request request)
    {
        ArgumentNullException.ThrowIfNull(request);
        throw new SkipStepException("needs somebody in the house: " + request.Text);
    }
}

// The plant as a walk sees it: points that are read, outputs that are set by hand for a while, and time. The running controller behind its control socket, or the virtual house. Must never
// offer a way round the guard and the protections, nor a hand value without an end.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Checkout;

/// <summary>An input now.</summary>
/// <param name="Value">As the sequence uses it; NaN: there is none.</param>
/// <param name="Raw">As the device told it, before the offset; NaN: nothing.</param>
/// <param name="Why">What is wrong with it; "" when it is good.</param>
public readonly record struct InputNow(double Value, double Raw, string Why);

/// <summary>An output now.</summary>
/// <param name="Value">What is commanded, in the point's unit.</param>
/// <param name="Volts">What stands on its wire, V; NaN: no volts, or nobody can tell.</param>
/// <param name="IsByHand">True while a hand value holds.</param>
/// <param name="Why">What binds it.</param>
/// <param name="Problem">Why it is not written; "" when it is.</param>
public readonly record struct OutputNow(double Value, double Volts, bool IsByHand, string Why, string Problem);

/// <summary>The plant.</summary>
public interface IWalkPlant
{
    /// <summary>The house as it is controlled.</summary>
    House House { get; }

    /// <summary>Monotonic seconds.</summary>
    double ElapsedS { get; }

    /// <summary>Wall time.</summary>
    DateTime Utc { get; }

    /// <summary>True for the virtual house.</summary>
    bool IsVirtual { get; }

    /// <summary>An input.</summary>
    InputNow Input(int index);

    /// <summary>An output.</summary>
    OutputNow Output(int index);

    /// <summary>Sets an output by hand; it ends by itself. True when it holds; else what holds it stands in <see cref="Output"/>.</summary>
    /// <param name="output">Index of the output.</param>
    /// <param name="value">In the point's unit; a switch 0 or 1.</param>
    /// <param name="forS">Its life, 1 s to 4 h.</param>
    /// <param name="below">True to try a fan below its start speed: to find that.</param>
    /// <exception cref="SkipStepException">It is never set by hand, or not wired.</exception>
    bool Set(int output, double value, double forS, bool below = false);

    /// <summary>Ends a hand value.</summary>
    void End(int output);

    /// <summary>Lets time pass.</summary>
    /// <exception cref="StopWalkException">Somebody ended the walk.</exception>
    void Wait(double seconds);

    /// <summary>After a cut of power: waits until the controller answers again; false when it does not within the time.</summary>
    bool Reconnect(double withinS);
}

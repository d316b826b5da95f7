// Values set by hand on outputs, for checkout and service. They end by themselves and never defeat the condensation guard, a full
// drip tray or a pump's need of an open circuit.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>Hand values: setting, ending, applying.</summary>
public static class HandValues
{
    /// <summary>Longest life of a hand value, s (section 8, rule 4).</summary>
    public const double LongestS = 4 * 3600;

    /// <summary>Whether a hand value may be set: percent 0–100, a switch 0 or 1, for 1 s to 4 h. False with the reason.</summary>
    /// <param name="house">The house.</param>
    /// <param name="output">Index of the output.</param>
    /// <param name="value">The value.</param>
    /// <param name="forS">Its life, s.</param>
    /// <param name="why">What is wrong.</param>
    /// <param name="belowStart">True for who looks for a fan's start: speeds below the one site.yaml gives it are put out as well, along the same line of volts.</param>
    public static bool IsAllowed(House house, int output, double value, double forS, out string why, bool belowStart = false)
    {
        var isSwitch = house.OutputTable[output].IsSwitch;
        why = "";
        if (!(forS >= 1 && forS <= LongestS))
            why = $"for_s must be between 1 and {LongestS} seconds (4 h)";
        else if (isSwitch ? value is not (0 or 1) : !(value >= 0 && value <= 100))
            why = isSwitch ? "value must be true or false" : "value must be between 0 and 100 percent";
        foreach (var coil in house.Coils)
        {
            if (coil.Fan == output && value > 0 && value < coil.Kind.StartSpeedPercent && !(belowStart && coil.Kind.FanSignal == CoilKind.Voltage))
                why = $"value must be 0 or at least the fan's slowest speed, {coil.Kind.StartSpeedPercent} percent";
        }
        return why.Length == 0;
    }

    /// <summary>Sets a hand value that <see cref="IsAllowed"/> has accepted.</summary>
    public static void Set(Memory memory, int output, double value, double forS)
        => memory.Hands[output] = new HandValue { Active = true, Fresh = true, Value = value, RemainingS = forS };

    /// <summary>Ends a hand value at once.</summary>
    public static void End(Memory memory, int output) => memory.Hands[output] = default;

    /// <summary>Time passes: hand values whose life is over end, with an event.</summary>
    internal static void Age(in Scan scan)
    {
        for (var i = 0; i < scan.Memory.Hands.Length; i++)
        {
            ref var hand = ref scan.Memory.Hands[i];
            if (!hand.Active)
                continue;
            if (hand.Fresh)
            {
                hand.Fresh = false;
                continue;
            }
            hand.RemainingS -= scan.Dt;
            if (hand.RemainingS > 0)
                continue;
            hand = default;
            scan.Happened(SequenceEvents.HandValueEnded, Owner.Output, i, new Reason(Cause.HandValue));
        }
    }

    /// <summary>The hand value of an output in place of a command, unless a protection holds the command.</summary>
    internal static void Over(in Scan scan, int output, bool isProtected, ref Command command)
    {
        ref readonly var hand = ref scan.Memory.Hands[output];
        if (hand.Active && !isProtected)
            command = new Command(hand.Value, Reason.Of(Cause.HandValue, hand.RemainingS), command.Binding, command.ThenValue);
    }
}

// Values set by hand on outputs, for checkout and service. They end by themselves and never defeat the condensation guard, a full
// drip tray or a pump's need of an open circuit.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>Hand values: setting, ending, applying.</summary>
public static class HandValues
{
    /// <summary>Longest life of a hand value, s (section 8, rule 4).</summary>
    public const double LongestS = 4 * 3600;

    /// <summary>Sets a hand value. False with the reason when the value or its life is out of range: percent 0–100, switch 0 or 1, life 1 s to 4 h.</summary>
    public static bool TrySet(House house, Memory memory, int output, double value, double forS, out string why)
    {
        var isSwitch = house.OutputTable[output].IsSwitch;
        why = "";
        if (!(forS >= 1 && forS <= LongestS))
            why = $"for_s {forS} is not between 1 and {LongestS}";
        else if (isSwitch ? value is not (0 or 1) : !(value >= 0 && value <= 100))
            why = isSwitch ? "a switch takes true or false" : $"value {value} is not between 0 and 100";
        if (why.Length > 0)
            return false;
        memory.Hands[output] = new HandValue { Active = true, Value = value, RemainingS = forS };
        return true;
    }

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
            hand.RemainingS -= scan.Dt;
            if (hand.RemainingS > 0)
                continue;
            hand = default;
            scan.Happened(SequenceEvents.HandValueEnded, Owner.Output, i, new Reason(Cause.HandValue));
        }
    }

    /// <summary>The hand value of an output in place of a command, unless a protection holds the command.</summary>
    internal static Command Over(in Scan scan, int output, in Command command, bool isProtected)
    {
        ref readonly var hand = ref scan.Memory.Hands[output];
        return !hand.Active || isProtected
            ? command
            : new Command(hand.Value, Reason.Of(Cause.HandValue, hand.RemainingS), command.Binding, command.ThenValue);
    }
}

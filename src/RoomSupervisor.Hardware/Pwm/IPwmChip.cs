// The pulse-width outputs of one of the board's own pwm chips.
// An implementation must never throw for what the system reports, nor let an output be on longer than its share while its period changes.
namespace RoomSupervisor.Hardware.Pwm;

/// <summary>Why a call failed.</summary>
public enum PwmProblem : byte
{
    None,

    /// <summary>There is no such chip.</summary>
    NoChip,

    /// <summary>The chip has no output of that number.</summary>
    NoSuchOutput,

    /// <summary>Its files may not be written.</summary>
    NotAllowed,

    /// <summary>Another program or the kernel itself has the output.</summary>
    InUse,

    /// <summary>Something else the system reports, such as a period the chip cannot make.</summary>
    Failed,
}

/// <summary>How an output pulses.</summary>
/// <param name="Number">Its number on the chip.</param>
/// <param name="PeriodNs">From pulse to pulse, ns.</param>
/// <param name="IsInverted">Low during the pulse.</param>
public sealed record PwmOutput(int Number, long PeriodNs, bool IsInverted);

/// <summary>What came of a call.</summary>
/// <param name="Problem">None, or why it failed.</param>
/// <param name="StandsNs">Length of the pulse read back, ns; −1 when the output is off altogether.</param>
/// <param name="Detail">What the system says, "" where there is nothing to add.</param>
public readonly record struct PwmReply(PwmProblem Problem, long StandsNs, string Detail = "");

/// <summary>A chip. For one thread.</summary>
public interface IPwmChip : IDisposable
{
    /// <summary>Sets the length of an output's pulse, and the output up where it is not; reads back.</summary>
    /// <param name="output">The output.</param>
    /// <param name="pulseNs">0 to its period, ns.</param>
    PwmReply Set(PwmOutput output, long pulseNs);
}

/// <summary>Words for problems.</summary>
public static class PwmWords
{
    /// <summary>In words, with what to do; "" for none.</summary>
    public static string Of(in PwmReply reply, string path, int number)
    {
        var words = reply.Problem switch
        {
            PwmProblem.None => "",
            PwmProblem.NoChip => $"there is no pwm chip {path}: switch it on in the board's configuration and see which there are under /sys/class/pwm",
            PwmProblem.NoSuchOutput => $"{path} has no output {number}: see how many it has in {path}/npwm",
            PwmProblem.NotAllowed => $"no permission to write output {number} of {path}: give the service's user the right to, by a udev rule (group gpio)",
            PwmProblem.InUse => $"output {number} of {path} is in use by another program or by the kernel",
            _ => $"{path} does not take what output {number} is to do: see whether it can make that frequency",
        };
        return reply.Detail.Length == 0 || words.Length == 0 ? words : $"{words} ({reply.Detail})";
    }
}

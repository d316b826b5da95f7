// Lines of one of the board's own gpio chips, polled. No edges: callbacks of the usual library can abort the process and stop without a word.
// An implementation must never throw for what the system reports, and never let an output move between being taken and its safe level.
namespace RoomSupervisor.Hardware.Gpio;

/// <summary>Why a call failed.</summary>
public enum GpioProblem : byte
{
    None,

    /// <summary>There is no such chip, or it was pulled out.</summary>
    NoChip,

    /// <summary>The chip is there, but may not be opened.</summary>
    NotAllowed,

    /// <summary>Another program, or the kernel itself, has one of the lines.</summary>
    InUse,

    /// <summary>The chip has no line of that number, or it cannot do what is asked of it.</summary>
    NoSuchLine,

    /// <summary>Something else the system reports.</summary>
    Failed,
}

/// <summary>What a line is held at while nobody drives it.</summary>
public enum GpioPull : byte
{
    AsItIs, Up, Down, None,
}

/// <summary>What came of a call.</summary>
/// <param name="Problem">None, or why it failed.</param>
/// <param name="Detail">Which line or what the system says, "" where there is nothing to add.</param>
public readonly record struct GpioReply(GpioProblem Problem, string Detail = "");

/// <summary>A line to take.</summary>
/// <param name="Number">Its number on the chip.</param>
/// <param name="IsOutput">Output or input.</param>
/// <param name="Pull">For inputs.</param>
public readonly record struct GpioLine(int Number, bool IsOutput, GpioPull Pull);

/// <summary>A chip. For one thread. Bit n of a level is the n-th line taken.</summary>
public interface IGpioChip : IDisposable
{
    /// <summary>Takes lines, all or none; outputs have their level from the first moment. Lines taken before are given back.</summary>
    /// <param name="lines">At most 64.</param>
    /// <param name="levels">Levels of the outputs.</param>
    GpioReply Take(IReadOnlyList<GpioLine> lines, ulong levels);

    /// <summary>Sets outputs.</summary>
    GpioReply Set(ulong levels, ulong mask);

    /// <summary>Looks at all lines taken.</summary>
    GpioReply Get(out ulong levels);
}

/// <summary>Words for problems.</summary>
public static class GpioWords
{
    /// <summary>In words, with what to do; "" for none.</summary>
    public static string Of(in GpioReply reply, string path)
    {
        var words = reply.Problem switch
        {
            GpioProblem.None => "",
            GpioProblem.NoChip => $"there is no gpio chip {path}: see which there are under /dev, and whether its driver is loaded",
            GpioProblem.NotAllowed => $"no permission to open {path}: add the service's user to the group that owns it (gpio)",
            GpioProblem.InUse => $"a line of {path} is in use already: end the program that has it, or take it out of the board's configuration",
            GpioProblem.NoSuchLine => $"{path} has no such line, or the line cannot do what is asked of it: compare numbers and bias with the board's list",
            _ => $"the system reports a failure of {path}",
        };
        return reply.Detail.Length == 0 || words.Length == 0 ? words : $"{words} ({reply.Detail})";
    }

    /// <summary>What an error number of the Linux kernel means for a gpio chip.</summary>
    public static GpioProblem OfErrorNumber(int error) => error switch
    {
        2 or 6 or 9 or 19 or 25 => GpioProblem.NoChip, // ENOENT, ENXIO, EBADF, ENODEV, ENOTTY (not a gpio chip)
        1 or 13 => GpioProblem.NotAllowed,             // EPERM, EACCES
        16 => GpioProblem.InUse,                       // EBUSY
        22 or 524 => GpioProblem.NoSuchLine,           // EINVAL, ENOTSUPP
        _ => GpioProblem.Failed,
    };
}

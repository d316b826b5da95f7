// A pwm chip of the Linux kernel by its files, /sys/class/pwm/pwmchipN or the same under any other root.
// It must never set a pulse longer than its period, and must shorten the pulse to nothing before the period changes.
// Source: Linux kernel documentation, "Pulse Width Modulation (PWM) interface": export, period, duty_cycle, polarity, enable.
using System.Globalization;
using System.Text;

namespace RoomSupervisor.Hardware.Pwm;

/// <summary>A real chip.</summary>
/// <param name="path">Folder of the chip.</param>
public sealed class SysfsPwmChip(string path) : IPwmChip
{
    private const int NoDevice = 19, Busy = 16;

    /// <inheritdoc/>
    public PwmReply Set(PwmOutput output, long pulseNs)
    {
        try
        {
            return Directory.Exists(path) ? SetThrowing(output, pulseNs) : new PwmReply(PwmProblem.NoChip, 0);
        }
        catch (UnauthorizedAccessException e)
        {
            return new PwmReply(PwmProblem.NotAllowed, 0, e.Message);
        }
        catch (IOException e)
        {
            return new PwmReply(e.HResult == Busy ? PwmProblem.InUse : e.HResult == NoDevice ? PwmProblem.NoChip : PwmProblem.Failed, 0, e.Message);
        }
    }

    /// <summary>The outputs stay exported with the pulse they have: to take them back would leave the pins undefined.</summary>
    public void Dispose()
    {
    }

    private PwmReply SetThrowing(PwmOutput output, long pulseNs)
    {
        var folder = Path.Combine(path, FormattableString.Invariant($"pwm{output.Number}"));
        if (!Directory.Exists(folder))
        {
            if (output.Number >= Number(Path.Combine(path, "npwm")))
                return new PwmReply(PwmProblem.NoSuchOutput, 0);
            Write(Path.Combine(path, "export"), output.Number);
        }
        SetUp(folder, output);
        Write(Path.Combine(folder, "duty_cycle"), pulseNs);
        var enable = Path.Combine(folder, "enable");
        if (Number(enable) == 0)
            Write(enable, 1);
        return new PwmReply(PwmProblem.None, Number(enable) == 1 ? Number(Path.Combine(folder, "duty_cycle")) : -1);
    }

    /// <summary>Period and polarity, where they are not as they should be: pulse to nothing first, polarity while it is off.</summary>
    private static void SetUp(string folder, PwmOutput output)
    {
        var (period, polarity) = (Path.Combine(folder, "period"), Path.Combine(folder, "polarity"));
        var wanted = output.IsInverted ? "inversed" : "normal";
        // A chip that cannot turn its signal round has no such file.
        var turns = File.Exists(polarity) ? Text(polarity) != wanted : output.IsInverted;
        var differs = Number(period) != output.PeriodNs;
        if (differs || turns)
            Write(Path.Combine(folder, "duty_cycle"), 0);
        if (differs)
            Write(period, output.PeriodNs);
        if (!turns)
            return;
        if (Number(Path.Combine(folder, "enable")) != 0)
            Write(Path.Combine(folder, "enable"), 0);
        Write(polarity, wanted);
    }

    private static long Number(string file) => long.TryParse(Text(file), NumberStyles.Integer, CultureInfo.InvariantCulture, out var number) ? number : throw new IOException($"{file} holds no number");

    private static string Text(string file) => File.ReadAllText(file).Trim();

    private static void Write(string file, long number) => Write(file, number.ToString(CultureInfo.InvariantCulture));

    /// <summary>One write a value: the kernel takes each by itself. The file must be there: a new one would be no output.</summary>
    private static void Write(string file, string text)
    {
        using var stream = new FileStream(file, FileMode.Truncate, FileAccess.Write, FileShare.ReadWrite, 0);
        stream.Write(Encoding.ASCII.GetBytes(text));
    }
}

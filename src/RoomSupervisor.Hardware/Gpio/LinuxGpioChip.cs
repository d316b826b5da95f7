// A gpio chip of the Linux kernel, /dev/gpiochipN, by its own system calls (version 2 of the interface, kernel 5.10 and newer): nothing to install, the error
// number is kept, and outputs are taken together with their level. Chosen over the library's driver, whose native library has another name on each system.
// It must never throw for what the system reports, nor ask for edges.
// Source: Linux kernel documentation, "GPIO character device userspace API"; linux/gpio.h (sizes and numbers checked in the tests).
using System.Runtime.InteropServices;

namespace RoomSupervisor.Hardware.Gpio;

/// <summary>A real chip.</summary>
/// <param name="path">Path of the chip, such as /dev/gpiochip0.</param>
public sealed unsafe class LinuxGpioChip(string path) : IGpioChip
{
    private const int MostLines = 64, MostAttributes = 10;
    private const uint TakeLines = 0xC250B407, AskLine = 0xC100B405, GetLevels = 0xC010B40E, SetLevels = 0xC010B40F;
    private const ulong Used = 1, Input = 4, Output = 8;
    private const uint FlagsOfSome = 1, LevelsOfOutputs = 2;

    private int held = -1;
    private ulong all;

    /// <inheritdoc/>
    public GpioReply Take(IReadOnlyList<GpioLine> lines, ulong levels)
    {
        Dispose();
        if (lines.Count > MostLines)
            return new GpioReply(GpioProblem.NoSuchLine, $"at most {MostLines} lines a device");
        var chip = LinuxFile.Open(path);
        if (chip < 0)
            return Failure();
        var request = Request.Of(lines, levels);
        var reply = LinuxFile.Control(chip, TakeLines, (nint)(&request)) < 0 ? Named(chip, lines, Failure()) : default;
        _ = LinuxFile.Close(chip);
        if (reply.Problem == GpioProblem.None)
            (held, all) = (request.File, lines.Count == MostLines ? ulong.MaxValue : (1UL << lines.Count) - 1);
        return reply;
    }

    /// <inheritdoc/>
    public GpioReply Set(ulong levels, ulong mask)
    {
        var values = new Values { Bits = levels, Mask = mask };
        return mask == 0 || LinuxFile.Control(held, SetLevels, (nint)(&values)) >= 0 ? default : Failure();
    }

    /// <inheritdoc/>
    public GpioReply Get(out ulong levels)
    {
        var values = new Values { Mask = all };
        var reply = LinuxFile.Control(held, GetLevels, (nint)(&values)) >= 0 ? default : Failure();
        levels = values.Bits;
        return reply;
    }

    public void Dispose()
    {
        if (held >= 0)
            _ = LinuxFile.Close(held);
        held = -1;
    }

    private static GpioReply Failure()
    {
        var error = Marshal.GetLastPInvokeError();
        return new GpioReply(GpioWords.OfErrorNumber(error), Marshal.GetPInvokeErrorMessage(error));
    }

    /// <summary>Names the line that somebody else has, and who.</summary>
    private static GpioReply Named(int chip, IReadOnlyList<GpioLine> wanted, GpioReply failure)
    {
        foreach (var line in wanted)
        {
            var info = new LineInfo { Number = (uint)line.Number };
            if (LinuxFile.Control(chip, AskLine, (nint)(&info)) < 0)
                return failure with { Detail = $"line {line.Number}" };
            if (failure.Problem == GpioProblem.InUse && (info.Flags & Used) != 0)
                return failure with { Detail = $"line {line.Number}, by {Marshal.PtrToStringUTF8((nint)info.Consumer)}" };
        }
        return failure;
    }

    private struct Values
    {
        public ulong Bits, Mask;
    }

    /// <summary>struct gpio_v2_line_request, with its configuration inside; 592 bytes.</summary>
    [StructLayout(LayoutKind.Sequential)]
    internal struct Request
    {
        public fixed uint Numbers[MostLines];
        public fixed byte Consumer[32];
        public ulong Flags;
        public uint Attributes;
        public fixed uint Padding[5];
        public fixed ulong AttributeWords[3 * MostAttributes];
        public uint Count, EventBuffer;
        public fixed uint Padding2[5];
        public int File;

        /// <summary>Inputs without a pull are the rule; outputs with their levels, and each kind of pull, are attributes with a mask.</summary>
        public static Request Of(IReadOnlyList<GpioLine> wanted, ulong levels)
        {
            var request = new Request { Flags = Input, Count = (uint)wanted.Count };
            "room-supervisor"u8.CopyTo(new Span<byte>(request.Consumer, 32));
            for (var i = 0; i < wanted.Count; i++)
                request.Numbers[i] = (uint)wanted[i].Number;
            var outputs = MaskOf(wanted, line => line.IsOutput);
            request.Add(FlagsOfSome, Output, outputs);
            request.Add(LevelsOfOutputs, levels, outputs);
            foreach (var (pull, flag) in new[] { (GpioPull.Up, 1UL << 8), (GpioPull.Down, 1UL << 9), (GpioPull.None, 1UL << 10) })
                request.Add(FlagsOfSome, Input | flag, MaskOf(wanted, line => !line.IsOutput && line.Pull == pull));
            return request;
        }

        private void Add(uint id, ulong value, ulong mask)
        {
            if (mask == 0)
                return;
            var at = 3 * (int)Attributes++;
            (AttributeWords[at], AttributeWords[at + 1], AttributeWords[at + 2]) = (id, value, mask);
        }

        private static ulong MaskOf(IReadOnlyList<GpioLine> lines, Func<GpioLine, bool> which)
            => lines.Index().Where(line => which(line.Item)).Aggregate(0UL, (mask, line) => mask | 1UL << line.Index);
    }

    /// <summary>struct gpio_v2_line_info; 256 bytes.</summary>
    [StructLayout(LayoutKind.Sequential)]
    internal struct LineInfo
    {
        public fixed byte Name[32];
        public fixed byte Consumer[32];
        public uint Number, Attributes;
        public ulong Flags;
        public fixed ulong AttributeWords[2 * MostAttributes];
        public fixed uint Padding[4];
    }
}

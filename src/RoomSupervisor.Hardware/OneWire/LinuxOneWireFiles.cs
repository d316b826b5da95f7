// The Linux kernel's 1-Wire files: root/master/sensor/w1_slave. Real time.
// It must never throw for what happens on the wire, and never write: what the kernel has found is not ours to change.
// Source: Linux kernel documentation, "Introduction to the 1-wire (w1) subsystem" and "Kernel driver w1_therm".
using System.Diagnostics;

namespace RoomSupervisor.Hardware.OneWire;

/// <summary>The files below a folder.</summary>
/// <param name="root">Usually /sys/bus/w1/devices.</param>
public sealed class LinuxOneWireFiles(string root) : IOneWireFiles
{
    /// <inheritdoc/>
    public OneWireReply Read(string master, string sensor, Span<byte> into, double nowS)
    {
        var from = Stopwatch.GetTimestamp();
        var (problem, length) = Read(Path.Combine(root, master, sensor, "w1_slave"), into);
        if (problem == OneWireProblem.NoSensor)
            problem = WhatIsMissing(master, sensor);
        return new OneWireReply(problem, length, Stopwatch.GetElapsedTime(from).TotalSeconds);
    }

    public void Dispose()
    {
    }

    private static (OneWireProblem Problem, int Length) Read(string path, Span<byte> into)
    {
        try
        {
            using var file = File.OpenHandle(path);
            var length = 0;
            for (int came; length < into.Length && (came = RandomAccess.Read(file, into[length..], length)) > 0;)
                length += came;
            return (length > 0 ? OneWireProblem.None : OneWireProblem.Failed, length);
        }
        catch (Exception lost) when (lost is FileNotFoundException or DirectoryNotFoundException)
        {
            return (OneWireProblem.NoSensor, 0);
        }
        catch (UnauthorizedAccessException)
        {
            return (OneWireProblem.NotAllowed, 0);
        }
        catch (IOException)
        {
            return (OneWireProblem.Failed, 0);
        }
    }

    private OneWireProblem WhatIsMissing(string master, string sensor)
        => !Directory.Exists(root) ? OneWireProblem.NoKernel
            : !Directory.Exists(Path.Combine(root, master)) ? OneWireProblem.NoMaster
            : !Directory.Exists(Path.Combine(root, master, sensor)) ? OneWireProblem.NoSensor : OneWireProblem.NoModule;
}

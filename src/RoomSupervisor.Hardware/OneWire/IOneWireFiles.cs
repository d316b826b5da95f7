// The way to thermometers on a 1-Wire bus that the kernel drives: one text file a sensor.
// An implementation must never throw for what happens on the wire.
namespace RoomSupervisor.Hardware.OneWire;

/// <summary>Why a sensor's file could not be read.</summary>
public enum OneWireProblem : byte
{
    None,

    /// <summary>The kernel shows no 1-Wire at all.</summary>
    NoKernel,

    /// <summary>There is no such bus.</summary>
    NoMaster,

    /// <summary>The bus is there, the sensor is not on it.</summary>
    NoSensor,

    /// <summary>The sensor is there, but the kernel does not know how to read thermometers.</summary>
    NoModule,

    /// <summary>The file may not be read.</summary>
    NotAllowed,

    /// <summary>The kernel reports a failure of the wire.</summary>
    Failed,
}

/// <summary>What came of reading.</summary>
/// <param name="Problem">None, or why there is nothing.</param>
/// <param name="Length">Bytes that came.</param>
/// <param name="TookS">Seconds on the bus's own clock: real, or virtual in memory.</param>
public readonly record struct OneWireReply(OneWireProblem Problem, int Length, double TookS);

/// <summary>The files of one kernel. For one thread.</summary>
public interface IOneWireFiles : IDisposable
{
    /// <summary>Has a sensor measure and reads its file. Takes 0.75 s for a sensor of twelve bits, and cannot be cut short.</summary>
    /// <param name="master">Name of the bus, such as w1_bus_master1.</param>
    /// <param name="sensor">Name of the sensor, such as 28-0316a2795eff.</param>
    /// <param name="into">Room for the file; two lines, under a hundred bytes.</param>
    /// <param name="nowS">Monotonic seconds, for buses in memory.</param>
    OneWireReply Read(string master, string sensor, Span<byte> into, double nowS);
}

/// <summary>Words for problems.</summary>
internal static class OneWireWords
{
    public static string Of(OneWireProblem problem) => problem switch
    {
        OneWireProblem.None => "",
        OneWireProblem.NoKernel => "the kernel drives no 1-Wire bus: switch it on (on many boards the line dtoverlay=w1-gpio in the boot configuration, and a new start), or correct root",
        OneWireProblem.NoMaster => "there is no such 1-Wire bus: look which there are below root, and correct master",
        OneWireProblem.NoSensor => "the sensor is not on the bus: wire, plug, its number",
        OneWireProblem.NoModule => "the kernel cannot read thermometers: load its module w1_therm",
        OneWireProblem.NotAllowed => "no permission to read the sensor's file",
        _ => "the kernel reports a failure of the wire",
    };
}

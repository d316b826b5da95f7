// What an output needs of the channel it hangs on, whatever the bus: the raw value for a command.
// It must never give a raw value beyond what the channel can carry, nor one above what was asked.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Devices;

/// <summary>A channel that can be written.</summary>
internal interface IOutputChannel
{
    /// <summary>The raw value for a command; one that is no number counts as the wiring's safe value.</summary>
    ushort ToRaw(double command, PointWiring wiring);
}

/// <summary>From commands to the unit of a channel.</summary>
internal static class ChannelValue
{
    /// <summary>The command, or the safe value where it is no number, or 0.</summary>
    public static double OrSafe(double command, PointWiring wiring)
        => double.IsFinite(command) ? command : double.IsFinite(wiring.SafeValue) ? wiring.SafeValue : 0;

    /// <summary>Volts for a command in percent, by the wiring's line.</summary>
    public static double Volts(double percent, PointWiring wiring) => wiring.Line.VoltsFor(Math.Min(percent, 100));

    /// <summary>
    /// Share of a pulse for a command, percent: the speed itself for a fan that is told it so; for what follows a voltage the share that a converter
    /// (all of a pulse: 10 V) makes that voltage of.
    /// </summary>
    public static double Pulse(double command, PointWiring wiring)
    {
        const double VoltsAtFull = 10;
        var percent = OrSafe(command, wiring);
        return Math.Clamp(wiring.Shape.Kind == OutputKind.Pwm ? percent : Volts(percent, wiring) / VoltsAtFull * 100, 0, 100);
    }
}

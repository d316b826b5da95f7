// What came of one transaction with a device, the same for every bus, so that pauses, counts and safe values are decided in one place.
// It must never say that a device answered when nothing valid came.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Devices;

/// <summary>Outcome of one transaction.</summary>
/// <param name="Fault">What a sample carries for it; none when granted.</param>
/// <param name="Problem">The same in a sentence for people, "" when granted.</param>
/// <param name="TookS">Seconds on the bus's own clock.</param>
internal readonly record struct DeviceReply(Fault Fault, string Problem, double TookS)
{
    /// <summary>The device is there and said no.</summary>
    public bool IsRefusal { get; init; }

    /// <summary>The device is there: it granted or refused.</summary>
    public bool Answered => Fault == Fault.None || IsRefusal;

    public bool Granted => Fault == Fault.None;

    /// <summary>One such failure is enough to say that it does not answer (nothing listens there); otherwise it takes two in a row.</summary>
    public bool IsCertain { get; init; }

    /// <summary>A new connection was made for it: the device may have restarted.</summary>
    public bool IsNewContact { get; init; }

    /// <summary>The device's reason for a refusal, where it gives a number.</summary>
    public byte Code { get; init; }

    /// <summary>Seconds after a refusal before it is tried again.</summary>
    public double PauseS { get; init; }

    /// <summary>Not a number, or the moment at which a measurement that was begun can be collected.</summary>
    public double ReadyAtS { get; init; } = double.NaN;
}

// What goes wrong between a device and its driver, device by device.
// Must never touch the truth: the house goes on, only what comes over the wire is spoilt.
namespace RoomSupervisor.VirtualHouse;

/// <summary>The menu of faults on the wire.</summary>
public enum BusFault : byte
{
    /// <summary>Nothing is wrong.</summary>
    None,

    /// <summary>The device does not acknowledge, but keeps its state. Behind a network gateway: the gateway answers that the device does not.</summary>
    NoAcknowledge,

    /// <summary>Answers come damaged: a wrong checksum, or where the protocol has none a header that cannot be.</summary>
    BadChecksum,

    /// <summary>Transfers and answers end in the middle.</summary>
    CutShort,

    /// <summary>The device holds the bus, or is silent: every request takes the whole time-out.</summary>
    Hung,

    /// <summary>It is not there: without power. When it is back its outputs stand at 0 and nothing is remembered.</summary>
    Absent,
}

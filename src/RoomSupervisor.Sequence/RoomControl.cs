// The place of the room rules in a scan, for comparisons: somebody else may move the emitters of rooms while readings, caps, guard, loops and source stay ours. `run` never sets it.
// Must never be a way round a limit: what it asks for is set as by hand, so that guard, drip trays and frost protection stand above it.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>What other room rules may look at in a scan: judged readings, the air of rooms and the caps of fans are worked out already.</summary>
/// <param name="house">The house.</param>
/// <param name="memory">Its memory; they move emitters by <see cref="Memory.Hands"/> and what rooms ask of circuits.</param>
/// <param name="readings">Judged readings, one an input.</param>
/// <param name="local">Wall time at the site, for set points.</param>
/// <param name="dt">Since the last scan, s.</param>
public readonly ref struct RoomsNow(House house, Memory memory, ReadOnlySpan<Reading> readings, DateTime local, double dt)
{
    /// <summary>The house.</summary>
    public House House { get; } = house;

    /// <summary>Its memory.</summary>
    public Memory Memory { get; } = memory;

    /// <summary>Judged readings, one an input.</summary>
    public ReadOnlySpan<Reading> Readings { get; } = readings;

    /// <summary>Wall time at the site.</summary>
    public DateTime Local { get; } = local;

    /// <summary>Since the last scan, s.</summary>
    public double Dt { get; } = dt;
}

/// <summary>Other rules in the place of ours.</summary>
public interface IRoomControl
{
    /// <summary>One scan of all rooms.</summary>
    void Step(in RoomsNow now);
}

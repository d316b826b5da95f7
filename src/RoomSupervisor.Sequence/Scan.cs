// What every rule of one scan may look at. Passed by reference; holds no state of its own.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>One scan in progress.</summary>
internal readonly ref struct Scan
{
    public required double Dt { get; init; }

    public required DateTime Local { get; init; }

    public required double ElapsedS { get; init; }

    public required House House { get; init; }

    public required Memory Memory { get; init; }

    public required OutputImage Outputs { get; init; }

    /// <summary>One sample an input; empty when time passed and nothing is known.</summary>
    public required ReadOnlySpan<Sample> Samples { get; init; }

    public SequenceSettings Settings => House.Settings;

    /// <summary>The reading of an input; never read for an index of −1.</summary>
    public ref readonly Reading Reading(int input)
    {
        if (input < 0)
            return ref Outputs.Never[0];
        return ref Outputs.Readings[input];
    }

    /// <summary>True when a contact exists, is read and is made.</summary>
    public bool IsMade(int input)
    {
        ref readonly var reading = ref Reading(input);
        return reading.Exists && reading.Value > 0.5;
    }

    /// <summary>True when something that exists cannot be read: wired, or once delivered, were it nonsense, and now without a value.</summary>
    public bool IsUnread(int input)
        => input >= 0 && !Reading(input).Exists && (House.Inputs[input].Wired || Memory.Inputs[input].Has || Memory.Inputs[input].Bad == Cause.OutOfRange);

    /// <summary>True for a room with a surface that may be cooled: it cannot do without humidity.</summary>
    public bool NeedsHumidity(Room room) => House.NeedsHumidity(room);

    public void Happened(EventDefinition what, Owner owner, int index, in Reason reason, byte from = 0, byte to = 0)
        => Outputs.Happenings.Add(new Happening(what.Id, owner, index, reason, from, to));
}

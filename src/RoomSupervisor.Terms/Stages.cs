// The states of a room, a circuit and a loop, as people see them. Behaviour lives in the Sequence.
namespace RoomSupervisor.Terms;

/// <summary>Sensible stages of a room (sequence of operation, section 2).</summary>
public enum Stage : byte
{
    Off, Satisfied, PullDown, WarmUp, EasingOff, CoilHelps, RadiantHold, CoilHold, Opening,
}

/// <summary>Moisture state of a room (section 3).</summary>
public enum Moisture : byte
{
    Resting, Dehumidifying,
}

/// <summary>Level of the condensation guard (section 5), mildest first so that the worst is the largest.</summary>
public enum GuardLevel : byte
{
    Clear, Raised, Shut,
}

/// <summary>What the source makes.</summary>
public enum SourceMode : byte
{
    Cooling, Heating, HotWater,
}

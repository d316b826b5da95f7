// What is remembered of sources, their change-over, hot water, buffer and batches of drying: plain structs as in Memory.cs, only times that have
// passed and no clocks.
using System.Runtime.InteropServices;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>What is remembered of one source.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct SourceMemory
{
    /// <summary>True while it makes warm water for the rooms.</summary>
    public bool Heats;
    /// <summary>True when what it makes is known from before a restart.</summary>
    public bool Resumed;
    /// <summary>False until the first scan: a rest begins with it, not before.</summary>
    public bool Known;
    /// <summary>How many have asked in this scan.</summary>
    public int Asks;
    /// <summary>How many of them are rooms with an open door that will want it when the door has shut.</summary>
    public int OpeningsAsk;
    /// <summary>How long such a room goes on asking, s: the longest.</summary>
    public double OpeningsLeftS;
    /// <summary>True while a room is pulled down or warmed up with its water.</summary>
    public bool AtOnce;
    public double AskedForS;
    /// <summary>What the rooms at work ask of it, W.</summary>
    public double LoadW;
    /// <summary>Water the most demanding loop wants, °C; NaN: none.</summary>
    public double WantedC;
    public bool Calling;
    /// <summary>True while the machine runs: by its contact where that is read, else while it is called.</summary>
    public bool Runs;
    /// <summary>How long it has run or rested, s.</summary>
    public double InStateS;
    public StartTimes Starts;
    /// <summary>True once the machine has run for the call that stands.</summary>
    public bool HasRun;
    public bool ToldStarts;
    /// <summary>Fault or lock that was told and lasts.</summary>
    public Cause ToldStopped;
    public RoomsWaterMemory Water;
    public ChangeOverMemory Change;
    public HotWaterMemory HotWater;
    public BufferMemory Buffer;
    public DryingMemory Drying;
}

/// <summary>Whether its water is for the rooms.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct RoomsWaterMemory
{
    /// <summary>Why it is not; none: it is.</summary>
    public Cause NotForRooms;
    /// <summary>For how long one and the same cause has held, s.</summary>
    public double ForS;
    public Cause Seen;
    /// <summary>True when a cause has held for longer than it can: no longer believed until it has gone.</summary>
    public bool Disbelieved;
    /// <summary>True while hot water may still stand in the pipes of a source that cools.</summary>
    public bool HotBefore;
    public double SlugForS;
}

/// <summary>Change-over of a source that makes both.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct ChangeOverMemory
{
    /// <summary>Floor of the rooms that want what it makes, m².</summary>
    public double SameM2;
    /// <summary>Floor of those that want the opposite and could be served with it, m².</summary>
    public double OppositeM2;
    public double NobodyForS;
    public double OppositeForS;
    public double MajorityForS;
    /// <summary>How long no change may come that takes water from rooms that want it, s.</summary>
    public double ContestedRestS;
    /// <summary>How long the smaller part must wait for its next turn, s.</summary>
    public double TurnRestS;
    /// <summary>True while the smaller part has its turn.</summary>
    public bool Turn;
    public double TurnForS;
    public bool Changing;
    /// <summary>True once it makes the other and only its valve still moves.</summary>
    public bool Changed;
    public double ForS;
    public double StillForS;
    public double ValveForS;
    /// <summary>The change under way gives the smaller part its turn.</summary>
    public bool ForTurn;
}

/// <summary>What the tank is doing.</summary>
public enum HotWaterPhase : byte
{
    /// <summary>Nothing asked.</summary>
    Rest,

    /// <summary>Too cold, and waits for a pull-down or a change-over.</summary>
    Waiting,

    /// <summary>Valves and pumps of the rooms shut before the hot water comes.</summary>
    Preparing,

    Charging,

    /// <summary>The rooms have the source, whatever the tank wants.</summary>
    RoomsTurn,
}

/// <summary>Hot water.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct HotWaterMemory
{
    public HotWaterPhase Phase;
    public double ForS;
    /// <summary>True once a cold room has taken the source from the tank: the next charge is carried through.</summary>
    public bool PreEmpted;
    public bool ToldNotReached;
    /// <summary>True while the charge output is on, by hand too.</summary>
    public bool ChargeOn;
    /// <summary>Time since the tank was last as hot as hygiene asks, s.</summary>
    public double SinceHygieneS;
    public double HygieneDueForS;
}

/// <summary>A buffer.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct BufferMemory
{
    public bool Charging;
    /// <summary>How long it has carried rooms that ask, s.</summary>
    public double CarriesForS;
}

/// <summary>Rooms that wish to be dried, taken together.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct DryingMemory
{
    /// <summary>How many wish and wait.</summary>
    public int Wishing;
    /// <summary>What their coils and those that dry already will take, W.</summary>
    public double WishW;
    /// <summary>How long the first of them has waited, s.</summary>
    public double LongestS;
    /// <summary>True once it is worth while, or the wait is over.</summary>
    public bool Granted;
    public bool Told;
}

// What is remembered of loops beyond their water: pumps, drift of mixing valves, exercise, and what a loop keeps of its circuits: plain structs as in Memory.cs, only times that have passed and no clocks.
using System.Runtime.InteropServices;

namespace RoomSupervisor.Sequence;

/// <summary>What a loop remembers of one of its circuits.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct CircuitLoopMemory
{
    /// <summary>Requests for more of the loop's water, 0 to 3, and for how long more than that has been wanted.</summary>
    public byte Requests;
    public double RequestForS;
    /// <summary>How long its valve has not moved, s.</summary>
    public double IdleS;
    /// <summary>True when it takes part in the exercise of its loop.</summary>
    public bool IsExercised;
    /// <summary>How long its end switch has said otherwise than its valve was told.</summary>
    public double OtherwiseForS;
    public bool ToldOtherwise;
}

/// <summary>Drift of a mixing valve whose position is only counted.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct DriftMemory
{
    /// <summary>Travel since it last stood at an end stop, percent of a stroke.</summary>
    public double TravelPercent;
    /// <summary>How long it has been told to stand there.</summary>
    public double EndForS;
    /// <summary>How much longer it shuts in order to get there; 0: it does not.</summary>
    public double ShutsForS;
}

/// <summary>Pumps of a loop.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct PumpMemory
{
    public double PostRunS;
    /// <summary>True while one runs only because of that.</summary>
    public bool RunsOn;
    public double UnprovenForS;
    public bool ToldUnproven;
    /// <summary>True while the standby pump is the one that runs.</summary>
    public bool OnStandby;
    /// <summary>How long they must not be changed again, s.</summary>
    public double ChangeRestS;
}

/// <summary>Exercise of what has stood for long.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct ExerciseMemory
{
    public double PumpIdleS;
    public double StandbyIdleS;
    public double MixingIdleS;
    /// <summary>How long one is under way; 0: none is.</summary>
    public double ForS;
    /// <summary>How long it waits after one that was broken off, s.</summary>
    public double RestS;
    public bool WithPump;
    public bool WithMixing;
    /// <summary>What had stood longest, s.</summary>
    public double LongestS;
}

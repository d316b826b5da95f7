// What is remembered of loops: water, mixing valve and its drift, pumps, exercise, and what a loop keeps of its circuits: plain structs as in Memory.cs, only times that have passed and no clocks.
using System.Runtime.InteropServices;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>What is remembered of one loop.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct LoopMemory
{
    /// <summary>True while its water is warm water, by its season or by what the source makes.</summary>
    public bool Heats;
    public bool HasSetPoint;
    /// <summary>True while the condensation switch of its manifold is wet.</summary>
    public bool ManifoldWet;
    /// <summary>True while a programme holds its supply, and at what, °C. Set from outside between two scans (<see cref="Loops.Held"/>); a restart begins without.</summary>
    public bool IsHeld;
    public double HeldC;
    public double SetPointC;
    public double WantedC;
    public double LowestSafeC;
    /// <summary>What makes its lowest safe (in heating its highest) supply what it is; none: nothing limits it.</summary>
    public Reason Limit;
    /// <summary>True while its lowest safe supply is still of use to one of its rooms.</summary>
    public bool OfUse;
    /// <summary>What is enough for all rooms but the most humid, °C.</summary>
    public double OthersC;
    public double SlugC;
    public bool HasSlug;
    public double MixingPercent;
    public double MixingIntegral;
    public DriftMemory Drift;
    /// <summary>How long the mixing valve has controlled since it last rested, s.</summary>
    public double MixesForS;
    /// <summary>The set point as the water at the sensor can have followed it, °C.</summary>
    public double DueC;
    public bool PumpOn;
    public double PumpForS;
    public PumpMemory Pump;
    public ExerciseMemory Exercise;
    public bool Asked;
    /// <summary>Requests of its rooms in this scan, and what they have made of the set point (in heating by outdoors: of the distance from it).</summary>
    public int Requests;
    public double TrimmedC;
    public double TrimForS;
    /// <summary>True while its water, or a room on it, is close to freezing.</summary>
    public bool Frost;
    public bool FrostOfWater;
    /// <summary>True when its coils' valves were opened against it in the scan before, and for how long that has been so, s.</summary>
    public bool OpensForFrost;
    public double FrostForS;
    /// <summary>What is measured there, °C.</summary>
    public double FrostC;
    /// <summary>What stops it whatever its rooms want.</summary>
    public Cause Stopped;
    public Cause ToldStopped;
    public double HighLimitRestS;
    public double HighLimitUnreadS;
    /// <summary>Pump and mixing valve as they were when the water's sensors were last told that it moves (rule 1.2, flat).</summary>
    public bool SeenPumpOn;
    public double SeenMixingPercent;
    /// <summary>True once it has flowed, and whether warm.</summary>
    public bool Used;
    public bool UsedHeats;
    public double SinceUsedS;
    /// <summary>How long it still rests from the opposite use, s.</summary>
    public double OppositeRestS;
}

/// <summary>What a loop remembers of one of its circuits.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct CircuitLoopMemory
{
    /// <summary>Requests for more of the loop's water, 0 to 3, and for how long more than that has been wanted.</summary>
    public byte Requests;
    public double RequestForS;
    /// <summary>How much more of its smallest opening a slab has had than it was asked for, percent times seconds.</summary>
    public double SpentPercentS;
    /// <summary>How long its valve has not moved, s.</summary>
    public double IdleS;
    /// <summary>True when it takes part in the exercise of its loop.</summary>
    public bool IsExercised;
    /// <summary>How long its end switch has said otherwise than its valve was told.</summary>
    public double OtherwiseForS;
    public bool ToldOtherwise;
    /// <summary>How long it has waited, shut, while others use colder water; how long the loop has been warmed for it since; and whether that was told.</summary>
    public double WaitsForS;
    public double TurnForS;
    public bool ToldWaits;
    /// <summary>True when it was opened against frost in the scan before, and for how long that has been so, s.</summary>
    public bool OpensForFrost;
    public double FrostForS;
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

/// <summary>Usual heat load of a room with a heated slab, and how its air is going.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct HeatLoadMemory
{
    /// <summary>True while it heats with a slab and the air of the last hour is known.</summary>
    public bool Has;
    public double SlowC;
    public double FallsKPerS;
    /// <summary>What its surfaces have given for each kelvin between the room and outdoors, W/K.</summary>
    public double WPerK;
}

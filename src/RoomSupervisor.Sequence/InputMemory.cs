// What is remembered of one input from scan to scan: what was believed, what is doubted and for how long. A plain, packed struct without clocks, like all of Memory.
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>What is remembered of one input.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct InputMemory
{
    /// <summary>Four times that pass together, side by side.</summary>
    public double AgeS, SinceAcceptedS, CandidateForS, FlatForS;
    public double LastTakenS;
    public double Raw;
    public double Filtered;
    public double SlopePerS;
    public double FlatBase;
    public double FastForS;
    public double CandidateBase;
    public bool Has;
    public bool FastUp;
    public Cause Bad;
    public bool ToldMissing;
    /// <summary>Rule 1.2, flat: <see cref="FlatBase"/> is the value from which a movement is counted, <see cref="FlatForS"/> how long there has been none; the plant has moved meanwhile.</summary>
    public bool PlantMoved;
    public bool WasFlat;
    /// <summary>Disagrees with what else is known of the same quantity; for how long it has, and for how long it has agreed.</summary>
    public bool Odd;
    /// <summary>Two others say so, or physics does: its value is not used.</summary>
    public bool IsOut;
    public double OddForS;
    public double AgreesForS;
    /// <summary>How long a doubted supply sensor's loop must stand before it is believed again; grows each time, s.</summary>
    public double OddRestS;
    public Reason OddWhy;
    /// <summary>Learned standing offset of this humidity sensor's dew point, K.</summary>
    public double LearnedK;

    /// <summary>Time passes for what is counted in it, whatever comes.</summary>
    public void Pass(double dt) => Unsafe.As<double, Vector256<double>>(ref AgeS) += Vector256.Create(dt);
}

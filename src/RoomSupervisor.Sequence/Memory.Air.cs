// What is remembered of a room's heat balance (section 2, rule 7). Plain and packed like the rest of the memory; written by Rooms/AirModel only.
using System.Runtime.InteropServices;

namespace RoomSupervisor.Sequence;

/// <summary>Least squares of a pull-down: what they know so far, and the normal matrix with its right-hand side.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct AirModelMemory
{
    /// <summary>Heat capacity of the air and what follows it at once, J/K of believed coil watts; 0: no pull-down seen.</summary>
    public double CapacityJPerK;
    /// <summary>What walls and furniture give on top for every kelvin the air comes, W/K.</summary>
    public double WallsWPerK;
    public int Input;
    /// <summary>Air at the start, by the sensor, °C.</summary>
    public double FromC;
    /// <summary>Output of coils and surfaces as late as the sensor, W.</summary>
    public double GivenW;
    /// <summary>The same as late as the sensor's rate, W.</summary>
    public double LaggedW;
    /// <summary>What furniture and the skin of the walls are believed to have, °C, and whether that is known.</summary>
    public double StoredC;
    public bool HasStored;
    /// <summary>The same at the start of the pull-down, °C.</summary>
    public double StoredFromC;
    public double CC, CK, CL, KK, KL, LL, CB, KB, LB;
}

// What coil and surface of a closed run feel of a room. Never tells what a sensor says.
using RoomSupervisor.Physics;

namespace RoomSupervisor.Parts.Tests.Closed;

internal interface ITrueAir
{
    double AirC { get; }

    double FurnitureC { get; }

    /// <summary>Plaster of walls, °C.</summary>
    double SkinC { get; }

    /// <summary>kg/kg.</summary>
    double HumidityRatio { get; }

    AirState State();
}

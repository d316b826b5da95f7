// Rival (a): a room thermostat on the coil alone, as it hangs on many walls: the fan runs as fast as it may from half a kelvin over the set point to half a kelvin under it.
// Must never open a surface, dry for its own sake, or know of a door.
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Desk.Compare;

/// <summary>On and off by the warmest of a coil's rooms.</summary>
/// <param name="house">The house.</param>
internal sealed class CoilThermostat(House house) : IRoomControl
{
    /// <summary>On over the set point by this, off under it by this, K.</summary>
    internal const double BandK = 0.5;

    private readonly bool[] on = new bool[house.Coils.Length];

    public void Step(in RoomsNow now)
    {
        Emitting.Rooms(now);
        for (var i = 0; i < on.Length; i++)
        {
            var error = Emitting.TooWarmOf(now, i);
            on[i] = error > BandK || (on[i] && error > -BandK);
            Emitting.Coil(now, i, on[i] ? 1 : 0);
        }
        for (var i = 0; i < now.House.Circuits.Length; i++)
            Emitting.Surface(now, i, 0);
    }
}

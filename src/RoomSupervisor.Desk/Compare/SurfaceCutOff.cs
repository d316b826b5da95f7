// Rival (b): the surface alone behind a room thermostat, with a fixed dew-point cut-off: its circuit shuts when the supply comes within two kelvin of the room's dew point.
// Must never run a fan, or ask for warmer water: a cut-off knows nothing but shut.
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Desk.Compare;

/// <summary>On and off by the room, shut by the dew point.</summary>
/// <param name="house">The house.</param>
internal sealed class SurfaceCutOff(House house) : IRoomControl
{
    /// <summary>On over the set point by this, off under it by this, K (as the thermostat of the coil).</summary>
    internal const double BandK = CoilThermostat.BandK;

    /// <summary>The supply must be so far over the room's dew point, and a little farther to open again, K.</summary>
    internal const double CutOffK = 2, AgainK = 0.3;

    private readonly bool[] on = new bool[house.Circuits.Length], cut = new bool[house.Circuits.Length];

    public void Step(in RoomsNow now)
    {
        Emitting.Rooms(now);
        for (var i = 0; i < now.House.Coils.Length; i++)
            Emitting.Coil(now, i, 0);
        for (var i = 0; i < on.Length; i++)
        {
            var circuit = now.House.Circuits[i];
            var error = Emitting.TooWarmK(now, circuit.Room);
            on[i] = now.House.Loops[circuit.Loop].Cools && (error > BandK || (on[i] && error > -BandK));
            cut[i] = IsCut(now, circuit, cut[i]);
            Emitting.Surface(now, i, on[i] && !cut[i] ? 1 : 0);
        }
    }

    // Without a dew point or a supply nobody can say that it is dry.
    private static bool IsCut(in RoomsNow now, Circuit circuit, bool was)
    {
        var supply = now.House.Loops[circuit.Loop].Supply;
        var dew = now.Memory.Rooms[circuit.Room].DewPointC;
        return supply < 0 || !now.Readings[supply].Exists || !(now.Readings[supply].Value > dew + CutOffK + (was ? AgainK : 0));
    }
}

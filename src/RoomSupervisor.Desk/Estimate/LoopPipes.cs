// How much heat the pipes of a loop let through a kelvin, and the room they lie in: the virtual house's own pipes. Must never count the way back: the plant does not either.
using RoomSupervisor.Sequence;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>Pipes of a cooled loop.</summary>
/// <param name="Loop">Its index.</param>
/// <param name="Room">Room they lie in.</param>
/// <param name="ServesCoils">It serves coils.</param>
/// <param name="Coils">Its coils.</param>
/// <param name="ConductanceWPerK">W/K, supply and branches.</param>
internal sealed record LoopPipes(int Loop, int Room, bool ServesCoils, IReadOnlyList<int> Coils, double ConductanceWPerK)
{
    /// <summary>All cooled loops of a drafted house.</summary>
    public static LoopPipes[] Of(Drafted drafted)
    {
        var house = drafted.Files.House;
        return [.. house.Loops.Select((loop, i) => (Loop: loop, Plan: drafted.Plant.Loops[i], Index: i)).Where(one => one.Loop.Cools && house.Sources[0].Cools)
            .Select(one => new LoopPipes(one.Index, one.Plan.ManifoldRoom, one.Loop.Serves == LoopServes.Coils, [.. one.Loop.Coils], Conductance(one.Plan.Supply) + one.Plan.Circuits.Sum(circuit => Conductance(circuit.Pipe))))];
    }

    // Layer and film of a cylinder (ISO 12241), as the plant's pipes have it.
    private static double Conductance(PipePlan pipe)
    {
        double outer = pipe.OutsideDiameterM + 2 * pipe.InsulationM, film = 1 / (pipe.FilmWPerM2K * Math.PI * outer), layer = Math.Log(outer / pipe.OutsideDiameterM) / (2 * Math.PI * pipe.InsulationWPerMK);
        return pipe.LengthM / (film + layer);
    }
}

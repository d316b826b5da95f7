// How much heat the pipes of a loop let through a kelvin, and the room they lie in: the virtual house's own pipes. Must never count the way back: the plant does not either.
using RoomSupervisor.Sequence;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>Pipes of a cooled loop.</summary>
/// <param name="Loop">Its index.</param>
/// <param name="Room">Room they lie in.</param>
/// <param name="ServesCoils">It serves coils.</param>
/// <param name="SupplyWPerK">Supply, W/K.</param>
/// <param name="Branches">Branches: surface in the building or −1, coil or −1, W/K.</param>
internal sealed record LoopPipes(int Loop, int Room, bool ServesCoils, double SupplyWPerK, IReadOnlyList<(int Surface, int Coil, double WPerK)> Branches)
{
    /// <summary>All cooled loops of a drafted house.</summary>
    public static LoopPipes[] Of(Drafted drafted)
    {
        var house = drafted.Files.House;
        return [.. house.Loops.Select((loop, i) => (Loop: loop, Plan: drafted.Plant.Loops[i], Index: i)).Where(one => one.Loop.Cools && house.Sources[0].Cools)
            .Select(one => new LoopPipes(one.Index, one.Plan.ManifoldRoom, one.Loop.Serves == LoopServes.Coils, Conductance(one.Plan.Supply), [.. one.Plan.Circuits.Select(circuit => (circuit.Surface, circuit.FanCoil, Conductance(circuit.Pipe)))]))];
    }

    /// <summary>Of the pipes in which water runs, W/K: 0 while all branches stand.</summary>
    /// <param name="surfaceRuns">A surface of the building has water.</param>
    /// <param name="coilRuns">A coil has.</param>
    public double RunningWPerK(Func<int, bool> surfaceRuns, Func<int, bool> coilRuns)
    {
        var sum = 0.0;
        foreach (var (surface, coil, conductance) in Branches)
            sum += (surface >= 0 && surfaceRuns(surface)) || (coil >= 0 && coilRuns(coil)) ? conductance : 0;
        return sum > 0 ? sum + SupplyWPerK : 0;
    }

    // Layer and film of a cylinder (ISO 12241), as the plant's pipes have it.
    private static double Conductance(PipePlan pipe)
    {
        double outer = pipe.OutsideDiameterM + 2 * pipe.InsulationM, film = 1 / (pipe.FilmWPerM2K * Math.PI * outer), layer = Math.Log(outer / pipe.OutsideDiameterM) / (2 * Math.PI * pipe.InsulationWPerMK);
        return pipe.LengthM / (film + layer);
    }
}

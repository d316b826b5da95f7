// Flows, pipes and pumps of the drafted loops: friction by Darcy and Weisbach, sizes by velocity and pressure a metre, head of the worst way, duty.
// Must never be taken for a layout: lengths are stated defaults until somebody has drawn the pipes.
using RoomSupervisor.Physics;
using RoomSupervisor.Sequence;
using PhysicalWater = RoomSupervisor.Physics.Water;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>A pipe of a size.</summary>
/// <param name="Name">Outside × wall, mm.</param>
/// <param name="BoreM">m.</param>
/// <param name="VelocityMPerS">m/s.</param>
/// <param name="PaPerM">Pa/m.</param>
public sealed record PipeChoice(string Name, double BoreM, double VelocityMPerS, double PaPerM);

/// <summary>One circuit or coil of a loop.</summary>
/// <param name="Id">Its id.</param>
/// <param name="FlowM3PerH">m³/h.</param>
/// <param name="Pipe">Pipe to it, or in the floor.</param>
/// <param name="PipeM">Pipe, m, there and back; in floors the pipe in the screed.</param>
/// <param name="Ports">Ways on the manifold.</param>
/// <param name="LossPa">Pressure lost on its way, Pa.</param>
public sealed record CircuitEstimate(string Id, double FlowM3PerH, PipeChoice Pipe, double PipeM, int Ports, double LossPa);

/// <summary>A loop.</summary>
/// <param name="Id">Its id.</param>
/// <param name="FlowM3PerH">m³/h, everything open.</param>
/// <param name="Trunk">Its trunk pipe.</param>
/// <param name="TrunkM">m, there and back.</param>
/// <param name="HeadPa">Pa.</param>
/// <param name="PumpW">Electrical, W.</param>
/// <param name="MixingKv">kv of its mixing valve, m³/h; NaN: none.</param>
/// <param name="Circuits">What hangs on it.</param>
public sealed record LoopEstimate(string Id, double FlowM3PerH, PipeChoice Trunk, double TrunkM, double HeadPa, double PumpW, double MixingKv, IReadOnlyList<CircuitEstimate> Circuits)
{
    /// <summary>Coldest and warmest supply it is reckoned with, °C; NaN: not in that season.</summary>
    public double CoolingSupplyC { get; init; } = double.NaN;

    /// <summary>See <see cref="CoolingSupplyC"/>.</summary>
    public double HeatingSupplyC { get; init; } = double.NaN;
}

internal static class Hydronics
{
    /// <summary>Multilayer pipe as it is usually sold, outside × wall, mm.</summary>
    private static readonly (double Outside, double Wall)[] Sold = [(16, 2), (20, 2), (26, 3), (32, 3), (40, 3.5), (50, 4), (63, 4.5)];

    // Velocity at most 1 m/s, 1.5 over a bore of 50 mm, and 300 Pa/m (CIBSE Guide B as a course sheet quotes it). The rest is common practice, no published source.
    private const double MostMPerS = 1, MostOver50MPerS = 1.5, MostPaPerM = 300, RoughnessM = 7e-6, Fittings = 1.3, TrunkM = 24, BranchM = 16, LongestCircuitM = 100, PanelPa = 15_000, CoilPa = 18_000, MixingPa = 5000, ManifoldKv = 1.2, Efficiency = 0.25;

    /// <summary>Smallest pipe that keeps the limits; the largest where none does.</summary>
    /// <param name="flowM3PerH">m³/h.</param>
    /// <param name="waterC">°C, for its viscosity.</param>
    public static PipeChoice Choose(double flowM3PerH, double waterC)
    {
        PipeChoice? last = null;
        foreach (var (outside, wall) in Sold)
        {
            last = At(flowM3PerH, outside, wall, waterC);
            if (last.PaPerM <= MostPaPerM && last.VelocityMPerS <= (last.BoreM > 0.05 ? MostOver50MPerS : MostMPerS))
                break;
        }
        return last!;
    }

    private static PipeChoice At(double flow, double outside, double wall, double waterC)
    {
        var bore = (outside - 2 * wall) / 1000;
        PhysicalWater.TryProperties(waterC, out var water, out _);
        var velocity = Sure.Of(WaterFlow.TryVelocity(flow, bore, out var v, out var why), v, why);
        var friction = Sure.Of(WaterFlow.TryFriction(Math.Min(velocity, 10), bore, RoughnessM, water, out var pa, out why), pa, why);
        return new PipeChoice(FormattableString.Invariant($"{outside} × {wall}"), bore, velocity, friction);
    }

    /// <summary>All loops of a drafted site.</summary>
    public static IReadOnlyList<LoopEstimate> Of(Drafted drafted) => [.. drafted.Files.House.Loops.Select((loop, i) => Loop(drafted, loop, i))];

    private static LoopEstimate Loop(Drafted drafted, Loop loop, int index)
    {
        var waterC = loop.Serves == LoopServes.Coils ? 9.5 : loop.Cools ? 17 : 35;
        PhysicalWater.TryProperties(waterC, out var water, out _);
        List<CircuitEstimate> circuits = [];
        foreach (var one in drafted.Plant.Loops[index].Circuits)
        {
            var flow = one.Flow.RatedKgPerS * 3600 / water.DensityKgPerM3;
            circuits.Add(one.Surface < 0 ? ToCoil(one.Name, flow, waterC) : ToSurface(drafted, one.Name, flow, waterC));
        }
        var all = circuits.Sum(circuit => circuit.FlowM3PerH);
        var trunk = Choose(all, waterC);
        var isMixed = loop.Type == LoopType.Mixed;
        var head = circuits.Max(circuit => circuit.LossPa) + trunk.PaPerM * TrunkM * Fittings + (isMixed ? MixingPa : 0);
        return new LoopEstimate(
            loop.Id, all, trunk, TrunkM, head, Sure.Of(PumpDuty.TryPower(all, head, Efficiency, out var watts, out var why), watts, why),
            isMixed ? Sure.Of(PumpDuty.TryKv(all, MixingPa, out var kv, out why), kv, why) : double.NaN, circuits);
    }

    private static CircuitEstimate ToCoil(string id, double flow, double waterC)
    {
        var pipe = Choose(flow, waterC);
        return new CircuitEstimate(id, flow, pipe, BranchM, 1, CoilPa + pipe.PaPerM * BranchM * Fittings);
    }

    // In screed and plaster the pipe is the circuit: as many as keep each under a hundred metres; panels hang on a branch and lose what their sheets say.
    private static CircuitEstimate ToSurface(Drafted drafted, string id, double flow, double waterC)
    {
        var circuit = drafted.Files.House.Circuits.First(one => one.Id == id);
        var wished = drafted.Wish.Rooms[circuit.Room].Surfaces.First(surface => circuit.Id.EndsWith("." + surface.Key, StringComparison.Ordinal));
        if (wished.From.Made == "panel")
        {
            var branch = Choose(flow, waterC);
            return new CircuitEstimate(id, flow, branch, BranchM, 1, PanelPa + branch.PaPerM * BranchM * Fittings);
        }
        var laid = wished.AreaM2 / wished.From.SpacingM;
        var ways = (int)Math.Max(1, Math.Ceiling((laid + BranchM) / LongestCircuitM));
        var pipe = At(flow / ways, 16, 2, waterC);
        PumpDuty.TryValve(flow / ways, ManifoldKv, out var valve, out _);
        return new CircuitEstimate(id, flow, pipe, laid + BranchM * ways, ways, pipe.PaPerM * (laid / ways + BranchM) + valve);
    }
}

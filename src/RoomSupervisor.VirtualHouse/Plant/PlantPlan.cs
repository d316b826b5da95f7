// The plant of a house as its maker writes it down: source, store, loops, circuits, coils.
// Must never hold what changes while it runs.
namespace RoomSupervisor.VirtualHouse;

/// <summary>A fan coil in a room.</summary>
/// <param name="Room">Index of the room.</param>
/// <param name="Fan">Its fan.</param>
/// <param name="Coil">Its coil.</param>
public sealed record FanCoilPlan(int Room, FanPlan Fan, CoilUnitPlan Coil)
{
    /// <summary>Name that faults use, like <c>landing-hall.coil-north</c>.</summary>
    public string Name { get; init; } = "";

    /// <summary>Further rooms that ducts join to it; air is drawn from and blown into all of them alike.</summary>
    public int[] OtherRooms { get; init; } = [];
}

/// <summary>One circuit of a loop: through a surface's pipes or through a coil.</summary>
/// <param name="Surface">Index of a surface with water in the building's plan, or −1.</param>
/// <param name="FanCoil">Index of a fan coil, or −1.</param>
/// <param name="Flow">Rated flow, loss and authority.</param>
/// <param name="Valve">Its valve.</param>
/// <param name="Pipe">From the manifold, there; the way back is counted in the loop's return.</param>
public sealed record LoopCircuitPlan(int Surface, int FanCoil, CircuitPlan Flow, ValvePlan Valve, PipePlan Pipe)
{
    /// <summary>Name that faults use, like <c>landing-hall.ceiling</c>.</summary>
    public string Name { get; init; } = "";
}

/// <summary>A loop.</summary>
/// <param name="Mixed">With a mixing valve; else direct.</param>
/// <param name="ManifoldRoom">Room its pipes and manifold lie in.</param>
/// <param name="Pump">Its pump.</param>
/// <param name="Mixing">Its mixing valve, 0 for full recirculation.</param>
/// <param name="Supply">From the store to the manifold.</param>
/// <param name="Circuits">At least one.</param>
public sealed record LoopPlan(bool Mixed, int ManifoldRoom, PumpPlan Pump, ValvePlan Mixing, PipePlan Supply, LoopCircuitPlan[] Circuits)
{
    /// <summary>Name that faults use, like <c>ceiling-loop</c>.</summary>
    public string Name { get; init; } = "";
}

/// <summary>The plant.</summary>
/// <param name="Machine">The source.</param>
/// <param name="MachineFlowKgPerS">Between source and store while it is called, kg/s.</param>
/// <param name="Store">Buffer; where a house has none, the water of its header (at least 30 l).</param>
/// <param name="StoreRoom">Room it stands in.</param>
/// <param name="Loops">Loops.</param>
/// <param name="FanCoils">Fan coils.</param>
public sealed record PlantPlan(MachinePlan Machine, double MachineFlowKgPerS, StorePlan Store, int StoreRoom, LoopPlan[] Loops, FanCoilPlan[] FanCoils)
{
    /// <summary>The source's own hot water, or null.</summary>
    public HotWaterPlan? HotWater { get; init; }

    /// <summary>Water in everything at the start, °C.</summary>
    public double StartC { get; init; } = 20;
}

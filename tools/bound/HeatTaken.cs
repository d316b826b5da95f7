// What a run took out of a house, slot by slot: the heat of coils and surfaces, and everything else the plant did to the rooms.
// Must never change the run it watches.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Physics;

namespace RoomSupervisor.Bound;

/// <summary>Means over slots of what a run's plant did to the building, and what it cost.</summary>
internal sealed class HeatTaken
{
    private readonly int rooms, stepsASlot;
    private readonly RehearsalPlan plan;
    private long steps;
    private double madeC = 15;

    /// <param name="plan">The run's plan.</param>
    /// <param name="slots">Number of slots.</param>
    /// <param name="slotS">Length of one, s.</param>
    public HeatTaken(RehearsalPlan plan, int slots, int slotS)
    {
        (this.plan, stepsASlot) = (plan, slotS);
        rooms = plan.Building.Plan.Rooms.Length;
        CoilW = Slots(slots, rooms);
        VapourKgPerS = Slots(slots, rooms);
        OtherW = Slots(slots, rooms);
        SurfaceW = Slots(slots, plan.Building.Plan.Surfaces.Length);
        AirC = Slots(slots, rooms);
        CoolAboveC = Slots(slots, rooms);
        HeatBelowC = Slots(slots, rooms);
        LatentW = new double[slots];
        OutdoorC = new double[slots];
    }

    /// <summary>Heat given to each room's air by coils and their fans, W; negative cools.</summary>
    public double[][] CoilW { get; }

    /// <summary>Vapour given to each room by coils, kg/s; negative dries.</summary>
    public double[][] VapourKgPerS { get; }

    /// <summary>Heat given to each room's air by pipes, W.</summary>
    public double[][] OtherW { get; }

    /// <summary>Heat given by water to each surface of the building's plan, W; negative cools.</summary>
    public double[][] SurfaceW { get; }

    /// <summary>True air temperature of each room at the slot's end, °C.</summary>
    public double[][] AirC { get; }

    /// <summary>Upper end of the wanted band, °C.</summary>
    public double[][] CoolAboveC { get; }

    /// <summary>Lower end of the wanted band, °C.</summary>
    public double[][] HeatBelowC { get; }

    /// <summary>Latent heat taken by all coils, W.</summary>
    public double[] LatentW { get; }

    /// <summary>Outdoor air, °C.</summary>
    public double[] OutdoorC { get; }

    /// <summary>Electricity of the source, kWh.</summary>
    public double SourceKwh { get; private set; }

    /// <summary>Electricity for the sensible and latent heat taken, at the outdoor air and the water of each moment, kWh: what a source without cycling and losses would use.</summary>
    public double AtOwnWaterKwh { get; private set; }

    /// <summary>Sees one scan of a second.</summary>
    public void See(Rehearsal run)
    {
        var slot = (int)(steps++ / stepsASlot);
        if (slot >= LatentW.Length)
            return;
        var (plant, building) = (run.Run.Plant, run.Run.Building);
        SourceKwh += plant.Machine.PowerW / 3.6e6;
        madeC = plant.Machine.IsRunning ? plant.Machine.OutC : madeC;
        var tookW = Math.Max(plant.Coils.Sum(coil => coil.WaterW) - building.WaterW.Sum(), 0);
        if (HeatPump.TryCooling(Math.Clamp(run.Run.Weather.AirC, -10, 55), Math.Clamp(madeC, 4, 25), plan.Plant.Machine.ShareOfIdeal, plan.Plant.Machine.ApproachK, out var performance, out _))
            AtOwnWaterKwh += tookW / performance / 3.6e6;
        for (var i = 0; i < plant.Ducts.Count; i++)
        {
            var ducts = plant.Ducts[i];
            for (var k = 0; k < ducts.Rooms.Length; k++)
            {
                CoilW[slot][ducts.Rooms[k]] += ducts.HeatW[k] / stepsASlot;
                VapourKgPerS[slot][ducts.Rooms[k]] += ducts.VapourKgPerS[k] / stepsASlot;
                LatentW[slot] += ducts.LatentW[k] / stepsASlot;
            }
        }
        for (var i = 0; i < plant.Loops.Count; i++)
            OtherW[slot][plant.Plan.Loops[i].ManifoldRoom] -= plant.Loops[i].GainW / stepsASlot;
        for (var i = 0; i < SurfaceW[slot].Length; i++)
            SurfaceW[slot][i] += building.WaterW[i] / stepsASlot;
        for (var i = 0; i < rooms; i++)
            (AirC[slot][i], CoolAboveC[slot][i], HeatBelowC[slot][i]) = (building.AirC[i], run.Recorder.Now[i].CoolAboveC, run.Recorder.Now[i].HeatBelowC);
        OutdoorC[slot] += run.Run.Weather.AirC / stepsASlot;
    }

    /// <summary>Surfaces of the building's plan that water cools, by room.</summary>
    public int[][] SurfacesOf()
    {
        var house = plan.Files.House;
        return [.. house.Rooms.Select(room => room.Circuits.Where(c => house.Loops[house.Circuits[c].Loop].Cools).Select(c => plan.Building.SurfaceOf[c]).ToArray())];
    }

    private static double[][] Slots(int slots, int width) => [.. Enumerable.Range(0, slots).Select(_ => new double[width])];
}

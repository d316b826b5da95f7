// The house around a run, made linear: how every room's air answers to a watt in a coil or a surface in one slot, found by playing the building
// with that watt and without it. Must never play the plant: heat is the input, whatever makes it.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Bound;

/// <summary>One thing that can take heat: a room's coils, or one cooled surface.</summary>
/// <param name="Name">For people.</param>
/// <param name="Room">The room it belongs to.</param>
/// <param name="Surface">Index of the surface in the building's plan; −1: the room's coils.</param>
internal sealed record Cooler(string Name, int Room, int Surface);

/// <summary>Air temperatures by slot and room, and how they answer.</summary>
internal sealed class LinearHouse
{
    /// <summary>Step of the building, s. A minute: as often as its films follow anyway.</summary>
    private const int StepS = 60;

    /// <summary>Heat taken away to find an answer, W: small against a room's load, large against rounding.</summary>
    private const double TriedW = 100;

    private readonly RehearsalPlan plan;
    private readonly HeatTaken taken;
    private readonly double[] start, neighbours;
    private readonly int slots, stepsASlot;

    public LinearHouse(RehearsalPlan plan, HeatTaken taken, BuildingModel atStart, int slotS)
    {
        (this.plan, this.taken, slots, stepsASlot) = (plan, taken, taken.LatentW.Length, slotS / StepS);
        start = atStart.Save();
        (start[0], start[1]) = (0, 0);
        neighbours = [.. atStart.NeighbourC];
        Rooms = plan.Building.Plan.Rooms.Length;
        var surfaces = taken.SurfacesOf();
        var house = plan.Files.House;
        Coolers = [.. Enumerable.Range(0, Rooms).SelectMany(room => Of(room, house.Rooms[room].Coils.Length > 0, surfaces[room]))];
    }

    public int Rooms { get; }

    /// <summary>What can take heat.</summary>
    public Cooler[] Coolers { get; }

    /// <summary>Air at slots' ends with what the run took, by slot and room, °C.</summary>
    public double[][] BaseC { get; private set; } = [];

    /// <summary>What the run took, by slot and cooler, W, at least 0; what it gave instead is part of the base.</summary>
    public double[][] RunW { get; private set; } = [];

    /// <summary>Answer of a room's air at the end of slot k to a watt taken in slot j ≤ k by a cooler, K/W: [cooler][j][k − j][room].</summary>
    public float[][][][] Answers { get; private set; } = [];

    /// <summary>Finds base and answers.</summary>
    /// <param name="progress">Told now and then how much is done, 0…1.</param>
    public void Make(Action<double> progress)
    {
        RunW = [.. Enumerable.Range(0, slots).Select(slot => Coolers.Select(cooler => Math.Max(-Given(slot, cooler), 0)).ToArray())];
        Answers = new float[Coolers.Length][][][];
        for (var c = 0; c < Coolers.Length; c++)
            Answers[c] = new float[slots][][];
        var building = New();
        BaseC = new double[slots][];
        var states = new double[slots][];
        for (var slot = 0; slot < slots; slot++)
        {
            states[slot] = building.Save();
            BaseC[slot] = Play(building, slot, RunW[slot]);
        }
        for (var slot = 0; slot < slots; slot++)
        {
            for (var c = 0; c < Coolers.Length; c++)
                Answers[c][slot] = Answer(building, states[slot], slot, c);
            progress((slot + 1.0) / slots);
        }
    }

    /// <summary>Air by slot and room when other heat is taken, as the linear house has it, °C.</summary>
    public double[][] Linear(double[][] heatW)
    {
        double[][] air = [.. BaseC.Select(row => row.ToArray())];
        for (var j = 0; j < slots; j++)
        {
            for (var c = 0; c < Coolers.Length; c++)
                Take(air, j, c, heatW[j][c]);
        }
        return air;
    }

    /// <summary>What other heat taken in one slot by one cooler makes of the air from then on.</summary>
    /// <param name="airC">Air by slot and room, °C; changed.</param>
    /// <param name="slot">The slot.</param>
    /// <param name="cooler">The cooler.</param>
    /// <param name="heatW">Heat taken instead of what the run took, W.</param>
    public void Take(double[][] airC, int slot, int cooler, double heatW)
    {
        var more = heatW - RunW[slot][cooler];
        if (more == 0)
            return;
        for (var k = slot; k < slots; k++)
            for (var room = 0; room < Rooms; room++)
                airC[k][room] += more * Answers[cooler][slot][k - slot][room];
    }

    /// <summary>The same as the building itself has it, °C.</summary>
    public double[][] Played(double[][] heatW)
    {
        var building = New();
        var air = new double[slots][];
        for (var slot = 0; slot < slots; slot++)
            air[slot] = Play(building, slot, heatW[slot]);
        return air;
    }

    private static IEnumerable<Cooler> Of(int room, bool hasCoil, int[] surfaces)
    {
        if (hasCoil)
            yield return new Cooler("coil", room, -1);
        foreach (var surface in surfaces)
            yield return new Cooler("surface", room, surface);
    }

    private double Given(int slot, Cooler cooler) => cooler.Surface < 0 ? taken.CoilW[slot][cooler.Room] : taken.SurfaceW[slot][cooler.Surface];

    private BuildingModel New()
    {
        var building = new BuildingModel(plan.Building.Plan, StepS);
        neighbours.CopyTo(building.NeighbourC, 0);
        building.Restore(start);
        return building;
    }

    private float[][] Answer(BuildingModel building, double[] state, int from, int cooler)
    {
        building.Restore(state);
        var answer = new float[slots - from][];
        for (var slot = from; slot < slots; slot++)
        {
            double[] heat = [.. RunW[slot]];
            if (slot == from)
                heat[cooler] += TriedW;
            var air = Play(building, slot, heat);
            answer[slot - from] = [.. air.Select((t, room) => (float)((t - BaseC[slot][room]) / TriedW))];
        }
        return answer;
    }

    private double[] Play(BuildingModel building, int slot, double[] heatW)
    {
        var household = new HouseholdPlay(plan.Scenario, building);
        var zone = plan.Files.Site.TimeZone;
        var midnight = Terms.DateText.TimeOf(plan.Scenario.FromMinutes);
        var begin = new DateTimeOffset(midnight, zone.GetUtcOffset(midnight)).ToUniversalTime();
        for (var i = 0; i < stepsASlot; i++)
        {
            var now = begin.AddSeconds((slot * stepsASlot + i) * (double)StepS);
            household.Set((now.UtcDateTime + zone.GetUtcOffset(now) - midnight).TotalSeconds);
            for (var room = 0; room < Rooms; room++)
            {
                building.ConvectiveW[room] += taken.OtherW[slot][room];
                building.VapourKgPerS[room] += taken.VapourKgPerS[slot][room];
            }
            Array.Clear(building.PipesW);
            for (var c = 0; c < Coolers.Length; c++)
            {
                var cooler = Coolers[c];
                // What the run gave instead of took belongs to the house as it was.
                var gave = Math.Max(Given(slot, cooler), 0) - heatW[c];
                if (cooler.Surface < 0)
                    building.ConvectiveW[cooler.Room] += gave;
                else
                    building.PipesW[cooler.Surface] += gave;
            }
            plan.Weather.At(now.AddSeconds(StepS), out var weather);
            building.Step(weather);
        }
        return [.. building.AirC];
    }
}

// The shortest possible recovery after a door has shut: the same house from the same second, with fan at its cap at once, valves stroking, surfaces
// as cold as the true dew point allows. Must never be slower than a control could be: everything else does what it did in the run.
using RoomSupervisor.Sequence;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>Follows one recovery from the door's shutting on, and plays its bound when it is over.</summary>
internal sealed class ShortestRecovery(RehearsalPlan plan, House house, HouseRun run, int room)
{
    private const int LongestS = 4 * 3600;

    private readonly double[] state = run.Save();
    private readonly List<PlantCommands> commands = [];
    private readonly List<float[]> caps = [];
    private readonly List<float> wanted = [];

    /// <summary>Keeps what held in a second of the run: the commands before the house's step, the caps of the room's coils in % and the set point.</summary>
    public void Keep(PlantCommands before, ReadOnlySpan<double> capPercent, double coolAboveC)
    {
        if (commands.Count >= LongestS)
            return;
        commands.Add(before);
        var own = new float[house.Rooms[room].Coils.Length];
        for (var i = 0; i < own.Length; i++)
            own[i] = (float)capPercent[house.Rooms[room].Coils[i]];
        caps.Add(own);
        wanted.Add((float)coolAboveC);
    }

    /// <summary>
    /// Minutes to the first moment within 0.3 K of the set point; NaN when not even this gets there while it was watched. With and without surfaces: where the
    /// source is small, cold water that a surface takes is missing in the coil. And with the source as cold as it can be or as the run had it: one that is driven harder has cooled its
    /// water sooner, and may rest when it is wanted.
    /// </summary>
    public double Play()
    {
        var least = double.NaN;
        foreach (var (surfaces, source) in ((bool, bool)[])[(true, true), (false, true), (true, false), (false, false)])
        {
            var minutes = Play(surfaces, source);
            least = double.IsNaN(least) || minutes < least ? minutes : least;
        }
        return least;
    }

    private double Play(bool withSurfaces, bool drivesSource)
    {
        var twin = Prepared.Twin(plan, run.Building.StepS);
        twin.Restore(state);
        var steps = plan.StepsPerScan;
        for (var second = 0; second < commands.Count; second++)
        {
            commands[second].To(twin.Plant);
            Best(twin, caps[second], withSurfaces, drivesSource);
            for (var i = 0; i < steps; i++)
                twin.Step();
            if (twin.Building.AirC[room] <= wanted[second] + Measures.PullDownWatch.BackK)
                return (second + 1) / 60.0;
        }
        return double.NaN;
    }

    private void Best(HouseRun twin, float[] cap, bool withSurfaces, bool drivesSource)
    {
        var plant = twin.Plant;
        if (drivesSource)
            (plant.Call, plant.Cooling) = (true, true);
        for (var i = 0; i < cap.Length; i++)
        {
            var coil = house.Rooms[room].Coils[i];
            var fan = plant.Plan.FanCoils[coil].Fan;
            if (cap[i] / 100 >= fan.StartSpeed)
                plant.FanVolts[coil] = Math.Max(plant.FanVolts[coil], fan.VoltsFor(cap[i] / 100));
            var loop = house.Coils[coil].Loop;
            Open(plant.Loops[loop], house.Loops[loop].Circuits.Length + house.Loops[loop].Coils.IndexOf(coil));
            plant.Loops[loop].MixingCommand = 1;
            if (drivesSource)
                plant.SetPointC = Math.Min(plant.SetPointC, house.Loops[loop].ColdestC);
        }
        if (!withSurfaces)
            return;
        foreach (var circuit in house.Rooms[room].Circuits)
        {
            var loop = house.Circuits[circuit].Loop;
            if (house.Loops[loop].Cools)
                Cool(twin, loop, house.Loops[loop].Circuits.IndexOf(circuit));
        }
    }

    private static void Open(LoopRun loop, int at) => (loop.ValveCommand[at], loop.PumpCommand) = (1, 1);

    // Water just above the highest true dew point of all rooms on the loop.
    private void Cool(HouseRun twin, int loop, int at)
    {
        var water = twin.Plant.Loops[loop];
        Open(water, at);
        var dew = double.NegativeInfinity;
        foreach (var circuit in house.Loops[loop].Circuits)
            dew = Math.Max(dew, twin.Building.DewPointC[house.Circuits[circuit].Room]);
        var target = Math.Max(dew + 0.05, 10);
        var cold = twin.Plant.Store.BottomC;
        var share = Math.Clamp((water.ReturnC - target) / Math.Max(water.ReturnC - cold, 0.1), 0, 1);
        // Never less than the run itself gave: it may have cooled others more than this room's dew point would.
        water.MixingCommand = Math.Max(water.MixingCommand, share);
    }
}

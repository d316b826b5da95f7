// From a site file and its building.yaml to a plant: source, buffer, hot water, loops with their pumps and pipes, coils with their fans.
// Must never give the plant more than the site file states: where it says nothing, the stated default errs to the small side.
using RoomSupervisor.Physics;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using RoomSupervisor.VirtualHouse;
using Coil = RoomSupervisor.Sequence.Coil;
using SequenceActuator = RoomSupervisor.Sequence.ActuatorKind;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>Makes a plant of a site.</summary>
public static class PlantFromSite
{
    // Design difference between supply and return: coils 5 K, cooled surfaces 3 K, heated slabs 5 K (common practice, no published source).
    private const double CoilK = 5, PanelK = 3, SlabK = 5, Water = 4190;

    /// <summary>Makes the plant; its loops and coils stand in the order of the house.</summary>
    /// <param name="house">The site's house.</param>
    /// <param name="file">Its building.yaml, or defaults.</param>
    /// <param name="building">The building it serves.</param>
    /// <exception cref="NotSupportedException">A house this simulator cannot play; the text says why.</exception>
    public static PlantPlan Make(House house, BuildingFile file, VirtualBuilding building)
    {
        if (house.Sources.Length > 1)
            throw new NotSupportedException("a house with a second source for heat (four pipes) cannot be rehearsed yet: leave heat-source out for a rehearsal of the cooling season");
        var source = house.Sources[0];
        var coils = house.Coils.Select(Coil).ToArray();
        var machine = Machine(source, house, file);
        var storeL = house.Buffer is { } buffer ? Math.Clamp(buffer.Settings.VolumeL, 30, 5000) : 30;
        var plan = new PlantPlan(machine, Math.Max(machine.CoolingW, machine.HeatingW) / (Water * 5), new StorePlan(storeL, 0.3 + 0.004 * storeL), StoreRoom(house),
            [.. house.Loops.Select((loop, i) => Loop(house, loop, i, building, coils))], [.. coils])
        {
            StartC = 21,
        };
        return house.HotWater is { } tank
            // The site calls the charge itself: the machine then charges whenever it is allowed to.
            ? plan with { HotWater = new HotWaterPlan(new StorePlan(200, 1.5), Math.Clamp(tank.Settings.WantedC + (tank.Charge >= 0 ? 3 : 0), 40, 65)) { BandK = tank.Charge >= 0 ? 1 : 6 } }
            : plan;
    }

    private static int StoreRoom(House house) => Math.Max(house.Loops.Select(loop => loop.ManifoldRoom).FirstOrDefault(room => room >= 0, 0), 0);

    private static MachinePlan Machine(Source source, House house, BuildingFile file)
    {
        // Without a word: what the machine can hold least is 30 % of what it can give (common practice, no published source); without that either, four fifths of the coils.
        var least = source.Settings.MinimumOutputW;
        var coils = house.Coils.Sum(coil => coil.Kind.OutputW / 0.75);
        var surfaces = house.Circuits.Sum(circuit => circuit.Settings.AreaM2 * circuit.Kind.OutputWPerM2);
        var cold = double.IsFinite(file.CoolingOutputW) ? file.CoolingOutputW : double.IsFinite(least) ? least / 0.3 : Math.Max(0.8 * Math.Max(coils, surfaces), 2000);
        var heat = double.IsFinite(file.HeatingOutputW) ? file.HeatingOutputW : 1.1 * cold;
        (cold, heat) = (Math.Clamp(cold, 500, 100_000), Math.Clamp(heat, 500, 100_000));
        var share = double.IsFinite(least) ? Math.Clamp(least / cold, 0.1, 1) : 0.3;
        return new MachinePlan(cold, heat, share) { BoilerEfficiency = source.Type == SourceType.Boiler ? 0.9 : double.NaN };
    }

    /// <summary>A fan coil from its rating: conductances so that it gives its sensible output at full speed with rated water and room.</summary>
    private static FanCoilPlan Coil(Coil coil)
    {
        var kind = coil.Kind;
        AirState.TryFromRelativeHumidity(kind.RatedRoomC, 50, 101_325, out var air, out _);
        // Air is blown 11 K colder than it came at a rating with 7 °C water and 27 °C air, in proportion elsewhere (common practice, no published source).
        var dry = kind.OutputW / (1006 * 11 * (kind.RatedRoomC - kind.RatedWaterC) / 20);
        var water = kind.OutputW / 0.75 / (Water * CoilK);
        double low = 10, high = 20_000;
        CoilResult result = default;
        for (var i = 0; i < 50; i++)
        {
            var middle = Math.Sqrt(low * high);
            // Twice as much on the water's side as on the air's, as coils with a few rows have it.
            if (!Physics.Coil.TrySolve(new CoilInput(air, dry, kind.RatedWaterC, water, 4.19), new CoilConductances(middle, 2 * middle), out result, out var why))
                throw new InvalidOperationException($"{coil.Id}: {why}");
            if (result.SensibleW > kind.OutputW)
                high = middle;
            else
                low = middle;
        }
        var model = new CoilModel(new CoilConductances(low, 2 * low), dry, water, 0.6, 0.8);
        var held = Math.Clamp(1000 * result.CondensateKgPerH / 3600, 0.05, 2);
        return new FanCoilPlan(coil.Rooms[0], FanOf(kind, dry), new CoilUnitPlan(model, held)) { Name = coil.Id, OtherRooms = [.. coil.Rooms.Skip(1)] };
    }

    private static FanPlan FanOf(CoilKind kind, double dry)
    {
        var air = dry / 1.2 * 3600;
        var level = double.IsNaN(kind.SoundLevelDb) ? 45 : kind.SoundLevelDb;
        var plan = new FanPlan(air, Math.Max(0.06 * air, 5), level) { StartSpeed = Math.Clamp(kind.StartSpeedPercent / 100, 0.05, 1) };
        return kind.FanSignal == CoilKind.Voltage
            ? plan with { StartVolts = kind.StartVoltageV, StopVolts = Math.Max(kind.StartVoltageV - 0.3, 0), FullVolts = kind.FullVoltageV }
            : plan;
    }

    private static LoopPlan Loop(House house, Loop loop, int index, VirtualBuilding building, FanCoilPlan[] coils)
    {
        List<LoopCircuitPlan> circuits = [];
        double flow = 0;
        foreach (var circuit in loop.Circuits)
        {
            var (kind, area) = (house.Circuits[circuit].Kind, house.Circuits[circuit].Settings.AreaM2);
            var rated = area * (kind.IsSlab ? Math.Max(kind.OutputWPerM2, Finite(kind.HeatingOutputWPerM2)) / SlabK : kind.OutputWPerM2 / PanelK) / Water;
            flow += rated;
            circuits.Add(new LoopCircuitPlan(building.SurfaceOf[circuit], -1, new CircuitPlan(rated, 15_000, 0.5), ValveOf(house.Circuits[circuit].Actuator), Branch(rated)) { Name = house.Circuits[circuit].Id });
        }
        foreach (var coil in loop.Coils)
        {
            var rated = coils[coil].Coil.Coil.WaterKgPerS;
            flow += rated;
            circuits.Add(new LoopCircuitPlan(-1, coil, new CircuitPlan(rated, 18_000, 0.4), ValveOf(house.Coils[coil].Actuator, 30), Branch(rated)) { Name = house.Coils[coil].Id });
        }
        if (circuits.Count == 0)
            throw new NotSupportedException($"{loop.Id}: nothing hangs on it, so it cannot be rehearsed");
        // 25 kPa are left at the flow of all circuits: head falls with the square of flow from 45 kPa.
        var pump = new PumpPlan(45_000, flow / 0.667, 4000, flow) { FullPowerW = 10 + 60 * flow };
        var mixing = new ValvePlan(VirtualHouse.ActuatorKind.Motor, Math.Clamp(double.IsFinite(loop.StrokeS) ? loop.StrokeS : 90, 1, 1200));
        var room = loop.ManifoldRoom >= 0 ? loop.ManifoldRoom : circuits[0].Surface >= 0 ? building.Plan.Surfaces[circuits[0].Surface].Room : coils[circuits[0].FanCoil].Room;
        return new LoopPlan(loop.Type == LoopType.Mixed, room, pump, mixing, Trunk(flow, loop.Settings.LagS), [.. circuits]) { Name = loop.Id };
    }

    private static double Finite(double value) => double.IsFinite(value) ? value : 0;

    private static ValvePlan ValveOf(SequenceActuator actuator, double rangeability = 1)
    {
        var stroke = Math.Clamp(actuator.OpeningTimeS, 1, 1200);
        return actuator.Kind == OutputKind.OnOff
            ? new ValvePlan(stroke >= 60 ? VirtualHouse.ActuatorKind.Wax : VirtualHouse.ActuatorKind.Motor, stroke) { NormallyOpen = actuator.NormallyOpen }
            : new ValvePlan(VirtualHouse.ActuatorKind.Motor, stroke) { Rangeability = rangeability };
    }

    // Half a metre a second; a lag of 45 s is then some 22 m from the mixing valve to the surfaces, 8 m of it in the branch.
    private static PipePlan Branch(double flow) => Pipe(flow, 8, 0.009);

    private static PipePlan Trunk(double flow, double lagS) => Pipe(flow, Math.Clamp(0.5 * lagS - 8, 2, 80), 0.019);

    private static PipePlan Pipe(double flow, double lengthM, double insulationM)
    {
        var bore = Math.Clamp(Math.Sqrt(4 * flow / (Math.PI * 998 * 0.5)), 0.008, 0.08);
        return new PipePlan(lengthM, bore + 0.004, bore, insulationM);
    }
}

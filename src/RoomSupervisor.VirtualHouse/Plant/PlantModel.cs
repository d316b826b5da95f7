// The plant that runs, in two halves round the building's step: water goes out, the building answers, water comes back.
// Must never decide anything: commands come in as volts, shares and calls, temperatures and flows go out.
using RoomSupervisor.Physics;

namespace RoomSupervisor.VirtualHouse;

/// <summary>
/// Source, store, loops and coils. Each stream leaves a place with the temperature that place has at the step's start and returns to a mixed
/// volume, so heat is kept exactly at any step that is short against those volumes (one second).
/// </summary>
public sealed partial class PlantModel
{

    private readonly BuildingModel _building;
    private readonly double _stepS;
    private readonly LoopRun[] _loops;
    private readonly CoilUnit[] _coils;
    private readonly double[] _coilIn, _coilFlow;
    private readonly Ducts[] _ducts;

    /// <summary>A plant at rest.</summary>
    /// <param name="plan">What it is.</param>
    /// <param name="building">The building it serves; the plant writes its water inputs and adds to its heat and vapour.</param>
    /// <exception cref="ArgumentException">The plan does not fit the building.</exception>
    public PlantModel(PlantPlan plan, BuildingModel building)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(building);
        PlanChecks.Demand("store's volume", plan.Store.VolumeL, 30, 5000, "l");
        PlanChecks.Demand("plant's step", building.StepS, 0.1, 5, "s");
        (Plan, _building, _stepS) = (plan, building, building.StepS);
        Machine = new Machine(plan.Machine, plan.StartC, _stepS);
        Store = new Store(plan.Store, plan.StartC, _stepS);
        HotWater = plan.HotWater is { } hot ? new HotWater(hot, plan.Machine, _stepS) : null;
        Fans = [.. plan.FanCoils.Select(c => new Fan(c.Fan, _stepS))];
        _coils = [.. plan.FanCoils.Select(c => new CoilUnit(c.Coil, _stepS))];
        (_coilIn, _coilFlow) = (new double[_coils.Length], new double[_coils.Length]);
        _ducts = [.. plan.FanCoils.Select(c => new Ducts([c.Room, .. c.OtherRooms]))];
        _loops = [.. plan.Loops.Select(l => new LoopRun(l, plan.StartC, building))];
        FanVolts = new double[_coils.Length];
    }

    /// <summary>The plan.</summary>
    public PlantPlan Plan { get; }

    /// <summary>The source; its faults are set here.</summary>
    public Machine Machine { get; }

    /// <summary>The store.</summary>
    public Store Store { get; }

    /// <summary>Hot water, where the source makes it.</summary>
    public HotWater? HotWater { get; }

    /// <summary>Fans; their faults are set here.</summary>
    public IReadOnlyList<Fan> Fans { get; }

    /// <summary>Coils.</summary>
    public IReadOnlyList<CoilUnit> Coils => _coils;

    /// <summary>What each coil gave to each of its rooms in the last step.</summary>
    public IReadOnlyList<Ducts> Ducts => _ducts;

    /// <summary>Loops.</summary>
    public IReadOnlyList<LoopRun> Loops => _loops;

    /// <summary>Command by fan coil, V.</summary>
    public double[] FanVolts { get; }

    /// <summary>Command: the source is called.</summary>
    public bool Call { get; set; }

    /// <summary>Command: to cool.</summary>
    public bool Cooling { get; set; }

    /// <summary>Command: leaving water wanted, °C.</summary>
    public double SetPointC { get; set; } = 15;

    /// <summary>Electrical power of the last step, all of the plant, W.</summary>
    public double PowerW { get; private set; }

    /// <summary>Fuel burnt in the last step, W.</summary>
    public double FuelW { get; private set; }

    /// <summary>
    /// One step of plant and building. <see cref="BuildingModel.ConvectiveW"/> and its companions hold what people and things give; the plant adds
    /// its own for the step and takes it off again.
    /// </summary>
    /// <param name="weather">Weather of the step.</param>
    public void Step(in WeatherNow weather)
    {
        for (int i = 0; i < _loops.Length; i++) _loops[i].GoOut(Cooling ? Store.BottomC : Store.TopC, _coilIn, _coilFlow);
        RunCoils();
        Exchange(1);
        _building.Step(weather);
        Exchange(-1);
        double load = 0, back = 0;
        for (int i = 0; i < _loops.Length; i++) _loops[i].ComeBack(_coils, ref load, ref back);
        Source(weather, load, back);
        Count();
    }

    private void RunCoils()
    {
        for (int i = 0; i < _coils.Length; i++)
        {
            Fans[i].Step(PowerCut ? 0 : FanVolts[i]);
            AirState air = Entering(_ducts[i].Mean(_building.AirC), _ducts[i].Mean(_building.HumidityRatio));
            _coils[i].Step(air, Fans[i].AirM3PerH, _coilIn[i], _coilFlow[i]);
            _ducts[i].Share(_coils[i], Fans[i], air, _building);
        }
    }

    // A shower in a small room can make fog: the coil then draws saturated air, its droplets stay in the room.
    private AirState Entering(double airC, double ratio)
    {
        if (AirState.TryFromHumidityRatio(airC, ratio, _building.Plan.PressurePa, out AirState air, out Impossible why)) return air;
        if (MoistAir.TryHumidityRatio(airC, 100, _building.Plan.PressurePa, out double saturated, out _) && ratio > saturated
            && AirState.TryFromRelativeHumidity(airC, 100, _building.Plan.PressurePa, out air, out why)) return air;
        throw new InvalidOperationException("A room's air left the range of moist air: " + why);
    }

    // What coils and pipes do to the rooms in this step, added before and taken off after.
    private void Exchange(double sign)
    {
        for (int i = 0; i < _coils.Length; i++)
        {
            Ducts ducts = _ducts[i];
            for (int k = 0; k < ducts.Rooms.Length; k++)
            {
                _building.ConvectiveW[ducts.Rooms[k]] += sign * ducts.HeatW[k];
                _building.VapourKgPerS[ducts.Rooms[k]] += sign * ducts.VapourKgPerS[k];
            }
        }

        for (int i = 0; i < _loops.Length; i++)
        {
            int room = Plan.Loops[i].ManifoldRoom;
            _building.ConvectiveW[room] -= sign * _loops[i].GainW;
            _building.VapourKgPerS[room] -= sign * _loops[i].VapourKgPerS;
        }

        _building.ConvectiveW[Plan.StoreRoom] += sign * (Store.LossW + (HotWater?.Tank.LossW ?? 0));
    }

    private void Source(in WeatherNow weather, double load, double back)
    {
        bool dead = Machine.LockedOut;
        Machine.LockedOut |= PowerCut;
        if (HotWater is { } hot)
        {
            hot.Step(weather.AirC, Machine.LockedOut, _building.AirC[Plan.StoreRoom]);
            Machine.MakingHotWater = hot.IsCharging;
        }

        double flow = !PowerCut && (Call || Machine.IsRunning) ? Plan.MachineFlowKgPerS : 0, inC = Cooling ? Store.TopC : Store.BottomC;
        MoistAir.TryRelativeHumidityFromHumidityRatio(weather.AirC, weather.HumidityRatio, weather.PressurePa, out double humidity, out _);
        Machine.Step(Call, Cooling, SetPointC, inC, flow, weather.AirC, double.IsNaN(humidity) ? 100 : humidity);
        Store.Step(Machine.LeavingC, flow, load > 0 ? back / load : 20, load, Cooling, _building.AirC[Plan.StoreRoom]);
        MachineHeatJ += Machine.HeatW * _stepS;
        Machine.LockedOut = dead;
    }

    private void Count()
    {
        PowerW = PowerCut ? 0 : Machine.PowerW + (HotWater?.PowerW ?? 0);
        FuelW = PowerCut ? 0 : Machine.FuelW + (HotWater?.FuelW ?? 0);
        for (int i = 0; i < _coils.Length; i++)
        {
            PowerW += Fans[i].PowerW;
            CoilHeatJ += _coils[i].WaterW * _stepS;
            DrippedKg += _coils[i].DripKgPerS * _stepS;
        }

        for (int i = 0; i < _loops.Length; i++)
        {
            PowerW += _loops[i].Circuits.PowerW;
            PipeHeatJ += _loops[i].PipeHeatW * _stepS;
            SurfaceHeatJ += _loops[i].SurfaceW * _stepS;
        }

        StoreLossJ += Store.LossW * _stepS;
        WorkJ += PowerW * _stepS;
        FuelJ += FuelW * _stepS;
    }

    /// <summary>Books since the start, J: heat of the source to the water.</summary>
    public double MachineHeatJ { get; private set; }

    /// <summary>Heat of coils to the water, J.</summary>
    public double CoilHeatJ { get; private set; }

    /// <summary>Heat of pipes' surroundings to the water, vapour's heat included, J.</summary>
    public double PipeHeatJ { get; private set; }

    /// <summary>Heat of the water to surfaces, J.</summary>
    public double SurfaceHeatJ { get; private set; }

    /// <summary>Loss of the store, J.</summary>
    public double StoreLossJ { get; private set; }

    /// <summary>Electricity, J.</summary>
    public double WorkJ { get; private set; }

    /// <summary>Fuel, J.</summary>
    public double FuelJ { get; private set; }

    /// <summary>Water dripped off coils, kg.</summary>
    public double DrippedKg { get; private set; }

    /// <summary>Heat of all water of the plant above 0 °C, J.</summary>
    public double StoredJ()
    {
        double sum = Store.StoredJ() + Machine.OutC * Plan.Machine.WaterKg * Matter.WaterJPerKgK;
        foreach (LoopRun loop in _loops) sum += loop.StoredJ();
        return sum;
    }

    /// <summary>Water on coils and pipes, kg.</summary>
    public double HeldKg()
    {
        double sum = 0;
        foreach (CoilUnit coil in _coils) sum += coil.HeldKg;
        foreach (LoopRun loop in _loops) sum += loop.FilmKg();
        return sum;
    }

    /// <summary>The whole state; commands and faults are not part of it.</summary>
    public double[] Save() => [.. States().SelectMany(s => s), MachineHeatJ, CoilHeatJ, PipeHeatJ, SurfaceHeatJ, StoreLossJ, WorkJ, DrippedKg, FuelJ];

    /// <summary>Takes up a state saved by a plant of the same plan.</summary>
    /// <param name="state">From <see cref="Save"/>.</param>
    /// <exception cref="ArgumentException">It is of another plant.</exception>
    public void Restore(ReadOnlySpan<double> state)
    {
        double[][] parts = [.. States()];
        int length = parts.Sum(p => p.Length) + 8, at = 0;
        if (state.Length != length) throw new ArgumentException($"The saved state has {state.Length} numbers; this plant has {length}.");
        foreach (double[] part in parts)
        {
            state.Slice(at, part.Length).CopyTo(part);
            at += part.Length;
        }

        (MachineHeatJ, CoilHeatJ, PipeHeatJ, SurfaceHeatJ) = (state[at], state[at + 1], state[at + 2], state[at + 3]);
        (StoreLossJ, WorkJ, DrippedKg, FuelJ) = (state[at + 4], state[at + 5], state[at + 6], state[at + 7]);
    }

    private IEnumerable<double[]> States()
    {
        yield return Machine.State;
        yield return Store.State;
        yield return Store.Books;
        if (HotWater is { } hot)
        {
            yield return hot.State;
            yield return hot.Tank.State;
            yield return hot.Tank.Books;
        }

        for (int i = 0; i < _coils.Length; i++)
        {
            yield return _coils[i].State;
            yield return Fans[i].State;
        }

        foreach (LoopRun loop in _loops)
            foreach (double[] part in loop.States()) yield return part;
    }
}

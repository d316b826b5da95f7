// Looks at the virtual house after every scan: measures by the second, samples by the minute, events as they come.
// Must never write to the house or the controller.
using RoomSupervisor.Desk.Rehearsal.Measures;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>Records a run.</summary>
public sealed class Recorder
{
    /// <summary>Water passes a circuit when it carries this share of its design flow: a seat that leaks lets 0.2 to 1 % through, and a mixing loop whose other circuits are open presses some more.</summary>
    internal const double PassesShare = 0.05;

    private readonly RehearsalPlan plan;
    private readonly Rehearsal rehearsal;
    private readonly House house;
    private readonly HouseRun run;
    private readonly Caps caps;
    private readonly double[][] stems;
    private readonly ShortestRecovery?[] watched;
    private readonly Samples samples;
    private PlantCommands? before;
    private double coveredS;

    internal Recorder(RehearsalPlan plan, Rehearsal rehearsal)
    {
        (this.plan, this.rehearsal, house, run) = (plan, rehearsal, rehearsal.House, rehearsal.Run);
        caps = new Caps(house);
        Rooms = [.. house.Rooms.Select(_ => new RoomMeasures())];
        Now = new RoomMoment[house.Rooms.Length];
        stems = [.. run.Plant.Loops.Select(loop => loop.Valves.Select(valve => valve.State[1]).ToArray())];
        watched = new ShortestRecovery?[house.Rooms.Length];
        samples = new Samples(plan, run);
    }

    /// <summary>Measures by room.</summary>
    public RoomMeasures[] Rooms { get; }

    /// <summary>The rooms at the last scan.</summary>
    public RoomMoment[] Now { get; }

    /// <summary>Electricity of the house, kWh.</summary>
    public double ElectricKwh => run.Plant.WorkJ / 3.6e6;

    /// <summary>Fuel of the house, kWh; NaN where nothing burns any.</summary>
    public double FuelKwh => run.Plant.Plan.Machine.IsBoiler ? run.Plant.FuelJ / 3.6e6 : double.NaN;

    /// <summary>Starts of the source.</summary>
    public int SourceStarts => run.Plant.Machine.StartsSoFar;

    /// <summary>Events of the house and how often.</summary>
    public SortedDictionary<string, int> Events { get; } = new(StringComparer.Ordinal);

    /// <summary>Events that ask for somebody today or now, with their moment.</summary>
    public List<Call> Alarms { get; } = [];

    /// <summary>Seconds measured.</summary>
    public double CoveredS => coveredS;

    /// <summary>Rooms that were back faster than the shortest possible: then the simulator or the measure is wrong.</summary>
    public List<string> FasterThanPossible { get; } = [];

    /// <summary>What tables and pictures are made of.</summary>
    public RunRecord Record() => samples.ToRecord(plan, rehearsal.House);

    internal void BeforeHouse()
    {
        before = null;
        foreach (var one in watched)
        {
            if (one is not null)
                before ??= new PlantCommands(run.Plant);
        }
    }

    internal void AfterScan()
    {
        var stepS = rehearsal.ScanS;
        coveredS += stepS;
        caps.At(ScheduleTime.Of(rehearsal.BoardUtc, plan.Files.Site.TimeZone), stepS);
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            See(i, ref Now[i]);
            Rooms[i].Add(Now[i], coveredS, stepS);
            Follow(i);
        }
        Drain();
        samples.Take(Now, caps, rehearsal.Controller?.Memory, stepS);
    }

    internal void Finish()
    {
        for (var i = 0; i < watched.Length; i++)
            Close(i);
    }

    private void Follow(int room)
    {
        var downs = Rooms[room].PullDowns;
        if (watched[room] is { } one)
        {
            if (downs.Pending is null || downs.JustShut)
                Close(room);
            else
                one.Keep(before!, caps.CapPercent, Now[room].CoolAboveC);
        }
        // The state is that after this step: the first second of the recovery is over, as the first command kept is the next one.
        if (downs.JustShut && house.Rooms[room].Coils.Length > 0)
            watched[room] = new ShortestRecovery(plan, house, run, room);
    }

    private void Close(int room)
    {
        if (watched[room] is not { } one)
            return;
        watched[room] = null;
        var recovery = Rooms[room].PullDowns.All[^1];
        recovery.BoundMin = one.Play();
        if (recovery.FirstTouchMin < recovery.BoundMin - 2.0 / 60)
            FasterThanPossible.Add($"{house.Rooms[room].Id}: {recovery.FirstTouchMin:0.0} min, shortest possible {recovery.BoundMin:0.0} min");
    }

    private void See(int index, ref RoomMoment now)
    {
        var building = run.Building;
        var room = house.Rooms[index];
        var memory = rehearsal.Controller?.Memory;
        now = new RoomMoment
        {
            AirC = building.AirC[index],
            DewC = building.DewPointC[index],
            HeatBelowC = caps.Wanted[index].HeatBelowC,
            CoolAboveC = caps.Wanted[index].CoolAboveC,
            Stage = memory?.Rooms[index].Stage ?? Stage.Off,
            Drying = memory?.Rooms[index].Moisture == Moisture.Dehumidifying,
            LevelDba = double.NegativeInfinity,
            ColdestC = double.PositiveInfinity,
        };
        foreach (var opening in plan.Building.OpeningsOf[index])
            now.Open |= building.OpeningOpen[opening] > 0.02;
        foreach (var coil in room.Coils)
            Coil(index, coil, ref now);
        foreach (var circuit in room.Circuits)
            Surface(circuit, ref now);
        Pipes(index, ref now);
    }

    private void Coil(int room, int coil, ref RoomMoment now)
    {
        var fan = run.Plant.Fans[coil];
        var ducts = run.Plant.Ducts[coil];
        var share = Array.IndexOf(ducts.Rooms, room);
        now.FanPercent = Math.Max(now.FanPercent, 100 * fan.Speed);
        now.OverCap |= caps.IsOver(coil, 100 * fan.Speed);
        if (fan.Speed > 0.01)
            now.LevelDba = double.IsNegativeInfinity(now.LevelDba) ? fan.LevelDb : 10 * Math.Log10(Math.Pow(10, now.LevelDba / 10) + Math.Pow(10, fan.LevelDb / 10));
        now.CoilSensibleW += ducts.SensibleW[share];
        now.CoilLatentW += ducts.LatentW[share];
        now.FanW += fan.PowerW / ducts.Rooms.Length;
        var loop = house.Coils[coil].Loop;
        Travel(loop, house.Loops[loop].Circuits.Length + house.Loops[loop].Coils.IndexOf(coil), share == 0, ref now);
    }

    private void Surface(int circuit, ref RoomMoment now)
    {
        var building = run.Building;
        var surface = plan.Building.SurfaceOf[circuit];
        now.SurfaceW += building.WaterW[surface];
        var loop = house.Circuits[circuit].Loop;
        if (house.Loops[loop].Cools)
        {
            // A floor that is only ever heated is wetted by a shower like any other floor.
            now.FilmGPerM2 = Math.Max(now.FilmGPerM2, 1000 * building.SpotFilmKgPerM2(surface));
            now.ColdestC = Math.Min(now.ColdestC, building.ExtremeFrontC(surface));
            now.SurfaceFlows |= Passes(run.Plant, loop, house.Loops[loop].Circuits.IndexOf(circuit)) && building.WaterInC[surface] < now.AirC;
        }
        Travel(loop, house.Loops[loop].Circuits.IndexOf(circuit), true, ref now);
    }

    /// <summary>Water passes a circuit or coil of a loop.</summary>
    internal static bool Passes(PlantModel plant, int loop, int at) => plant.Loops[loop].Circuits.FlowKgPerS[at] > PassesShare * plant.Plan.Loops[loop].Circuits[at].Flow.RatedKgPerS;

    /// <summary>Water passes something on a loop.</summary>
    internal static bool PassesAny(PlantModel plant, int loop)
    {
        for (var at = 0; at < plant.Loops[loop].Pipes.Count; at++)
        {
            if (Passes(plant, loop, at))
                return true;
        }
        return false;
    }

    private void Travel(int loop, int valve, bool remember, ref RoomMoment now)
    {
        var stem = run.Plant.Loops[loop].Valves[valve].State[1];
        now.ValveTravel = Math.Max(now.ValveTravel, Math.Abs(stem - stems[loop][valve]));
        if (remember)
            stems[loop][valve] = stem;
    }

    // The skin of pipes counts in the room they lie in.
    private void Pipes(int room, ref RoomMoment now)
    {
        for (var i = 0; i < run.Plant.Loops.Count; i++)
        {
            if (run.Plant.Plan.Loops[i].ManifoldRoom != room || !house.Loops[i].Cools || house.Loops[i].Serves != LoopServes.Surfaces)
                continue;
            now.ColdestC = Math.Min(now.ColdestC, run.Plant.Loops[i].Supply.SkinC);
            foreach (var pipe in run.Plant.Loops[i].Pipes)
                now.ColdestC = Math.Min(now.ColdestC, pipe.SkinC);
        }
    }

    /// <summary>Gets every entry of the controller's log after it was counted here: a ring has one reader. Null: nobody keeps a log.</summary>
    internal LogRing? Forward { get; set; }

    private void Drain()
    {
        if (rehearsal.Controller is not { } controller)
            return;
        while (controller.Ring.TryTake(out var entry))
        {
            Forward?.Put(entry);
            if (entry.IsStatus)
                continue;
            var (happening, definition) = (entry.Happening, EventCatalogue.All[entry.Happening.EventId]);
            if (definition.Id == SequenceEvents.StageChanged.Id)
                continue;
            var where = happening.Owner == Owner.Room ? Rooms[happening.Index].Events : Events;
            where[definition.Name] = where.GetValueOrDefault(definition.Name) + 1;
            if (definition.Priority >= Priority.Alarm)
                AddCall(entry.Utc, definition, happening.Owner == Owner.Device ? "device" : house.NameOf(happening.Owner, happening.Index));
        }
    }

    private void AddCall(DateTime utc, EventDefinition definition, string where)
    {
        var isDry = Array.TrueForAll(Now, room => room.ColdestC >= room.DewC && room.FilmGPerM2 <= 0);
        Call.AddTo(Alarms, new Call(utc, definition.Name, [where], (definition.Id == SequenceEvents.CondensationWet.Id || definition.Id == SequenceEvents.ManifoldWet.Id) && isDry));
    }
}

/// <summary>An event that asks for somebody today or now.</summary>
/// <param name="Utc">When.</param>
/// <param name="Name">Its name.</param>
/// <param name="Where">Rooms, loops or devices it was told of in that scan.</param>
/// <param name="IsSwitchBeforeWet">A condensation switch that was made while no cooled surface or pipe was under the true dew point or had water on it.</param>
public sealed record Call(DateTime Utc, string Name, List<string> Where, bool IsSwitchBeforeWet)
{
    /// <summary>One switch on a manifold speaks for every circuit behind it: one call, several places.</summary>
    public static void AddTo(List<Call> all, Call one)
    {
        if (all.Count > 0 && all[^1].Name == one.Name && all[^1].Utc == one.Utc)
            all[^1].Where.AddRange(one.Where);
        else
            all.Add(one);
    }
}

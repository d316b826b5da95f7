// Builds a House from the parts a reader found: gives every part its points and every name its index. The reader has already
// checked the files; a mistake here is a programming error and throws.
using System.Collections.Immutable;
using RoomSupervisor.Physics;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>Puts a house together.</summary>
public sealed class HouseBuilder
{
    private readonly List<HouseInput> inputs = [];
    private readonly List<Point> outputs = [];
    private readonly List<Coil> coils = [];
    private readonly List<Circuit> circuits = [];
    private readonly List<Room> rooms = [];
    private readonly Func<string, SensorSettings> sensorOf;
    private readonly Func<string, bool> isWired;

    /// <param name="sensorOf">Sensor settings of an input id; defaults where nothing was said.</param>
    /// <param name="isWired">True when a device carries the point.</param>
    public HouseBuilder(Func<string, SensorSettings> sensorOf, Func<string, bool> isWired)
    {
        this.sensorOf = sensorOf;
        this.isWired = isWired;
    }

    /// <summary>Every part gets its points in a fixed order: rooms as listed, coils of several rooms, loops, sources, outdoors, site, buffer, hot water.</summary>
    /// <exception cref="ArgumentException">A part names a loop or room that does not exist, two points share an id, or the altitude is impossible.</exception>
    public House Build(HouseParts parts)
    {
        if (!MoistAir.TryPressureAtAltitude(parts.AltitudeM, out var pressurePa, out var impossible))
            throw new ArgumentException($"altitude {parts.AltitudeM} m is not between {impossible.Lowest} and {impossible.Highest} m", nameof(parts));
        foreach (var part in parts.Rooms)
            AddRoom(part, parts.Loops);
        foreach (var shared in parts.SharedCoils)
            AddShared(shared, parts.Loops);
        var loops = parts.Loops.Select((loop, index) => AddLoop(loop, index, parts)).ToArray();
        var sources = new List<Source> { AddSource("source", parts.Source, loops, 0) };
        if (parts.HeatSource is { } second)
            sources.Add(AddSource("heat-source", second, loops, 1));
        var points = AddPoints();
        var buffer = parts.Buffer is { } store
            ? new Buffer(store, Input("buffer.top.temperature", InputKind.WaterTemperature), Input("buffer.bottom.temperature", InputKind.WaterTemperature))
            : null;
        var hotWater = parts.HotWater is { } tank
            ? new HotWater(tank, sources.Count - 1, Input("hot-water.tank.temperature", InputKind.WaterTemperature), WiredOutput("hot-water.charge.enable", Quantity.Switch))
            : null;
        return new House
        {
            Name = parts.Name,
            PressurePa = pressurePa,
            Units = parts.Units,
            Settings = parts.Settings,
            Rooms = [.. rooms.Select(room => room with { SupplyAccuracyK = room.Circuits.Select(i => inputs[loops[circuits[i].Loop].Supply].Sensor.AccuracyK).DefaultIfEmpty(0).Max() })],
            Coils = [.. coils],
            Circuits = [.. circuits],
            Loops = [.. loops],
            Sources = [.. sources],
            Buffer = buffer,
            HotWater = hotWater,
            Points = points,
            Inputs = [.. inputs],
            InputTable = new PointTable(inputs.Select(input => input.Point)),
            OutputTable = new PointTable(outputs),
        };
    }

    private void AddRoom(RoomPart part, IReadOnlyList<LoopPart> loops)
    {
        var index = rooms.Count;
        var temperature = Input($"{part.Name}.air.temperature", InputKind.RoomAirTemperature);
        var humidity = Input($"{part.Name}.air.humidity", InputKind.RoomHumidity);
        var opening = Input($"{part.Name}.opening.open", InputKind.Contact);
        var own = ImmutableArray.CreateBuilder<int>();
        foreach (var coil in part.Coils)
        {
            own.Add(coils.Count);
            coils.Add(MakeCoil($"{part.Name}.{coil.Name}", [index], coil, loops));
        }
        var surfaces = ImmutableArray.CreateBuilder<int>();
        foreach (var surface in part.Surfaces)
        {
            surfaces.Add(circuits.Count);
            circuits.Add(MakeCircuit($"{part.Name}.{surface.Name}", index, surface, loops));
        }
        rooms.Add(new Room(part.Name, part.Settings, part.Household, own.ToImmutable(), surfaces.ToImmutable(), temperature, humidity, opening)
        {
            CarbonDioxide = Input($"{part.Name}.air.co2", InputKind.CarbonDioxide),
            People = Input($"{part.Name}.people.present", InputKind.Contact),
            Dial = Input($"{part.Name}.unit.dial", InputKind.Dial),
            Button = Input($"{part.Name}.unit.button", InputKind.Contact),
            OtherAir = [.. part.OtherAir.Select(sensor => AddAir($"{part.Name}.{sensor.Name}", sensor))],
        });
    }

    private AirSensor AddAir(string id, AirSensorPart part) => new(
        part.Name, Input($"{id}.temperature", InputKind.RoomAirTemperature), part.HasHumidity ? Input($"{id}.humidity", InputKind.RoomHumidity) : -1);

    private void AddShared(SharedCoilPart shared, IReadOnlyList<LoopPart> loops)
    {
        var served = shared.Rooms.Select(name => rooms.FindIndex(room => room.Id == name)).ToImmutableArray();
        if (served.Contains(-1))
            throw new ArgumentException($"{shared.Name} serves a room that does not exist", nameof(shared));
        foreach (var room in served)
            rooms[room] = rooms[room] with { Coils = rooms[room].Coils.Add(coils.Count) };
        coils.Add(MakeCoil($"{shared.Name}.coil", served, shared.Coil, loops));
    }

    private Coil MakeCoil(string id, ImmutableArray<int> served, CoilPart part, IReadOnlyList<LoopPart> loops)
    {
        var fourPipe = part.HeatingLoop.Length > 0;
        return new Coil(
            id, served, IndexOf(loops, part.Loop), part.Kind, part.Settings,
            Input($"{id}.drip_tray_full", InputKind.Contact), Output($"{id}.fan", Quantity.Percent), Output($"{id}.valve", Quantity.Percent))
        {
            HeatingLoop = fourPipe ? IndexOf(loops, part.HeatingLoop) : -1,
            HeatingValve = fourPipe ? Output($"{id}.heating_valve", Quantity.Percent) : -1,
            FanProof = Input($"{id}.fan_proof", InputKind.Contact),
            WaterTemperature = Input($"{id}.water_temperature", InputKind.WaterTemperature),
            ReturnAirTemperature = Input($"{id}.return_air_temperature", InputKind.RoomAirTemperature),
            Actuator = part.Actuator ?? ActuatorKind.Modulating(),
            OpeningTimeS = Math.Max(part.Kind.ValveOpeningTimeS, part.Actuator?.OpeningTimeS ?? 0),
        };
    }

    private Circuit MakeCircuit(string id, int room, SurfacePart part, IReadOnlyList<LoopPart> loops) => new(
        id, room, IndexOf(loops, part.Loop), part.Kind, part.Settings, part.Actuator,
        Input($"{id}.temperature", InputKind.SurfaceTemperature), Input($"{id}.condensation", InputKind.Contact), Output($"{id}.valve", Quantity.Percent))
    {
        Place = part.Place,
        EndSwitch = Input($"{id}.end_switch", InputKind.Contact),
    };

    private Loop AddLoop(LoopPart part, int index, HouseParts parts)
    {
        var mixed = part.Type == LoopType.Mixed;
        var name = part.Name;
        var surfaces = part.Serves == LoopServes.Surfaces;
        return new Loop(
            name, part.Type, part.Serves, part.Settings,
            Input($"{name}.supply.temperature", InputKind.WaterTemperature),
            Input($"{name}.return.temperature", InputKind.WaterTemperature),
            surfaces ? Input($"{name}.manifold.condensation", InputKind.Contact) : -1,
            mixed ? Output($"{name}.mixing.valve", Quantity.Percent) : -1,
            Output($"{name}.pump.run", Quantity.Switch))
        {
            Seasons = part.Seasons,
            Source = parts.HeatSource is not null && part.Seasons == Seasons.Heating ? 1 : 0,
            Circuits = [.. Enumerable.Range(0, circuits.Count).Where(circuit => circuits[circuit].Loop == index)],
            Coils = [.. Enumerable.Range(0, coils.Count).Where(coil => coils[coil].Loop == index || coils[coil].HeatingLoop == index)],
            HasSeveralRooms = circuits.Where(circuit => circuit.Loop == index).Select(circuit => circuit.Room)
                .Concat(coils.Where(coil => coil.Loop == index || coil.HeatingLoop == index).SelectMany(coil => coil.Rooms)).Distinct().Count() > 1,
            IsSlow = circuits.Exists(circuit => circuit.Loop == index && circuit.Kind.IsSlab),
            ManifoldRoom = rooms.FindIndex(room => room.Id == part.ManifoldRoom),
            Actuator = part.Actuator ?? ActuatorKind.Modulating(),
            Flow = Input($"{name}.flow.rate", InputKind.Flow),
            PumpProof = Input($"{name}.pump.proof", InputKind.Contact),
            HighLimit = Input($"{name}.high_limit.tripped", InputKind.Contact),
            Pressure = Input($"{name}.water.pressure", InputKind.Pressure),
            PumpSpeed = WiredOutput($"{name}.pump.speed", Quantity.Percent),
            StandbyPump = WiredOutput($"{name}.standby_pump.run", Quantity.Switch),
        };
    }

    private Source AddSource(string name, SourcePart part, Loop[] loops, int index) => new(
        name, part.Type, part.Settings, Input($"{name}.supply.temperature", InputKind.WaterTemperature), Output($"{name}.call.enable", Quantity.Switch))
    {
        Loops = [.. Enumerable.Range(0, loops.Length).Where(loop => loops[loop].Source == index)],
        DirectLoops = [.. Enumerable.Range(0, loops.Length).Where(loop => loops[loop].Source == index && loops[loop].Type == LoopType.Direct)],
        CooledRooms = [.. Enumerable.Range(0, rooms.Count).Where(room => Hang(room, heats: false).Any(loop => loops[loop].Source == index && loops[loop].Cools))],
        HeatedRooms = [.. Enumerable.Range(0, rooms.Count).Where(room => Hang(room, heats: true).Any(loop => loops[loop].Source == index && loops[loop].Heats))],
        Running = Input($"{name}.state.running", InputKind.Contact),
        Defrosting = Input($"{name}.state.defrosting", InputKind.Contact),
        MakingHotWater = Input($"{name}.state.making_hot_water", InputKind.Contact),
        LockedOut = Input($"{name}.state.locked_out", InputKind.Contact),
        Fault = Input($"{name}.state.fault", InputKind.Contact),
        CallCooling = WiredOutput($"{name}.call.cooling", Quantity.Switch),
        SetPoint = WiredOutput($"{name}.call.set_point", Quantity.Temperature),
        ChangeOver = WiredOutput($"{name}.change_over.valve", Quantity.Switch),
    };

    /// <summary>Loops whose water a room uses in one direction.</summary>
    private IEnumerable<int> Hang(int room, bool heats)
        => rooms[room].Circuits.Select(circuit => circuits[circuit].Loop).Concat(rooms[room].Coils.Select(coil => Rooms.RoomCoils.LoopOf(coils[coil], heats)));

    private SitePoints AddPoints() => new(
        Input("outdoor.air.temperature", InputKind.OutdoorTemperature), Input("outdoor.air.humidity", InputKind.OutdoorHumidity))
    {
        Leak = Input("site.leak.detected", InputKind.Contact),
        Surplus = Input("site.surplus.available", InputKind.Contact),
        InHand = Input("site.manual_switch.in_hand", InputKind.Contact),
        Health = WiredOutput("site.health.ok", Quantity.Switch),
    };

    private static int IndexOf(IReadOnlyList<LoopPart> loops, string name)
    {
        for (var i = 0; i < loops.Count; i++)
        {
            if (loops[i].Name == name)
                return i;
        }
        throw new ArgumentException($"there is no loop called {name}", nameof(name));
    }

    private int Input(string id, InputKind kind)
    {
        var quantity = kind switch
        {
            InputKind.Contact => Quantity.Switch,
            InputKind.RoomHumidity or InputKind.OutdoorHumidity => Quantity.Percent,
            InputKind.CarbonDioxide => Quantity.Number,
            InputKind.Dial => Quantity.TemperatureDifference,
            InputKind.Flow => Quantity.Flow,
            InputKind.Pressure => Quantity.Pressure,
            _ => Quantity.Temperature,
        };
        inputs.Add(new HouseInput(new Point(id, quantity), kind, sensorOf(id), isWired(id)));
        return inputs.Count - 1;
    }

    /// <summary>An output that only some houses have: it exists where a device carries it.</summary>
    private int WiredOutput(string id, Quantity quantity) => isWired(id) ? Output(id, quantity) : -1;

    private int Output(string id, Quantity quantity)
    {
        outputs.Add(new Point(id, quantity));
        return outputs.Count - 1;
    }
}

// Builds a House from the parts a reader found: gives every part its points and every name its index. The reader has already
// checked the files; a mistake here is a programming error and throws.
using RoomSupervisor.Physics;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>A coil as the reader found it.</summary>
public sealed record CoilPart(string Name, string Loop, CoilKind Kind, CoilSettings Settings);

/// <summary>A surface as the reader found it.</summary>
public sealed record SurfacePart(string Name, string Loop, PanelKind Kind, SurfaceSettings Settings, ActuatorKind Actuator);

/// <summary>A room as the reader found it.</summary>
public sealed record RoomPart(string Name, RoomSettings Settings, HouseholdRoom Household, CoilPart Coil, SurfacePart Surface);

/// <summary>A loop as the reader found it.</summary>
public sealed record LoopPart(string Name, LoopType Type, LoopServes Serves, LoopSettings Settings);

/// <summary>Puts a house together.</summary>
public sealed class HouseBuilder
{
    private readonly List<HouseInput> inputs = [];
    private readonly List<Point> outputs = [];
    private readonly Func<string, SensorSettings> sensorOf;
    private readonly Func<string, bool> isWired;

    /// <param name="sensorOf">Sensor settings of an input id; defaults where nothing was said.</param>
    /// <param name="isWired">True when a device carries the input.</param>
    public HouseBuilder(Func<string, SensorSettings> sensorOf, Func<string, bool> isWired)
    {
        this.sensorOf = sensorOf;
        this.isWired = isWired;
    }

    /// <summary>Every part gets its points in a fixed order: rooms as listed, then loops, source, outdoors.</summary>
    /// <exception cref="ArgumentException">A part names a loop that does not exist, two points share an id, or the altitude is impossible.</exception>
    public House Build(
        string name, double altitudeM, UnitSystem units, SequenceSettings settings, IReadOnlyList<RoomPart> roomParts, IReadOnlyList<LoopPart> loopParts)
    {
        if (!MoistAir.TryPressureAtAltitude(altitudeM, out var pressurePa, out var impossible))
            throw new ArgumentException($"altitude {altitudeM} m is not between {impossible.Lowest} and {impossible.Highest} m", nameof(altitudeM));
        var coils = new List<Coil>();
        var circuits = new List<Circuit>();
        var rooms = new List<Room>();
        foreach (var part in roomParts)
            rooms.Add(AddRoom(part, rooms.Count, loopParts, coils, circuits));
        var loops = loopParts.Select(AddLoop).ToArray();
        var points = new SitePoints(
            Input("source.supply.temperature", InputKind.WaterTemperature),
            Output("source.call.enable", Quantity.Switch),
            Input("outdoor.air.temperature", InputKind.OutdoorTemperature),
            Input("outdoor.air.humidity", InputKind.OutdoorHumidity));
        return new House
        {
            Name = name,
            PressurePa = pressurePa,
            Units = units,
            Settings = settings,
            Rooms = [.. rooms],
            Coils = [.. coils],
            Circuits = [.. circuits],
            Loops = [.. loops],
            Points = points,
            Inputs = [.. inputs],
            InputTable = new PointTable(inputs.Select(input => input.Point)),
            OutputTable = new PointTable(outputs),
        };
    }

    private Room AddRoom(RoomPart part, int index, IReadOnlyList<LoopPart> loops, List<Coil> coils, List<Circuit> circuits)
    {
        var temperature = Input($"{part.Name}.air.temperature", InputKind.RoomAirTemperature);
        var humidity = Input($"{part.Name}.air.humidity", InputKind.RoomHumidity);
        var opening = Input($"{part.Name}.opening.open", InputKind.Contact);
        var coil = coils.Count;
        var coilId = $"{part.Name}.{part.Coil.Name}";
        coils.Add(new Coil(
            coilId, index, LoopIndex(loops, part.Coil.Loop), part.Coil.Kind, part.Coil.Settings,
            Input($"{coilId}.drip_tray_full", InputKind.Contact), Output($"{coilId}.fan", Quantity.Percent), Output($"{coilId}.valve", Quantity.Percent)));
        var circuit = circuits.Count;
        var circuitId = $"{part.Name}.{part.Surface.Name}";
        circuits.Add(new Circuit(
            circuitId, index, LoopIndex(loops, part.Surface.Loop), part.Surface.Kind, part.Surface.Settings, part.Surface.Actuator,
            Input($"{circuitId}.temperature", InputKind.SurfaceTemperature), Input($"{circuitId}.condensation", InputKind.Contact), Output($"{circuitId}.valve", Quantity.Percent)));
        return new Room(part.Name, part.Settings, part.Household, coil, circuit, temperature, humidity, opening);
    }

    private Loop AddLoop(LoopPart part)
    {
        var mixed = part.Type == LoopType.Mixed;
        return new Loop(
            part.Name, part.Type, part.Serves, part.Settings,
            Input($"{part.Name}.supply.temperature", InputKind.WaterTemperature),
            Input($"{part.Name}.return.temperature", InputKind.WaterTemperature),
            part.Serves == LoopServes.Surfaces ? Input($"{part.Name}.manifold.condensation", InputKind.Contact) : -1,
            mixed ? Output($"{part.Name}.mixing.valve", Quantity.Percent) : -1,
            Output($"{part.Name}.pump.run", Quantity.Switch));
    }

    private static int LoopIndex(IReadOnlyList<LoopPart> loops, string name)
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
            _ => Quantity.Temperature,
        };
        inputs.Add(new HouseInput(new Point(id, quantity), kind, sensorOf(id), isWired(id)));
        return inputs.Count - 1;
    }

    private int Output(string id, Quantity quantity)
    {
        outputs.Add(new Point(id, quantity));
        return outputs.Count - 1;
    }
}

// The house as the sequence sees it: rooms, coils, circuits, loops and points by index. Immutable once built; a change of
// settings makes a new House, swapped between scans. Holds no state: that is Memory.
using System.Collections.Immutable;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>What kind of quantity an input is judged as.</summary>
public enum InputKind : byte
{
    RoomAirTemperature, RoomHumidity, OutdoorTemperature, OutdoorHumidity, WaterTemperature, SurfaceTemperature, Contact,
}

/// <summary>One input of the house.</summary>
/// <param name="Point">Its id and quantity.</param>
/// <param name="Kind">How it is judged.</param>
/// <param name="Sensor">Offset, lag, interval, accuracy.</param>
/// <param name="Wired">True when a device carries it; an unwired contact that never delivers is taken as absent, not as failed.</param>
public sealed record HouseInput(Point Point, InputKind Kind, SensorSettings Sensor, bool Wired);

/// <summary>A room with its coil and its ceiling circuit. Indices are into the tables of its <see cref="House"/>.</summary>
public sealed record Room(
    string Id, RoomSettings Settings, HouseholdRoom Household, int Coil, int Circuit,
    int AirTemperature, int AirHumidity, int OpeningContact);

/// <summary>A fan coil with its drain.</summary>
public sealed record Coil(string Id, int Room, int Loop, CoilKind Kind, CoilSettings Settings, int DripTray, int Fan, int Valve);

/// <summary>A surface's circuit on its manifold.</summary>
public sealed record Circuit(
    string Id, int Room, int Loop, PanelKind Kind, SurfaceSettings Settings, ActuatorKind Actuator, int SurfaceTemperature, int CondensationSwitch, int Valve);

/// <summary>How a loop gets its water.</summary>
public enum LoopType : byte
{
    Mixed, Direct,
}

/// <summary>What a loop serves.</summary>
public enum LoopServes : byte
{
    Surfaces, Coils,
}

/// <summary>A loop with its own pump.</summary>
public sealed record Loop(
    string Id, LoopType Type, LoopServes Serves, LoopSettings Settings, int Supply, int Return, int ManifoldSwitch, int Mixing, int Pump)
{
    /// <summary>Coldest supply set point, °C. 15 °C for surfaces and 7 °C for coils unless the site says otherwise.</summary>
    public double ColdestC => double.IsNaN(Settings.ColdestC) ? (Serves == LoopServes.Surfaces ? 15 : 7) : Settings.ColdestC;

    /// <summary>Warmest supply set point in cooling, °C. 20 °C for surfaces and 12 °C for coils unless the site says otherwise.</summary>
    public double WarmestC => double.IsNaN(Settings.WarmestC) ? (Serves == LoopServes.Surfaces ? 20 : 12) : Settings.WarmestC;
}

/// <summary>The points that belong to no room and no loop; −1 means there is none.</summary>
public sealed record SitePoints(int SourceSupply, int SourceCall, int OutdoorTemperature, int OutdoorHumidity);

/// <summary>A whole house, checked and indexed.</summary>
public sealed class House
{
    public required string Name { get; init; }

    /// <summary>Barometric pressure by the site's altitude, Pa.</summary>
    public required double PressurePa { get; init; }

    public required UnitSystem Units { get; init; }

    public required SequenceSettings Settings { get; init; }

    public required ImmutableArray<Room> Rooms { get; init; }

    public required ImmutableArray<Coil> Coils { get; init; }

    public required ImmutableArray<Circuit> Circuits { get; init; }

    public required ImmutableArray<Loop> Loops { get; init; }

    public required SitePoints Points { get; init; }

    public required ImmutableArray<HouseInput> Inputs { get; init; }

    public required PointTable InputTable { get; init; }

    public required PointTable OutputTable { get; init; }

    /// <summary>The same house with one room's household settings replaced.</summary>
    public House WithHousehold(int room, HouseholdRoom household)
    {
        var rooms = Rooms.ToBuilder();
        rooms[room] = rooms[room] with { Household = household };
        return With(rooms.ToImmutable(), Inputs);
    }

    private House With(ImmutableArray<Room> rooms, ImmutableArray<HouseInput> inputs) => new()
    {
        Name = Name,
        PressurePa = PressurePa,
        Units = Units,
        Settings = Settings,
        Rooms = rooms,
        Coils = Coils,
        Circuits = Circuits,
        Loops = Loops,
        Points = Points,
        Inputs = inputs,
        InputTable = InputTable,
        OutputTable = OutputTable,
    };

    /// <summary>The same house with nothing wired: an input exists from the first value on that is delivered for it.</summary>
    public House Unwired() => With(Rooms, [.. Inputs.Select(input => input with { Wired = false })]);

    /// <summary>Name of an owner, for people and files.</summary>
    public string NameOf(Owner owner, int index) => owner switch
    {
        Owner.Room => Rooms[index].Id,
        Owner.Loop => Loops[index].Id,
        Owner.Input => InputTable[index].Id,
        Owner.Output => OutputTable[index].Id,
        Owner.Source => "source",
        _ => Name,
    };

    /// <summary>An output image of the right size.</summary>
    public OutputImage NewOutputImage() => new(InputTable.Count, OutputTable.Count, Rooms.Length, Loops.Length);
}

// The house as the sequence sees it: rooms, coils, circuits, loops and points by index. Immutable once built; a change of
// settings makes a new House, swapped between scans. Holds no state: that is Memory.
using System.Collections.Immutable;
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>A room with its coils and circuits. Indices are into the tables of its <see cref="House"/>; −1 where there is none.</summary>
/// <param name="Id">Its name.</param>
/// <param name="Settings">What the installer says of it.</param>
/// <param name="Household">What the household wants of it.</param>
/// <param name="Coils">Its coils, the leading one first; one that it shares with others included.</param>
/// <param name="Circuits">Its surfaces.</param>
/// <param name="AirTemperature">Input.</param>
/// <param name="AirHumidity">Input.</param>
/// <param name="OpeningContact">Input.</param>
public sealed record Room(
    string Id, RoomSettings Settings, HouseholdRoom Household, ImmutableArray<int> Coils, ImmutableArray<int> Circuits,
    int AirTemperature, int AirHumidity, int OpeningContact)
{
    /// <summary>Worst accuracy of the supply sensors of its surfaces' loops, K; 0 without surfaces.</summary>
    public double SupplyAccuracyK { get; init; }

    public int CarbonDioxide { get; init; } = -1;

    public int People { get; init; } = -1;

    public int Dial { get; init; } = -1;

    public int Button { get; init; } = -1;

    /// <summary>Further air sensors of the room.</summary>
    public ImmutableArray<AirSensor> OtherAir { get; init; } = [];

    /// <summary>Temperature input of an air sensor; 0 is the room's own.</summary>
    public int TemperatureOf(int sensor) => sensor == 0 ? AirTemperature : OtherAir[sensor - 1].Temperature;

    /// <summary>Humidity input of an air sensor; 0 is the room's own; −1: it has none.</summary>
    public int HumidityOf(int sensor) => sensor == 0 ? AirHumidity : OtherAir[sensor - 1].Humidity;
}

/// <summary>A further air sensor of a room, one chip: inputs of its temperature and, where it measures one (−1: not), its humidity.</summary>
public sealed record AirSensor(string Name, int Temperature, int Humidity);

/// <summary>A fan coil with its drain.</summary>
/// <param name="Id">Owner and part, e.g. <c>weaving-room.coil</c>.</param>
/// <param name="Rooms">Rooms it serves: usually one.</param>
/// <param name="Loop">Loop of its water; in a four-pipe house of its cold water.</param>
/// <param name="Kind">Its kind.</param>
/// <param name="Settings">What the installer says of it.</param>
/// <param name="DripTray">Input.</param>
/// <param name="Fan">Output.</param>
/// <param name="Valve">Output.</param>
public sealed record Coil(string Id, ImmutableArray<int> Rooms, int Loop, CoilKind Kind, CoilSettings Settings, int DripTray, int Fan, int Valve)
{
    /// <summary>The first room it serves: events about it are told there.</summary>
    public int Room => Rooms[0];

    /// <summary>Slowest speed at which its fan turns, percent of full speed, by its kind.</summary>
    public double StartSpeedPercent { get; } = Kind.StartSpeedPercent;

    /// <summary>What it gives at that speed, as a share of its full output.</summary>
    public double ShareAtStart { get; } = Emitters.CoilShare(Kind.StartSpeedPercent);

    /// <summary>Loop of its warm water in a four-pipe house; −1 elsewhere.</summary>
    public int HeatingLoop { get; init; } = -1;

    public int HeatingValve { get; init; } = -1;

    /// <summary>Its valve on one of its loops.</summary>
    public int ValveOn(int loop) => Loop == loop ? Valve : HeatingValve;

    public int FanProof { get; init; } = -1;

    public int WaterTemperature { get; init; } = -1;

    public int ReturnAirTemperature { get; init; } = -1;

    /// <summary>Actuator of its valve.</summary>
    public ActuatorKind Actuator { get; init; } = new();

    /// <summary>Time after which its valve is open enough for the pump, s: the kind's, or that of an actuator named for it if longer.</summary>
    public required double OpeningTimeS { get; init; }
}

/// <summary>Where a surface lies.</summary>
public enum SurfacePlace : byte
{
    Ceiling, Floor, Wall,
}

/// <summary>A surface's circuit on its manifold.</summary>
public sealed record Circuit(
    string Id, int Room, int Loop, SurfaceKind Kind, SurfaceSettings Settings, ActuatorKind Actuator, int SurfaceTemperature, int CondensationSwitch, int Valve)
{
    public SurfacePlace Place { get; init; }

    public int EndSwitch { get; init; } = -1;
}

/// <summary>What makes the water.</summary>
public enum SourceType : byte
{
    HeatPump, Chiller, Boiler,
}

/// <summary>A source with its points; −1 where there is none.</summary>
public sealed record Source(string Id, SourceType Type, SourceSettings Settings, int Supply, int Call)
{
    public int Running { get; init; } = -1;

    public int Defrosting { get; init; } = -1;

    public int MakingHotWater { get; init; } = -1;

    public int LockedOut { get; init; } = -1;

    public int Fault { get; init; } = -1;

    public int CallCooling { get; init; } = -1;

    public int SetPoint { get; init; } = -1;

    public int ChangeOver { get; init; } = -1;

    /// <summary>Loops that hang on it.</summary>
    public ImmutableArray<int> Loops { get; init; } = [];

    /// <summary>Those of them without a mixing valve: their supply is the source's water.</summary>
    public ImmutableArray<int> DirectLoops { get; init; } = [];

    /// <summary>Rooms that it may cool.</summary>
    public ImmutableArray<int> CooledRooms { get; init; } = [];

    /// <summary>Rooms that it may heat.</summary>
    public ImmutableArray<int> HeatedRooms { get; init; } = [];

    /// <summary>True when it can make cold water.</summary>
    public bool Cools => Type != SourceType.Boiler;

    /// <summary>True when it can make warm water.</summary>
    public bool Heats => Type != SourceType.Chiller;

    /// <summary>True when it makes both and has rooms for both: it must change over.</summary>
    public bool ChangesOver => Cools && Heats && CooledRooms.Length > 0 && HeatedRooms.Length > 0;

    /// <summary>What it makes until somebody says otherwise: warm water where it can make nothing else or has rooms for nothing else.</summary>
    public bool HeatsAtFirst => !Cools || (Heats && CooledRooms.Length == 0);
}

/// <summary>A buffer between source and loops.</summary>
public sealed record Buffer(BufferSettings Settings, int Top, int Bottom);

/// <summary>A tank of hot water that the source charges.</summary>
/// <param name="Settings">What the installer says of it.</param>
/// <param name="Source">Source that charges it.</param>
/// <param name="Tank">Input.</param>
/// <param name="Charge">Output; −1: the source makes hot water by its own control.</param>
public sealed record HotWater(HotWaterSettings Settings, int Source, int Tank, int Charge);

/// <summary>The points that belong to no room, loop or source; −1 means there is none.</summary>
public sealed record SitePoints(int OutdoorTemperature, int OutdoorHumidity)
{
    public int Leak { get; init; } = -1;

    public int Surplus { get; init; } = -1;

    public int InHand { get; init; } = -1;

    public int Health { get; init; } = -1;
}

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

    /// <summary>The source, and behind it the second one of a four-pipe house.</summary>
    public required ImmutableArray<Source> Sources { get; init; }

    public Buffer? Buffer { get; init; }

    public HotWater? HotWater { get; init; }

    public required SitePoints Points { get; init; }

    public required ImmutableArray<HouseInput> Inputs { get; init; }

    public required PointTable InputTable { get; init; }

    public required PointTable OutputTable { get; init; }

    /// <summary>True for a room with a surface that may be cooled: it cannot do without humidity.</summary>
    public bool NeedsHumidity(Room room)
    {
        foreach (var circuit in room.Circuits)
        {
            if (Loops[Circuits[circuit].Loop].Cools)
                return true;
        }
        return false;
    }

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
        Sources = Sources,
        Buffer = Buffer,
        HotWater = HotWater,
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
        Owner.Source => Sources[index].Id,
        _ => Name,
    };

    /// <summary>An output image of the right size.</summary>
    public OutputImage NewOutputImage() => new(InputTable.Count, OutputTable.Count, Rooms.Length, Loops.Length, Sources.Length);
}

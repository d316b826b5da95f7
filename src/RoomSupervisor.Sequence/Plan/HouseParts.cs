// The parts of a house as a reader found them, by name; HouseBuilder gives them indices and points.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>A coil as the reader found it; a heating loop in a four-pipe house.</summary>
public sealed record CoilPart(string Name, string Loop, CoilKind Kind, CoilSettings Settings)
{
    public string HeatingLoop { get; init; } = "";

    public ActuatorKind? Actuator { get; init; }
}

/// <summary>A coil that serves several rooms, an owner of its own.</summary>
public sealed record SharedCoilPart(string Name, IReadOnlyList<string> Rooms, CoilPart Coil);

/// <summary>A surface as the reader found it.</summary>
public sealed record SurfacePart(string Name, string Loop, SurfaceKind Kind, SurfaceSettings Settings, ActuatorKind Actuator)
{
    public SurfacePlace Place { get; init; }
}

/// <summary>A room as the reader found it.</summary>
public sealed record RoomPart(string Name, RoomSettings Settings, HouseholdRoom Household, IReadOnlyList<CoilPart> Coils, IReadOnlyList<SurfacePart> Surfaces)
{
    /// <summary>Further air sensors, as wired: <c>air-desk</c>.</summary>
    public IReadOnlyList<AirSensorPart> OtherAir { get; init; } = [];
}

/// <summary>A further air sensor as the reader found it.</summary>
/// <param name="Name">Name of its part, e.g. <c>air-desk</c>.</param>
/// <param name="HasHumidity">True where its humidity is wired as well.</param>
public sealed record AirSensorPart(string Name, bool HasHumidity);

/// <summary>A loop as the reader found it.</summary>
public sealed record LoopPart(string Name, LoopType Type, LoopServes Serves, LoopSettings Settings)
{
    public Seasons Seasons { get; init; }

    public string ManifoldRoom { get; init; } = "";

    public ActuatorKind? Actuator { get; init; }
}

/// <summary>A source as the reader found it.</summary>
public sealed record SourcePart(SourceType Type, SourceSettings Settings);

/// <summary>Everything a house is built of.</summary>
public sealed record HouseParts(string Name, double AltitudeM, UnitSystem Units, SequenceSettings Settings, IReadOnlyList<RoomPart> Rooms, IReadOnlyList<LoopPart> Loops)
{
    public IReadOnlyList<SharedCoilPart> SharedCoils { get; init; } = [];

    public SourcePart Source { get; init; } = new(SourceType.Chiller, new SourceSettings());

    /// <summary>The second source of a four-pipe house.</summary>
    public SourcePart? HeatSource { get; init; }

    public BufferSettings? Buffer { get; init; }

    public HotWaterSettings? HotWater { get; init; }
}

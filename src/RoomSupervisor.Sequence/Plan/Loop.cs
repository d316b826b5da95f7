// A loop of a house: what it serves, in which seasons, its points by index and what hangs on it. Immutable once built; holds no state: that is Memory.
using System.Collections.Immutable;

namespace RoomSupervisor.Sequence;

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

/// <summary>The seasons a loop works in.</summary>
public enum Seasons : byte
{
    Cooling, Heating, Both,
}

/// <summary>A loop with its own pump.</summary>
public sealed record Loop(
    string Id, LoopType Type, LoopServes Serves, LoopSettings Settings, int Supply, int Return, int ManifoldSwitch, int Mixing, int Pump)
{
    public Seasons Seasons { get; init; }

    /// <summary>Room in which its manifold stands; −1: not said.</summary>
    public int ManifoldRoom { get; init; } = -1;

    /// <summary>Index of the source it hangs on.</summary>
    public int Source { get; init; }

    /// <summary>Circuits that hang on it.</summary>
    public ImmutableArray<int> Circuits { get; init; } = [];

    /// <summary>Coils that use its water in either season.</summary>
    public ImmutableArray<int> Coils { get; init; } = [];

    /// <summary>Actuator of its mixing valve.</summary>
    public ActuatorKind Actuator { get; init; } = new();

    /// <summary>Time of its mixing valve's full stroke, s.</summary>
    public double StrokeS => double.IsNaN(Settings.StrokeS) ? Actuator.OpeningTimeS : Settings.StrokeS;

    /// <summary>True when circuits or coils of more than one room hang on it.</summary>
    public bool HasSeveralRooms { get; init; }

    public int Flow { get; init; } = -1;

    public int PumpProof { get; init; } = -1;

    public int HighLimit { get; init; } = -1;

    public int Pressure { get; init; } = -1;

    public int PumpSpeed { get; init; } = -1;

    public int StandbyPump { get; init; } = -1;

    /// <summary>True when a slab hangs on it: it stores what it is given for hours.</summary>
    public bool IsSlow { get; init; }

    /// <summary>True when it may carry cold water.</summary>
    public bool Cools => Seasons != Seasons.Heating;

    /// <summary>True when it may carry warm water.</summary>
    public bool Heats => Seasons != Seasons.Cooling;

    /// <summary>Coldest supply set point, °C. 15 °C for surfaces and 7 °C for coils unless the site says otherwise.</summary>
    public double ColdestC => double.IsNaN(Settings.ColdestC) ? (Serves == LoopServes.Surfaces ? 15 : 7) : Settings.ColdestC;

    /// <summary>Warmest supply set point in cooling, °C. 20 °C for surfaces and 12 °C for coils unless the site says otherwise.</summary>
    public double WarmestC => double.IsNaN(Settings.WarmestC) ? (Serves == LoopServes.Surfaces ? 20 : 12) : Settings.WarmestC;
}

// The numbers of section 4, the fan, and of the watch over stages and coils. Declared in SequenceSettings.Keys.cs.
namespace RoomSupervisor.Sequence;

public sealed partial class SequenceSettings
{
    // Fan (section 4).
    /// <summary>How fast a fan may get louder after an opening.</summary>
    public double RiseAfterOpeningDbPerMin { get; private set; }

    /// <summary>How fast a fan may get louder otherwise.</summary>
    public double RiseDbPerMin { get; private set; }

    /// <summary>How fast a fan gets quieter in easing off.</summary>
    public double FallEasingOffDbPerMin { get; private set; }

    /// <summary>How fast a fan gets quieter otherwise.</summary>
    public double FallDbPerMin { get; private set; }

    /// <summary>Speed of the start kick.</summary>
    public double KickSpeedPercent { get; private set; }

    /// <summary>Length of the start kick.</summary>
    public double KickForS { get; private set; }

    /// <summary>Longest run of a fan after its coil valve has shut: a wet coil gives its water back.</summary>
    public double AfterValveShutS { get; private set; }

    /// <summary>A coil whose valve only opens or shuts stops when asked for this much less than the fan's slowest speed; a stepped fan changes its step this near to another.</summary>
    public double StartHysteresisPercent { get; private set; }

    /// <summary>Shortest time between two steps of a stepped fan.</summary>
    public double StepWaitS { get; private set; }

    /// <summary>Shortest time between start and stop of a coil whose valve only opens or shuts.</summary>
    public double StartStopWaitS { get; private set; }

    /// <summary>Shortest run of a coil whose valve throttles while it holds a room near its set point, s.</summary>
    public double CoilRunAtLeastS { get; private set; }

    /// <summary>Shortest rest between two such runs, s.</summary>
    public double CoilRestAtLeastS { get; private set; }

    /// <summary>How long a coil stays wet after it has taken moisture out of the air.</summary>
    public double CoilWetForS { get; private set; }

    /// <summary>More stage changes than this within an hour of steady weather are hunting.</summary>
    public double HuntingOver { get; private set; }

    /// <summary>A coil is too large when at its slowest it gives more than this many times the room's usual load.</summary>
    public double CoilTooLargeOver { get; private set; }

    /// <summary>How long a drip tray switch must be dry again before the coil runs.</summary>
    public double TrayDryForS { get; private set; }

    /// <summary>Smallest opening of a throttling coil valve.</summary>
    public double ValveFloorPercent { get; private set; }
}

// What one step of the sequence leaves behind: commands, the readings it judged, the states people see, and events.
// Written by the step, read by everybody else; it allocates nothing after construction.
namespace RoomSupervisor.Terms;

/// <summary>A room as people see it after a scan.</summary>
public struct RoomStatus
{
    public Stage Stage;
    public Moisture Moisture;
    public GuardLevel Guard;
    /// <summary>Air temperature, filtered, °C; NaN when missing.</summary>
    public double AirTemperatureC;
    /// <summary>Relative humidity, filtered, %; NaN when missing.</summary>
    public double HumidityPercent;
    /// <summary>Active set point, °C.</summary>
    public double WantedC;
    /// <summary>Minute of the day of the weekly period whose set point that is ahead of time; NaN: none.</summary>
    public double AheadOfMinutes;
    /// <summary>Plain dew point, °C; NaN when humidity is missing.</summary>
    public double DewPointC;
    /// <summary>Dew point plus every error the sensors may have, °C: what the guard uses.</summary>
    public double DewPointWorstC;
    /// <summary>What the room asks for, W.</summary>
    public double DemandW;
    /// <summary>Index of the leading coil's fan command, or −1.</summary>
    public int FanOutput;
    /// <summary>How often the room's fans were heard within the last hour: start, stop, change of direction of 3 dB.</summary>
    public int AudibleChanges;
    /// <summary>What the room usually needs while it is held in cooling, W; 0 until it is known.</summary>
    public double UsualLoadW;
}

/// <summary>A loop as people see it after a scan.</summary>
public struct LoopStatus
{
    public GuardLevel Guard;
    /// <summary>Supply set point, °C; NaN while nothing asks.</summary>
    public double SetPointC;
    /// <summary>Lowest safe supply, °C; NaN for a loop without cooled surfaces.</summary>
    public double LowestSafeSupplyC;
    /// <summary>Measured supply, °C; NaN when missing.</summary>
    public double SupplyC;
}

/// <summary>The source as people see it after a scan.</summary>
public struct SourceStatus
{
    public bool Calling;
    public SourceMode Mode;
    public Reason Reason;
    /// <summary>How often it has started within the last hour.</summary>
    public int StartsInHour;
    /// <summary>False while its water is for something else: hot water, defrosting, a change-over.</summary>
    public bool WaterIsForRooms;
}

/// <summary>The result of one scan.</summary>
public sealed class OutputImage(int inputs, int outputs, int rooms, int loops, int sources)
{
    /// <summary>One command an output, in the order of the house's output points.</summary>
    public Command[] Commands { get; } = new Command[outputs];

    /// <summary>One reading an input, in the order of the house's input points.</summary>
    public Reading[] Readings { get; } = new Reading[inputs];

    /// <summary>What stands for a point that does not exist, in one place so that it can be pointed at.</summary>
    public Reading[] Never { get; } = [Reading.Never];

    public RoomStatus[] Rooms { get; } = new RoomStatus[rooms];

    public LoopStatus[] Loops { get; } = new LoopStatus[loops];

    /// <summary>The source, and behind it the second one of a four-pipe house.</summary>
    public SourceStatus[] Sources { get; } = new SourceStatus[sources];

    public HappeningList Happenings { get; } = new(256);
}

// Everything the sequence remembers from scan to scan: plain structs, one a room, coil, circuit, loop and input. No clocks in
// here, only times that have passed, so that it can be saved, carried over a restart and resumed bit for bit; packed, so that no byte of a saved memory is left to chance.
using System.Runtime.InteropServices;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence;

/// <summary>What is remembered of one room.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct RoomMemory
{
    public Stage Stage;
    /// <summary>True while the room works towards heat_below, false while towards cool_above.</summary>
    public bool Heats;
    public bool Started;
    public double WaitedForStartS;
    public double TurnInS;
    public double SinceRaisedS;
    public double StageForS;
    public bool SurfaceHelps;
    /// <summary>Share of the coils' gain that was taken because they swung, and how long since it last changed or the coil was calm, s.</summary>
    public double CalmedBy, CalmForS;
    public double OpenForS;
    /// <summary>How long the contact has said open, whether believed or not.</summary>
    public double ContactForS;
    public double LooksShutForS;
    /// <summary>True while the contact says open and is not believed, until it has said shut once.</summary>
    public bool ContactIgnored;
    /// <summary>For how much longer another opening is likely.</summary>
    public double OpeningsLikelyForS;
    public double HotForS;
    public double SurfaceForS;
    public double HelpForS;
    public double LowForS;
    public double HandOverForS;
    public bool HandingOver;
    public double HandingOverForS;
    /// <summary>For how much longer a bounce after the last hand-over would be one, and the lowest error since.</summary>
    public double BounceWatchS;
    public double LowestErrorK;
    /// <summary>Share of what the surfaces may give that bounces have shown to be too hopeful, 0–0.6.</summary>
    public double SurfaceDoubt;
    public double CoilRestS;
    public bool AfterOpening;
    public bool ResumePending;
    public Stage ResumeStage;
    public double ResumeTemperatureC;
    public double ResumeDewPointC;
    public double IntegralW;
    public double DemandW;
    public double LoadW;
    /// <summary>What the coils gave, as late as the air sensor tells of it, W.</summary>
    public double CoilLaggedW;
    public AirModelMemory Air;
    public double SurfaceOutputW;
    // Air of this scan; the dew point's rate needs the one before.
    public double ErrorK;
    public double WantedC;
    public double DewPointC;
    public double DewPointWorstC;
    public double DewPointRateKPerS;
    public double RateBaseC;
    public double SinceRateS;
    // Moisture.
    public Moisture Moisture;
    public double MoistureForS;
    public double DryRestS;
    /// <summary>Runs in a row that over-cooling has cut short, 0–2.</summary>
    public byte DryCuts;
    public double DryWishForS;
    public double DryLostForS;
    public double OverCooledForS;
    public double GuardLimitsForS;
    /// <summary>How much lower the set point is for the drying's sake now, K.</summary>
    public double DryShiftK;
    /// <summary>True while the surface gives way to a coil that is about to dry.</summary>
    public bool DryFades;
    /// <summary>In the other stages the stage's own coil column holds.</summary>
    public readonly bool StageAllowsDrying => Stage is Stage.Satisfied or Stage.CoilHelps or Stage.RadiantHold or Stage.CoilHold && !Heats;
    public bool HumidityKnown;
    public bool WasKnown;
    public double UnknownForS;
    public double LastWorstC;
    // Flat readings (rule 1.2): the output as it was in the last hour.
    public double OutputSlowW;
    // Inferred openings (rule 1.3), and what the contact last said.
    public bool ContactWasOpen;
    public bool HasSlow;
    public double SlowForS;
    public double SlowC;
    public double SlowDewC;
    public double CoilPeakW;
    public bool ProbablyOpen;
    public double ProbablyForS;
    public double ProbablyRestS;
    public double CheckForS;
    public double CheckC;
    public double CheckDewC;
    public double ShowerRestS;
    // Several humidity sensors (rule 1.6).
    public double RestedForS;
    public double SpreadForS;
    public bool ToldSpread;
    public int ChipsHeard;
    // Temperature that counts (rules 1.9 and 1.10).
    /// <summary>Share of lag × slope that control runs ahead of its sensor, 0–1.</summary>
    public double LeadShare;
    /// <summary>Which sensors it comes from; 0: none.</summary>
    public int ControlFrom;
    public double ControlC;
    public double BlendK;
    public double BlendForS;
    /// <summary>How long it has waited for the source to make the other, s.</summary>
    public double OtherSeasonForS;
    public bool ToldOtherSeason;
    // Watched over: hunting, a coil too large.
    public Stage SeenStage;
    public double SeenWantedC;
    public bool SeenHeats;
    public bool HasSeenOutdoor;
    public double SeenOutdoorC;
    public HourCount StageChanges;
    public bool ToldHunting;
    /// <summary>Mean of what the room was given while it was held in cooling, W.</summary>
    public double UsualLoadW;
    public double UsualForS;
    public double TooLargeRestS;
    /// <summary>True while its air is close to freezing.</summary>
    public bool Frost;
    public HeatLoadMemory HeatLoad;
    /// <summary>The start ahead of a weekly period that is under way.</summary>
    public EarlyMemory Early;
    /// <summary>What control may take from the measured data; 0: nothing, go by what is typed in. Lag as a factor, capacity in J/K of typed-in coil watts (upper end), coil as a share (lower end).</summary>
    public double LagFactor, DataCapacityJPerK, CoilLow;
}

/// <summary>What is remembered of one coil.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct CoilMemory
{
    public double FanPercent;
    public double ValvePercent;
    public double KickForS;
    public double WarmWaterForS;
    public double WarmWaterRestS;
    public double ValveShutForS;
    public double ValveOpenForS;
    public bool Carrying;
    /// <summary>True while it works with the warm water of a four-pipe house.</summary>
    public bool Heats;
    /// <summary>True while its water is warm enough to blow.</summary>
    public bool WaterIsWarm;
    public double CapPercent;
    /// <summary>Shares of full output at <see cref="FanPercent"/> and <see cref="CapPercent"/>, 0–1.</summary>
    public double FanShare, CapShare;
    public double SlewPercent;
    /// <summary>What stops it whatever its rooms want; none: nothing does.</summary>
    public Cause Stopped;
    public readonly bool MayNotRun => Stopped != Cause.None;
    public bool ToldFull;
    public double TrayDryForS;
    public double FanOnForS;
    /// <summary>Step of a stepped fan, from 1; 0: none.</summary>
    public byte FanStep;
    public double StepForS;
    /// <summary>How long it has been carrying, or not.</summary>
    public double CarryForS;
    /// <summary>What is asked of it in the mean of five minutes, W; where its valve would be while it dries in that of a minute, %.</summary>
    public double AskedSlowW, OpeningMeanPercent;
    /// <summary>True while it dries: then that mean is one of a quarter of an hour.</summary>
    public bool Dries;
    /// <summary>How long the water on it will last.</summary>
    public double WetForS;
    /// <summary>How long it would have given that water back.</summary>
    public double GivesBackForS;
    // A coil of several rooms that want opposite things.
    /// <summary>True while it works for its rooms in one direction, and in which; the last one while it does not.</summary>
    public bool Serves;
    public bool ServesHeat;
    /// <summary>True while it may not be used in a direction for another of its rooms' sake.</summary>
    public bool BarsCooling;
    public bool BarsHeating;
    /// <summary>How long a room has waited for the other direction.</summary>
    public double OtherWaitsForS;
    public bool ToldOther;
    /// <summary>Speed from which a change is heard, and the direction of the last one.</summary>
    public double HeardPercent;
    public sbyte HeardDirection;
    /// <summary>Audible changes of the last hour.</summary>
    public HourCount Heard;
    /// <summary>How long its valves have not moved, s.</summary>
    public double ValveIdleS;
    public double HeatingValveIdleS;
    /// <summary>How long its fan has been told to turn without proof.</summary>
    public double FanUnprovenForS;
    public bool ToldFanUnproven;
}

/// <summary>What is remembered of one surface circuit.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct CircuitMemory
{
    public GuardLevel Level;
    public double LowestSafeC;
    /// <summary>What makes the lowest safe supply what it is.</summary>
    public Reason Limit;
    /// <summary>Warmest supply in heating, °C.</summary>
    public double HighestC;
    public double WorstC;
    /// <summary>True while its lowest safe supply is still worth sending to its room.</summary>
    public bool OfUse;
    /// <summary>True while the outdoor reserve holds.</summary>
    public bool Reserves;
    /// <summary>True while it is shut for the other rooms' sake.</summary>
    public bool Isolated;
    public double ColdForS;
    public double SteadyForS;
    public double SinceWetS;
    /// <summary>True while its own condensation switch is wet; its loop knows of the manifold's.</summary>
    public bool Wet;
    /// <summary>The coldest the surface may feel, °C; NaN: nobody knows.</summary>
    public double ColdestC;
    public bool WarmThrough;
    public double WarmThroughForS;
    public double WarmThroughRestS;
    public double ValvePercent;
    public double OpenForS;
    public double ShutForS;
    /// <summary>True while it is shut because little was asked of it.</summary>
    public bool WasNotNeeded;
    public double AskedW;
    public double MayGiveW;
    public double OutputW;
    public Reason ShutReason;
    /// <summary>What its loop keeps of it, whatever the season.</summary>
    public CircuitLoopMemory Kept;
}

/// <summary>A value set by hand on one output.</summary>
[StructLayout(LayoutKind.Sequential, Pack = 1)]
public struct HandValue
{
    public bool Active;
    /// <summary>Set since the last scan: its life begins with the next one.</summary>
    public bool Fresh;
    public double Value;
    public double RemainingS;
}

/// <summary>The whole memory of one house. Its layout follows the house's counts.</summary>
public sealed class Memory
{
    /// <summary>Version of the layout; a saved memory of another version is not resumed.</summary>
    public const int Version = 23;

    public Memory(House house)
    {
        Inputs = new InputMemory[house.Inputs.Length];
        Rooms = new RoomMemory[house.Rooms.Length];
        Coils = new CoilMemory[house.Coils.Length];
        RoomData = new RoomDataMemory[house.Rooms.Length];
        Circuits = new CircuitMemory[house.Circuits.Length];
        Loops = new LoopMemory[house.Loops.Length];
        Sources = new SourceMemory[house.Sources.Length];
        Hands = new HandValue[house.OutputTable.Count];
        CoilFullW = new double[2 * house.Coils.Length];
        for (var i = 0; i < Inputs.Length; i++)
            Inputs[i].LastTakenS = double.NegativeInfinity;
        for (var i = 0; i < Circuits.Length; i++)
            Circuits[i] = new CircuitMemory { Level = GuardLevel.Shut, SinceWetS = double.MaxValue };
        for (var i = 0; i < Sources.Length; i++)
            Sources[i].Heats = house.Sources[i].HeatsAtFirst;
        for (var i = 0; i < Loops.Length; i++)
            Loops[i].Heats = house.Loops[i].Seasons == Seasons.Heating || (house.Loops[i].Seasons == Seasons.Both && house.Sources[house.Loops[i].Source].HeatsAtFirst);
    }

    public InputMemory[] Inputs { get; }

    public RoomMemory[] Rooms { get; }

    public CoilMemory[] Coils { get; }

    /// <summary>What was measured of each room (section 2, rule 7).</summary>
    public RoomDataMemory[] RoomData { get; }

    /// <summary>What the measured data may be used for; for comparisons. No part of what is saved.</summary>
    public RoomDataUses RoomDataFor { get; set; } = RoomDataUses.Shipped;

    public CircuitMemory[] Circuits { get; }

    public LoopMemory[] Loops { get; }

    public HandValue[] Hands { get; }

    public SourceMemory[] Sources { get; }

    /// <summary>Dew point of the air outdoors in this scan, °C; NaN: not known.</summary>
    internal double OutdoorDewPointC { get; set; } = double.NaN;

    /// <summary>Full output of each coil for its one room in this scan, in cooling and in heating, W; NaN: not asked yet. Asked ten times a scan, worked out once.</summary>
    internal double[] CoilFullW { get; }

    /// <summary>How many readings were told missing, in this scan.</summary>
    internal int Missing { get; set; }

    /// <summary>True from a leak on until the controller is stopped and started by hand; a crash or a power cut does not end it.</summary>
    public bool Leak { get; set; }

    /// <summary>True while somebody has the plant in hand, as told.</summary>
    public bool InHand { get; set; }

    /// <summary>Other rules in the place of ours, for comparisons; null: ours. No part of what is saved.</summary>
    public IRoomControl? RoomsBy { get; set; }

    /// <summary>Copies everything into the memory of the same house; allocates nothing.</summary>
    /// <exception cref="ArgumentException">The other belongs to a house with fewer parts.</exception>
    public void CopyTo(Memory other)
    {
        Inputs.CopyTo(other.Inputs, 0);
        Rooms.CopyTo(other.Rooms, 0);
        Coils.CopyTo(other.Coils, 0);
        RoomData.CopyTo(other.RoomData, 0);
        Circuits.CopyTo(other.Circuits, 0);
        Loops.CopyTo(other.Loops, 0);
        Sources.CopyTo(other.Sources, 0);
        Hands.CopyTo(other.Hands, 0);
        other.Leak = Leak;
        other.InHand = InHand;
    }
}

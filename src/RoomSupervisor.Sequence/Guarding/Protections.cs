// The protective list: everything that stops a loop, a circuit or a coil whatever its rooms want, strongest first. The controller walks these rows, and the
// table of shared/reference/sequence.md is written from them. Decides only what is stopped and why, never what comfort would like.
using System.Collections.Immutable;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Guarding;

/// <summary>What a protection stops.</summary>
internal enum Protects : byte
{
    Loop, Circuit, Coil,
}

/// <summary>True while the condition of a protection holds for the loop, circuit or coil of this index.</summary>
internal delegate bool Holds(in Scan scan, int index);

/// <summary>The cause of a protection with its numbers.</summary>
internal delegate Reason Numbers(in Scan scan, int index);

/// <summary>One row of the list.</summary>
/// <param name="Cause">What is shown and logged.</param>
/// <param name="What">What it stops.</param>
/// <param name="When">Its condition.</param>
/// <param name="Condition">The same in words; {key} stands for the default of a parameter of <c>sequence:</c>.</param>
/// <param name="Action">What it does, in words.</param>
/// <param name="Clears">What ends it, in words.</param>
internal sealed record Protection(Cause Cause, Protects What, Holds When, string Condition, string Action, string Clears)
{
    /// <summary>Seasons of the loop in which it is looked at.</summary>
    public Seasons In { get; init; } = Seasons.Both;

    /// <summary>Numbers for the cause; none where it says enough by itself.</summary>
    public Numbers? Tell { get; init; }

    /// <summary>True where a loop's stop is an event of its own; elsewhere the parts that it stops tell it.</summary>
    public bool IsTold { get; init; } = true;
}

/// <summary>The list and its walking.</summary>
internal static partial class Protections
{
    /// <summary>Every row, strongest first within what it protects. Lambdas, not method groups, for speed as in <see cref="Rooms.StageTable"/>.</summary>
    public static ImmutableArray<Protection> All { get; } =
    [
        new(Cause.Leak, Protects.Loop, (in s, i) => Leaks(s, i), "a leak detector of the site is wet, or has been since the controller was last started by hand", LoopStops, "the controller is stopped and started again by hand; a crash or a power cut does not end it"),
        new(Cause.HighLimit, Protects.Loop, (in s, i) => HighLimitTripped(s, i), "the loop's high limit has tripped", LoopStops, "quiet for 30 min"),
        new(Cause.HighLimitUnread, Protects.Loop, (in s, i) => HighLimitUnread(s, i), "the high limit's contact cannot be read", LoopStops + "; told when it lasts {declared_missing_after}", "it can be read"),
        new(Cause.PressureLow, Protects.Loop, (in s, i) => PressureLow(s, i), "water pressure under 50 kPa; a gauge that cannot be read stops nothing", LoopStops, "the pressure is back"),
        new(Cause.SupplyMissing, Protects.Loop, (in s, i) => LoopSupplyMissing(s, i), "supply temperature of a loop of surfaces missing", LoopStops, "the reading is back") { In = Seasons.Cooling, IsTold = false },

        new(Cause.CondensationSwitch, Protects.Circuit, (in s, i) => SwitchWet(s, i), "its condensation switch is wet, or that of its manifold", CircuitShuts, "dry for {open_after_wet}, then as after cold water") { In = Seasons.Cooling },
        new(Cause.CondensationUnread, Protects.Circuit, (in s, i) => SwitchUnread(s, i), "one of these switches cannot be read", CircuitShuts, "it can be read, then as after cold water") { In = Seasons.Cooling },
        new(Cause.SupplyMissing, Protects.Circuit, (in s, i) => SupplyMissing(s, i), "supply temperature missing", CircuitShuts, "the reading is back, then as after cold water") { In = Seasons.Cooling },
        new(Cause.DewPointUnknown, Protects.Circuit, (in s, i) => DewPointUnknown(s, i), "nobody knows the room's dew point", CircuitShuts, "it is known, then as after cold water") { In = Seasons.Cooling },
        new(Cause.DewPointRising, Protects.Circuit, (in s, i) => DewPointRising(s, i), "dew point rising faster than {shut_rising}", CircuitShuts, "it rises slower, then as after cold water") { In = Seasons.Cooling, Tell = Rising },
        new(Cause.WaterFarTooCold, Protects.Circuit, (in s, i) => WaterFarTooCold(s, i), "supply or surface less than {shut_at_once_under} over the worst-case dew point", CircuitShuts, ColdClears) { In = Seasons.Cooling, Tell = Cold },
        new(Cause.WaterTooCold, Protects.Circuit, (in s, i) => WaterTooCold(s, i), "the same, {shut_under}, for {shut_after}", CircuitShuts, ColdClears) { In = Seasons.Cooling, Tell = Cold },
        new(Cause.Isolated, Protects.Circuit, (in s, i) => IsIsolated(s, i), "its room alone would hold the loop over {isolate_above} warmer than others and the manifold's air need or want, another room is open, and it has a coil that may run or carries fewer watts", CircuitShuts, "{isolate_back} less, or no other room open; then as after cold water") { In = Seasons.Cooling, Tell = Isolation.Why },

        new(Cause.SurfaceTooHot, Protects.Circuit, (in s, i) => SurfaceTooHot(s, i), "its surface, by a sensor, 1 K over what a heated one may have", CircuitShuts, "at the limit") { In = Seasons.Heating, Tell = Hot },

        new(Cause.DripTrayFull, Protects.Coil, (in s, i) => TrayFull(s, i), "its drip tray is full", CoilStops, "dry for {tray_dry_for}"),
        new(Cause.DripTrayUnread, Protects.Coil, (in s, i) => TrayUnread(s, i), "the drip tray's switch cannot be read", CoilStops, "it can be read"),
    ];

    private const string LoopStops = "pump off, mixing at full recirculation";

    private const string CircuitShuts = "circuit shut";

    private const string ColdClears = "dew point steady for {open_after_steady} and supply at most {open_below} under the lowest safe one, or standing water that is warmed through";

    private const string CoilStops = "valve shut, fan off";

    private static readonly Protection[] OfCoolingLoop = Of(Protects.Loop, Seasons.Cooling);

    private static readonly Protection[] OfHeatingLoop = Of(Protects.Loop, Seasons.Heating);

    private static readonly Protection[] OfCoolingCircuit = Of(Protects.Circuit, Seasons.Cooling);

    private static readonly Protection[] OfHeatingCircuit = Of(Protects.Circuit, Seasons.Heating);

    private static readonly Protection[] OfCoil = Of(Protects.Coil, Seasons.Both);

    /// <summary>The strongest that stops a loop now; null: none.</summary>
    public static Protection? OfLoop(in Scan scan, int loop) => First(scan, scan.Memory.Loops[loop].Heats ? OfHeatingLoop : OfCoolingLoop, loop);

    /// <summary>True when a circuit of a loop that cools must be shut, with the strongest reason.</summary>
    public static bool ShutsCooled(in Scan scan, int circuit, out Reason why) => Shuts(scan, OfCoolingCircuit, circuit, out why);

    /// <summary>The same for a circuit of a loop that heats.</summary>
    public static bool ShutsHeated(in Scan scan, int circuit, out Reason why) => Shuts(scan, OfHeatingCircuit, circuit, out why);

    private static bool Shuts(in Scan scan, Protection[] rows, int circuit, out Reason why)
    {
        var row = First(scan, rows, circuit);
        why = row is null ? default : Why(scan, row, circuit);
        return row is not null;
    }

    /// <summary>The strongest that stops a coil now; none: it may run.</summary>
    public static Cause OfCoils(in Scan scan, int coil) => First(scan, OfCoil, coil)?.Cause ?? Cause.None;

    private static Protection? First(in Scan scan, Protection[] rows, int index)
    {
        foreach (var row in rows)
        {
            if (row.When(scan, index))
                return row;
        }
        return null;
    }

    private static Reason Why(in Scan scan, Protection row, int index) => row.Tell is null ? new Reason(row.Cause) : row.Tell(scan, index) with { Cause = row.Cause };

    private static Protection[] Of(Protects what, Seasons season) => [.. All.Where(row => row.What == what && (row.In == Seasons.Both || row.In == season || season == Seasons.Both))];
}

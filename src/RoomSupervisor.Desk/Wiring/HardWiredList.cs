// Protections that act without the controller, as this site needs them: what is required and why, and what the site file knows of each. Must never call one fitted because
// a point says so: a contact that is read is not yet a contact that stops anything.
using RoomSupervisor.Desk.Describe;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Wiring;

/// <summary>The list of hard-wired protections.</summary>
internal static class HardWiredList
{
    private const string NotKnown = "the site file knows of none";

    /// <summary>Tank temperature from which water at the tap scalds within seconds, °C: as the site's check has it (burn curves of Moritz and Henriques, 1947, from memory).</summary>
    private const double ScaldsC = 55;

    /// <summary>Longest time an actuator may take to shut without a word about it, s (project choice): a wax one takes minutes.</summary>
    private const double SlowS = 60;

    /// <summary>What the site needs, in the order in which harm comes first.</summary>
    /// <param name="house">The house.</param>
    /// <param name="rows">Its points as wired.</param>
    public static IReadOnlyList<HardWired> Of(House house, IReadOnlyList<ScheduleRow> rows) =>
    [
        .. house.Circuits.Where(circuit => house.Loops[circuit.Loop].Cools).Select(circuit => Condensation(house, circuit)),
        .. house.Loops.Where(NeedsHighLimit).Select(loop => HighLimit(house, loop)),
        Frost(house),
        .. house.Coils.Where(coil => house.Loops[coil.Loop].Cools).Select(coil => Tray(house, coil)),
        .. Hands(house),
        .. HotWater(house),
        Health(house, rows),
    ];

    private static HardWired Condensation(House house, Circuit circuit)
    {
        var loop = house.Loops[circuit.Loop];
        var (own, manifold) = (IsWired(house, circuit.CondensationSwitch), IsWired(house, loop.ManifoldSwitch));
        var state = own ? $"{circuit.Id}.condensation is read" : manifold ? $"{loop.Id}.manifold.condensation is read" : NotKnown;
        return new HardWired("condensation switch", circuit.Id, "required: the surface is cooled", state,
            $"a break contact in series with the actuator of {circuit.Id}, or with the pump of {loop.Id}; wet it and see valve or pump stop with the outputs forced on{SlowOf(house, circuit)}")
        { IsMissing = !own && !manifold };
    }

    /// <summary>How long cold water still flows past a wet switch in series with a slow actuator; the pump stops at once.</summary>
    private static string SlowOf(House house, Circuit circuit)
        => circuit.Actuator.ClosingTimeS > SlowS ? $"; that actuator takes {Quantities.ShowExactly(circuit.Actuator.ClosingTimeS, Quantity.Duration, house.Units)} to shut, a pump stops at once" : "";

    private static bool NeedsHighLimit(Loop loop) => loop.Heats && loop.Serves == LoopServes.Surfaces;

    private static HardWired HighLimit(House house, Loop loop)
    {
        var floors = loop.Circuits.Any(circuit => house.Circuits[circuit].Place == SurfacePlace.Floor);
        var read = IsWired(house, loop.HighLimit);
        var state = (loop.Settings.HighLimitThermostat, read) switch
        {
            (true, true) => $"said to stop the pump by itself; {loop.Id}.high_limit.tripped is read",
            (true, false) => "said to stop the pump by itself; its contact is not read",
            (false, true) => $"{loop.Id}.high_limit.tripped is read; not said that it stops the pump by itself",
            _ => NotKnown,
        };
        return new HardWired("high-limit thermostat", loop.Id, floors ? "required: the loop heats a floor" : "advised: the loop heats a ceiling or wall; required where local code or the maker of the surface asks for one", state,
            $"a break contact in series with the pump of {loop.Id}, set over its warmest water and under what {(floors ? "the floor bears" : "its surfaces bear")}; warm it and see the pump stop with the output forced on")
        { IsMissing = floors && !loop.Settings.HighLimitThermostat && !read };
    }

    private static HardWired Frost(House house)
    {
        var heats = house.Sources.Any(source => source.Heats);
        return new HardWired("frost thermostat", heats ? "coldest room or pipe" : "pipes that may freeze", heats ? "required: software keeps no frost out when board or power fail" : "required where pipes or the machine stand where it freezes",
            "cannot be seen in the site file: to be confirmed",
            heats ? $"a make contact that calls the source and runs the pumps past the outputs{PastHealth(house)}; cool it and see both start with the outputs forced off" : $"a make contact that runs the pumps past the outputs{PastHealth(house)}, or glycol by the machine's maker");
    }

    /// <summary>The health relay falls off in frost: what keeps frost out must not hang on it.</summary>
    private static string PastHealth(House house) => house.Points.Health >= 0 ? " and past the relay of site.health.ok" : "";

    private static HardWired Tray(House house, Coil coil)
    {
        var read = IsWired(house, coil.DripTray);
        return new HardWired("drip-tray switch", coil.Id, "required: the coil takes water out of the air", read ? $"{coil.Id}.drip_tray_full is read" : NotKnown,
            "a break contact in series with the supply of the fan and of the valve's actuator, besides the contact that is read; lift the float and see both stop")
        { IsMissing = !read };
    }

    private static IEnumerable<HardWired> Hands(House house)
    {
        var state = IsWired(house, house.Points.InHand) ? "site.manual_switch.in_hand is read" : "nothing tells the controller that the plant is in hand";
        foreach (var loop in house.Loops)
        {
            yield return Hand($"pump of {loop.Id}", state, Behind(house, loop));
            if (loop.StandbyPump >= 0)
                yield return Hand($"stand-by pump of {loop.Id}", state, Behind(house, loop));
        }
        foreach (var source in house.Sources)
            yield return Hand($"call of {source.Id}", state, "");
        if (house.HotWater is { Charge: >= 0 })
            yield return Hand("charging of hot-water", state, "tank's own high limit");
    }

    /// <summary>What stays in series behind the switch of a loop's pump.</summary>
    private static string Behind(House house, Loop loop)
        => string.Join(" and ", [.. loop.Cools && loop.Circuits.Length > 0 ? ["condensation switch"] : Array.Empty<string>(), .. NeedsHighLimit(loop) ? ["high limit"] : Array.Empty<string>()]);

    private static HardWired Hand(string where, string state, string behind) => new("hand–off–auto switch", where, "required: somebody must be able to stop and run it without the controller", state,
        "between output and contactor" + (behind.Length > 0 ? $"; {behind} in series behind it, in hand too" : ""));

    private static IEnumerable<HardWired> HotWater(House house)
    {
        if (house.HotWater is not { } tank)
            yield break;
        var hot = tank.Settings.WantedC > ScaldsC || tank.Settings.HygieneRun;
        yield return new HardWired("tank's own high limit", "hot-water", "required: local code", "cannot be seen in the site file: to be confirmed", "in series with what charges the tank; a licensed installer proves it");
        yield return new HardWired("mixing valve against scalding", "hot-water", hot ? "required: the tank is made hot enough to scald within seconds" : "as local code asks",
            tank.Settings.MixingValve ? "said to be fitted" : NotKnown, "behind the tank, set by a licensed installer")
        { IsMissing = hot && !tank.Settings.MixingValve };
    }

    /// <summary>For outputs that nobody switches off when the board dies, and for nothing else: it falls off for much that stops no comfort, and in frost.</summary>
    private static HardWired Health(House house, IReadOnlyList<ScheduleRow> rows)
    {
        const string FallsOffToo = "it falls off as well while a reading is missing, a pump is without its proof, in frost and after a leak, and all that hangs on it stands";
        string[] keeping = [.. rows.Where(row => row.IsOutput && row.Id != SiteWires.HealthPoint && row.Device.KeepsOutputs).Select(row => row.Device.Name).Distinct()];
        var state = house.Points.Health >= 0 ? "site.health.ok is wired" : NotKnown;
        return keeping.Length > 0
            ? new HardWired("health relay", $"supply of what hangs on {string.Join(", ", keeping)}", "advised: these outputs stay as they were when the board dies", state,
                $"a make contact in that supply and in no other: {FallsOffToo}; stop the service and see it fall off")
            : new HardWired("health relay", "lamp or alarm", "advised: somebody sees that something is wrong; the modules let go by themselves", state, $"not in the supply of pumps and valves: {FallsOffToo}; stop the service and see it fall off");
    }

    private static bool IsWired(House house, int input) => input >= 0 && house.Inputs[input].Wired;
}

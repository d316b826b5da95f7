// What was built otherwise than site.yaml says: wires exchanged, a pump the wrong way round, a valve that leaks, a switch nobody wired, another actuator, and figures that differ. The controller cannot know any of
// it; a walk has to find it. Must never be asked by anything but the virtual house.
using System.Collections.Immutable;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>Differences between a site and what was built. Pure data.</summary>
public sealed record AsBuilt
{
    /// <summary>What may be said, for messages.</summary>
    public static IReadOnlyList<string> Forms { get; } =
    [
        "exchanged POINT POINT", "backwards LOOP", "leaking VALVE-POINT SHARE%", "not-wired POINT", "actuator VALVE-POINT on-off|reversed", "stroke LOOP TIME", "start-voltage COIL VOLTS", "level COIL DB", "lag POINT TIME", "bias POINT BY",
    ];

    /// <summary>Inputs whose wires are exchanged.</summary>
    public ImmutableArray<(string One, string Other)> Exchanged { get; init; } = [];

    /// <summary>Loops whose pump was built in the wrong way round.</summary>
    public ImmutableHashSet<string> Backwards { get; init; } = [];

    /// <summary>Share of full flow that a shut valve lets through, 0…1, by its output.</summary>
    public ImmutableDictionary<string, double> Leaking { get; init; } = ImmutableDictionary<string, double>.Empty;

    /// <summary>Contacts nobody wired: they never tell anything.</summary>
    public ImmutableHashSet<string> NotWired { get; init; } = [];

    /// <summary>Actuators of another kind, by the valve's output: on-off (wax, no half), or reversed (open without current).</summary>
    public ImmutableDictionary<string, string> Actuators { get; init; } = ImmutableDictionary<string, string>.Empty;

    /// <summary>True stroke of a mixing valve, s, by its loop.</summary>
    public ImmutableDictionary<string, double> StrokeS { get; init; } = ImmutableDictionary<string, double>.Empty;

    /// <summary>True start voltage of a fan, V, by its coil.</summary>
    public ImmutableDictionary<string, double> StartV { get; init; } = ImmutableDictionary<string, double>.Empty;

    /// <summary>True level at full speed at the ear, dB(A), by its coil.</summary>
    public ImmutableDictionary<string, double> LevelDb { get; init; } = ImmutableDictionary<string, double>.Empty;

    /// <summary>True lag of an air sensor, s, by its temperature input.</summary>
    public ImmutableDictionary<string, double> LagS { get; init; } = ImmutableDictionary<string, double>.Empty;

    /// <summary>Standing error of a sensor beside what chance gives it, in its unit, by its input.</summary>
    public ImmutableDictionary<string, double> Bias { get; init; } = ImmutableDictionary<string, double>.Empty;

    internal double LagOf(string input, double saidS) => LagS.GetValueOrDefault(input, saidS);

    internal double BiasOf(string input) => Bias.GetValueOrDefault(input);

    /// <summary>The plan with its plant as it was built.</summary>
    public RehearsalPlan In(RehearsalPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        var house = plan.Files.House;
        var coils = plan.Plant.FanCoils.Select((coil, i) => coil with { Fan = FanOf(coil.Fan, house.Coils[i].Id) }).ToArray();
        var loops = plan.Plant.Loops.Select((loop, i) => LoopOf(loop, house, i)).ToArray();
        return plan with { Built = this, Plant = plan.Plant with { FanCoils = coils, Loops = loops } };
    }

    private FanPlan FanOf(FanPlan fan, string coil)
    {
        if (StartV.TryGetValue(coil, out var volts))
            fan = fan with { StartVolts = volts, StopVolts = Math.Max(volts - 0.3, 0) };
        return LevelDb.TryGetValue(coil, out var level) ? fan with { FullLevelDb = level } : fan;
    }

    private LoopPlan LoopOf(LoopPlan loop, House house, int index)
    {
        var outputs = ValvesOf(house, index);
        if (StrokeS.TryGetValue(house.Loops[index].Id, out var stroke))
            loop = loop with { Mixing = loop.Mixing with { StrokeS = stroke } };
        return loop with { Circuits = [.. loop.Circuits.Select((circuit, at) => outputs[at] >= 0 && Actuators.TryGetValue(house.OutputTable[outputs[at]].Id, out var kind) ? circuit with { Valve = ValveOf(circuit.Valve, kind) } : circuit)] };
    }

    private static ValvePlan ValveOf(ValvePlan valve, string kind) => kind == "reversed"
        ? valve with { NormallyOpen = !valve.NormallyOpen }
        : new ValvePlan(VirtualHouse.ActuatorKind.Wax, 180) { Leakage = valve.Leakage };

    /// <summary>Outputs of a loop's valves in the order of the plant.</summary>
    internal static int[] ValvesOf(House house, int loop)
        => [.. house.Loops[loop].Circuits.Select(circuit => house.Circuits[circuit].Valve), .. house.Loops[loop].Coils.Select(coil => house.Coils[coil].ValveOn(loop))];

    /// <summary>Breaks what is broken from the start.</summary>
    internal void Break(House house, PlantModel plant)
    {
        for (var i = 0; i < house.Loops.Length; i++)
        {
            var outputs = ValvesOf(house, i);
            for (var at = 0; at < outputs.Length; at++)
            {
                if (outputs[at] >= 0 && Leaking.TryGetValue(house.OutputTable[outputs[at]].Id, out var share))
                    plant.Loops[i].Valves[at].ExtraLeakage = share;
            }
        }
    }

    /// <summary>Adds one difference as somebody types it; false with what is allowed.</summary>
    public static bool TryAdd(AsBuilt to, House house, string text, out AsBuilt with, out string why)
    {
        ArgumentNullException.ThrowIfNull(to);
        ArgumentNullException.ThrowIfNull(house);
        ArgumentNullException.ThrowIfNull(text);
        var words = text.Split(' ', 3, StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        (with, why) = (to, "");
        var (what, name, rest) = (words.ElementAtOrDefault(0) ?? "", words.ElementAtOrDefault(1) ?? "", words.ElementAtOrDefault(2) ?? "");
        bool Input(string id) => house.InputTable.IndexOf(id) >= 0;
        bool Number(Quantity quantity, out double value, double lowest, double highest) => QuantityText.TryRead(rest, quantity, out value, out _) && value >= lowest && value <= highest;
        double value;
        var isValve = Enumerable.Range(0, house.Loops.Length).SelectMany(loop => ValvesOf(house, loop)).Any(output => output >= 0 && house.OutputTable[output].Id == name);
        AsBuilt? made = what switch
        {
            "exchanged" when Input(name) && Input(rest) && name != rest => to with { Exchanged = to.Exchanged.Add((name, rest)) },
            "backwards" when house.Loops.Any(loop => loop.Id == name) => to with { Backwards = to.Backwards.Add(name) },
            "leaking" when isValve && Number(Quantity.Percent, out value, 1, 100) => to with { Leaking = to.Leaking.SetItem(name, value / 100) },
            "not-wired" when Input(name) && house.InputTable[house.InputTable.IndexOf(name)].IsSwitch => to with { NotWired = to.NotWired.Add(name) },
            "actuator" when isValve && rest is "on-off" or "reversed" => to with { Actuators = to.Actuators.SetItem(name, rest) },
            "stroke" when house.Loops.Any(loop => loop.Id == name) && Number(Quantity.Duration, out value, 1, 1200) => to with { StrokeS = to.StrokeS.SetItem(name, value) },
            "start-voltage" when house.Coils.Any(coil => coil.Id == name) && Number(Quantity.Voltage, out value, 0.2, 6) => to with { StartV = to.StartV.SetItem(name, value) },
            "level" when house.Coils.Any(coil => coil.Id == name) && Number(Quantity.Level, out value, 10, 90) => to with { LevelDb = to.LevelDb.SetItem(name, value) },
            "lag" when Input(name) && Number(Quantity.Duration, out value, 0, 3600) => to with { LagS = to.LagS.SetItem(name, value) },
            "bias" when Input(name) && Number(Quantity.Number, out value, -50, 50) => to with { Bias = to.Bias.SetItem(name, value) },
            _ => null,
        };
        if (made is null)
        {
            why = $"\"{text}\" is nothing that can be built otherwise here; allowed: {string.Join(", ", Forms)}, with names of this site";
            return false;
        }
        with = made;
        return true;
    }
}

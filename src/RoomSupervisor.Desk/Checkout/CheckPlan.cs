// The plan of a walk: from the house and its wiring to the steps this site needs, in an order in which each finds what it stands on checked before. Pure: asks nothing and moves nothing. Must never
// hold a step for a thing that the site does not have.
using RoomSupervisor.Desk.Checkout.Steps;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Checkout;

/// <summary>Makes plans.</summary>
public sealed partial class CheckPlan
{
    private readonly House house;
    private readonly SiteFiles files;
    private readonly bool isSelf;
    private readonly List<CheckStep> steps = [];

    private CheckPlan(SiteFiles files, bool isSelf) => (this.files, house, this.isSelf) = (files, files.House, isSelf);

    /// <summary>Kinds of steps in the order of the walk, with what they are in words.</summary>
    public static IReadOnlyList<(string Kind, string Words)> Kinds { get; } =
    [
        ("power", "Power and polarity"), ("device", "Devices"), (InputSteps.Kind, "Inputs"), (CalibrationSteps.Reference, "Reference"), (CalibrationSteps.Kind, "Calibration"), (CalibrationSteps.Lag, "Lag of sensors"),
        (CalibrationSteps.Agree, "Sensors compared"), (OutputSteps.Kind, "Outputs"), (FanSteps.Start, "Start of fans"), (FanSteps.Sound, "Sound"), (WaterSteps.Mixing, "Mixing valves"), (WaterSteps.Pump, "Pumps"),
        (WaterSteps.Tight, "Tight valves"), (ProtectionSteps.Kind, "Protections"), (ProtectionSteps.ByHand, "Hand–off–auto"), (ProtectionSteps.Safe, "Safe state"), (ProtectionSteps.Guard, "Guard"),
        (RoomSteps.PullDown, "Pull-down"), (RoomSteps.Slab, "Slabs"),
    ];

    /// <summary>Every step of a site.</summary>
    public static IReadOnlyList<CheckStep> Of(SiteFiles files)
    {
        ArgumentNullException.ThrowIfNull(files);
        return new CheckPlan(files, false).Make();
    }

    /// <summary>The season's self-test: what the controller can do by itself, within what the household allows; ids of their own, so that they stand beside the walk's.</summary>
    /// <param name="files">The site.</param>
    /// <param name="season">Its name, such as <c>2027-spring</c>.</param>
    public static IReadOnlyList<CheckStep> SelfTest(SiteFiles files, string season)
    {
        ArgumentNullException.ThrowIfNull(files);
        return [.. new CheckPlan(files, true).Make().Where(step => step.IsSelf).Select(step => step with { Kind = "self-test", What = $"{season}/{step.Id}", After = [] })];
    }

    /// <summary>Those of one room, or of one panel; null: all.</summary>
    public static IReadOnlyList<CheckStep> Only(IReadOnlyList<CheckStep> steps, string? room, string? panel, IReadOnlyCollection<string>? kinds = null)
        => [.. steps.Where(step => (room is null || step.Rooms.Contains(room)) && (panel is null || step.Panels.Contains(panel)) && (kinds is not { Count: > 0 } || kinds.Contains(step.Kind)))];

    private List<CheckStep> Make()
    {
        foreach (var device in files.Devices)
            Device(device);
        for (var i = 0; i < house.Inputs.Length; i++)
        {
            if (house.Inputs[i].Wired)
                Input(i);
        }
        Sensors();
        Outputs();
        foreach (var loop in house.Loops)
            Water(loop);
        Protections();
        foreach (var device in files.Devices)
            Cable(device);
        SafeSite();
        for (var room = 0; room < house.Rooms.Length; room++)
            Room(room);
        Leak();
        return steps;
    }

    private void Add(string kind, string what, string title, string expected, Func<StepContext, Outcome> act, IReadOnlyList<int>? inputs = null, IReadOnlyList<int>? outputs = null, bool self = false, bool isLong = false, string caution = "")
    {
        var ids = (inputs ?? []).Where(input => input >= 0).Select(input => house.InputTable[input].Id).Concat((outputs ?? []).Where(output => output >= 0).Select(output => house.OutputTable[output].Id)).ToList();
        steps.Add(new CheckStep(kind, what, title, expected, act)
        {
            Rooms = RoomsOf(what, ids),
            Panels = [.. files.Wiring.Where(wire => ids.Contains(wire.PointId)).Select(wire => wire.Device).Distinct(StringComparer.Ordinal)],
            After = kind == InputSteps.Kind || isSelf ? [] : [.. (inputs ?? []).Where(input => input >= 0 && house.Inputs[input].Wired).Select(input => $"{InputSteps.Kind}/{house.InputTable[input].Id}").Where(id => steps.Exists(step => step.Id == id))],
            IsSelf = self,
            IsLong = isLong,
            Caution = caution,
        });
    }

    /// <summary>Rooms that a part belongs to: by the beginning of its name; a coil of several rooms to all of them.</summary>
    private List<string> RoomsOf(string what, List<string> ids)
    {
        HashSet<string> found = new(StringComparer.Ordinal);
        foreach (var name in ids.Append(what))
        {
            foreach (var room in house.Rooms.Where(room => name == room.Id || name.StartsWith(room.Id + ".", StringComparison.Ordinal)))
                found.Add(room.Id);
            foreach (var coil in house.Coils.Where(coil => name.StartsWith(coil.Id, StringComparison.Ordinal)))
                found.UnionWith(coil.Rooms.Select(room => house.Rooms[room].Id));
        }
        return [.. found];
    }

    private void Device(DeviceSettings device)
    {
        var (inputs, outputs) = (WiresOf(device.Name, false), WiresOf(device.Name, true));
        var name = device.Name;
        Add("power", name, $"power and polarity at {name}", "supply of the right voltage and polarity, fused, apart from mains", context =>
        {
            foreach (var question in (ReadOnlySpan<string>)
                [$"{name}: is the supply extra-low voltage of the right height, measured at its terminals?", $"{name}: are plus and minus (and for alternating current both sides of one transformer) the same at every device on it?",
                $"{name}: is it fused, apart from mains, and labelled?"])
            {
                if (!context.Ask(Deed.Confirm, name, question).Yes)
                    return Outcome.Fail("not so: " + question, "put it right before anything else is switched on");
            }
            return Outcome.Pass("measured and looked at");
        });
        steps[^1] = steps[^1] with { Panels = [name] };
        Add("device", name, $"{name} answers", "every input read, every output written", context =>
        {
            var bad = inputs.Where(input => context.Plant.Input(input).Why.Length > 0).Select(input => $"{context.InputId(input)}: {context.Plant.Input(input).Why}")
                .Concat(outputs.Where(output => context.Plant.Output(output).Problem.Length > 0).Select(output => $"{context.OutputId(output)}: {context.Plant.Output(output).Problem}")).ToList();
            return bad.Count == 0 ? Outcome.Pass($"{inputs.Count} input(s) read, {outputs.Count} output(s) written") : Outcome.Fail($"{bad.Count} of {inputs.Count + outputs.Count} not", string.Join("; ", bad));
        }, self: true);
        steps[^1] = steps[^1] with { Panels = [name] };
    }

    private List<int> WiresOf(string device, bool outputs)
        => [.. files.Wiring.Where(wire => wire.Device == device && wire.IsOutput == outputs).Select(wire => wire.Index).Distinct()];

    private bool Wired(int input) => input >= 0 && house.Inputs[input].Wired;

    private bool WiredOutput(int output) => output >= 0 && files.Wiring.Any(wire => wire.IsOutput && wire.Index == output);

    private void Input(int input)
    {
        var (id, quantity) = (house.InputTable[input].Id, house.InputTable[input].Quantity);
        if (quantity == Quantity.Switch)
        {
            if (!IsSafety(input))
                Add(InputSteps.Kind, id, $"{id}: open or make it", "it comes, and no other", context => InputSteps.Contact(context, input, InputSteps.HowToMake(id)), [input]);
        }
        else if (quantity is Quantity.Flow or Quantity.Pressure)
            Add(InputSteps.Kind, id, $"{id}: compare with the gauge", "the same within a tenth", context => InputSteps.Gauge(context, input, quantity == Quantity.Flow ? 1 : 15), [input]);
        else if (quantity == Quantity.TemperatureDifference)
            Add(InputSteps.Kind, id, $"{id}: turn the dial", "it moves, and no other", context => InputSteps.Touch(context, input), [input]);
        else
            Add(InputSteps.Kind, id, $"{id}: hold the sensor", "this point moves, and no other", context => InputSteps.Touch(context, input), [input]);
    }

    /// <summary>Switches that stop something: they have steps of their own, where stopping is looked at as well.</summary>
    private bool IsSafety(int input) => input == house.Points.Leak || house.Coils.Any(coil => coil.DripTray == input) || house.Circuits.Any(circuit => circuit.CondensationSwitch == input)
        || house.Loops.Any(loop => loop.HighLimit == input || loop.ManifoldSwitch == input);

    private void Sensors()
    {
        List<int> calibrated = [.. Enumerable.Range(0, house.Inputs.Length).Where(input => house.Inputs[input].Wired && house.Inputs[input].Kind is InputKind.RoomAirTemperature or InputKind.RoomHumidity),
            .. house.Loops.Where(loop => loop.Serves == LoopServes.Surfaces && loop.Cools).Select(loop => loop.Supply).Where(Wired)];
        foreach (var (name, quantity) in (ReadOnlySpan<(string, Quantity)>)[("temperature", Quantity.Temperature), ("humidity", Quantity.Percent)])
        {
            if (calibrated.Exists(input => house.InputTable[input].Quantity == quantity))
                Add(CalibrationSteps.Reference, name, $"reference for {name}", "at least twice as good as the sensors", context => CalibrationSteps.AskReference(context, quantity));
        }
        foreach (var input in calibrated)
            Add(CalibrationSteps.Kind, house.InputTable[input].Id, $"{house.InputTable[input].Id}: two points against the reference", "within its accuracy and the reference's", context => CalibrationSteps.TwoPoints(context, input), [input]);
        foreach (var input in house.Rooms.Select(room => room.AirTemperature).Where(Wired))
            Add(CalibrationSteps.Lag, house.InputTable[input].Id, $"{house.InputTable[input].Id}: lag", "as site.yaml says, within a quarter", context => CalibrationSteps.FindLag(context, input), [input]);
        if (house.Rooms.Length > 1 || house.Rooms.Any(room => room.OtherAir.Length > 0))
            Add(CalibrationSteps.Agree, "house", "all air sensors, fans on and valves shut", "sensors of one room agree within their accuracy, rooms within 5 K", context => CalibrationSteps.AllAgree(context, [.. Enumerable.Range(0, house.Coils.Length).Where(coil => WiredOutput(house.Coils[coil].Fan))]),
                [.. house.Rooms.Select(room => room.AirTemperature)], self: true);
    }
}

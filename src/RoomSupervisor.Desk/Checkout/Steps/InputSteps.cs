// Inputs: hold the sensor, and the walk says which point moved; open the contact, and the walk says which one told it. Must never believe the wiring list: it looks at every input of that kind.
using System.Globalization;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Checkout.Steps;

/// <summary>Steps of inputs.</summary>
internal static class InputSteps
{
    /// <summary>Kind of these steps.</summary>
    public const string Kind = "input";

    /// <summary>A movement that counts, in the unit of the point, and how much more than any other point it must be (project choice).</summary>
    private const double LeastK = 1.2, LeastWaterK = 3, LeastPercent = 6, LeastPpm = 200, Times = 2;

    /// <summary>A hand's temperature, °C (common practice, no published source).</summary>
    private const double HandC = 33;

    private const double TouchS = 240, ContactS = 20;

    private const int Tries = 3;

    /// <summary>How it is to be touched, by its kind.</summary>
    private static string Touching(HouseInput input, string id) => input.Kind switch
    {
        InputKind.RoomHumidity or InputKind.OutdoorHumidity => $"Press Enter, breathe on the sensor of {id} and hold your hand round it until I say which point moved.",
        InputKind.CarbonDioxide => $"Press Enter, and breathe on the sensor of {id} until I say which point moved.",
        InputKind.WaterTemperature => $"Press Enter, take the sensor of {id} out of its pocket or off its pipe, and hold it in your hand until I say which point moved.",
        _ => $"Press Enter, and hold the sensor of {id} in your hand until I say which point moved.",
    };

    /// <summary>An input that shows a figure.</summary>
    public static Outcome Touch(StepContext context, int input)
    {
        var id = context.InputId(input);
        var candidates = Like(context.House, input);
        for (var attempt = 1; attempt <= Tries; attempt++)
        {
            if (double.IsNaN(context.Plant.Input(input).Raw))
                return Outcome.Fail("nothing is read", $"{context.Plant.Input(input).Why}; look at the wire, then at the device (room-supervisor devices)");
            context.Ask(Deed.Warm, id, Touching(context.House.Inputs[input], id));
            // From when the hand is there: on the way to it the plant went on.
            var before = candidates.Select(one => context.Plant.Input(one).Raw).ToArray();
            var (first, second) = (-1, 0.0);
            // Water moves by itself while a plant works: sensors of the same kind are compared first, all of them only when none of those was touched.
            var kin = candidates.Where(one => IsKin(context.House.Inputs[one].Kind, context.House.Inputs[input].Kind)).ToHashSet();
            var moved = context.Until(() => Leads(context, input, candidates, before, kin, out first, out second), TouchS, out var tookS, 2) || Leads(context, input, candidates, before, null, out first, out second);
            context.Ask(Deed.LetGo, id, $"Let go of the sensor of {id}.");
            if (!moved && first >= 0 && attempt < Tries)
            {
                context.Say($"{context.InputId(candidates[first])} moved most, but others moved nearly as much; once more");
                continue;
            }
            return Judge(context, input, candidates, before, moved, first, second, tookS);
        }
        return Outcome.Fail("no point moved clearly", "others moved as much in all tries: try again while the plant is quiet");
    }

    private static Outcome Judge(StepContext context, int input, List<int> candidates, double[] before, bool moved, int first, double second, double tookS)
    {
        if (!moved)
            return Outcome.Fail("no point moved", $"in {TouchS / 60:0} min nothing moved by {context.Show(Least(context.House.Inputs[input].Kind), Difference(context.House.InputTable[input].Quantity))}: is it this sensor, and is it wired?");
        var (index, quantity) = (candidates[first], Difference(context.House.InputTable[input].Quantity));
        var by = Math.Abs(context.Plant.Input(index).Raw - before[first]);
        var values = new Dictionary<string, double> { ["moved_by"] = by, ["next_moved_by"] = second, ["after_s"] = tookS };
        if (index == input)
            return Outcome.Pass($"it moved by {context.Show(by, quantity)} in {context.Show(tookS, Quantity.Duration)}, no other by more than {context.Show(second, quantity)}") with { Values = values };
        var (mine, other) = (context.InputId(input), context.InputId(index));
        return Outcome.Fail($"{other} moved", $"the sensor in your hand is read as {other}: their wires or channels are exchanged") with { Values = values, Proposals = Exchange(mine, other) };
    }

    /// <summary>Assignment by touch: the channel that moved belongs to this point.</summary>
    private static Dictionary<string, string> Exchange(string mine, string other) => new() { [SitePaths.Point(mine, "channel")] = $"that of {other}" };

    /// <summary>What a hand or breath does: a temperature comes nearer to a hand's, everything else rises. What another hand has just let go moves the other way, and does not count.</summary>
    private static double TowardsHand(Quantity quantity, double before, double now)
        => quantity == Quantity.Temperature ? Math.Abs(before - HandC) - Math.Abs(now - HandC) : quantity == Quantity.TemperatureDifference ? Math.Abs(now - before) : now - before;

    private static bool IsKin(InputKind one, InputKind other) => IsWater(one) == IsWater(other);

    private static bool IsWater(InputKind kind) => kind is InputKind.WaterTemperature or InputKind.SurfaceTemperature;

    /// <summary>The input that moved most, if it leads; the second's movement.</summary>
    private static bool Leads(StepContext context, int touched, List<int> candidates, double[] before, HashSet<int>? among, out int first, out double second)
    {
        (first, second) = (-1, 0);
        double most = 0;
        for (var i = 0; i < candidates.Count; i++)
        {
            if (among?.Contains(candidates[i]) == false)
                continue;
            var by = TowardsHand(context.House.InputTable[touched].Quantity, before[i], context.Plant.Input(candidates[i]).Raw);
            if (!double.IsFinite(by))
                continue;
            if (by > most)
                (first, second, most) = (i, most, by);
            else
                second = Math.Max(second, by);
        }
        return first >= 0 && most >= Least(context.House.Inputs[touched].Kind) && most >= Times * second;
    }

    /// <summary>A contact: made, and let go.</summary>
    public static Outcome Contact(StepContext context, int input, string how)
    {
        var id = context.InputId(input);
        var candidates = Like(context.House, input);
        var before = candidates.Select(one => context.Plant.Input(one).Raw).ToArray();
        if (double.IsNaN(before[candidates.IndexOf(input)]))
            return Outcome.Fail("nothing is read", context.Plant.Input(input).Why);
        if (before[candidates.IndexOf(input)] > 0.5 && context.Ask(Deed.Confirm, id, $"{id} is on now, before anybody touched it. Is that true?").Yes)
            return Outcome.Pass("on, and rightly so");
        if (before[candidates.IndexOf(input)] > 0.5)
            return Outcome.Fail("it is made already", $"at rest it ought to be off: is {id} normally closed? then write inverted: yes");
        context.Ask(Deed.Make, id, how);
        var told = -1;
        var came = context.Until(() => (told = Changed(context, candidates, before)) >= 0, ContactS, out var tookS);
        context.Ask(Deed.LetGo, id, $"{id}: as it was before.");
        if (!came)
            return Outcome.Fail("no contact told anything", $"{id} did not come within {ContactS:0} s: not wired, a broken wire, or a switch that does not switch");
        if (candidates[told] != input)
            return Outcome.Fail($"{context.InputId(candidates[told])} moved", $"what you made is read as {context.InputId(candidates[told])}: their wires or channels are exchanged") with { Proposals = Exchange(id, context.InputId(candidates[told])) };
        var went = context.Until(() => context.Plant.Input(input).Raw < 0.5, ContactS, out _);
        return went ? Outcome.Pass($"it came after {context.Show(tookS, Quantity.Duration)} and went again") with { Values = new Dictionary<string, double> { ["after_s"] = tookS } }
            : Outcome.Fail("it came and did not go again", "a contact that sticks, or it is still made");
    }

    private static int Changed(StepContext context, List<int> candidates, double[] before)
    {
        for (var i = 0; i < candidates.Count; i++)
        {
            if (before[i] < 0.5 && context.Plant.Input(candidates[i]).Raw > 0.5)
                return i;
        }
        return -1;
    }

    /// <summary>A gauge: what the instrument beside it shows.</summary>
    public static Outcome Gauge(StepContext context, int input, double within)
    {
        var (id, quantity) = (context.InputId(input), context.House.InputTable[input].Quantity);
        var now = context.Plant.Input(input);
        if (double.IsNaN(now.Value))
            return Outcome.Fail("nothing is read", now.Why);
        var seen = context.AskNumber(Deed.Reference, id, $"I read {context.Show(now.Value, quantity)} at {id}. What does the instrument beside it show?", quantity, 0);
        if (double.IsNaN(seen))
            throw new SkipStepException("there is no instrument beside it");
        var found = $"{context.Show(now.Value, quantity)} here, {context.Show(seen, quantity)} there";
        return Math.Abs(now.Value - seen) <= within ? Outcome.Pass(found) : Outcome.Fail(found, "scale or register is wrong, or one of the two instruments is");
    }

    /// <summary>Every wired input of the same quantity: the hand may be on any of them.</summary>
    private static List<int> Like(House house, int input)
        => [.. Enumerable.Range(0, house.Inputs.Length).Where(one => house.Inputs[one].Wired && house.InputTable[one].Quantity == house.InputTable[input].Quantity)];

    private static double Least(InputKind kind) => kind switch
    {
        InputKind.RoomHumidity or InputKind.OutdoorHumidity => LeastPercent,
        InputKind.CarbonDioxide => LeastPpm,
        InputKind.WaterTemperature => LeastWaterK,
        _ => LeastK,
    };

    /// <summary>Quantity of a difference.</summary>
    public static Quantity Difference(Quantity quantity) => quantity == Quantity.Temperature ? Quantity.TemperatureDifference : quantity;

    /// <summary>What to do to make a contact, by the end of its name.</summary>
    public static string HowToMake(string id) => id[(id.LastIndexOf('.') + 1)..] switch
    {
        "open" => $"Open the door or window of {id}.",
        "drip_tray_full" => $"Lift the float of the tray switch of {id}, or pour water into the tray.",
        "condensation" => $"Wet the condensation switch {id} with a drop of water, or press its test button.",
        "tripped" => $"Turn the high limit of {id} down, or press its test button, until it trips.",
        "detected" => $"Wet the leak detector {id}.",
        "fan_proof" or "proof" or "end_switch" => $"Close the contact of {id} at its terminals.",
        "present" => $"Walk in front of {id}.",
        "button" => $"Press the button of {id} and hold it.",
        _ => string.Create(CultureInfo.InvariantCulture, $"Make the contact of {id}: at the thing itself where you can, else at its terminals."),
    };

    /// <summary>Wires of a point, for its panels.</summary>
    public static IReadOnlyList<string> Panels(IReadOnlyList<PointWiring> wiring, string pointId)
        => [.. wiring.Where(wire => wire.PointId == pointId).Select(wire => wire.Device).Distinct(StringComparer.Ordinal)];
}

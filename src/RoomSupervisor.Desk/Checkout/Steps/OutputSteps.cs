// Outputs: 0, 50 and 100 %, seen by a feedback or by eyes; on and off. Must never drive a thing longer than its travel needs, nor judge a valve before it could have arrived.
using System.Globalization;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Checkout.Steps;

/// <summary>Steps of outputs.</summary>
internal static class OutputSteps
{
    public const string Kind = "output";

    /// <summary>How far a position seen by eye may be off, % of the stroke (project choice: a scale on an actuator is read to a tenth).</summary>
    private const double EyePercent = 15;

    /// <summary>Travel is waited for longer by this share and time: motors are slower when cold.</summary>
    private const double MoreTravel = 1.25, MoreS = 15;

    private const double FanS = 25, RelayS = 8;

    private static readonly (double Percent, string Name)[] OnOff = [(0, "shut"), (100, "open"), (0, "shut again")], Modulating = [(0, "shut"), (50, "half"), (100, "open"), (0, "shut again")];

    /// <summary>A valve that is not where it was told is looked at again after this time, s: a wax actuator in the place of a motor takes minutes.</summary>
    private const double LateS = 420;

    /// <summary>A valve: shut, half, open, shut.</summary>
    /// <param name="context">The step.</param>
    /// <param name="output">Its output.</param>
    /// <param name="isOnOff">True for one that is open or shut, nothing between.</param>
    /// <param name="takesS">Its travel, s.</param>
    /// <param name="endSwitch">Input of its end switch; −1: none.</param>
    public static Outcome Valve(StepContext context, int output, bool isOnOff, double takesS, int endSwitch)
    {
        var (id, travelS) = (context.OutputId(output), takesS * MoreTravel + MoreS);
        Dictionary<string, double> values = [];
        List<string> seen = [];
        var isDead = false;
        foreach (var (wanted, name) in isOnOff ? OnOff : Modulating)
        {
            context.MustSet(output, wanted, travelS + 120, StepContext.GuardPatienceS);
            if (context.Plant.Output(output).Problem is { Length: > 0 } problem)
                return Outcome.Fail("not written", problem);
            context.Wait(travelS);
            var at = Position(context, id, wanted, endSwitch);
            if (wanted is 0 or 100 && Math.Abs(at - wanted) > EyePercent && !isDead)
            {
                context.Say(string.Create(CultureInfo.InvariantCulture, $"not there yet ({at:0} %): waiting {LateS / 60:0} min more, in case it is a slow one"));
                context.MustSet(output, wanted, LateS + 120);
                context.Wait(LateS);
                var (early, late) = (at, Position(context, id, wanted, endSwitch));
                (at, isDead) = (late, Math.Abs(late - early) < 1);
                if (Math.Abs(late - wanted) <= EyePercent)
                    values["late_" + name.Replace(' ', '_')] = 1;
            }
            values[name.Replace(' ', '_')] = at;
            seen.Add(string.Create(CultureInfo.InvariantCulture, $"{at:0} % at {wanted:0} %"));
        }
        context.End(output);
        var why = Misfit(id, isOnOff, values);
        var found = string.Join(", ", seen);
        return (why.Length == 0 ? Outcome.Pass(found) : Outcome.Fail(found, why)) with { Values = values };
    }

    private static double Position(StepContext context, string id, double wanted, int endSwitch)
    {
        if (endSwitch >= 0 && wanted is 0 or 100)
            return context.Plant.Input(endSwitch).Value > 0.5 ? 100 : 0;
        var at = context.AskNumber(Deed.Position, id, string.Create(CultureInfo.InvariantCulture, $"{id} is set to {wanted:0} %. Where does the valve itself stand, 0 shut to 100 open, in %?"), Quantity.Percent);
        return double.IsFinite(at) ? at : throw new SkipStepException("nobody can see where it stands");
    }

    /// <summary>What does not fit, with what it probably is; "" when all fits.</summary>
    internal static string Misfit(string id, bool isOnOff, IReadOnlyDictionary<string, double> at)
    {
        var (shut, open, again) = (at["shut"], at["open"], at["shut_again"]);
        var half = at.GetValueOrDefault("half", 50);
        bool Is(double value, double wanted) => Math.Abs(value - wanted) <= EyePercent;
        if (Is(shut, 100) && Is(open, 0) && Is(again, 100))
            return "wrong kind of actuator: it works the other way round (open without current, or its direction switch is set wrong): change it, or say normally: open";
        if (Is(shut, open) && Is(open, again))
            return $"it does not move: wired elsewhere, no supply, stem stuck or actuator not on its valve (room-supervisor find {id} moves it three times)";
        if (Is(shut, 0) && Is(open, 100) && !isOnOff && (Is(half, 0) || Is(half, 100)))
            return string.Create(CultureInfo.InvariantCulture, $"wrong kind of actuator: it stands at {half:0} % where half is asked for: one that is only open or shut; change it, or describe it as type: on-off");
        if (!Is(open, 100) && Is(shut, 0))
            return string.Create(CultureInfo.InvariantCulture, $"it opens to {open:0} % only in the time it is said to take: slower than site.yaml says, or the stem is blocked");
        if (!Is(again, 0) || !Is(shut, 0))
            return "it does not shut: slower than site.yaml says, dirt in the seat, or the stroke is set wrong";
        if (at.ContainsKey("late_open") || at.ContainsKey("late_shut_again"))
            return "it comes later than site.yaml says: write its opening_time and closing_time, or it is another kind of actuator";
        return isOnOff || Is(half, 50) ? "" : string.Create(CultureInfo.InvariantCulture, $"half is {half:0} %: is its signal 2-10 V and site.yaml says 0-10 V, or the other way round?");
    }

    /// <summary>A fan: stands, turns at its slowest, turns faster at full speed, stands.</summary>
    public static Outcome Fan(StepContext context, Coil coil, bool isGentle)
    {
        var id = context.OutputId(coil.Fan);
        var fast = isGentle ? GentleSpeed(context.House, coil) : 100;
        if (fast < coil.StartSpeedPercent)
            throw new SkipStepException("its rooms' household lets it not turn at all");
        Dictionary<string, double> values = [];
        foreach (var speed in Speeds(coil, fast))
        {
            context.MustSet(coil.Fan, speed, 120);
            if (context.Plant.Output(coil.Fan).Problem is { Length: > 0 } problem)
                return Outcome.Fail("not written", problem);
            context.Wait(FanS);
            values[string.Create(CultureInfo.InvariantCulture, $"turns_at_{speed:0}")] = Turns(context, coil, string.Create(CultureInfo.InvariantCulture, $"{id} is set to {speed:0} %. Does the fan turn{(speed > coil.StartSpeedPercent ? ", and faster than before" : "")}?")) ? 1 : 0;
        }
        context.MustSet(coil.Fan, 0, 120);
        context.Wait(2 * FanS);
        values["turns_at_0"] = Turns(context, coil, $"{id} is set to 0 %. Does the fan still turn?") ? 1 : 0;
        var slack = values.Where(one => one.Key != "turns_at_0" && one.Value == 0).Select(one => one.Key["turns_at_".Length..] + " %").ToList();
        var found = slack.Count == 0 ? $"turns at {string.Join(", ", values.Keys.Where(key => key != "turns_at_0").Select(key => key["turns_at_".Length..] + " %"))}" : $"does not turn at {string.Join(", ", slack)}";
        var outcome = slack.Count == values.Count - 1 ? Outcome.Fail(found, $"it never turns: supply, wire, rotor (room-supervisor find {id})")
            : slack.Count > 0 ? Outcome.Fail(found, "start_voltage or start_speed do not fit this fan: see its start voltage")
            : values["turns_at_0"] > 0 ? Outcome.Fail(found + ", and at 0 % too", "it cannot be stopped: a fan that runs without its signal wire, or another output")
            : Outcome.Pass(found + ", stands at 0 %");
        return outcome with { Values = values };
    }

    private static IEnumerable<double> Speeds(Coil coil, double fast)
        => coil.Kind.StepsPercent.Count > 0 ? coil.Kind.StepsPercent.Where(step => step <= fast + 1e-6) : coil.StartSpeedPercent < fast ? [coil.StartSpeedPercent, fast] : [fast];

    /// <summary>As fast as the household of all its rooms lets it, quiet hours included.</summary>
    internal static double GentleSpeed(House house, Coil coil) => coil.Rooms.Min(room => house.Rooms[room].Household is var own
        ? Math.Min(own.FanAtMostPercent, double.IsNaN(own.QuietFromMinutes) ? 100 : own.QuietFanAtMostPercent) : 100);

    /// <summary>Whether a fan turns: by its proof, else by eyes.</summary>
    internal static bool Turns(StepContext context, Coil coil, string question)
        => coil.FanProof >= 0 && context.House.Inputs[coil.FanProof].Wired ? context.Plant.Input(coil.FanProof).Value > 0.5 : context.Ask(Deed.Turns, context.OutputId(coil.Fan), question).Yes;

    /// <summary>A relay: on, and off; the source's feedback or eyes.</summary>
    public static Outcome Relay(StepContext context, int output, int feedback, double onS)
    {
        var id = context.OutputId(output);
        context.MustSet(output, 1, onS + 60, 120);
        var isOn = feedback >= 0 ? context.Until(() => context.Plant.Input(feedback).Value > 0.5, onS, out _, 5) : See(context, id, "on");
        context.Set(output, 0, 60, out _);
        context.Wait(RelayS);
        context.End(output);
        if (!isOn)
            return Outcome.Fail("nothing answered", feedback >= 0 ? $"{context.InputId(feedback)} did not come in {onS / 60:0} min: is it the right relay, and does the machine allow it now?" : $"the wrong relay, no supply, or not wired (room-supervisor find {id})");
        return Outcome.Pass(feedback >= 0 ? $"{context.InputId(feedback)} came" : "seen");
    }

    private static bool See(StepContext context, string id, string how)
    {
        context.Wait(RelayS);
        return context.Ask(Deed.Turns, id, $"{id} is {how}. Does what hangs on it run, or is its relay drawn?").Yes;
    }

    /// <summary>An output nobody sets by hand: what the thing itself shows is compared.</summary>
    public static Outcome OnlySeen(StepContext context, int output)
    {
        var (id, quantity) = (context.OutputId(output), context.House.OutputTable[output].Quantity);
        var now = context.Plant.Output(output);
        if (now.Problem.Length > 0)
            return Outcome.Fail("not written", now.Problem);
        if (quantity == Quantity.Switch)
        {
            var isDrawn = context.Ask(Deed.Turns, id, $"{id} is {(now.Value > 0.5 ? "on" : "off")}: is its relay drawn?").Yes;
            return isDrawn == now.Value > 0.5 ? Outcome.Pass(isDrawn ? "drawn" : "not drawn") : Outcome.Fail(isDrawn ? "drawn" : "not drawn", "the wrong relay, or one that works the other way round");
        }
        var seen = context.AskNumber(Deed.Reference, id, $"I send {context.Show(now.Value, quantity)} to {id}. What does the machine show?", quantity, 0);
        if (double.IsNaN(seen))
            throw new SkipStepException("the machine does not show it");
        var found = $"{context.Show(now.Value, quantity)} sent, {context.Show(seen, quantity)} there";
        return Math.Abs(seen - now.Value) <= 0.6 ? Outcome.Pass(found) : Outcome.Fail(found, "scale or register is wrong, or the machine has a limit of its own");
    }

    /// <summary>Travel of the valve behind an output, s.</summary>
    public static double TravelS(House house, int output) => ActuatorRequest.Of(house, output).TakesS;
}

// Protections: each switch must really stop what it is there for, by the controller and, where it is wired so, by itself. Safe state when a cable is pulled or the power is cut. Must never leave anything
// stopped or pulled behind.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Checkout.Steps;

/// <summary>Steps of protections.</summary>
internal static class ProtectionSteps
{
    public const string Kind = "protection", Safe = "safe-state", Guard = "guard", ByHand = "hand-switch";

    private const double ComesS = 20, StopsS = 60, GuardS = 600;

    /// <summary>A switch that stops something: made, the input comes, the outputs fall and cannot be set by hand; and what the hardware does by itself is looked at.</summary>
    /// <param name="context">The step.</param>
    /// <param name="input">The switch.</param>
    /// <param name="outputs">What it must stop; one that is stopped already counts.</param>
    /// <param name="opensFirst">True where these are valves, opened by hand before so that there is something to stop.</param>
    /// <param name="hard">Question on what is wired in hardware; "": nothing is.</param>
    /// <param name="name">What it is called.</param>
    public static Outcome Switch(StepContext context, int input, IReadOnlyList<int> outputs, bool opensFirst, string hard, string name)
    {
        var id = context.InputId(input);
        var before = context.Plant.Input(input);
        if (double.IsNaN(before.Value))
            return Outcome.Fail("nothing is read", before.Why);
        if (before.Value > 0.5)
            return Outcome.Fail("it is made already", "it stops things now: look why before it is tested");
        if (opensFirst)
            OpenOne(context, outputs);
        context.Ask(Deed.Make, id, InputSteps.HowToMake(id));
        if (!context.Until(() => context.Plant.Input(input).Value > 0.5, ComesS, out var cameS))
            return Outcome.Fail("the controller does not see it", $"{name} {id} is not wired, its wire is broken, or it does not switch: nothing would be stopped");
        var running = outputs.ToList();
        context.Until(() =>
        {
            running.RemoveAll(output => context.Plant.Output(output).Value < 0.5);
            return running.Count == 0;
        }, StopsS, out var stoppedS);
        if (running.Count > 0)
            return Outcome.Fail($"{string.Join(", ", running.Select(context.OutputId))} goes on", $"{name} was seen and did not stop it: {context.Plant.Output(running[0]).Why}");
        if (outputs.Count > 0 && context.Set(outputs[0], context.House.OutputTable[outputs[0]].IsSwitch ? 1 : 100, 5, out _))
            return Outcome.Fail("a hand value goes over it", $"{context.OutputId(outputs[0])} could be set although {name} is made");
        var why = outputs.Count > 0 ? $" ({context.Plant.Output(outputs[0]).Why})" : "";
        var isHard = hard.Length == 0 || AskHard(context, id, hard);
        context.Ask(Deed.LetGo, id, $"{id}: as it was before, and dry.");
        var values = new Dictionary<string, double> { ["came_s"] = cameS, ["stopped_s"] = stoppedS };
        return (isHard ? Outcome.Pass($"seen after {context.Show(cameS, Quantity.Duration)}, stopped {context.Show(stoppedS, Quantity.Duration)} later{why}")
            : Outcome.Fail("only the controller stops it", $"{name} must break the current of what it protects by itself: a computer may stop at any time")) with
        { Values = values };
    }

    private static bool AskHard(StepContext context, string id, string hard)
    {
        try
        {
            return context.Ask(Deed.Confirm, id, hard).Yes;
        }
        catch (SkipStepException e)
        {
            context.Say("what the hardware does by itself was not looked at: " + e.Message);
            return true;
        }
    }

    private static void OpenOne(StepContext context, IReadOnlyList<int> outputs)
    {
        var why = "";
        if (!context.Until(() => outputs.Any(output => context.Set(output, 100, 600, out why)), StepContext.GuardPatienceS, out _, 5))
            context.Say($"nothing to stop could be opened before: {why}");
    }

    /// <summary>Wet cloth at the humidity sensor: the guard shuts what is cooled in that room.</summary>
    public static Outcome WetCloth(StepContext context, int room)
    {
        var house = context.House;
        var valves = house.Rooms[room].Circuits.Where(circuit => house.Loops[house.Circuits[circuit].Loop].Cools).Select(circuit => house.Circuits[circuit].Valve).ToList();
        var why = "";
        if (!context.Until(() => valves.All(valve => context.Set(valve, 100, 2 * GuardS, out why)), StepContext.GuardPatienceS, out _, 10))
            throw new SkipStepException($"the circuit is not open to be shut: {why}");
        var id = context.InputId(house.Rooms[room].AirHumidity);
        context.Ask(Deed.WetCloth, id, $"Hang a wet cloth round the sensor of {house.Rooms[room].Id}.");
        var shut = context.Until(() => valves.All(valve => context.Plant.Output(valve).Value < 0.5), GuardS, out var tookS);
        var reason = context.Plant.Output(valves[0]).Why;
        var humidity = context.Plant.Input(house.Rooms[room].AirHumidity).Value;
        context.Ask(Deed.LetGo, id, $"Take the cloth away from the sensor of {house.Rooms[room].Id}.");
        var values = new Dictionary<string, double> { ["shut_s"] = tookS, ["humidity"] = humidity };
        return (shut ? Outcome.Pass($"shut after {context.Show(tookS, Quantity.Duration)}: {reason}")
            : Outcome.Fail($"not shut in {GuardS / 60:0} min at {context.Show(humidity, Quantity.Percent)}", "is it this sensor (see its input step), and is the water colder than the dew point of the cloth?")) with
        { Values = values };
    }

    /// <summary>Bus cable of a device pulled: the controller says so, its outputs fall off by themselves; plugged in again all is back.</summary>
    public static Outcome Cable(StepContext context, string device, IReadOnlyList<int> inputs, IReadOnlyList<int> outputs, double ownTimeOutS)
    {
        var moving = outputs.FirstOrDefault(output => context.House.Coils.Any(coil => coil.Fan == output), -1);   // something whose stop is seen
        if (moving >= 0)
        {
            var coil = context.House.Coils.First(one => one.Fan == moving);
            if (context.Set(moving, coil.StartSpeedPercent, ownTimeOutS + 300, out var held))
                context.Wait(15);
            else
            {
                context.Say($"{context.OutputId(moving)} does not run meanwhile: {held}");
                moving = -1;
            }
        }
        context.Ask(Deed.PullCable, device, $"Pull the bus cable of {device}.");
        bool IsGone() => inputs.Any(input => context.Plant.Input(input).Why.Length > 0) || outputs.Any(output => context.Plant.Output(output).Problem.Length > 0);
        var seen = context.Until(IsGone, 120, out var seenS);
        if (ownTimeOutS > 0)
            context.Wait(Math.Max(0, ownTimeOutS - seenS) + 30);
        var stands = moving < 0 || !(ownTimeOutS > 0) || !context.Ask(Deed.Turns, context.OutputId(moving), $"The cable is pulled: does {context.OutputId(moving)} still turn?").Yes;
        context.Ask(Deed.PlugCable, device, $"Plug the bus cable of {device} in again.");
        var back = context.Until(() => !IsGone(), 300, out var backS, 5);
        if (moving >= 0)
            context.End(moving);
        var values = new Dictionary<string, double> { ["seen_s"] = seenS, ["back_s"] = backS };
        var outcome = !seen ? Outcome.Fail("the controller did not notice", "is it this device's cable?")
            : !stands ? Outcome.Fail("its outputs stay as they were", "set up the module's own time-out, or take its supply over the health relay: nothing may run on without a controller")
            : !back ? Outcome.Fail("it does not come back", "look at room-supervisor devices")
            : Outcome.Pass($"noticed after {context.Show(seenS, Quantity.Duration)}, {(moving >= 0 && ownTimeOutS > 0 ? "outputs fell off by themselves, " : "")}back after {context.Show(backS, Quantity.Duration)}");
        return outcome with { Values = values };
    }

    /// <summary>The board without power: everything stands, and all is back by itself. Where this program runs on the board, the walk breaks off here and goes on behind the cut.</summary>
    public static Outcome PowerCut(StepContext context, IReadOnlyList<int> fans)
    {
        if (!context.Has("cut"))
        {
            context.Once("cut", () => context.Plant.ElapsedS);
            context.Ask(Deed.CutPower, "site", "Switch the power of board and modules off now, wait two minutes, look whether every fan, pump and valve goes to rest, switch it on again. If this program ends with it, start checkout again: it goes on here.");
        }
        var turning = fans.Where(fan => context.Ask(Deed.Turns, context.OutputId(fan), $"While the power was off: did {context.OutputId(fan)} still turn?").Yes).Select(context.OutputId).ToList();
        context.Ask(Deed.GivePower, "site", "The power is on again.");
        if (!context.Plant.Reconnect(300))
            return Outcome.Fail("the controller does not come back by itself", "is the service enabled? systemctl status room-supervisor");
        var inputs = Enumerable.Range(0, context.House.Inputs.Length).Where(input => context.House.Inputs[input].Wired).ToList();
        var back = context.Until(() => inputs.All(input => context.Plant.Input(input).Why.Length == 0), 300, out var backS, 5);
        var values = new Dictionary<string, double> { ["back_s"] = backS };
        return (turning.Count > 0 ? Outcome.Fail($"{string.Join(", ", turning)} turned without power", "it has another supply: the health relay must take that too")
            : !back ? Outcome.Fail("some inputs do not come back", string.Join(", ", inputs.Where(input => context.Plant.Input(input).Why.Length > 0).Select(context.InputId)))
            : Outcome.Pass($"everything stood, all back after {context.Show(backS, Quantity.Duration)}")) with
        { Values = values };
    }

    /// <summary>Hand–off–auto: off stands although called, hand runs though not called, and it is back on auto.</summary>
    public static Outcome HandOffAuto(StepContext context, string what)
    {
        foreach (var (position, question) in (ReadOnlySpan<(string, string)>)
            [("off", $"Turn the switch of {what} to OFF: does it stand, whatever the controller says?"), ("hand", $"Turn it to HAND: does it run, whatever the controller says? Not longer than a few seconds."), ("auto", $"Turn it back to AUTO: is it on auto?")])
        {
            if (!context.Ask(Deed.Confirm, what, question).Yes)
                return Outcome.Fail($"{position} does not do what it says", "the switch is wired wrong, or there is none: every pump, fan and actuator needs a way to be run without the controller");
        }
        return Outcome.Pass("off, hand and auto do what they say");
    }
}

// Loops: whether a pump runs and pushes the right way, how long the mixing valve takes from end to end, and whether shut valves are tight. Must never run a pump against shut valves, nor move a
// mixing valve to its end while water flows to a floor or a ceiling.
using System.Globalization;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Checkout.Steps;

/// <summary>Steps of loops.</summary>
internal static class WaterSteps
{
    public const string Pump = "pump", Mixing = "mixing", Tight = "tight";

    /// <summary>Water tells its way when it differs so much from the rooms, K, and supply and return from each other (project choice: three times what two sensors may be off after they are compared standing).</summary>
    private const double DiffersK = 3, AcrossK = 0.7;

    private const double FlowsS = 420, ProofS = 30;

    /// <summary>
    /// An insulated pipe of standing water comes back to its room's temperature within an hour or so (from its water and 9 mm of insulation, textbook): after this time it has gone a fifth of the way at least, while a leak
    /// of a few hundredths of the flow keeps it as the manifold is.
    /// </summary>
    private const double StandsS = 1500, LikeShare = 0.85;

    /// <summary>Valves of a loop with the time they take, s.</summary>
    internal static IEnumerable<(int Output, double TakesS)> ValvesOf(House house, Loop loop)
    {
        // By its name: the step may come from another reading of the same files.
        var index = Enumerable.Range(0, house.Loops.Length).First(i => house.Loops[i].Id == loop.Id);
        return loop.Circuits.Select(circuit => house.Circuits[circuit].Valve).Concat(loop.Coils.Select(coil => house.Coils[coil].ValveOn(index)))
            .Where(output => output >= 0).Distinct().Select(output => (output, OutputSteps.TravelS(house, output)));
    }

    /// <summary>Opens every valve of a loop that may be opened, and waits until the pump may run.</summary>
    /// <param name="context">The step.</param>
    /// <param name="loop">The loop.</param>
    /// <param name="forS">How long they are to stay open after that, s.</param>
    /// <param name="except">A valve that stays as it is; −1: none.</param>
    /// <exception cref="SkipStepException">None may be opened, or the pump may not run.</exception>
    internal static List<int> Open(StepContext context, Loop loop, double forS, int except = -1)
    {
        var valves = ValvesOf(context.House, loop).Where(one => one.Output != except).ToList();
        List<int> open = [];
        var why = "there is no valve on it";
        var travelS = valves.Select(one => one.TakesS).DefaultIfEmpty(0).Max();
        context.Until(() =>
        {
            foreach (var (output, _) in valves.Where(one => !open.Contains(one.Output)))
            {
                if (context.Set(output, 100, forS + travelS + StepContext.GuardPatienceS, out var held))
                    open.Add(output);
                else
                    why = $"{context.OutputId(output)}: {held}";
            }
            return open.Count == valves.Count;
        }, StepContext.GuardPatienceS, out _, 10);
        if (open.Count == 0)
            throw new SkipStepException($"no valve of {loop.Id} may be opened: {why}");
        context.MustSet(loop.Pump, 1, forS + 60, travelS + 90);
        return open;
    }

    /// <summary>A pump: it runs, it is proven, and water goes the right way; it stands when told.</summary>
    public static Outcome RunPump(StepContext context, Loop loop)
    {
        var house = context.House;
        Open(context, loop, FlowsS + 120);
        if (context.Plant.Output(loop.Pump).Problem is { Length: > 0 } problem)
            return Outcome.Fail("not written", problem);
        if (!Runs(context, loop, out var how))
            return Outcome.Fail("does not run", $"{how}: supply, hand–off–auto switch, relay, seized rotor (open its screw), air");
        var direction = Direction(context, loop);
        if (direction.Verdict == Verdict.Fail)
            return direction;
        context.Set(loop.Pump, 0, 120, out _);
        context.Wait(ProofS);
        var stands = !(loop.PumpProof >= 0 && house.Inputs[loop.PumpProof].Wired ? context.Plant.Input(loop.PumpProof).Value > 0.5 : context.Ask(Deed.Turns, context.OutputId(loop.Pump), $"{loop.Id}: the pump is off. Does it still run?").Yes);
        if (!stands)
            return Outcome.Fail("runs when it is off", "a relay that sticks, its switch on hand, or another pump's relay");
        return Outcome.Pass($"{how}; {direction.Found}; stands when it is off") with { Values = direction.Values };
    }

    private static bool Runs(StepContext context, Loop loop, out string how)
    {
        var house = context.House;
        if (loop.PumpProof >= 0 && house.Inputs[loop.PumpProof].Wired)
        {
            how = "by its proof";
            return context.Until(() => context.Plant.Input(loop.PumpProof).Value > 0.5, ProofS, out _);
        }
        if (loop.Flow >= 0 && house.Inputs[loop.Flow].Wired)
        {
            how = "by the flow meter";
            return context.Until(() => context.Plant.Input(loop.Flow).Value > 0.5, ProofS, out _);
        }
        context.Wait(10);
        how = "by ear or hand";
        return context.Ask(Deed.Turns, context.OutputId(loop.Pump), $"{loop.Id}: the pump is on. Does it run (hear it, feel it)?").Yes;
    }

    /// <summary>
    /// Water that is colder than the rooms takes heat up on its way, so it comes back warmer than it went; warmer water the other way round. Where supply and return stand the wrong way round while water flows, it flows
    /// backwards, or the two sensors are exchanged.
    /// </summary>
    private static Outcome Direction(StepContext context, Loop loop)
    {
        if (loop.Return < 0 || loop.Supply < 0 || !context.House.Inputs[loop.Return].Wired || !context.House.Inputs[loop.Supply].Wired)
            return ByArrow(context, loop, "no return sensor");
        foreach (var coil in loop.Coils)
            context.Set(context.House.Coils[coil].Fan, Math.Max(OutputSteps.GentleSpeed(context.House, context.House.Coils[coil]), context.House.Coils[coil].StartSpeedPercent), FlowsS + 60, out _);
        var (supply, back, rooms) = (double.NaN, double.NaN, RoomsOf(context, loop));
        context.Until(() =>
        {
            (supply, back) = (context.Plant.Input(loop.Supply).Value, context.Plant.Input(loop.Return).Value);
            return false;
        }, FlowsS, out _, 10);
        var mean = (supply + back) / 2;
        var cold = mean < rooms;
        Dictionary<string, double> values = new() { ["supply"] = supply, ["return"] = back, ["rooms"] = rooms };
        if (!(Math.Abs(mean - rooms) >= DiffersK) || Math.Abs(back - supply) < AcrossK)
            return ByArrow(context, loop, $"supply {context.Show(supply, Quantity.Temperature)}, return {context.Show(back, Quantity.Temperature)}, rooms {context.Show(rooms, Quantity.Temperature)}: too alike to tell a direction") with { Values = values };
        var found = $"supply {context.Show(supply, Quantity.Temperature)}, return {context.Show(back, Quantity.Temperature)} with rooms at {context.Show(rooms, Quantity.Temperature)}";
        return (cold ? back > supply : back < supply)
            ? Outcome.Pass("flows the right way: " + found) with { Values = values }
            : Outcome.Fail("flows backwards: " + found, "the pump is built in the wrong way round or turns backwards (or supply and return sensor are exchanged: their input steps tell)") with { Values = values };
    }

    private static Outcome ByArrow(StepContext context, Loop loop, string reason)
        => context.Ask(Deed.Arrow, context.OutputId(loop.Pump), $"{loop.Id}: {reason}. Does the pump's arrow point from the source to the circuits, and does the supply pipe change first?").Yes
            ? Outcome.Pass("right way by the arrow") : Outcome.Fail("flows backwards by the arrow", "turn the pump round");

    private static double RoomsOf(StepContext context, Loop loop)
    {
        var house = context.House;
        var rooms = loop.Circuits.Select(circuit => house.Circuits[circuit].Room).Concat(loop.Coils.SelectMany(coil => house.Coils[coil].Rooms)).Distinct()
            .Select(room => context.Plant.Input(house.Rooms[room].AirTemperature).Value).Where(double.IsFinite).ToList();
        return rooms.Count > 0 ? rooms.Average() : double.NaN;
    }

    /// <summary>The mixing valve from end to end, both ways, with the pump off: no water goes where it could hurt.</summary>
    public static Outcome Stroke(StepContext context, Loop loop)
    {
        var (id, saidS) = (context.OutputId(loop.Mixing), loop.StrokeS);
        context.MustSet(loop.Pump, 0, 8 * saidS + 240 + StepContext.GuardPatienceS, 60);
        context.MustSet(loop.Mixing, 0, 2 * saidS + 60, StepContext.GuardPatienceS);
        context.Wait(2 * saidS + 10);
        Dictionary<string, double> values = [];
        foreach (var (to, name) in (ReadOnlySpan<(double, string)>)[(100, "opens_s"), (0, "shuts_s")])
        {
            context.MustSet(loop.Mixing, to, 2.5 * saidS, 60);
            var took = context.AskNumber(Deed.TimeUntilStill, id, string.Create(CultureInfo.InvariantCulture, $"{id} goes to {to:0} % now. Watch its pointer: when it stands still, press Enter (or type the seconds)."), Quantity.Duration);
            if (double.IsNaN(took))
                throw new SkipStepException("nobody can see it");
            values[name] = took;
            context.Wait(5);
        }
        return Judge(context, loop, saidS, values);
    }

    private static Outcome Judge(StepContext context, Loop loop, double saidS, Dictionary<string, double> values)
    {
        var (opens, shuts) = (values["opens_s"], values["shuts_s"]);
        if (opens < 1 || shuts < 1)
            return Outcome.Fail("it does not move", $"supply, relays exchanged with another drive, or clutch open (room-supervisor find {context.OutputId(loop.Mixing)})") with { Values = values };
        var stroke = (opens + shuts) / 2;
        values["stroke_s"] = stroke;
        var found = $"opens in {context.Show(opens, Quantity.Duration)}, shuts in {context.Show(shuts, Quantity.Duration)}; site.yaml says {context.Show(saidS, Quantity.Duration)}";
        var fits = Math.Abs(stroke - saidS) <= 0.1 * saidS;
        var why = $"write stroke: {SitePaths.Value(stroke, Quantity.Duration, 0)}: position and control are counted by it" + (opens > 1.17 * saidS ? "; it was driven no longer than that: it may take longer still, so measure again afterwards" : "");
        return (fits ? Outcome.Pass(found) : Outcome.Fail(found, why)) with
        {
            Values = values,
            Proposals = fits ? new Dictionary<string, string>() : new Dictionary<string, string> { [SitePaths.Loop(loop, "stroke")] = SitePaths.Value(stroke, Quantity.Duration, 0) },
        };
    }

    /// <summary>A valve that is shut while water flows past it: the pipe behind it must not become like the manifold.</summary>
    public static Outcome IsTight(StepContext context, Loop loop, int valve, int sensor)
    {
        var (house, id) = (context.House, context.OutputId(valve));
        var takesS = OutputSteps.TravelS(house, valve);
        context.MustSet(valve, 0, takesS + StepContext.GuardPatienceS + StandsS + 900);
        Open(context, loop, StandsS + takesS + 300, valve);
        context.Wait(Math.Max(takesS, 60) + StandsS);
        var supply = loop.Supply >= 0 ? context.Plant.Input(loop.Supply).Value : double.NaN;
        var rooms = RoomsOf(context, loop);
        if (double.IsFinite(supply) && Math.Abs(supply - rooms) < DiffersK)
            throw new SkipStepException($"the water ({context.Show(supply, Quantity.Temperature)}) is too like the rooms ({context.Show(rooms, Quantity.Temperature)}) to be felt: again when the source works");
        if (sensor >= 0 && house.Inputs[sensor].Wired && double.IsFinite(supply))
        {
            var (at, share) = (context.Plant.Input(sensor).Value, (context.Plant.Input(sensor).Value - rooms) / (supply - rooms));
            var found = $"{context.InputId(sensor)} {context.Show(at, Quantity.Temperature)}, supply {context.Show(supply, Quantity.Temperature)}, room {context.Show(rooms, Quantity.Temperature)}";
            return (share < LikeShare ? Outcome.Pass(found) : Outcome.Fail("leaks: " + found, Leak)) with { Values = new Dictionary<string, double> { ["share"] = share } };
        }
        var isLike = context.Ask(Deed.FeelPipe, id, $"{id} has been shut for {StandsS / 60:0} min while water flows past it. Feel the pipe behind it: is it still as {(supply < rooms ? "cold" : "warm")} as the manifold?").Yes;
        return isLike ? Outcome.Fail("leaks: the pipe behind it follows the manifold", Leak) : Outcome.Pass("the pipe behind it stays as its room");
    }

    private const string Leak = "the shut valve lets water through: dirt in the seat, stem too short for the actuator, or the wrong way round in the pipe";
}

// The room as a whole: pulled down after a door stood open, and a slab's answer to a step of water. Takes half an hour and more. Must never go on when the room leaves what people bear.
using RoomSupervisor.Desk.Checkout.Fits;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Checkout.Steps;

/// <summary>Long steps of rooms.</summary>
internal static class RoomSteps
{
    public const string PullDown = "pull-down", Slab = "slab-step";

    private const double OpenS = 900, BackS = 7200, NearK = 0.5, LeastK = 0.7, SlabS = 3.5 * 3600, SlabEveryS = 120, SlabLeastK = 1;

    /// <summary>A door stands open for a quarter of an hour; then how long until the room is as before.</summary>
    public static Outcome PulledDown(StepContext context, int room)
    {
        var (house, id) = (context.House, context.House.Rooms[room].Id);
        double Air() => context.Plant.Input(house.Rooms[room].AirTemperature).Value;
        var outdoors = house.Points.OutdoorTemperature >= 0 ? context.Plant.Input(house.Points.OutdoorTemperature).Value : double.NaN;
        var before = Air();
        if (double.IsNaN(before))
            return Outcome.Fail("nothing is read", context.Plant.Input(house.Rooms[room].AirTemperature).Why);
        if (double.IsFinite(outdoors) && outdoors < before + 1)
            throw new SkipStepException($"outdoors is {context.Show(outdoors, Quantity.Temperature)}: an open door would not warm a room of {context.Show(before, Quantity.Temperature)}; again on a warm day");
        context.Ask(Deed.OpenRoom, id, $"Open the widest door or window of {id} to outdoors.");
        context.Wait(OpenS);
        context.Ask(Deed.ShutRoom, id, $"Shut it again, and keep the room shut.");
        context.Wait(house.Inputs[house.Rooms[room].AirTemperature].Sensor.LagS);
        var top = Air();
        if (top - before < LeastK)
            throw new SkipStepException($"it warmed the room by {context.Show(top - before, Quantity.TemperatureDifference)} only: too little to tell anything");
        var back = context.Until(() => Air() <= Math.Max(before, house.Rooms[room].Household.CoolAboveC) + NearK, BackS, out var tookS, 10);
        var estimate = 60 * Recovery.Minutes(house, room, Recovery.Speed(house, room, house.Rooms[room].Household, house.Rooms[room].Household.FanAtMostPercent));
        var values = new Dictionary<string, double> { ["before"] = before, ["warmest"] = top, ["took_s"] = tookS };
        if (double.IsFinite(estimate))
            values["estimate_s"] = estimate;
        return (back ? Outcome.Pass($"from {context.Show(top, Quantity.Temperature)} back in {context.Show(tookS, Quantity.Duration)}")
            : Outcome.Fail($"not back in {context.Show(BackS, Quantity.Duration)}", "ask room-supervisor why: capacity, water, a limit of the household, or something stays open")) with
        { Values = values };
    }

    /// <summary>A slab gets water for hours; its surface tells its time constant.</summary>
    public static Outcome StepOfSlab(StepContext context, int circuit)
    {
        var one = context.House.Circuits[circuit];
        var loop = context.House.Loops[one.Loop];
        context.MustSet(one.Valve, 100, SlabS + 600, StepContext.GuardPatienceS);
        context.MustSet(loop.Pump, 1, SlabS, OutputSteps.TravelS(context.House, one.Valve) + 90);
        List<double> times = [], values = [];
        var from = context.Plant.ElapsedS;
        while (context.Plant.ElapsedS - from < SlabS)
        {
            context.Wait(SlabEveryS);
            if (context.Plant.Input(one.SurfaceTemperature).Value is var at && double.IsFinite(at))
            {
                times.Add(context.Plant.ElapsedS - from);
                values.Add(at);
            }
        }
        if (!LagFit.TryFind([.. times], [.. values], SlabLeastK, out var fit))
            return new Outcome(Verdict.Told, $"moved from {context.Show(values.FirstOrDefault(double.NaN), Quantity.Temperature)} to {context.Show(values.LastOrDefault(double.NaN), Quantity.Temperature)}", "too little or too crooked for a time constant: again when the source has steady water");
        var said = one.Kind.ResponseS;
        var found = $"time constant {context.Show(fit.LagS, Quantity.Duration)}, site.yaml says {context.Show(said, Quantity.Duration)}";
        return (fit.LagS >= said / 2 && fit.LagS <= 2 * said ? Outcome.Pass(found) : Outcome.Fail(found, "write response of its kind: what is begun early hangs on it")) with { Values = new Dictionary<string, double> { ["response_s"] = fit.LagS, ["explained"] = fit.Share } };
    }
}

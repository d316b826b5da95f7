// Somebody in the virtual house: holds sensors, makes contacts, looks, listens, feels pipes, pulls cables. Sees what a person could see, not what a model knows; where a virtual house has nothing to look at
// (polarity, hand switches), it says so. Must never tell the walk what was built otherwise.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Checkout.Virtual;

/// <summary>Hands and eyes in the virtual house.</summary>
public sealed class VirtualHands(Rehearsal.Rehearsal run) : IHandsAndEyes
{
    /// <summary>A hand warms a sensor by this, K; breath wets it by this, %; a wet cloth brings it to this, % (project choice).</summary>
    private const double HandK = 10, BreathPercent = 30, ClothPercent = 96, BreathPpm = 3000;

    /// <summary>States in which sensor and reference are compared.</summary>
    private const double CoolC = 15, WarmC = 28, DryPercent = 33, DampPercent = 75;

    /// <summary>Background at the ear, dB(A): a quiet house. A person reads a scale to a twentieth of its length. A hand tells a pipe from the manifold when it has gone a seventh of the way to the room.</summary>
    private const double BackgroundDb = 25, ScalePercent = 5, FeltShare = 0.86;

    private const double LongestStrokeS = 900, StillS = 8, StartsWithinS = 20, CutS = 120;

    private readonly House house = run.House;

    /// <inheritdoc/>
    public Reply Ask(Request request)
    {
        ArgumentNullException.ThrowIfNull(request);
        var input = house.InputTable.IndexOf(request.Target);
        switch (request.Deed)
        {
            case Deed.Confirm: return Confirm(request, input);
            case Deed.Warm: Hold(input, Touched(input)); return Reply.Done;
            case Deed.WetCloth: Hold(input, ClothPercent); return Reply.Done;
            case Deed.Make: Hold(input, 1); return Reply.Done;
            case Deed.LetGo: Hold(input, double.NaN); return Reply.Done;
            case Deed.Reference: return new Reply(true, Reference(request, input));
            case Deed.Position: return new Reply(true, Math.Round(100 * ValveOf(request.Target).Stem / ScalePercent) * ScalePercent);
            case Deed.Turns: return new Reply(Turns(request.Target), double.NaN);
            case Deed.Speed: return new Reply(true, Math.Round(100 * run.Run.Plant.Fans[CoilOf(request.Target)].Speed));
            case Deed.Listen: return new Reply(true, Heard(CoilOf(request.Target)));
            case Deed.TimeUntilStill: return new Reply(true, UntilStill(ValveOf(request.Target)));
            case Deed.FeelPipe: return new Reply(Feels(request.Target), double.NaN);
            case Deed.Arrow: return new Reply(!IsBackwards(request.Target), double.NaN);
            case Deed.PullCable: Cable(request.Target, BusFault.Absent); return Reply.Done;
            case Deed.PlugCable: Cable(request.Target, BusFault.None); return Reply.Done;
            case Deed.CutPower: Power(true); return Reply.Done;
            case Deed.GivePower: Power(false); return Reply.Done;
            case Deed.OpenRoom or Deed.ShutRoom: Open(request.Target, request.Deed == Deed.OpenRoom); return Reply.Done;
            default: throw new SkipStepException("nobody in the virtual house can do that");
        }
    }

    private Reply Confirm(Request request, int input)
    {
        if (run.Sensors.There(input) is var there && double.IsFinite(there) && request.Step == $"input/{request.Target}")
            return new Reply(there > 0.5, double.NaN);
        if (request.Number == Quantity.TemperatureDifference)
            return new Reply(true, 0.05);
        if (request.Number == Quantity.Percent)
            return new Reply(true, 0.5);
        // A caution is agreed to; what only a real house has is not looked at.
        return request.Text.StartsWith("caution:", StringComparison.Ordinal) ? Reply.Done : throw new SkipStepException("the virtual house has no such thing to look at");
    }

    private void Hold(int input, double value)
    {
        if (input < 0)
            throw new SkipStepException("there is no such sensor");
        run.Sensors.Hold(input, value);
    }

    /// <summary>What a sensor feels in a hand: warmer than it was, by the truth of its place.</summary>
    private double Touched(int input)
    {
        var (kind, now) = (house.Inputs[input].Kind, run.Sensors.Shown[input]);
        return kind switch
        {
            InputKind.RoomHumidity or InputKind.OutdoorHumidity => Math.Min(97, (double.IsFinite(now) ? now : 50) + BreathPercent),
            InputKind.CarbonDioxide => BreathPpm,
            InputKind.Dial => 2,
            InputKind.WaterTemperature or InputKind.SurfaceTemperature => 33,
            _ => Math.Max(run.Run.Building.AirC.Average(), 20) + HandK,
        };
    }

    /// <summary>The state both are brought to; the reference is right. They stand together until neither moves.</summary>
    private double Reference(Request request, int input)
    {
        if (request.By is not (1 or 2))
            return Gauge(request.Target, input);
        var isHumidity = house.InputTable[input].Quantity == Quantity.Percent;
        var there = isHumidity ? request.By == 1 ? DryPercent : DampPercent : request.By == 1 ? CoolC : WarmC;
        run.Sensors.Hold(input, there);
        Wait(7 * Math.Max(60, house.Inputs[input].Sensor.LagS));
        return there;
    }

    /// <summary>What an instrument beside the thing shows.</summary>
    private double Gauge(string target, int input)
    {
        for (var i = 0; i < house.Loops.Length; i++)
        {
            if (house.Loops[i].Flow == input && input >= 0)
                return run.Run.Plant.Loops[i].Circuits.TotalKgPerS * 60;
        }
        return house.Sources[0].SetPoint >= 0 && house.OutputTable[house.Sources[0].SetPoint].Id == target ? run.Run.Plant.SetPointC
            : input >= 0 && house.InputTable[input].Quantity == Quantity.Pressure ? 150 : double.NaN;
    }

    private Valve ValveOf(string target)
    {
        var output = house.OutputTable.IndexOf(target);
        for (var i = 0; i < house.Loops.Length; i++)
        {
            if (house.Loops[i].Mixing == output)
                return run.Run.Plant.Loops[i].Mixing;
            var at = Array.IndexOf(Rehearsal.AsBuilt.ValvesOf(house, i), output);
            if (at >= 0)
                return run.Run.Plant.Loops[i].Valves[at];
        }
        throw new SkipStepException($"there is no valve at {target}");
    }

    private int CoilOf(string target)
    {
        for (var i = 0; i < house.Coils.Length; i++)
        {
            if (house.OutputTable[house.Coils[i].Fan].Id == target)
                return i;
        }
        throw new SkipStepException($"there is no fan at {target}");
    }

    private bool Turns(string target)
    {
        var output = house.OutputTable.IndexOf(target);
        if (house.Coils.Any(coil => coil.Fan == output))
            return run.Run.Plant.Fans[CoilOf(target)].Speed > 0.05;
        for (var i = 0; i < house.Loops.Length; i++)
        {
            if (house.Loops[i].Pump == output || house.Loops[i].StandbyPump == output)
                return run.Run.Plant.Loops[i].Circuits.Proof;
        }
        // A relay is looked at on its module.
        var channel = run.Devices.Outputs.Index().FirstOrDefault(one => one.Item.Index == output, (-1, null!)).Index;
        return channel >= 0 && run.Devices.Asked(channel) > 0.5;
    }

    private double Heard(int coil)
    {
        var fan = run.Run.Plant.Fans[coil].LevelDb;
        return 10 * Math.Log10(Math.Pow(10, BackgroundDb / 10) + (double.IsFinite(fan) ? Math.Pow(10, fan / 10) : 0));
    }

    private double UntilStill(Valve valve)
    {
        double at = valve.Stem, movedS = 0;
        var isMoving = false;
        for (var s = 1.0; s <= LongestStrokeS; s++)
        {
            Wait(1);
            if (Math.Abs(valve.Stem - at) > 1e-4)
                (at, movedS, isMoving) = (valve.Stem, s, true);
            else if (isMoving ? s - movedS > StillS : s > StartsWithinS)
                break;
        }
        return movedS;
    }

    /// <summary>The end of the pipe behind a valve, against the manifold and its room.</summary>
    private bool Feels(string target)
    {
        var output = house.OutputTable.IndexOf(target);
        for (var i = 0; i < house.Loops.Length; i++)
        {
            var at = Array.IndexOf(Rehearsal.AsBuilt.ValvesOf(house, i), output);
            if (at < 0)
                continue;
            var loop = run.Run.Plant.Loops[i];
            var roomC = run.Run.Building.AirC[run.Run.Plant.Plan.Loops[i].ManifoldRoom];
            return (loop.Pipes[at].OutC - roomC) / (loop.SupplyC - roomC) > FeltShare;
        }
        throw new SkipStepException($"there is no pipe behind {target}");
    }

    private bool IsBackwards(string target)
        => house.Loops.Any(loop => house.OutputTable[loop.Pump].Id == target && (run.Plan.Built?.Backwards.Contains(loop.Id) ?? false));

    private void Cable(string device, BusFault fault)
    {
        if (run.Devices.DeviceOf(device) is >= 0 and var at && run.Devices.CanHave(at, fault))
            run.Devices.SetFault(at, fault);
        else if (fault != BusFault.None)
            throw new SkipStepException($"{device} has no cable that can be pulled");
    }

    private void Power(bool isCut)
    {
        run.Run.Plant.PowerCut = isCut;
        Wait(isCut ? CutS : 30);
    }

    private void Open(string room, bool isOpen)
    {
        var openings = run.Run.Building.Plan.Openings;
        var at = -1;
        for (var i = 0; i < openings.Length; i++)
        {
            if (run.Run.Building.Plan.Rooms[openings[i].Room].Name == room && (at < 0 || openings[i].AreaM2 > openings[at].AreaM2))
                at = i;
        }
        if (at < 0)
            throw new SkipStepException($"{room} has no door or window to outdoors");
        run.Run.HeldOpen[at] = isOpen ? 1 : 0;
    }

    private void Wait(double seconds)
    {
        for (var s = 0.0; s < seconds; s += run.ScanS)
            run.Step();
    }
}

// Two-point calibration against a better reference, the lag of a sensor, and whether all air sensors say the same of the same air. Must never take a reference that is no better than what it judges.
using System.Globalization;
using RoomSupervisor.Desk.Checkout.Fits;
using RoomSupervisor.Physics;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Checkout.Steps;

/// <summary>Steps of sensors.</summary>
internal static class CalibrationSteps
{
    public const string Kind = "calibration", Lag = "lag", Agree = "agree", Reference = "reference";

    /// <summary>Distance of the two points, and range in which a sensor is used.</summary>
    private const double ApartK = 8, ApartPercent = 25, AirFromC = 18, AirToC = 30, WaterFromC = 12, WaterToC = 25, HumidityFrom = 35, HumidityTo = 75;

    /// <summary>Step of an offset that is worth writing, K and %.</summary>
    private const double StepK = 0.1, StepPercent = 0.5;

    /// <summary>Rooms with open doors between them do not differ more, K (project choice).</summary>
    private const double FarK = 5;

    private const double MeanS = 60, LagWarmS = 150, LagLeastK = 1.5, LongestS = 1500, QuietS = 420;

    /// <summary>How good the reference is.</summary>
    public static Outcome AskReference(StepContext context, Quantity quantity)
    {
        var accuracy = context.AskNumber(Deed.Confirm, context.Step.What, $"How good is your reference for {context.Step.What}, ± {Quantities.BaseUnit(InputSteps.Difference(quantity))} by its certificate?", InputSteps.Difference(quantity));
        if (!(accuracy > 0))
            throw new SkipStepException("no reference with a known accuracy: nothing can be calibrated");
        return Outcome.Pass($"± {context.Show(accuracy, InputSteps.Difference(quantity))}") with { Values = new Dictionary<string, double> { ["accuracy"] = accuracy } };
    }

    /// <summary>A sensor against the reference at two points.</summary>
    public static Outcome TwoPoints(StepContext context, int input)
    {
        var house = context.House;
        var (point, sensor, isHumidity) = (house.InputTable[input], house.Inputs[input].Sensor, house.InputTable[input].Quantity == Quantity.Percent);
        var accuracy = isHumidity ? sensor.AccuracyPercent : sensor.AccuracyK;
        var reference = context.FigureOf($"{Reference}/{(isHumidity ? "humidity" : "temperature")}", "accuracy");
        var difference = InputSteps.Difference(point.Quantity);
        if (double.IsNaN(reference))
            throw new SkipStepException("no reference was named");
        if (reference > accuracy / 2 + 1e-9)
            throw new SkipStepException($"the reference is good for ± {context.Show(reference, difference)}; for a sensor of ± {context.Show(accuracy, difference)} it must be at least twice as good");
        Span<double> raw = stackalloc double[2], real = stackalloc double[2];
        for (var i = 0; i < 2; i++)
            (real[i], raw[i]) = At(context, input, i + 1, isHumidity, difference, accuracy);
        if (!TwoPoint.TryMake(raw[0], real[0], raw[1], real[1], isHumidity ? ApartPercent : ApartK, out var line))
            return Outcome.Fail($"points at {context.Show(real[0], point.Quantity)} and {context.Show(real[1], point.Quantity)}", $"they must lie {context.Show(isHumidity ? ApartPercent : ApartK, difference)} apart, and the sensor must tell them apart");
        return Judge(context, input, line, accuracy + reference, raw, real);
    }

    /// <summary>One point: whoever holds the reference says what it shows, the sensor is read until it stands still.</summary>
    private static (double Real, double Raw) At(StepContext context, int input, int which, bool isHumidity, Quantity difference, double accuracy)
    {
        var id = context.InputId(input);
        var where = isHumidity ? (which == 1 ? "over a saturated solution of magnesium chloride (about 33 %)" : "over a saturated solution of table salt (about 75 %)")
            : which == 1 ? "in the cool (a bag in cool water, or cool air, about 15 °C)" : "in the warm (about 28 °C)";
        var real = context.Once($"reference {which}", () => context.AskNumber(Deed.Reference, id, $"{id}, point {which} of 2: put sensor and reference side by side {where}. When both stand still: what does the reference show?", context.House.InputTable[input].Quantity, which));
        if (double.IsNaN(real))
            throw new SkipStepException("the reference was not read");
        var raw = context.Once($"sensor {which}", () => Steady(context, input, accuracy / 4));
        if (double.IsNaN(raw))
            throw new SkipStepException($"{id} does not stand still, or is not read");
        context.Say($"{id}: {context.Show(raw, context.House.InputTable[input].Quantity)} where the reference shows {context.Show(real, context.House.InputTable[input].Quantity)}");
        return (real, raw);
    }

    private static double Steady(StepContext context, int input, double within)
    {
        var before = context.MeanRaw(input, MeanS);
        for (var i = 0; i < 10; i++)
        {
            var now = context.MeanRaw(input, MeanS);
            if (Math.Abs(now - before) <= within)
                return now;
            before = now;
        }
        return double.NaN;
    }

    private static Outcome Judge(StepContext context, int input, in TwoPoint line, double allowed, Span<double> raw, Span<double> real)
    {
        var (isHumidity, difference) = (context.House.InputTable[input].Quantity == Quantity.Percent, InputSteps.Difference(context.House.InputTable[input].Quantity));
        var kind = context.House.Inputs[input].Kind;
        var (from, to) = isHumidity ? (HumidityFrom, HumidityTo) : kind == InputKind.WaterTemperature ? (WaterFromC, WaterToC) : (AirFromC, AirToC);
        var step = isHumidity ? StepPercent : StepK;
        var offset = context.House.Inputs[input].Sensor.Offset;
        var best = Math.Round(line.BestOffset(from, to) / step) * step;
        var (now, then) = (line.LeftBy(offset, from, to), line.LeftBy(best, from, to));
        var found = string.Create(CultureInfo.InvariantCulture, $"gain {line.Gain:0.000}, off by at most {context.Show(now, difference)} with offset {context.Show(offset, difference)}; by {context.Show(then, difference)} with {context.Show(best, difference)}");
        var outcome = now <= allowed ? Outcome.Pass(found)
            : then <= allowed ? Outcome.Fail(found, $"write offset: {SitePaths.Value(best, difference, 2)} for it")
            : Outcome.Fail(found, $"no offset makes it better than ± {context.Show(then, difference)}: replace it");
        return outcome with
        {
            Values = new Dictionary<string, double>
            {
                ["raw_1"] = raw[0],
                ["reference_1"] = real[0],
                ["raw_2"] = raw[1],
                ["reference_2"] = real[1],
                ["gain"] = line.Gain,
                ["zero"] = line.Zero,
                ["offset"] = best,
                ["off_now"] = now,
                ["off_then"] = then,
            },
            Proposals = Math.Abs(best - offset) >= step - 1e-9 && then < now - step / 4 ? new Dictionary<string, string> { [SitePaths.Point(context.InputId(input), "offset")] = SitePaths.Value(best, difference, 2) } : new Dictionary<string, string>(),
        };
    }

    /// <summary>Lag: warmed, let go, and the way back fitted.</summary>
    public static Outcome FindLag(StepContext context, int input)
    {
        var id = context.InputId(input);
        // A warm hand looks like a warm room: no fan may answer it, and the air must have come to rest after one has stopped.
        foreach (var coil in context.House.Coils.Where(coil => coil.Rooms.Any(room => context.House.Rooms[room].AirTemperature == input)))
        {
            var ran = context.Plant.Output(coil.Fan).Value > 0.5;
            if (context.Set(coil.Fan, 0, LagWarmS + LongestS + QuietS + 120, out _) && ran)
                context.Wait(QuietS);
        }
        var before = context.MeanRaw(input, 30);
        if (double.IsNaN(before))
            return Outcome.Fail("nothing is read", context.Plant.Input(input).Why);
        context.Ask(Deed.Warm, id, $"Hold the sensor of {id} in your warm hand for {LagWarmS / 60:0.#} min, then let go when I say so, and keep away from it.", 10);
        context.Until(() => context.Plant.Input(input).Raw - before > 6, LagWarmS, out _, 5);
        context.Ask(Deed.LetGo, id, $"Let go of {id} now and step back.");
        var said = context.House.Inputs[input].Sensor.LagS;
        List<double> times = [], values = [];
        var from = context.Plant.ElapsedS;
        LagFit fit;
        bool isFound;
        var untilS = Math.Clamp(3.5 * said, 300, LongestS);
        do
        {
            while (context.Plant.ElapsedS - from < untilS)
            {
                context.Wait(5);
                if (context.Plant.Input(input).Raw is var raw && double.IsFinite(raw))
                {
                    times.Add(context.Plant.ElapsedS - from);
                    values.Add(raw);
                }
            }
            isFound = LagFit.TryFind([.. times], [.. values], LagLeastK, out fit, drifts: true);
            // A slower one than the file says is watched for longer: half a way back tells little.
            untilS = isFound && 3.5 * fit.LagS > untilS + 30 ? Math.Min(3.5 * fit.LagS, LongestS) : 0;
        }
        while (untilS > context.Plant.ElapsedS - from);
        if (!isFound)
            return Outcome.Fail("no clear way back", "the curve after letting go is no decay: was it warmed enough, was it left alone, does a fan blow at it now and then?");
        var found = $"{context.Show(fit.LagS, Quantity.Duration)}, site.yaml says {context.Show(said, Quantity.Duration)}";
        var rounded = Math.Max(5, Math.Round(fit.LagS / 5) * 5);
        var outcome = Math.Abs(fit.LagS - said) <= Math.Max(15, 0.25 * said) ? Outcome.Pass(found) : Outcome.Fail(found, $"write lag: {SitePaths.Value(rounded, Quantity.Duration, 0)} for it: what the controller foresees hangs on it");
        return outcome with
        {
            Values = new Dictionary<string, double> { ["lag_s"] = fit.LagS, ["left_rms"] = fit.LeftRms, ["explained"] = fit.Share },
            Proposals = Math.Abs(rounded - said) >= 10 ? new Dictionary<string, string> { [SitePaths.Point(id, "lag")] = SitePaths.Value(rounded, Quantity.Duration, 0) } : new Dictionary<string, string>(),
        };
    }

    /// <summary>All air sensors with fans on and valves shut: those of one room must agree within their accuracy, and no room may stand far from the others.</summary>
    public static Outcome AllAgree(StepContext context, IReadOnlyList<int> coils, double stillS = 900)
    {
        var house = context.House;
        foreach (var i in coils)
        {
            foreach (var valve in (ReadOnlySpan<int>)[house.Coils[i].Valve, house.Coils[i].HeatingValve])
            {
                if (valve >= 0 && !context.Set(valve, 0, stillS + 120, out var why))
                    context.Say($"{context.OutputId(valve)} is not shut: {why}");
            }
            if (!context.Set(house.Coils[i].Fan, house.Coils[i].StartSpeedPercent, stillS + 120, out var held))
                context.Say($"{context.OutputId(house.Coils[i].Fan)} does not run: {held}");
        }
        context.Wait(stillS);
        List<string> wrong = [];
        Dictionary<string, double> values = [];
        List<(string Room, double C)> warm = [], dew = [];
        foreach (var room in house.Rooms)
            OneRoom(context, room, wrong, values, warm, dew);
        Far(context, "air", warm, wrong);
        Far(context, "dew point", dew, wrong);
        var (spread, middle) = dew.Count > 0 ? (dew.Max(one => one.C) - dew.Min(one => one.C), Median(dew)) : (0, double.NaN);
        values["dew_point_spread"] = spread;
        var found = $"{house.Rooms.Length} room(s), dew points {context.Show(spread, Quantity.TemperatureDifference)} apart round {context.Show(middle, Quantity.Temperature)}";
        return (wrong.Count == 0 ? Outcome.Pass(found) : Outcome.Fail(string.Join("; ", wrong), "one of them is wrong or hangs in other air: calibrate them, and look at where they hang")) with { Values = values };
    }

    private static void OneRoom(StepContext context, Room room, List<string> wrong, Dictionary<string, double> values, List<(string Room, double C)> warm, List<(string Room, double C)> dew)
    {
        var house = context.House;
        List<int> temperatures = [room.AirTemperature, .. room.OtherAir.Select(other => other.Temperature), .. room.Coils.Where(coil => house.Rooms[house.Coils[coil].Room].Id == room.Id).Select(coil => house.Coils[coil].ReturnAirTemperature)];
        var read = temperatures.Where(input => input >= 0 && house.Inputs[input].Wired).Select(input => (Input: input, context.Plant.Input(input).Value)).Where(one => double.IsFinite(one.Value)).ToList();
        foreach (var (input, value) in read)
        {
            values[context.InputId(input)] = value;
            if (input != read[0].Input && Math.Abs(value - read[0].Value) > house.Inputs[input].Sensor.AccuracyK + house.Inputs[read[0].Input].Sensor.AccuracyK + 0.5)
                wrong.Add($"{context.InputId(input)} {context.Show(value, Quantity.Temperature)} where {context.InputId(read[0].Input)} says {context.Show(read[0].Value, Quantity.Temperature)}");
        }
        if (read.Count > 0)
            warm.Add((room.Id, read[0].Value));
        if (read.Count > 0 && room.AirHumidity >= 0 && context.Plant.Input(room.AirHumidity).Value is var humidity && double.IsFinite(humidity)
            && MoistAir.TryDewPoint(read[0].Value, humidity, out var dewC, out _))
            dew.Add((room.Id, dewC));
    }

    private static void Far(StepContext context, string what, List<(string Room, double C)> all, List<string> wrong)
    {
        if (all.Count < 3)
            return;
        var middle = Median(all);
        foreach (var (room, c) in all.Where(one => Math.Abs(one.C - middle) > FarK))
            wrong.Add($"{room}: {what} {context.Show(c, Quantity.Temperature)}, the others are round {context.Show(middle, Quantity.Temperature)}");
    }

    private static double Median(List<(string Room, double C)> values) => values.Select(one => one.C).Order().ElementAt(values.Count / 2);
}

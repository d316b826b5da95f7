// Why a room is as it is: its air, what its coils and surfaces do and what binds them, the water they have, and a verdict. Reads a moment; decides nothing and never guesses
// a figure: an estimate is called one.
using System.Globalization;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Explain;

/// <summary>The chain of one room.</summary>
internal static class RoomWhy
{
    /// <summary>So near to its set point a room is content, K: half a step of what people feel (project choice, as in <see cref="Recovery.ToAboveK"/>).</summary>
    private const double ContentK = 0.5;

    /// <summary>Water so much warmer than its set point explains a room by itself, K (project choice: a third of the usual difference between air and coil water).</summary>
    private const double WarmWaterK = 3;

    public static WhyAnswer Of(Moment moment, int index)
    {
        var room = moment.House.Rooms[index];
        var lines = new List<WhyLine> { Air(moment, index) };
        lines.AddRange(Sensors(moment, room));
        foreach (var coil in room.Coils)
            lines.AddRange(Coil(moment, index, moment.House.Coils[coil]));
        foreach (var circuit in room.Circuits)
            lines.AddRange(Surface(moment, index, circuit));
        var loops = room.Coils.SelectMany(coil => new[] { moment.House.Coils[coil].Loop, moment.House.Coils[coil].HeatingLoop })
            .Concat(room.Circuits.Select(circuit => moment.House.Circuits[circuit].Loop)).Where(loop => loop >= 0).Distinct().ToList();
        foreach (var loop in loops)
            lines.AddRange(PlantWhy.LoopLines(moment, loop));
        foreach (var source in loops.Select(loop => moment.House.Loops[loop].Source).Distinct())
            lines.AddRange(PlantWhy.SourceLines(moment, source));
        var (kind, verdict) = Verdict(moment, index);
        return new WhyAnswer(room.Id, kind, verdict, lines);
    }

    /// <summary>How far the room is from where it is wanted, K: above zero is short of it. NaN: not known.</summary>
    public static double ShortK(Moment moment, int index)
    {
        var status = moment.Scan.Rooms[index];
        return Heats(moment, index) ? status.WantedC - status.AirTemperatureC : status.AirTemperatureC - status.WantedC;
    }

    /// <summary>The kind of answer and its sentence.</summary>
    public static (VerdictKind Kind, string Text) Verdict(Moment moment, int index)
    {
        var (status, room) = (moment.Scan.Rooms[index], moment.House.Rooms[index]);
        if (!double.IsFinite(status.AirTemperatureC))
            return (VerdictKind.Sensor, $"its air temperature is missing: {moment.Reads(room.AirTemperature)}");
        var far = Far(moment, index);
        if (status.Stage == Stage.Opening)
            return (VerdictKind.Opening, $"a door or window is open{(moment.Since(moment.Scan.RoomsSeen[index].StageForS) is { Length: > 0 } since ? " " + since : "")}; {far}");
        var hand = Emitters(moment, room).Where(output => moment.Scan.Commands[output].Binding.Cause == Cause.HandValue).ToList();
        if (hand.Count > 0)
            return (VerdictKind.Setting, $"set by hand: {string.Join("; ", hand.Select(output => $"{moment.House.OutputTable[output].Id} {moment.Does(output)}"))}; {far}");
        var leading = Leading(moment, index);
        if (leading < 0)
            return (VerdictKind.Content, far);
        var cause = moment.Scan.Commands[leading].Binding.Cause;
        var name = moment.House.OutputTable[leading].Id;
        if (status.Stage == Stage.Off)
            return (Verdicts.Of(cause), $"{name} {moment.Does(leading)}");
        if (ShortK(moment, index) <= ContentK)
            return Guarded(moment, index) ?? (VerdictKind.Content, $"{far}: nothing is short{CouldNot(moment, index)}");
        return Short(moment, index, leading, far);
    }

    /// <summary>A room that is short: water and source first, since neither setting nor fan helps against them.</summary>
    private static (VerdictKind Kind, string Text) Short(Moment moment, int index, int leading, string far)
    {
        var (command, name) = (moment.Scan.Commands[leading], moment.House.OutputTable[leading].Id);
        var loop = LoopOf(moment, index, leading);
        if (loop >= 0 && PlantWhy.WaterIsShort(moment, loop, Heats(moment, index), WarmWaterK) is { } water)
            return (water.Kind, $"{far}; {water.Text}");
        var kind = Verdicts.Of(command.Binding.Cause);
        var text = $"{far}; {name} {moment.Does(leading)}";
        if (kind == VerdictKind.Capacity)
        {
            var isFull = command.Value >= 99.5;
            return isFull ? (VerdictKind.Capacity, $"{text}: it gives all it can; {Going(moment, index)}") : (VerdictKind.Waiting, $"{text}: it is on its way");
        }
        return kind == VerdictKind.Content ? (VerdictKind.Waiting, $"{text}: nothing has begun yet") : (kind, text);
    }

    /// <summary>A room that is where it is wanted while its surface may not work: worth a word, for somebody asked.</summary>
    private static (VerdictKind Kind, string Text)? Guarded(Moment moment, int index)
    {
        foreach (var circuit in moment.House.Rooms[index].Circuits)
        {
            var output = moment.House.Circuits[circuit].Valve;
            var cause = moment.Scan.Commands[output].Binding.Cause;
            if (moment.Scan.Commands[output].Value <= 0 && Verdicts.Of(cause) is VerdictKind.Water or VerdictKind.Sensor or VerdictKind.Protection)
                return (Verdicts.Of(cause), $"{Far(moment, index)}, but its surface may not help: {moment.House.OutputTable[output].Id} {moment.Does(output)}");
        }
        return null;
    }

    /// <summary>Nothing asked of a surface that could not help anyway.</summary>
    private static string CouldNot(Moment moment, int index)
    {
        if (moment.Scan.Rooms[index].Guard != GuardLevel.Shut || Heats(moment, index) || !moment.House.NeedsHumidity(moment.House.Rooms[index]))
            return "";
        var worst = moment.Scan.Rooms[index].DewPointWorstC;
        return $"; asked, its surface could not help: the guard holds it shut, dew point {(double.IsFinite(worst) ? moment.Show(worst, Quantity.Temperature) : "not known")} (worst case)";
    }

    private static string Going(Moment moment, int index)
    {
        var minutes = Recovery.Minutes(moment.House, index, 100);
        return Heats(moment, index) || double.IsInfinity(minutes) ? "nothing to set"
            : string.Create(CultureInfo.InvariantCulture, $"by its data a room at {moment.Show(Recovery.FromAboveK, Quantity.TemperatureDifference)} too warm needs about {Math.Max(1, minutes):0} min at full speed (an estimate without sun and people)");
    }

    private static string Far(Moment moment, int index)
    {
        var (status, shortK) = (moment.Scan.Rooms[index], ShortK(moment, index));
        var words = Heats(moment, index) ? "too cold" : "too warm";
        var far = shortK > 0.05 ? $", {moment.Show(shortK, Quantity.TemperatureDifference)} {words}" : "";
        var ahead = status.AheadOfMinutes >= 0 ? $" (ahead of {moment.Show(status.AheadOfMinutes, Quantity.TimeOfDay)})" : "";
        return $"air {moment.Show(status.AirTemperatureC, Quantity.Temperature)}, wanted {moment.Show(status.WantedC, Quantity.Temperature)}{ahead}{far}";
    }

    private static WhyLine Air(Moment moment, int index)
    {
        var (status, room) = (moment.Scan.Rooms[index], moment.House.Rooms[index]);
        var moisture = status.Moisture == Moisture.Dehumidifying ? ", drying the air" : "";
        var dew = double.IsFinite(status.DewPointC)
            ? $", dew point {moment.Show(status.DewPointC, Quantity.Temperature)} (with every sensor error {moment.Show(status.DewPointWorstC, Quantity.Temperature)})" : "";
        return new WhyLine(room.Id, $"{Far(moment, index)}{dew}; stage {Names.Of(status.Stage)}{moisture}", moment.Since(moment.Scan.RoomsSeen[index].StageForS));
    }

    private static IEnumerable<WhyLine> Sensors(Moment moment, Room room)
    {
        var house = moment.House;
        for (var i = 0; i < house.InputTable.Count; i++)
        {
            var reading = moment.Scan.Readings[i];
            if (house.Inputs[i].Wired && reading.Quality != Quality.Good && house.InputTable[i].Id.StartsWith(room.Id + ".", StringComparison.Ordinal))
                yield return new WhyLine(house.InputTable[i].Id, moment.Reads(i), moment.Since(moment.Scan.Ages.ReadingForS[i]));
        }
    }

    private static IEnumerable<WhyLine> Coil(Moment moment, int room, Coil coil)
    {
        var command = moment.Scan.Commands[coil.Fan];
        var volts = coil.Kind.FanSignal == CoilKind.Voltage ? string.Create(CultureInfo.InvariantCulture, $" ({coil.Kind.Line.VoltsFor(command.Value):0.0} V)") : "";
        yield return new WhyLine(moment.House.OutputTable[coil.Fan].Id, moment.Does(coil.Fan, volts), moment.Since(moment.Scan.Ages.CommandForS[coil.Fan]), FanPrice(moment, room, command));
        foreach (var valve in new[] { coil.Valve, coil.HeatingValve }.Where(valve => valve >= 0))
            yield return moment.Line(valve);
    }

    /// <summary>What the next higher limit would gain and cost. Only for limits on the fan: nothing else can be reckoned from the files.</summary>
    private static string FanPrice(Moment moment, int room, in Command command)
    {
        // Without what would bind next nobody knows how far a higher limit would reach.
        if ((!moment.HasMemory && command.RunnerUp.Cause == Cause.None) || command.Binding.Cause is not (Cause.HouseholdLimit or Cause.QuietHours or Cause.NoiseLimit or Cause.DraughtLimit or Cause.LimitUnderStartSpeed or Cause.QuietHoursComing))
            return "";
        var isCap = command.RunnerUp.Cause is Cause.HouseholdLimit or Cause.QuietHours or Cause.NoiseLimit or Cause.DraughtLimit or Cause.QuietHoursComing;
        var next = isCap ? command.RunnerUp.A : 100;
        if (next <= command.Value)
            return "";
        var (now, then) = (Recovery.Minutes(moment.House, room, command.Value), Recovery.Minutes(moment.House, room, next));
        if (double.IsInfinity(then))
            return "";
        var instead = double.IsInfinity(now) ? "; at this limit the coil does not run at all" : string.Create(CultureInfo.InvariantCulture, $" instead of {Math.Max(1, now):0}");
        var louder = Recovery.LouderDb(Math.Max(1, command.Value), next);
        var sound = double.IsInfinity(now) || !double.IsFinite(louder) ? "" : string.Create(CultureInfo.InvariantCulture, $", about {louder:0} dB louder");
        return string.Create(CultureInfo.InvariantCulture,
            $"at {moment.Show(next, Quantity.Percent)} a room {moment.Show(Recovery.FromAboveK, Quantity.TemperatureDifference)} too warm recovers in about {Math.Max(1, then):0} min{instead}{sound} (an estimate from the room's data)");
    }

    private static IEnumerable<WhyLine> Surface(Moment moment, int room, int index)
    {
        var circuit = moment.House.Circuits[index];
        yield return moment.Line(circuit.Valve);
        if (!moment.HasMemory || !moment.House.Loops[circuit.Loop].Cools)
            yield break;
        var memory = moment.Scan.Circuits[index];
        var limit = memory.Limit.Cause == Cause.None ? "" : $": {CauseWords.Sentence(memory.Limit, moment.House.Units)}";
        var safe = double.IsFinite(memory.LowestSafeC) && memory.LowestSafeC != 0 ? $", lowest safe water {moment.Show(memory.LowestSafeC, Quantity.Temperature)}" : "";
        yield return new WhyLine(circuit.Id, $"guard {Names.Of(memory.Level)}{safe}{limit}", moment.Since(moment.Scan.Ages.CircuitForS[index]), DewPrice(moment, room, circuit, memory));
    }

    /// <summary>What a drier room would give: output goes with the distance between air and water (EN 1264 gives it as nearly linear), so a kelvin of it is its share.</summary>
    private static string DewPrice(Moment moment, int room, Circuit circuit, in CircuitMemory memory)
    {
        var (airC, supplyC) = (moment.Scan.Rooms[room].AirTemperatureC, moment.Scan.Loops[circuit.Loop].SupplyC);
        if (memory.Level == GuardLevel.Clear || !(airC - supplyC > 1) || !(memory.MayGiveW > 0))
            return "";
        return $"each {moment.Show(1, Quantity.TemperatureDifference)} of dew point less lets the water be so much colder: about {moment.Show(memory.MayGiveW / (airC - supplyC), Quantity.Power)} more from this surface (an estimate)";
    }

    private static bool Heats(Moment moment, int index) => moment.Scan.RoomsSeen[index].Heats;

    private static IEnumerable<int> Emitters(Moment moment, Room room)
        => room.Coils.Select(coil => moment.House.Coils[coil].Fan).Concat(room.Circuits.Select(circuit => moment.House.Circuits[circuit].Valve));

    /// <summary>The output that has to help the room in its stage; −1: it has none.</summary>
    private static int Leading(Moment moment, int index)
    {
        var room = moment.House.Rooms[index];
        var bySurface = moment.Scan.Rooms[index].Stage is Stage.RadiantHold or Stage.Satisfied && room.Circuits.Length > 0;
        return bySurface || room.Coils.Length == 0
            ? room.Circuits.Length > 0 ? moment.House.Circuits[room.Circuits[0]].Valve : -1
            : moment.House.Coils[room.Coils[0]].Fan;
    }

    private static int LoopOf(Moment moment, int index, int leading)
    {
        var room = moment.House.Rooms[index];
        foreach (var coil in room.Coils.Select(coil => moment.House.Coils[coil]).Where(coil => coil.Fan == leading))
            return Heats(moment, index) && coil.HeatingLoop >= 0 ? coil.HeatingLoop : coil.Loop;
        foreach (var circuit in room.Circuits.Select(circuit => moment.House.Circuits[circuit]).Where(circuit => circuit.Valve == leading))
            return circuit.Loop;
        return -1;
    }
}

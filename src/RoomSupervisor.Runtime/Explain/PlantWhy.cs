// Why a loop's water is what it is, and why the source runs or does not. Reads a moment; decides nothing.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Explain;

/// <summary>The chain of loops and sources.</summary>
internal static class PlantWhy
{
    /// <summary>Water so far from its set point is worth a verdict on its loop, K (project choice: twice what a common pipe sensor may err).</summary>
    private const double AwayK = 2;

    public static WhyAnswer OfLoop(Moment moment, int index)
    {
        var loop = moment.House.Loops[index];
        var lines = LoopLines(moment, index).ToList();
        lines.AddRange(Asking(moment, index));
        lines.AddRange(SourceLines(moment, loop.Source));
        var heats = moment.HasMemory ? moment.Scan.LoopMemories[index].Heats : !loop.Cools;
        if (WaterIsShort(moment, index, heats, AwayK) is { } water)
            return new WhyAnswer(loop.Id, water.Kind, water.Text, lines);
        var output = loop.Mixing >= 0 && moment.Scan.Commands[loop.Pump].Value > 0.5 ? loop.Mixing : loop.Pump;
        var text = output >= 0 ? $"{moment.House.OutputTable[output].Id} {moment.Does(output)}" : "it has no output of its own";
        return new WhyAnswer(loop.Id, output >= 0 ? Verdicts.Of(moment.Scan.Commands[output].Binding.Cause) : VerdictKind.Content, text, lines);
    }

    public static WhyAnswer OfSource(Moment moment, int index)
    {
        var status = moment.Scan.Sources[index];
        var words = CauseWords.Sentence(status.Reason, moment.House.Units);
        var lines = SourceLines(moment, index).ToList();
        foreach (var loop in moment.House.Sources[index].Loops)
            lines.AddRange(LoopLines(moment, loop));
        return new WhyAnswer(moment.House.Sources[index].Id, Verdicts.Of(status.Reason.Cause), $"{(status.Calling ? "called" : "not called")}{(words.Length > 0 ? ": " + words : "")}", lines);
    }

    /// <summary>Water, its limit, pump and mixing valve.</summary>
    public static IEnumerable<WhyLine> LoopLines(Moment moment, int index)
    {
        var (loop, status) = (moment.House.Loops[index], moment.Scan.Loops[index]);
        var parts = new List<string> { $"supply {(double.IsFinite(status.SupplyC) ? moment.Show(status.SupplyC, Quantity.Temperature) : moment.IsMeasured(loop.Supply) ? "not known" : "not measured")}" };
        if (double.IsFinite(status.SetPointC))
            parts.Add($"set point {moment.Show(status.SetPointC, Quantity.Temperature)}");
        if (double.IsFinite(status.LowestSafeSupplyC))
            parts.Add($"lowest safe {moment.Show(status.LowestSafeSupplyC, Quantity.Temperature)}");
        if (loop.Circuits.Length > 0 && loop.Cools)
            parts.Add($"guard {Names.Of(status.Guard)}");
        var limit = moment.HasMemory ? CauseWords.Sentence(moment.Scan.LoopMemories[index].Limit, moment.House.Units) : "";
        yield return new WhyLine(loop.Id, string.Join(", ", parts) + (limit.Length > 0 ? $"; {limit}" : ""));
        foreach (var output in new[] { loop.Pump, loop.Mixing }.Where(output => output >= 0))
            yield return moment.Line(output);
    }

    /// <summary>The call, what it says, and how often it has started.</summary>
    public static IEnumerable<WhyLine> SourceLines(Moment moment, int index)
    {
        var (source, status) = (moment.House.Sources[index], moment.Scan.Sources[index]);
        var water = moment.IsMeasured(source.Supply) ? $", water {moment.Reads(source.Supply)}" : "";
        var starts = status.StartsInHour > 0 ? FormattableString.Invariant($", {status.StartsInHour} start(s) within the hour") : "";
        var words = CauseWords.Sentence(status.Reason, moment.House.Units);
        yield return new WhyLine(source.Id, $"{(status.Calling ? "called" : "not called")} ({Names.Of(status.Mode)}){water}{starts}{(words.Length > 0 ? ": " + words : "")}", moment.Since(moment.Scan.Ages.SourceForS[index]));
    }

    /// <summary>Why the water of a loop cannot help a room that is short of it, or null when it can.</summary>
    /// <param name="moment">When.</param>
    /// <param name="index">The loop.</param>
    /// <param name="heats">Whether it should be warm.</param>
    /// <param name="awayK">How far from its set point counts, K.</param>
    public static (VerdictKind Kind, string Text)? WaterIsShort(Moment moment, int index, bool heats, double awayK)
    {
        var (loop, status) = (moment.House.Loops[index], moment.Scan.Loops[index]);
        var source = moment.Scan.Sources[loop.Source];
        var sourceKind = Verdicts.Of(source.Reason.Cause);
        var sourceWords = $"{moment.House.Sources[loop.Source].Id} is {(source.Calling ? "called" : "not called")}: {CauseWords.Sentence(source.Reason, moment.House.Units)}";
        if (sourceKind == VerdictKind.Source && (!source.Calling || !source.WaterIsForRooms))
            return (VerdictKind.Source, sourceWords);
        if (!double.IsFinite(status.SupplyC) || !double.IsFinite(status.SetPointC))
            return null;
        var away = heats ? status.SetPointC - status.SupplyC : status.SupplyC - status.SetPointC;
        if (away < awayK)
            return null;
        var text = $"{loop.Id} has water of {moment.Show(status.SupplyC, Quantity.Temperature)}, wanted {moment.Show(status.SetPointC, Quantity.Temperature)}";
        if (!source.Calling)
            return (sourceKind == VerdictKind.Waiting ? VerdictKind.Waiting : VerdictKind.Source, $"{text}; {sourceWords}");
        return (VerdictKind.Water, $"{text}{(loop.Pump >= 0 ? $"; {moment.House.OutputTable[loop.Pump].Id} {moment.Does(loop.Pump)}" : "")}");
    }

    /// <summary>Which rooms make a loop's limit what it is.</summary>
    private static IEnumerable<WhyLine> Asking(Moment moment, int index)
    {
        if (!moment.HasMemory)
            yield break;
        foreach (var circuit in moment.House.Loops[index].Circuits.OrderByDescending(circuit => moment.Scan.Circuits[circuit].LowestSafeC))
        {
            var (one, memory) = (moment.House.Circuits[circuit], moment.Scan.Circuits[circuit]);
            var safe = double.IsFinite(memory.LowestSafeC) && memory.LowestSafeC != 0 ? $", lowest safe water {moment.Show(memory.LowestSafeC, Quantity.Temperature)}" : "";
            yield return new WhyLine(one.Id, $"guard {Names.Of(memory.Level)}{safe}, valve {moment.Does(one.Valve)}", moment.Since(moment.Scan.Ages.CircuitForS[circuit]));
        }
    }
}

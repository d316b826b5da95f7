// The requests "set" and "end": a value by hand on one output for a time, and its end. Checked here, logged with their user, given to the loop between two scans;
// the answer says what came of it in the next one. They must never get round the sequence: guard, protections and limits hold.
using System.Globalization;
using System.Text.Json;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Control;

/// <summary>Sets an output by hand. Keys: <c>point</c>, <c>value</c> (text as typed), <c>for</c> (text as typed, 1 s to 4 h), <c>below_start</c> ("yes": a fan may be tried below its start speed, to find that).</summary>
public sealed class SetRequest(ControlParts parts, ControlRequestsWait wait, ControlSay say) : IControlRequest
{
    public string Name => "set";

    public IReadOnlyList<string> Keys { get; } = ["point", "value", "for", "below_start"];

    public void Answer(JsonElement request, PeerUser user, Utf8JsonWriter answer)
    {
        var id = ControlRequests.Text(request, "point") ?? throw new ControlException("\"point\" is missing: which output?");
        var text = ControlRequests.Text(request, "value") ?? throw new ControlException("\"value\" is missing");
        var time = ControlRequests.Text(request, "for") ?? throw new ControlException("\"for\" is missing: for how long, such as \"5 min\"");
        try
        {
            var wish = HandWork.Check(parts, id, text, time, ControlRequests.Text(request, "below_start") == "yes");
            var point = parts.Files.House.OutputTable[wish.Output];
            var shown = ControlJson.Shown(wish.Value, point.Quantity, parts.Files.House.Units);
            var until = ControlJson.LocalIn(parts.Clock, parts.Files.Site.TimeZone, wish.ForS);
            say.Done($"by hand: {user} sets {id} to {shown} for {Quantities.Show(wish.ForS, Quantity.Duration, UnitSystem.Metric)}, until {until}");
            var scan = HandWork.Give(parts, wish, wait);
            answer.WriteBoolean("ok", true);
            answer.WriteString("until", until);
            answer.WriteNumber("for_s", wish.ForS);
            answer.WriteString("wanted", shown);
            HandWork.Write(scan, wish.Output, wish.Value, answer);
        }
        catch (ControlException e)
        {
            say.Done($"by hand: {user} asks {id} to be {Short(text)} for {Short(time)}, refused: {e.Message}");
            throw;
        }
    }

    private static string Short(string text) => text.Length <= 40 ? text : text[..40] + "…";
}

/// <summary>Ends a hand value. Keys: <c>point</c>.</summary>
public sealed class EndRequest(ControlParts parts, ControlRequestsWait wait, ControlSay say) : IControlRequest
{
    public string Name => "end";

    public IReadOnlyList<string> Keys { get; } = ["point"];

    public void Answer(JsonElement request, PeerUser user, Utf8JsonWriter answer)
    {
        var id = ControlRequests.Text(request, "point") ?? throw new ControlException("\"point\" is missing: which output?");
        var output = HandWork.OutputOf(parts, id);
        var was = parts.Latest().Hands[output].Active;
        if (was)
            say.Done($"by hand: {user} ends the hand value of {id}");
        var scan = HandWork.Give(parts, new HandRequest(output, double.NaN, 0), wait);
        answer.WriteBoolean("ok", true);
        answer.WriteBoolean("was_by_hand", was);
        HandWork.Write(scan, output, double.NaN, answer);
    }
}

/// <summary>Waits a moment; true when the run ends meanwhile.</summary>
public delegate bool ControlRequestsWait(TimeSpan time);

/// <summary>What both do.</summary>
internal static class HandWork
{
    /// <exception cref="ControlException">There is no such output, or this run writes none.</exception>
    public static int OutputOf(ControlParts parts, string id)
    {
        var house = parts.Files.House;
        var output = house.OutputTable.IndexOf(id);
        if (output < 0 && house.InputTable.IndexOf(id) >= 0)
            throw new ControlException($"{id} is an input: it is read, nobody sets it; only outputs can be set by hand");
        if (output < 0)
            throw new ControlException(PointWords.Unknown(id, [.. house.OutputTable.All.Select(point => point.Id)]));
        if (parts.Hands is null || parts.IsObserving)
            throw new ControlException("this run observes: nothing is written, so nothing can be set by hand");
        if (!parts.Wires.Any(wire => wire.IsOutput && wire.Index == output))
            throw new ControlException($"{id} is not wired: no device would get its value");
        return output;
    }

    /// <exception cref="ControlException">Something is wrong with it; says what is allowed.</exception>
    public static HandRequest Check(ControlParts parts, string id, string text, string time, bool belowStart = false)
    {
        var output = OutputOf(parts, id);
        var house = parts.Latest().House;
        if (HandOutputs.WhyNever(house, output) is { } never)
            throw new ControlException($"{id} is never set by hand: {never}");
        if (!HandOutputs.TryRead(text, house.OutputTable[output], house.Units, out var value, out var why))
            throw new ControlException($"value \"{text}\" {why}");
        if (!HandOutputs.TryReadTime(time, out var forS, out why))
            throw new ControlException($"--for \"{time}\" {why}");
        if (!(forS >= 1 && forS <= HandValues.LongestS))
            throw new ControlException($"--for {time}: a hand value lasts from 1 s to {HandValues.LongestS / 3600:0} h, so that one that was forgotten is gone by the evening");
        if (!HandValues.IsAllowed(house, output, value, forS, out why, belowStart))
            throw new ControlException($"{id}: {why}");
        return new HandRequest(output, value, forS);
    }

    /// <summary>Gives it to the loop and waits for the scan that has taken it.</summary>
    /// <exception cref="ControlException">The loop does not take it.</exception>
    public static HouseSnapshot Give(ControlParts parts, in HandRequest request, ControlRequestsWait wait)
    {
        var before = parts.Board.Published;
        if (!parts.Hands!.TryPut(request))
            throw new ControlException("too many hand values at once: try again in a few seconds");
        // Two scans: the one under way may have looked into the queue already.
        var patience = TimeSpan.FromSeconds(5 + 3 * parts.Files.House.Settings.ScanPeriodS);
        var step = TimeSpan.FromMilliseconds(20);
        for (var waited = TimeSpan.Zero; waited < patience; waited += step)
        {
            if (parts.Board.Published > before)
            {
                var scan = parts.Latest();
                var hand = scan.Hands[request.Output];
                if (scan.Scans >= before + 2 || (double.IsNaN(request.Value) ? !hand.Active : hand.Active && hand.Value == request.Value && request.ForS - hand.RemainingS < 1e-9))
                    return scan;
            }
            if (wait(step))
                throw new ControlException("the run ends just now");
        }
        throw new ControlException(string.Create(CultureInfo.InvariantCulture, $"the loop has not taken a scan for {patience.TotalSeconds:0} s: see the log"));
    }

    /// <summary>What came of it: the value that holds and what bound it.</summary>
    public static void Write(HouseSnapshot scan, int output, double wanted, Utf8JsonWriter json)
    {
        var (point, command, units) = (scan.House.OutputTable[output], scan.Commands[output], scan.House.Units);
        json.WriteString("point", point.Id);
        json.Value("value", command.Value, point.Quantity);
        json.WriteString("shown", ControlJson.Shown(command.Value, point.Quantity, units));
        var holds = command.Binding.Cause == Cause.HandValue || Math.Abs(command.Value - wanted) < 1e-9;
        json.WriteBoolean("holds", holds);
        json.WriteString("reason", CauseWords.Name(command.Binding.Cause));
        json.WriteString("why", holds || double.IsNaN(wanted) ? CauseWords.Sentence(command.Binding, units) : HandLimits.Why(scan, output));
    }
}

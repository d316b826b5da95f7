// A person at a terminal: a request is a line, the answer is a line: Enter for done or yes, n for no, a number with or without its unit, skip and the reason, stop. Must never take an answer it did not understand.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Checkout;

/// <summary>Asks a person.</summary>
/// <param name="plant">For the time a person takes to see something stand still.</param>
/// <param name="ask">Writes a request.</param>
/// <param name="read">Reads a line; null: the input has ended. Throws <see cref="OperationCanceledException"/> when the walk is ended.</param>
public sealed class PersonHands(IWalkPlant plant, Action<string> ask, Func<string?> read) : IHandsAndEyes
{
    /// <summary>What may be answered.</summary>
    public const string Help = "Enter: done, yes. n: no. A number where one is asked for (Enter: not known). skip REASON: leave this step out. stop: end here, go on another time.";

    /// <inheritdoc/>
    public Reply Ask(Request request)
    {
        ArgumentNullException.ThrowIfNull(request);
        var fromS = plant.ElapsedS;
        while (true)
        {
            ask($"  ? {request.Text}");
            string? line;
            try
            {
                line = read();
            }
            catch (OperationCanceledException)
            {
                throw new StopWalkException("ended as told");
            }
            if (line is null)
                throw new StopWalkException("the input has ended");
            if (line.Trim() == "?")
                ask("    " + Help);
            else if (Answers.TryRead(request, line, plant.House.Units, plant.ElapsedS - fromS, out var reply, out var why))
                return reply;
            else
                ask($"    {why}");
        }
    }
}

/// <summary>Answers as people type them.</summary>
internal static class Answers
{
    /// <summary>Reads one; false with what is allowed.</summary>
    /// <exception cref="SkipStepException">skip, with the reason.</exception>
    /// <exception cref="StopWalkException">stop.</exception>
    public static bool TryRead(Request request, string line, UnitSystem units, double passedS, out Reply reply, out string why)
    {
        var text = line.Trim();
        (reply, why) = (Reply.Done, "");
        if (text.Equals("stop", StringComparison.OrdinalIgnoreCase))
            throw new StopWalkException("stopped");
        if (text.Equals("skip", StringComparison.OrdinalIgnoreCase) || text.StartsWith("skip ", StringComparison.OrdinalIgnoreCase))
            throw new SkipStepException(text.Length > 5 ? text[5..].Trim() : "no reason given");
        if (request.Number is { } quantity)
            return Number(request, quantity, text, units, passedS, out reply, out why);
        if (text.Length == 0 || text.ToUpperInvariant() is "Y" or "YES" or "DONE" or "OK")
            return true;
        reply = Reply.No;
        if (text.ToUpperInvariant() is "N" or "NO")
            return true;
        why = $"\"{text}\" is no answer here; {PersonHands.Help}";
        return false;
    }

    private static bool Number(Request request, Quantity quantity, string text, UnitSystem units, double passedS, out Reply reply, out string why)
    {
        why = "";
        reply = new Reply(true, request.Deed == Deed.TimeUntilStill ? passedS : double.NaN);
        if (text.Length == 0 || (request.Deed == Deed.TimeUntilStill && text.Equals("done", StringComparison.OrdinalIgnoreCase)))
            return true;
        if (!QuantityText.TryRead(text, quantity, units, out var value, out why))
        {
            why = $"\"{text}\" {why}";
            return false;
        }
        reply = new Reply(true, value);
        return true;
    }
}

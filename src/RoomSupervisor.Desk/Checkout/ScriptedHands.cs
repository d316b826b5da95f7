// Answers from a file: for a rehearsed walk, a bad line, a test. A line is an answer, in order; or a step and its answer, wherever it stands; a star takes the place of the rest of a step's name and may be used any number
// of times. Must never guess: an answer that does not fit ends the walk with file and line.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Checkout;

/// <summary>Reads answers from lines.</summary>
public sealed class ScriptedHands : IHandsAndEyes
{
    private readonly string name;
    private readonly UnitSystem units;
    private readonly Action<string> say;
    private readonly Queue<(int Line, string Text)> inOrder = new();
    private readonly Dictionary<string, Queue<(int Line, string Text)>> byStep = new(StringComparer.Ordinal);
    private readonly List<(string Beginning, int Line, string Text)> always = [];

    /// <param name="name">Name of the file, for messages.</param>
    /// <param name="lines">Its lines. <c>#</c> begins a remark; <c>enter</c> stands for an empty answer.</param>
    /// <param name="units">Units of the site.</param>
    /// <param name="say">Told each request with its answer.</param>
    public ScriptedHands(string name, IEnumerable<string> lines, UnitSystem units, Action<string> say)
    {
        ArgumentNullException.ThrowIfNull(lines);
        (this.name, this.units, this.say) = (name, units, say);
        var number = 0;
        foreach (var line in lines)
        {
            number++;
            var text = line.Split('#')[0].Trim();
            if (text.Length > 0)
                Take(number, text);
        }
    }

    private void Take(int number, string text)
    {
        var at = text.IndexOf('=', StringComparison.Ordinal);
        var key = at > 0 ? text[..at].Trim() : "";
        if (!key.Contains('/', StringComparison.Ordinal))
        {
            inOrder.Enqueue((number, Plain(text)));
            return;
        }
        var answer = Plain(text[(at + 1)..].Trim());
        if (key.EndsWith('*'))
        {
            always.Add((key[..^1], number, answer));
            return;
        }
        if (!byStep.TryGetValue(key, out var queue))
            byStep[key] = queue = new Queue<(int, string)>();
        queue.Enqueue((number, answer));
    }

    private static string Plain(string text) => text.Equals("enter", StringComparison.OrdinalIgnoreCase) ? "" : text;

    /// <inheritdoc/>
    public Reply Ask(Request request)
    {
        ArgumentNullException.ThrowIfNull(request);
        var (line, text) = Next(request.Step);
        say($"  ? {request.Text}  [{(text.Length == 0 ? "enter" : text)}]");
        return Answers.TryRead(request, text, units, double.NaN, out var reply, out var why) ? reply : throw new StopWalkException($"{name}:{line}: {why}");
    }

    private (int Line, string Text) Next(string step)
    {
        if (byStep.TryGetValue(step, out var own) && own.Count > 0)
            return own.Dequeue();
        foreach (var (beginning, line, text) in always)
        {
            if (step.StartsWith(beginning, StringComparison.Ordinal))
                return (line, text);
        }
        return inOrder.Count > 0 ? inOrder.Dequeue() : throw new StopWalkException($"{name}: the answers end here");
    }
}

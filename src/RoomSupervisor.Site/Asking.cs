// One question at a time on a terminal, or down a pipe: what stands there unless somebody says otherwise is shown in the question, and an answer that cannot be is told why and asked for again.
// Must never take a default in silence where none was shown, nor go on when the answers end.
namespace RoomSupervisor.Site;

/// <summary>Asks.</summary>
public static class Asking
{
    /// <summary>Asks until the answer is sound or the input ends.</summary>
    /// <param name="input">Where answers come from.</param>
    /// <param name="output">Where questions go.</param>
    /// <param name="question">The question, without a mark behind it.</param>
    /// <param name="usual">What an empty line stands for, as it is shown; null: an empty line is an answer like any other.</param>
    /// <param name="take">Gets the sound answer, trimmed; the shown default where the line was empty.</param>
    /// <param name="fault">What is wrong with an answer, or an empty text.</param>
    /// <returns>False when the input has ended.</returns>
    public static bool Ask(TextReader input, TextWriter output, string question, string? usual, Action<string> take, Func<string, string> fault)
    {
        ArgumentNullException.ThrowIfNull(input);
        ArgumentNullException.ThrowIfNull(output);
        ArgumentNullException.ThrowIfNull(take);
        ArgumentNullException.ThrowIfNull(fault);
        while (true)
        {
            output.Write(usual is null ? question + ": " : $"{question} [{usual}]: ");
            if (input.ReadLine() is not { } line)
                return false;
            var answer = line.Trim() is { Length: > 0 } said ? said : usual ?? "";
            if (fault(answer) is { Length: > 0 } why)
            {
                output.WriteLine("  " + why);
                continue;
            }
            take(answer);
            return true;
        }
    }
}

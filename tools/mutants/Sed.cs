// Carries out the expression of a mutant by sed itself and sees that each of its commands fits: one that changes no line, or several, proves nothing about the rule it names. Never writes a file.
using System.Diagnostics;

namespace RoomSupervisor.Mutants;

internal static class Sed
{
    /// <summary>The mutated text, or null and why not.</summary>
    public static string? Apply(string text, string expression, out string trouble)
    {
        trouble = "";
        foreach (var command in Commands(expression))
        {
            var after = Run(text, command);
            var changed = after.Split('\n').Zip(text.Split('\n')).Count(line => line.First != line.Second);
            if (changed != 1 || after.Count(c => c == '\n') != text.Count(c => c == '\n'))
            {
                trouble = changed == 0 ? $"no longer fits the source: {command}" : $"fits {changed} lines: {command}";
                return null;
            }
            text = after;
        }
        return text;
    }

    /// <summary>The commands of an expression: "s", its delimiter, two parts in which the delimiter may be escaped, and what follows up to "; s".</summary>
    public static IEnumerable<string> Commands(string expression)
    {
        for (var start = 0; start < expression.Length;)
        {
            var at = start + 1;
            var delimiter = at < expression.Length ? expression[at] : '\0';
            for (var part = 0; part < 2 && at < expression.Length; part++)
            {
                for (at++; at < expression.Length && expression[at] != delimiter; at++)
                {
                    if (expression[at] == '\\')
                        at++;
                }
            }
            var end = at < expression.Length ? expression.IndexOf(';', at) : -1;
            yield return end < 0 ? expression[start..] : expression[start..end];
            start = end < 0 ? expression.Length : end + 1;
            while (start < expression.Length && expression[start] == ' ')
                start++;
        }
    }

    private static string Run(string text, string command)
    {
        var start = new ProcessStartInfo("sed", ["-e", command]) { RedirectStandardInput = true, RedirectStandardOutput = true };
        using var process = Process.Start(start) ?? throw new InvalidOperationException("sed cannot be started");
        var read = process.StandardOutput.ReadToEndAsync();
        process.StandardInput.Write(text);
        process.StandardInput.Close();
        process.WaitForExit();
        return process.ExitCode == 0 ? read.Result : throw new InvalidDataException($"sed does not understand {command}");
    }
}

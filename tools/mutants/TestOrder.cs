// Puts the tests of a mutant in an order in which one that fails comes early, since the first failure ends the run: quick ones before slow ones, those named after the mutant's rule before others. Leaves none out.
using System.Globalization;
using System.Text.RegularExpressions;

namespace RoomSupervisor.Mutants;

internal static partial class TestOrder
{
    private const double SameRule = 30, SharedWord = 4, LeastS = 0.01;

    /// <param name="tookS">All tests that must notice it and how long each takes, s.</param>
    public static IEnumerable<string> For(Mutant mutant, IReadOnlyDictionary<string, double> tookS)
    {
        var number = Number().Match(mutant.Name).Value;
        var rule = number.Length == 0 ? null : string.Create(CultureInfo.InvariantCulture, $"_{number.Replace('.', '_')}_");
        var words = Words().Matches(mutant.Name).Concat(Words().Matches(Path.GetFileNameWithoutExtension(mutant.File))).Select(word => word.Value).ToHashSet(StringComparer.OrdinalIgnoreCase);
        return tookS.OrderBy(test => (test.Value + LeastS) / Likelihood(test.Key, rule, words)).ThenBy(test => test.Key, StringComparer.Ordinal).Select(test => test.Key);
    }

    private static double Likelihood(string test, string? rule, HashSet<string> words)
        => 1 + (rule is not null && test.Contains(rule, StringComparison.Ordinal) ? SameRule : 0) + SharedWord * words.Count(word => test.Contains(word, StringComparison.OrdinalIgnoreCase));

    [GeneratedRegex(@"^\d+(\.\d+)?")]
    private static partial Regex Number();

    [GeneratedRegex(@"[A-Za-z]{4,}")]
    private static partial Regex Words();
}

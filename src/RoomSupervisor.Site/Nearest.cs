// The known word that is nearest to what was typed, for "did you mean". Silent when nothing is near: a wrong hint is worse than none.
namespace RoomSupervisor.Site;

/// <summary>Did you mean.</summary>
public static class Nearest
{
    private const int LongestWord = 64;

    /// <summary>The nearest of some words, or null.</summary>
    public static string? To(string typed, IEnumerable<string> known)
    {
        if (typed.Length is 0 or > LongestWord)
            return null;
        var plain = Plain(typed);
        var best = plain.Length <= 3 ? 2 : plain.Length <= 6 ? 3 : 4;
        string? nearest = null;
        foreach (var word in known)
        {
            if (Math.Abs(word.Length - typed.Length) >= best)
                continue;
            var distance = Distance(plain, Plain(word));
            if (distance >= best)
                continue;
            best = distance;
            nearest = word;
        }
        return nearest ?? OnlyOneWith(plain, known);
    }

    /// <summary>The only word that begins or ends with what was typed: "holding" is holding-register.</summary>
    private static string? OnlyOneWith(string plain, IEnumerable<string> known)
    {
        if (plain.Length < 4)
            return null;
        var found = known.Where(word => Plain(word).StartsWith(plain, StringComparison.Ordinal) || Plain(word).EndsWith(plain, StringComparison.Ordinal)).Take(2).ToList();
        return found.Count == 1 ? found[0] : null;
    }

    /// <summary>"did you mean …?" or nothing.</summary>
    public static string Hint(string typed, IEnumerable<string> known) => To(typed, known) is { } word ? $"did you mean {word}?" : "";

    private static string Plain(string word) => word.ToLowerInvariant().Replace('_', '-').Replace(' ', '-');

    /// <summary>Edit distance with neighbours exchanged counting as one (optimal string alignment).</summary>
    private static int Distance(string a, string b)
    {
        var cells = new int[a.Length + 1, b.Length + 1];
        for (var i = 0; i <= a.Length; i++)
            cells[i, 0] = i;
        for (var j = 0; j <= b.Length; j++)
            cells[0, j] = j;
        for (var i = 1; i <= a.Length; i++)
        {
            for (var j = 1; j <= b.Length; j++)
            {
                var cost = a[i - 1] == b[j - 1] ? 0 : 1;
                cells[i, j] = Math.Min(Math.Min(cells[i - 1, j] + 1, cells[i, j - 1] + 1), cells[i - 1, j - 1] + cost);
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                    cells[i, j] = Math.Min(cells[i, j], cells[i - 2, j - 2] + 1);
            }
        }
        return cells[a.Length, b.Length];
    }
}

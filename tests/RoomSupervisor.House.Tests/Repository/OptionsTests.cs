// What papers and scripts of the repository type: every option that stands behind a verb is one of that verb. A demo that asks for an option that was renamed does nothing but say so.
using System.Text.RegularExpressions;
using RoomSupervisor.House.Tests.Verbs;

namespace RoomSupervisor.House.Tests.Repository;

public partial class OptionsTests
{
    private static readonly string[] Written = ["README.md", "DEVELOPERS.md", "tools/demo", "tools/long", "tools/how-good", "deploy/README.md", "shared/reference/how-good.md", "shared/reference/virtual-house.md", "shared/reference/estimate.md", "shared/reference/lockstep.md"];

    [Fact]
    public void Every_option_behind_a_verb_is_one_of_that_verb()
    {
        var verbs = VerbOfHelp().Matches(TypedHere.Verb("--help").Out).Select(match => match.Groups[1].Value).ToHashSet();
        Assert.True(verbs.Contains("rehearse") && verbs.Contains("estimate") && verbs.Count > 20, string.Join(' ', verbs));
        var helps = new Dictionary<string, string>();
        var (looked, wrong) = (0, new List<string>());
        foreach (var file in Written)
        {
            foreach (Match match in Command().Matches(File.ReadAllText(Path.Combine(Root.Path, file))))
            {
                var verb = match.Groups[1].Value;
                if (!verbs.Contains(verb))
                    continue;
                // A verb of a verb (care done) has options of its own.
                var word = match.Groups[2].Value.TrimStart().Split(' ')[0];
                string[] typed = word.Length > 0 && word.All(char.IsAsciiLetterLower) ? [verb, word, "--help"] : [verb, "--help"];
                if (!helps.TryGetValue(string.Join(' ', typed), out var help))
                    helps[string.Join(' ', typed)] = help = TypedHere.Verb(typed).Out + TypedHere.Verb(verb, "--help").Out;
                foreach (Match option in Option().Matches(match.Groups[2].Value))
                {
                    looked++;
                    if (!Regex.IsMatch(help, Regex.Escape(option.Value) + @"(?![a-z-])"))
                        wrong.Add($"{file}: {verb} has no {option.Value}");
                }
            }
        }
        Assert.True(looked > 40, $"only {looked} options were found");
        Assert.Empty(wrong);
    }

    [GeneratedRegex(@"^  ([a-z][a-z-]*)", RegexOptions.Multiline)]
    private static partial Regex VerbOfHelp();

    /// <summary>A verb behind the program's name, or first in a word of code, and what follows it.</summary>
    [GeneratedRegex(@"(?:room-supervisor |`)([a-z][a-z-]*)( [^`\n|;]*)")]
    private static partial Regex Command();

    [GeneratedRegex(@"(?<=[ \[(])--[a-z][a-z-]*")]
    private static partial Regex Option();
}

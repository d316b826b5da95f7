// rehearse --compare: the options of a comparison, its files and its exit code. Must never play before everything asked for is understood.
using System.Text;
using RoomSupervisor.Desk.Compare;
using RoomSupervisor.Desk.Rehearsal;

namespace RoomSupervisor.Verbs;

internal static class CompareRun
{
    private const ulong MostSeeds = 30;

    /// <summary>0 done, 2 something was not understood.</summary>
    public static int Play(RehearsalWish wish, string? range, string? jsonPath, string? reportPath, bool asksMore, Func<List<string>> clashes)
    {
        if (asksMore)
            return RehearseVerb.Refuse(["--compare: error: it writes --json and --html only; leave --trace, --lines, --records, --samples and --story out, or play one run without --compare"]);
        if (range is not null && wish.Seed is not null)
            return RehearseVerb.Refuse(["--seed: error: --seeds names seeds as well; give one of them"]);
        if (RehearsalReader.Read(wish, out var problems) is not { } plan)
            return RehearseVerb.Refuse(problems);
        var (first, last) = (plan.Seed, plan.Seed);
        if (range is not null && RehearseVerb.Range(range, MostSeeds, out first, out last) is { } wrong)
            return RehearseVerb.Refuse([wrong]);
        if (Comparisons.WhyNot(plan, last) is { } why)
            return RehearseVerb.Refuse([why]);
        List<string> unwritable = clashes();
        if (unwritable.Count > 0)
            return RehearseVerb.Refuse(unwritable);
        using var json = RehearseVerb.Create("--json", jsonPath, unwritable);
        using var report = RehearseVerb.Create("--html", reportPath, unwritable);
        if (unwritable.Count > 0)
            return RehearseVerb.Refuse(unwritable);
        using var page = report is null ? null : new StreamWriter(report, new UTF8Encoding(false));
        Comparisons.Play(plan, first, last, Console.Out, json, page, Console.IsErrorRedirected ? null : line => Console.Error.Write($"\r{line}".PadRight(76)));
        if (reportPath is not null)
            Console.WriteLine($"report: {Path.GetFullPath(reportPath)}");
        return 0;
    }
}

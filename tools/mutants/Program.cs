// Are the tests of the sequence worth anything? Takes its rules out one by one (the lists beside this file) and sees that the tests meant to notice it do. Called by tools/long; works beside the build's output, never on the sources.
//   dotnet run -c Release --project tools/mutants                          all lists
//   dotnet run -c Release --project tools/mutants -- --list days           one list; may stand several times
//   dotnet run -c Release --project tools/mutants -- --name "5.1 no m"     mutants whose name holds this
//   … --fits                                                               only whether each expression changes one line a command and the sequence still builds
//   … --no-build                                                           the tests are built already
//   … --workers 1                                                          how many at once (2)
// Exit code 0: every mutant was noticed; 1: one was not, does not build or does not fit; 2: nothing could be tried.
using System.Diagnostics;
using System.Globalization;
using RoomSupervisor.Mutants;

if (args is [TestRun.Word, var assembly, var order])
    return TestRun.Play(assembly, order);
try
{
    return Choice.Parse(args) is { } choice ? Trials.Run(choice) : 2;
}
catch (Exception problem) when (problem is InvalidDataException or InvalidOperationException or IOException)
{
    Console.Error.WriteLine(problem.Message);
    return 2;
}

internal sealed record Choice(List<string> Lists, List<string> Names, bool FitsOnly, bool Builds, int Workers)
{
    public static Choice? Parse(string[] args)
    {
        var choice = new Choice([], [], false, true, 2);
        for (var i = 0; i < args.Length; i++)
        {
            var value = i + 1 < args.Length ? args[i + 1] : "";
            if (args[i] is "--fits" or "--no-build")
            {
                choice = args[i] == "--fits" ? choice with { FitsOnly = true } : choice with { Builds = false };
                continue;
            }
            i++;
            if (args[i - 1] == "--list" && value.Length > 0)
                choice.Lists.Add(value);
            else if (args[i - 1] == "--name" && value.Length > 0)
                choice.Names.Add(value);
            else if (args[i - 1] == "--workers" && int.TryParse(value, NumberStyles.None, CultureInfo.InvariantCulture, out var workers) && workers is > 0 and < 64)
                choice = choice with { Workers = workers };
            else
            {
                Console.Error.WriteLine($"not understood: {args[i - 1]} {value}; --list NAME, --name TEXT, --fits, --no-build, --workers N");
                return null;
            }
        }
        return choice;
    }

    public bool Takes(Mutant mutant)
        => (Lists.Count == 0 || Lists.Contains(mutant.List.Name)) && (Names.Count == 0 || Names.Any(name => mutant.Name.Contains(name, StringComparison.OrdinalIgnoreCase)));
}

internal static class Trials
{
    public static int Run(Choice choice)
    {
        var clock = Stopwatch.StartNew();
        var root = Root();
        var mutants = MutantList.ReadAll(Path.Combine(root, "tools", "mutants")).Where(choice.Takes).ToList();
        if (mutants.Count == 0)
            throw new InvalidDataException("no mutant of that list or name");
        var tests = Path.Combine(root, "tests", "RoomSupervisor.Parts.Tests");
        if (choice.Builds)
            Dotnet.Run(tests, "build", "-c", "Release", "-v", "quiet", "--nologo");
        var compiler = SequenceCompiler.Load(root);
        if (choice.FitsOnly)
            return Fits(compiler, mutants);
        var workers = Enumerable.Range(1, choice.Workers).Select(number => new TestFolder(Path.Combine(tests, "bin", "Release", "net10.0"), number)).ToArray();
        var trial = new Trial(compiler, workers, Console.Out);
        if (!trial.PassesAsItIs(mutants.Select(mutant => mutant.List).Distinct()))
            return 2;
        trial.Try(mutants);
        return Total(trial, mutants.Count, clock.Elapsed);
    }

    private static int Total(Trial trial, int count, TimeSpan took)
    {
        var noticed = trial.Of(Verdict.Noticed) + trial.Of(Verdict.NoticedBrokeOff) + trial.Of(Verdict.NoticedHung);
        Console.WriteLine(FormattableString.Invariant($"{noticed} of {count} mutants noticed ({trial.Of(Verdict.NoticedHung)} hung, {trial.Of(Verdict.NoticedBrokeOff)} broke off), {trial.Of(Verdict.Survived)} survived, {trial.Of(Verdict.DoesNotBuild)} do not build, {trial.Of(Verdict.DoesNotFit)} do not fit; {took.TotalMinutes:0.0} min"));
        return noticed == count ? 0 : 1;
    }

    private static int Fits(SequenceCompiler compiler, List<Mutant> mutants)
    {
        var wrong = 0;
        var into = Path.Combine(AppContext.BaseDirectory, "fits.dll");
        foreach (var mutant in mutants)
        {
            if (Sed.Apply(compiler.TextOf(mutant.File), mutant.Expression, out var why) is { } text && compiler.Write(mutant.File, text, into, out why))
                continue;
            wrong++;
            Console.WriteLine($"{mutant.List.Name}: {mutant.Name}: {why}");
        }
        Console.WriteLine($"{mutants.Count - wrong} of {mutants.Count} mutants fit and build");
        return wrong == 0 ? 0 : 1;
    }

    private static string Root()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "RoomSupervisor.sln")))
            folder = Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException("RoomSupervisor.sln is in no folder above this tool");
        return folder;
    }
}

// Tries mutants: the unmutated sequence must pass every test by the same path first, then each mutant must make one fail. Two workers, each with a folder of its own; says each verdict as it comes.
using System.Collections.Concurrent;

namespace RoomSupervisor.Mutants;

/// <summary>What became of a mutant; all but the first three fail the trial.</summary>
internal enum Verdict { Noticed, NoticedBrokeOff, NoticedHung, Survived, DoesNotBuild, DoesNotFit }

internal sealed class Trial(SequenceCompiler compiler, TestFolder[] workers, TextWriter output)
{
    private readonly ConcurrentDictionary<MutantList, RunResult> unmutated = new();
    private readonly ConcurrentDictionary<Verdict, int> verdicts = new();
    private int done;

    public int Of(Verdict verdict) => verdicts.GetValueOrDefault(verdict);

    /// <summary>Plays the tests of each list with the sequence as it is; false when one fails: then nothing can be proved.</summary>
    public bool PassesAsItIs(IEnumerable<MutantList> lists)
    {
        var passes = true;
        Share(lists, (worker, list) =>
        {
            if (!compiler.Write(null, null, worker.SequencePath, out var errors))
                throw new InvalidOperationException($"the sequence does not build as it is:\n{errors}");
            var run = unmutated[list] = worker.RunAll(list);
            passes &= run.Ending == Ending.Passed;
            Say(run.Ending == Ending.Passed
                ? FormattableString.Invariant($"{list.Name}: {run.TookS.Count} tests pass as it is, {run.ProcessorS:0} s of processor time")
                : $"{list.Name}: FAILS UNMUTATED in {run.Test}: {run.Told}");
        });
        return passes;
    }

    public void Try(IReadOnlyCollection<Mutant> mutants)
        => Share(mutants, (worker, mutant) =>
        {
            var verdict = Try(worker, mutant, out var why, out var processorS);
            verdicts.AddOrUpdate(verdict, 1, (_, count) => count + 1);
            var number = Interlocked.Increment(ref done);
            Say(FormattableString.Invariant($"{number,4}/{mutants.Count} {mutant.List.Name}: {mutant.Name}: {Words(verdict)}{why} ({processorS:0.0} s)"));
        });

    private Verdict Try(TestFolder worker, Mutant mutant, out string why, out double processorS)
    {
        processorS = 0;
        if (Sed.Apply(compiler.TextOf(mutant.File), mutant.Expression, out why) is not { } text)
            return Verdict.DoesNotFit;
        if (!compiler.Write(mutant.File, text, worker.SequencePath, out why))
            return Verdict.DoesNotBuild;
        var asItIs = unmutated[mutant.List];
        var run = worker.RunInOrder(mutant.List, TestOrder.For(mutant, asItIs.TookS), 3 * asItIs.ProcessorS + 30);
        processorS = run.ProcessorS;
        why = run.Ending == Ending.Passed ? "" : $" in {Short(run.Test)}" + (run.Told.Length == 0 ? "" : $": {(run.Told.Length > 160 ? run.Told[..160] + " …" : run.Told)}");
        return run.Ending switch
        {
            Ending.Failed => Verdict.Noticed,
            Ending.BrokeOff => Verdict.NoticedBrokeOff,
            Ending.Hung => Verdict.NoticedHung,
            _ => Verdict.Survived,
        };
    }

    private static string Words(Verdict verdict) => verdict switch
    {
        Verdict.Noticed => "noticed",
        Verdict.NoticedBrokeOff => "noticed, the run broke off",
        Verdict.NoticedHung => "noticed, the run hung",
        Verdict.Survived => "SURVIVED",
        Verdict.DoesNotBuild => "DOES NOT BUILD: ",
        _ => "DOES NOT FIT: ",
    };

    private static string Short(string test) => test.Replace("RoomSupervisor.Parts.Tests.", "", StringComparison.Ordinal);

    /// <summary>Every worker takes the next one until none is left.</summary>
    private void Share<T>(IEnumerable<T> all, Action<TestFolder, T> does)
    {
        var left = new ConcurrentQueue<T>(all);
        Task.WhenAll([.. workers.Select(worker => Task.Factory.StartNew(
            () =>
            {
                while (left.TryDequeue(out var one))
                    does(worker, one);
            },
            CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default))]).GetAwaiter().GetResult();
    }

    private void Say(string line)
    {
        lock (output)
            output.WriteLine(line);
    }
}

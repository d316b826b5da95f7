// A private copy of the tests' output, in which the assembly of the sequence is exchanged; runs tests there in a process of their own, which is ended when it hangs. One worker each.
using System.Diagnostics;
using System.Globalization;

namespace RoomSupervisor.Mutants;

/// <summary>How a run of tests ended: none failed, one failed, the process broke off, it used far more processor time than the tests need (or stood still).</summary>
internal enum Ending { Passed, Failed, BrokeOff, Hung }

/// <param name="Test">The test that failed or was running.</param>
/// <param name="Told">What the failing test said, on one line.</param>
/// <param name="TookS">Seconds of each test that passed.</param>
internal sealed record RunResult(Ending Ending, string Test, string Told, IReadOnlyDictionary<string, double> TookS, double ProcessorS);

internal sealed class TestFolder
{
    private const string Tests = "RoomSupervisor.Parts.Tests.dll", Sequence = "RoomSupervisor.Sequence.dll";

    private readonly string folder;

    public TestFolder(string output, int number)
    {
        folder = Path.Combine(AppContext.BaseDirectory, "work", number.ToString(CultureInfo.InvariantCulture));
        if (Directory.Exists(folder))
            Directory.Delete(folder, recursive: true);
        Directory.CreateDirectory(folder);
        foreach (var file in Directory.GetFiles(output))
            File.Copy(file, Path.Combine(folder, Path.GetFileName(file)));
    }

    /// <summary>Where the compiler puts the assembly of the sequence.</summary>
    public string SequencePath => Path.Combine(folder, Sequence);

    /// <summary>All tests that a list wants.</summary>
    public RunResult RunAll(MutantList list) => Run(list, "all:" + string.Join(' ', list.Tests), double.PositiveInfinity);

    /// <param name="names">Tests in their order; the first that fails ends the run.</param>
    /// <param name="limitS">Processor time after which the run hangs, s.</param>
    public RunResult RunInOrder(MutantList list, IEnumerable<string> names, double limitS)
    {
        var order = Path.Combine(folder, "order.txt");
        File.WriteAllLines(order, names);
        return Run(list, order, limitS);
    }

    private RunResult Run(MutantList list, string order, double limitS)
    {
        var start = new ProcessStartInfo(Dotnet.Command, ["exec", typeof(TestFolder).Assembly.Location, TestRun.Word, Path.Combine(folder, Tests), order])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.Environment["ROOM_SUPERVISOR_INVARIANTS_STOP"] = "1";   // the first complaint is enough: no counting, no shortening
        start.Environment["DOTNET_TieredPGO"] = "0";                  // these processes live for seconds
        foreach (var variable in list.Variables.Select(variable => variable.Split('=', 2)))
            start.Environment[variable[0]] = variable[1];
        using var process = Process.Start(start) ?? throw new InvalidOperationException("dotnet cannot be started");
        var said = new Sayings();
        process.OutputDataReceived += (_, line) => said.Hear(line.Data);
        process.ErrorDataReceived += (_, _) => { };
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        var hung = Wait(process, limitS, out var processorS);
        processorS = Math.Max(processorS, said.ProcessorS);
        var ending = hung ? Ending.Hung : process.ExitCode switch
        {
            TestRun.Passed => Ending.Passed,
            TestRun.OneFailed => Ending.Failed,
            TestRun.NoneFound => throw new InvalidDataException($"no test found for {order}"),
            _ => Ending.BrokeOff,
        };
        return new RunResult(ending, said.Test, said.Told, said.TookS, processorS);
    }

    /// <summary>Waits for its end; true when it had to be ended. By processor time, so that a busy machine makes nothing hang; ten times as long by the clock.</summary>
    private static bool Wait(Process process, double limitS, out double processorS)
    {
        var clock = Stopwatch.StartNew();
        processorS = 0;
        while (!process.WaitForExit(100))
        {
            processorS = UsedS(process) ?? processorS;
            if (processorS < limitS && clock.Elapsed.TotalSeconds < 10 * limitS)
                continue;
            process.Kill(entireProcessTree: true);
            process.WaitForExit();
            return true;
        }
        process.WaitForExit();
        return false;
    }

    /// <summary>Processor time of a process, s; null when it has ended.</summary>
    private static double? UsedS(Process process)
    {
        try
        {
            process.Refresh();
            return process.TotalProcessorTime.TotalSeconds;
        }
        catch (Exception ended) when (ended is InvalidOperationException or System.ComponentModel.Win32Exception)
        {
            return null;
        }
    }

    /// <summary>What the inner process has said so far.</summary>
    private sealed class Sayings
    {
        private readonly Dictionary<string, double> tookS = [];

        public string Test { get; private set; } = "";

        public string Told { get; private set; } = "";

        public double ProcessorS { get; private set; }

        public IReadOnlyDictionary<string, double> TookS => tookS;

        public void Hear(string? line)
        {
            if (line is null)
                return;
            if (line.StartsWith(TestRun.Begins, StringComparison.Ordinal))
                Test = line[TestRun.Begins.Length..];
            else if (line.StartsWith(TestRun.Used, StringComparison.Ordinal))
                ProcessorS = double.Parse(line[TestRun.Used.Length..], CultureInfo.InvariantCulture);
            else if (line.StartsWith(TestRun.Told, StringComparison.Ordinal))
                Told = line[TestRun.Told.Length..];
            else if (line.StartsWith(TestRun.Took, StringComparison.Ordinal) && line.Split(' ', 3) is [_, var seconds, var name])
                tookS[name] = double.Parse(seconds, CultureInfo.InvariantCulture);
        }
    }
}

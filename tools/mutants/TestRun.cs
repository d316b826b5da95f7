// The inner process: loads the tests from a folder and runs those of an order, one after the other, until one fails. Says on its output what it begins and what failed; never judges a mutant.
using System.Globalization;
using System.Reflection;
using System.Runtime.Loader;
using Xunit.Abstractions;
using Xunit.Sdk;

namespace RoomSupervisor.Mutants;

internal static class TestRun
{
    public const string Word = "run-tests", Begins = "begins ", Took = "took ", Failed = "failed ", Told = "told ", Used = "used ";

    /// <summary>Exit code: all passed, one failed, none found.</summary>
    public const int Passed = 0, OneFailed = 1, NoneFound = 3;

    /// <param name="assembly">Path of the tests.</param>
    /// <param name="order">File with names as told by <see cref="Took"/>, one a line; or "all:" and parts of names, as in a list of mutants.</param>
    public static int Play(string assembly, string order)
    {
        var folder = Path.GetDirectoryName(assembly) ?? "";
        AssemblyLoadContext.Default.Resolving += (context, name) => Path.Combine(folder, name.Name + ".dll") is var path && File.Exists(path) ? context.LoadFromAssemblyPath(path) : null;
        var tests = AssemblyLoadContext.Default.LoadFromAssemblyPath(assembly);
        using var framework = new XunitTestFramework(new Sink(_ => { }));
        using var executor = framework.GetExecutor(tests.GetName());
        var code = NoneFound;
        foreach (var test in Wanted(framework, tests, order))
        {
            Console.WriteLine(Begins + NameOf(test));
            code = Fails(executor, test) ? OneFailed : Passed;
            if (code == OneFailed)
                break;
        }
        Console.WriteLine(Used + Environment.CpuUsage.TotalTime.TotalSeconds.ToString(CultureInfo.InvariantCulture));
        return code;
    }

    private static bool Fails(ITestFrameworkExecutor executor, ITestCase test)
    {
        using var finished = new ManualResetEventSlim();
        ITestFailed? failure = null;
        var took = 0m;
        executor.RunTests([test], new Sink(message =>
        {
            if (message is ITestFailed failed)
                failure ??= failed;
            if (message is ITestAssemblyFinished end)
            {
                took = end.ExecutionTime;
                finished.Set();
            }
        }), new Options());
        finished.Wait();
        if (failure is null)
        {
            Console.WriteLine(Took + took.ToString(CultureInfo.InvariantCulture) + " " + NameOf(test));
            return false;
        }
        Console.WriteLine(Failed + NameOf(test));
        Console.WriteLine(Told + string.Join(" / ", failure.Messages).ReplaceLineEndings(" "));
        return true;
    }

    private static IEnumerable<ITestCase> Wanted(XunitTestFramework framework, Assembly tests, string order)
    {
        if (order.StartsWith("all:", StringComparison.Ordinal))
        {
            var list = new MutantList("", order["all:".Length..].Split(' '), []);
            return Discovery.Of(framework, tests, type => list.Wants(type + ".")).Where(test => list.Wants(NameOf(test)));
        }
        var names = File.ReadAllLines(order);
        return Discovery.InOrder(framework, tests, names);
    }

    public static string NameOf(ITestCase test) => test.DisplayName.ReplaceLineEndings(" ");

    internal sealed class Sink(Action<IMessageSinkMessage> heard) : IMessageSink
    {
        public bool OnMessage(IMessageSinkMessage message)
        {
            heard(message);
            return true;
        }
    }

    /// <summary>One test after the other on one thread, each row of a theory by itself.</summary>
    internal sealed class Options : ITestFrameworkDiscoveryOptions, ITestFrameworkExecutionOptions
    {
        private readonly Dictionary<string, object?> values = new() { ["xunit.execution.DisableParallelization"] = true, ["xunit.discovery.PreEnumerateTheories"] = true };

        public TValue GetValue<TValue>(string name) => values.TryGetValue(name, out var value) && value is TValue known ? known : default!;

        public void SetValue<TValue>(string name, TValue value) => values[name] = value;
    }
}

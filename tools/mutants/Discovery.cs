// Finds the test cases of an assembly class by class, and only of those classes that are asked for: looking at all of them takes longer than most tests. Never runs one.
using System.Reflection;
using Xunit.Abstractions;
using Xunit.Sdk;

namespace RoomSupervisor.Mutants;

internal static class Discovery
{
    /// <summary>The cases of the classes whose full names are wanted.</summary>
    public static IEnumerable<ITestCase> Of(XunitTestFramework framework, Assembly tests, Func<string, bool> wants)
        => tests.GetTypes().Where(type => type is { IsClass: true, IsAbstract: false, IsPublic: true } && wants(type.FullName ?? "")).SelectMany(type => OfClass(framework, tests, type.FullName ?? ""));

    /// <summary>The cases with these names in this order.</summary>
    public static IEnumerable<ITestCase> InOrder(XunitTestFramework framework, Assembly tests, string[] names)
    {
        var known = new Dictionary<string, ILookup<string, ITestCase>>();
        foreach (var name in names.Distinct())
        {
            var type = ClassOf(name);
            if (!known.TryGetValue(type, out var cases))
                known[type] = cases = OfClass(framework, tests, type).ToLookup(TestRun.NameOf);
            foreach (var one in cases[name])
                yield return one;
        }
    }

    /// <summary>Full name of the class in the name of a test, which is class, method and perhaps arguments in brackets.</summary>
    public static string ClassOf(string test)
    {
        var method = test.IndexOf('(', StringComparison.Ordinal) is > 0 and var bracket ? test[..bracket] : test;
        return method[..method.LastIndexOf('.')];
    }

    private static List<ITestCase> OfClass(XunitTestFramework framework, Assembly tests, string type)
    {
        using var finished = new ManualResetEventSlim();
        var found = new List<ITestCase>();
        using var discoverer = framework.GetDiscoverer(Reflector.Wrap(tests));
        discoverer.Find(type, false, new TestRun.Sink(message =>
        {
            if (message is ITestCaseDiscoveryMessage one)
                found.Add(one.TestCase);
            if (message is IDiscoveryCompleteMessage)
                finished.Set();
        }), new TestRun.Options());
        finished.Wait();
        return found;
    }
}

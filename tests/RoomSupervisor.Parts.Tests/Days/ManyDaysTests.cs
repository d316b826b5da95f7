// The same for other houses, weathers and seeds: a chiller in muggy air, four pipes, four seeds each. Too long for every build: with ROOM_SUPERVISOR_DAYS=all (tools/long). ROOM_SUPERVISOR_DAYS_CASE="chiller 1 14.5 15 10"
// tells hours 14.5 to 15 of seed 1, every ten seconds.
using System.Globalization;
using Xunit.Abstractions;

namespace RoomSupervisor.Parts.Tests.Days;

public class ManyDaysTests(ITestOutputHelper output)
{
    private static readonly Dictionary<string, Func<int, DayCase>> Cases = new()
    {
        ["two-pipe"] = DayCase.TwoPipe,
        ["chiller"] = DayCase.Chiller,
        ["four-pipe"] = DayCase.FourPipe,
        ["winter"] = DayCase.Winter,
    };

    /// <summary>In muggy air it is the dew point that decides how cold water may be; with four pipes both waters are there at once. Seed 1 of each is played always.</summary>
    [Theory]
    [InlineData("chiller")]
    [InlineData("four-pipe")]
    public void A_house_keeps_its_rules_for_two_days(string name)
    {
        var run = DayRun.Play(Cases[name](1));
        Assert.True(!DayRules.Broken(run).Any(), string.Join('\n', DayRules.Broken(run)) + "\n" + run.Told);
    }

    [Fact]
    public void Every_house_keeps_its_rules_for_two_days()
    {
        if (Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_DAYS") != "all")
            return;
        var broken = Cases.SelectMany(one => Enumerable.Range(1, 4).Select(seed => (one.Key, seed, one.Value))).AsParallel().AsOrdered().SelectMany(one =>
        {
            var run = DayRun.Play(one.Value(one.seed));
            return DayRules.Broken(run).Select(what => $"{one.Key} seed {one.seed}: {what}\n{run.Watch}");
        }).ToList();
        foreach (var line in broken)
            output.WriteLine(line);
        Assert.True(broken.Count == 0, string.Join('\n', broken));
    }

    [Fact]
    public void One_case_told()
    {
        if (Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_DAYS_CASE")?.Split(' ') is not { Length: >= 2 } told)
            return;
        double At(int index) => double.Parse(told[index], CultureInfo.InvariantCulture);
        var one = Cases[told[0]]((int)At(1));
        output.WriteLine(DayRun.Play(told.Length < 5 ? one : one with { Tell = (At(2), At(3), (int)At(4)) }).Told);
    }
}

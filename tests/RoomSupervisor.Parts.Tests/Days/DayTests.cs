using Xunit.Abstractions;

namespace RoomSupervisor.Parts.Tests.Days;

public class DayTests(ITestOutputHelper output)
{
    [Theory]
    [InlineData("two-pipe")]
    [InlineData("chiller")]
    [InlineData("four-pipe")]
    [InlineData("winter")]
    public void Told(string which)
    {
        var watch = System.Diagnostics.Stopwatch.StartNew();
        if (Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_DAYS") is { } told && !told.StartsWith(which, StringComparison.Ordinal))
            return;
        var one = which switch { "two-pipe" => DayCase.TwoPipe(), "chiller" => DayCase.Chiller(), "four-pipe" => DayCase.FourPipe(), _ => DayCase.Winter() };
        if (Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_DAYS")?.Split(' ') is { Length: 4 } tell)
            one = one with { Tell = (double.Parse(tell[1]), double.Parse(tell[2]), int.Parse(tell[3])) };
        var run = DayRun.Play(one);
        output.WriteLine(run.Told);
        output.WriteLine($"{watch.Elapsed.TotalSeconds:0.0} s");
    }
}

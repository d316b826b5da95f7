// Fail the Nth hardware call, N over a run from start to stop, once and for good, in every way a call can fail: afterwards every output that can
// still be reached is safe, the log names what failed and nothing else, and the exit code is right.
using RoomSupervisor.Terms;
using Xunit.Abstractions;

namespace RoomSupervisor.House.Tests.FailNth;

public class FailNthTests(ITestOutputHelper output)
{
    private const string NoSafeValue = "no safe value could be written to ", NotAnswering = ": device does not answer";

    [Fact]
    public void A_run_in_which_nothing_fails_moves_most_outputs_and_ends_safe_with_0()
    {
        var life = new OneLife(0, Failing.NoAcknowledge, false);
        output.WriteLine($"{life.Calls} calls, {life.Moved} of {life.House.Outputs.Count} outputs moved");
        output.WriteLine(string.Join('\n', life.Log));
        Assert.Equal(0, life.Exit);
        Assert.Empty(Unsafe(life));
        Assert.Empty(life.NotSafeFirst);
        Assert.True(life.Calls > 120, $"{life.Calls} calls");
        Assert.True(life.Moved >= 9, $"{life.Moved} moved");
        Assert.Equal(15, life.LeftOn);
        Assert.DoesNotContain(life.Log, line => line.Contains(NotAnswering, StringComparison.Ordinal) || line.Contains("driver error", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(Failing.NoAcknowledge)]
    [InlineData(Failing.CutShort)]
    [InlineData(Failing.Hung)]
    [InlineData(Failing.NoBus)]
    [InlineData(Failing.Throws)]
    public void One_failing_call_leaves_every_output_safe_and_is_exit_code_0(Failing how) => Each(how, false, life =>
    {
        Assert.Equal(0, life.Exit);
        Assert.Empty(Unsafe(life));
        Assert.DoesNotContain(life.Log, line => line.Contains(NoSafeValue, StringComparison.Ordinal));
        Assert.Equal(life.House.Outputs.Count, life.Log.Sum(Written));
    });

    [Theory]
    [InlineData(Failing.NoAcknowledge)]
    [InlineData(Failing.CutShort)]
    [InlineData(Failing.Hung)]
    [InlineData(Failing.NoBus)]
    [InlineData(Failing.Throws)]
    public void A_device_that_fails_for_good_is_named_the_others_are_safe_and_it_is_exit_code_1_when_it_has_outputs(Failing how) => Each(how, true, life =>
    {
        Assert.Equal(life.HasOutputs(life.Failed) ? 1 : 0, life.Exit);
        Assert.DoesNotContain(Unsafe(life), one => one.Device != life.Failed);
        var named = life.Log.Where(line => line.Contains(NoSafeValue, StringComparison.Ordinal)).ToList();
        Assert.Equal(life.HasOutputs(life.Failed) ? 1 : 0, named.Count);
        // What it says was not written covers all that is not safe, and nothing of another device.
        var points = named.SelectMany(line => line[(line.IndexOf(NoSafeValue, StringComparison.Ordinal) + NoSafeValue.Length)..line.IndexOf(" | means", StringComparison.Ordinal)].Split(", ")).ToHashSet();
        Assert.Subset(points, Unsafe(life).Select(one => one.PointId).ToHashSet());
        Assert.Subset(life.House.Outputs.Where(one => one.Device == life.Failed).Select(one => one.PointId).ToHashSet(), points);
        if (life.FailedAtS < OneLife.LastsS - 4)
            Assert.Contains(life.Log, line => line.Contains(how == Failing.Throws ? ": driver error" : $"{life.Failed}{NotAnswering}", StringComparison.Ordinal));
    });

    [Fact]
    public void After_an_error_of_our_own_every_output_is_safe_whichever_call_fails_once()
    {
        var calls = new OneLife(0, Failing.NoAcknowledge, false, crashes: true).Calls;
        for (var at = 1; at <= calls; at += 7)
        {
            var life = new OneLife(at, Failing.NoAcknowledge, false, crashes: true);
            Assert.Equal((1, 0), (life.Exit, Unsafe(life).Count()));
            Assert.Contains(life.Log, line => line.Contains("an error of our own", StringComparison.Ordinal));
        }
    }

    private void Each(Failing how, bool isForGood, Action<OneLife> check)
    {
        var lives = 0;
        // Every third call, and each kind begins at another, so that every call fails somehow; all calls where they are asked for (tools/long). A call cut short and a bus that is not there differ
        // from a missing acknowledge in the word only.
        var step = Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_CALLS") == "all" ? 1 : 3;
        for (var at = 1 + ((int)how + (isForGood ? 1 : 0)) % step; ; at += how is Failing.CutShort or Failing.NoBus ? 3 * step : step)
        {
            var life = new OneLife(at, how, isForGood);
            if (life.Failed.Length == 0)
                break;
            lives++;
            try
            {
                Assert.Empty(life.NotSafeFirst);
                check(life);
                Assert.DoesNotContain(life.Log, line => line.Contains(NotAnswering, StringComparison.Ordinal) && !line.Contains(life.Failed + NotAnswering, StringComparison.Ordinal));
            }
            catch (Xunit.Sdk.XunitException e)
            {
                Assert.Fail($"call {at}, {how}, at {life.FailedAtS} s on {life.Failed}: {e.Message}\nunsafe: {string.Join(", ", Unsafe(life).Select(one => one.PointId + " " + one.Channel))}\n{string.Join('\n', life.Log.TakeLast(25))}");
            }
        }
        output.WriteLine($"{lives} lives");
        Assert.True(lives * step > 50, $"{lives} lives");
    }

    private static IEnumerable<PointWiring> Unsafe(OneLife life) => life.House.Outputs.Where((_, i) => !life.IsSafe(i));

    private static int Written(string line)
    {
        const string Words = ": safe values written to ";
        var at = line.IndexOf(Words, StringComparison.Ordinal);
        return at < 0 ? 0 : int.Parse(line[(at + Words.Length)..].Split(' ')[0], System.Globalization.CultureInfo.InvariantCulture);
    }
}

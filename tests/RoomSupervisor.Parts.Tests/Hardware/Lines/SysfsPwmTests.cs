// Pulse-width outputs by files, in a folder that looks like the kernel's. Source of the files: Linux kernel documentation, "Pulse Width Modulation (PWM) interface".
using RoomSupervisor.Hardware.Pwm;

namespace RoomSupervisor.Parts.Tests.Hardware.Lines;

public sealed class SysfsPwmTests : IDisposable
{
    private static readonly PwmOutput Fan = new(0, 40_000, false);
    private readonly DirectoryInfo chip = Directory.CreateTempSubdirectory("pwmchip-");

    public SysfsPwmTests()
    {
        Put("npwm", "2\n");
        Put("export", "");
    }

    public void Dispose() => chip.Delete(true);

    private SysfsPwmChip Chip => new(chip.FullName);

    private void Put(string file, string text) => File.WriteAllText(Path.Combine(chip.FullName, file), text);

    private string Get(string file) => File.ReadAllText(Path.Combine(chip.FullName, file)).Trim();

    /// <summary>What the kernel shows once an output is exported.</summary>
    private void Exported(string period = "0", string duty = "0", string enable = "0", string polarity = "normal")
    {
        chip.CreateSubdirectory("pwm0");
        (string, string)[] files = [("period", period), ("duty_cycle", duty), ("enable", enable), ("polarity", polarity)];
        foreach (var (file, text) in files)
            Put("pwm0/" + file, text + "\n");
    }

    [Fact]
    public void An_output_is_exported_once_and_asked_again_when_its_files_are_there()
    {
        Assert.Equal(PwmProblem.Failed, Chip.Set(Fan, 10_000).Problem);   // a folder of files exports nothing
        Assert.Equal("0", Get("export"));
        Put("export", "");
        Exported();
        Assert.Equal((PwmProblem.None, 10_000L), (Chip.Set(Fan, 10_000).Problem, Chip.Set(Fan, 10_000).StandsNs));
        Assert.Equal("", Get("export"));
        Assert.Equal(("40000", "10000", "1"), (Get("pwm0/period"), Get("pwm0/duty_cycle"), Get("pwm0/enable")));
    }

    [Fact]
    public void Nothing_is_left_of_another_period_a_crash_left_running()
    {
        Exported(period: "1000000", duty: "1000000", enable: "1");
        Assert.Equal(0, Chip.Set(Fan, 0).StandsNs);
        Assert.Equal(("40000", "0", "1"), (Get("pwm0/period"), Get("pwm0/duty_cycle"), Get("pwm0/enable")));
    }

    /// <summary>The kernel refuses a pulse longer than its period, and a change of polarity of an output that is on: so the order counts.</summary>
    [Fact]
    public void The_pulse_is_shortened_first_then_off_period_and_polarity_then_the_pulse_and_on()
    {
        Exported(period: "1000000", duty: "900000", enable: "1");
        var order = new System.Collections.Concurrent.ConcurrentQueue<string>();
        using (var watcher = new FileSystemWatcher(Path.Combine(chip.FullName, "pwm0")) { NotifyFilter = NotifyFilters.LastWrite })
        {
            watcher.Changed += (_, change) => order.Enqueue(change.Name!);
            watcher.EnableRaisingEvents = true;
            Chip.Set(Fan with { IsInverted = true }, 20_000);
            Put("pwm0/end", "1");
            Assert.True(SpinWait.SpinUntil(() => order.Contains("end"), TimeSpan.FromSeconds(10)));
        }
        // A save is one to four events.
        var names = order.Where(name => name != "end").ToList();
        names = [.. names.Where((name, i) => i == 0 || names[i - 1] != name)];
        Assert.Equal(["duty_cycle", "period", "enable", "polarity", "duty_cycle", "enable"], names);
    }

    [Fact]
    public void Polarity_is_turned_while_the_output_is_off_and_it_is_on_afterwards()
    {
        Exported(period: "40000", duty: "8000", enable: "1");
        Assert.Equal(30_000, Chip.Set(Fan with { IsInverted = true }, 30_000).StandsNs);
        Assert.Equal(("inversed", "1"), (Get("pwm0/polarity"), Get("pwm0/enable")));
    }

    [Fact]
    public void What_cannot_be_is_told_with_what_to_do()
    {
        Assert.Equal(PwmProblem.NoSuchOutput, Chip.Set(Fan with { Number = 2 }, 0).Problem);
        var missing = Path.Combine(chip.FullName, "pwmchip7");
        var reply = new SysfsPwmChip(missing).Set(Fan, 0);
        Assert.Equal(PwmProblem.NoChip, reply.Problem);
        Assert.Equal($"there is no pwm chip {missing}: switch it on in the board's configuration and see which there are under /sys/class/pwm", PwmWords.Of(reply, missing, 0));
        foreach (var problem in Enum.GetValues<PwmProblem>())
            Assert.Equal(problem == PwmProblem.None, PwmWords.Of(new PwmReply(problem, 0), missing, 1).Length == 0);
        Exported(period: "forty");
        Assert.Contains("holds no number", Chip.Set(Fan, 0).Detail, StringComparison.Ordinal);
    }
}

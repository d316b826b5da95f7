// The script of root's own unit, as it is shipped: a wish is granted once, then not before the board has been up for a day.
using System.Diagnostics;
using RoomSupervisor.House.Tests.Repository;

namespace RoomSupervisor.House.Tests.Board;

public sealed class RebootOnceTests : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("reboot-");

    public void Dispose() => folder.Delete(true);

    [Theory]
    [InlineData(600, 86000, false)]
    [InlineData(600, 86500, true)]
    public void The_second_wish_is_granted_after_a_day_of_uptime_only(int firstUpS, int secondUpS, bool expected)
    {
        Assert.True(Ask(firstUpS));
        Assert.Equal(expected, Ask(secondUpS));
        Assert.False(File.Exists(At("wish")));
    }

    private string At(string name) => Path.Combine(folder.FullName, name);

    private bool Ask(int upS)
    {
        File.WriteAllText(At("wish"), "");
        File.WriteAllText(At("uptime"), $"{upS}.25 100.00\n");
        File.Delete(At("done"));
        using var process = Process.Start(new ProcessStartInfo("/bin/sh") { ArgumentList = { Root.At("deploy", "system", "reboot-once-a-day"), At("wish"), At("stamp"), At("uptime"), "touch " + At("done") }, RedirectStandardOutput = true })!;
        var said = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        Assert.Equal(0, process.ExitCode);
        Assert.NotEmpty(said);
        return File.Exists(At("done"));
    }
}

// Two serial ports tied together without hardware: socat with two pseudo-terminals. For the tests of the serial channel and the peers on a line.
// It must never leave a process or a folder behind.
using System.Diagnostics;
using Xunit;

namespace RoomSupervisor.Parts.Tests.Hardware;

/// <summary>A pair of ports; what goes into one comes out of the other.</summary>
internal sealed class SerialPair : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("line-");
    private Process process;

    public SerialPair() => process = Start();

    /// <summary>Our end.</summary>
    public string Ours => Path.Combine(folder.FullName, "a");

    /// <summary>The peer's end.</summary>
    public string Theirs => Path.Combine(folder.FullName, "b");

    /// <summary>Pulls the adapter: the ports are hung up and their paths gone.</summary>
    public void Pull()
    {
        // Asked to end it takes its links away; killed it would leave them.
        using var end = Process.Start("kill", ["-TERM", process.Id.ToString(System.Globalization.CultureInfo.InvariantCulture)]);
        process.WaitForExit();
        File.Delete(Ours);
        File.Delete(Theirs);
    }

    /// <summary>Plugs it in again.</summary>
    public void Plug()
    {
        process.Dispose();
        process = Start();
    }

    public void Dispose()
    {
        if (!process.HasExited)
            Pull();
        process.Dispose();
        folder.Delete(true);
    }

    private Process Start()
    {
        var started = Process.Start(new ProcessStartInfo("socat", [$"pty,raw,echo=0,link={Ours}", $"pty,raw,echo=0,link={Theirs}"]) { RedirectStandardError = true })!;
        Assert.True(SpinWait.SpinUntil(() => File.Exists(Ours) && File.Exists(Theirs), TimeSpan.FromSeconds(10)), "socat made no ports");
        return started;
    }
}

// Runs a command of the owner's choice when an alarm or something urgent comes: a mail, a message, a siren. Never holds up log or loop: what comes is put into a bounded queue, a thread of its
// own starts the command, at most once a minute with all that has come meanwhile, and ends one that hangs. What goes wrong is said in the log, never sent.
using System.ComponentModel;
using System.Diagnostics;
using System.Globalization;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Explain;

/// <summary>What somebody is told.</summary>
public readonly record struct Notice(DateTime Utc, Priority Priority, string Where, string Text, string Household);

/// <summary>Runs the command.</summary>
public sealed class Notifier : IDisposable
{
    /// <summary>Most notices that wait; the rest are counted.</summary>
    public const int Most = 100;

    private static readonly TimeSpan Every = TimeSpan.FromMinutes(1), Limit = TimeSpan.FromSeconds(30);

    private readonly string command, site;
    private readonly Action<Priority, string> say;
    private readonly TimeSpan every, limit;
    private readonly Lock guard = new();
    private readonly List<Notice> waiting = [];
    private readonly SemaphoreSlim came = new(0);
    private readonly ManualResetEventSlim stop = new(false, spinCount: 0);
    private readonly Thread thread;
    private int lost;
    private string lastTrouble = "";

    /// <param name="command">Path of a program or script. It gets the worst priority as its argument, and a line a notice on standard input.</param>
    /// <param name="site">Name of the site.</param>
    /// <param name="say">Takes a line for the log.</param>
    /// <param name="every">Between two runs of it; null: a minute.</param>
    /// <param name="limit">Longest run of it; null: 30 s.</param>
    public Notifier(string command, string site, Action<Priority, string> say, TimeSpan? every = null, TimeSpan? limit = null)
    {
        (this.command, this.site, this.say, this.every, this.limit) = (command, site, say, every ?? Every, limit ?? Limit);
        thread = new Thread(Run) { IsBackground = true, Name = "notify" };
        thread.Start();
    }

    /// <summary>How often the command was started; any thread.</summary>
    public int Runs { get; private set; }

    /// <summary>Takes a notice; returns at once, whatever the command does. Any thread.</summary>
    public void Tell(in Notice notice)
    {
        lock (guard)
        {
            if (waiting.Count >= Most)
                lost++;
            else
                waiting.Add(notice);
            if (came.CurrentCount == 0)
                came.Release();
        }
    }

    /// <summary>Tells what still waits, once, and ends.</summary>
    public void Dispose()
    {
        stop.Set();
        lock (guard)
            came.Release();
        // A command that hangs is ended after its limit; the last one may need its own besides.
        if (thread.Join(2 * limit + TimeSpan.FromSeconds(2)))
        {
            came.Dispose();
            stop.Dispose();
        }
    }

    private void Run()
    {
        while (true)
        {
            came.Wait();
            Send();
            if (stop.IsSet || stop.Wait(every))
                break;
        }
        Send();
    }

    private void Send()
    {
        Notice[] all;
        int more;
        lock (guard)
        {
            (all, more, lost) = ([.. waiting], lost, 0);
            waiting.Clear();
        }
        if (all.Length == 0)
            return;
        Runs++;
        var trouble = Start(all, more);
        if (trouble.Length > 0 && trouble != lastTrouble)
            say(Priority.Warning, $"notify: {command}: {trouble} | means: nobody was told of {all.Length} alarm(s) by it | check: run it by hand, as the service's user");
        lastTrouble = trouble;
    }

    /// <summary>Runs it; what went wrong, or "".</summary>
    private string Start(Notice[] all, int more)
    {
        var start = new ProcessStartInfo(command) { UseShellExecute = false, RedirectStandardInput = true };
        start.ArgumentList.Add(Names.Of(all.Max(notice => notice.Priority)));
        try
        {
            using var process = Process.Start(start)!;
            try
            {
                foreach (var notice in all)
                    process.StandardInput.WriteLine(Line(notice));
                if (more > 0)
                    process.StandardInput.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{site}: and {more} more"));
                process.StandardInput.Close();
            }
            catch (IOException)
            {
                // It does not care what it is told; its exit code says whether that is meant.
            }
            if (!process.WaitForExit(limit))
            {
                process.Kill(entireProcessTree: true);
                return string.Create(CultureInfo.InvariantCulture, $"did not end within {limit.TotalSeconds:0} s and was ended");
            }
            return process.ExitCode == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"ended with exit code {process.ExitCode}");
        }
        catch (Exception e) when (e is Win32Exception or InvalidOperationException or IOException)
        {
            return e.Message;
        }
    }

    private string Line(in Notice notice)
        => $"{notice.Utc.ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture)} {Names.Of(notice.Priority)} {site}: {notice.Where}: {notice.Text.ReplaceLineEndings(" ")} | {notice.Household}";
}

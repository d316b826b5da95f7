// What set and find share: the run they speak to (the service's, or one of their own in the foreground), waiting, and being ended. Never leaves a value set that nobody ends.
using System.CommandLine;
using System.Text.Json;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Control;

namespace RoomSupervisor.Verbs;

internal static class HandWords
{
    private static readonly TimeSpan Second = TimeSpan.FromSeconds(1);

    /// <summary>Does the work with the service's run, or with one of its own while nobody runs the site.</summary>
    public static int With(RunOptions run, ParseResult parsed, Func<ControlClient, bool, CancellationToken, int> work)
    {
        var verb = parsed.CommandResult.Command.Name;
        if (!run.TryFind(parsed, out var client, out var directory))
            return 2;
        if (client is not null)
        {
            using (client)
            using (var ended = new StopSignals())
                return Guarded(verb, client, (one, stop) => work(one, false, stop), ended.Token);
        }
        Console.Out.WriteLine("no controller runs this site: starting one for this output alone; every other output is kept safe, guard and protections hold");
        return HandRun.Run(directory, run.State(parsed), Console.Error, (own, stop) => Guarded(verb, own, (one, until) => AfterFirstScan(one, until) ? work(one, true, until) : 2, stop));
    }

    /// <summary>Waits; true when it was ended meanwhile.</summary>
    public static bool Wait(double seconds, CancellationToken stop) => stop.WaitHandle.WaitOne(TimeSpan.FromSeconds(seconds));

    /// <summary>The point now.</summary>
    public static JsonElement Point(ControlClient client, string id)
    {
        using var answer = client.Ask("points", ("only", id));
        return answer.RootElement.GetProperty("points").EnumerateArray().First(point => point.GetProperty("point").GetString() == id).Clone();
    }

    /// <summary>"35 % (3.34 V): the reason".</summary>
    public static string Now(JsonElement point)
    {
        var written = string.Join(", ", point.GetProperty("written").EnumerateArray().Select(one => PointLines.Text(one, "shown")).Where(shown => shown != PointLines.Text(point, "shown")));
        return $"{PointLines.Text(point, "shown")}{(written.Length > 0 ? $" ({written})" : "")}: {PointLines.Text(point, "why")}";
    }

    /// <summary>What keeps a channel of the point from being written; "" when nothing does.</summary>
    public static string NotWritten(JsonElement point)
        => string.Join("; ", point.GetProperty("written").EnumerateArray().Where(one => PointLines.Text(one, "problem").Length > 0)
            .Select(one => $"{PointLines.Text(one, "device")}.{PointLines.Text(one, "channel")}: {PointLines.Text(one, "problem")}"));

    private static int Guarded(string verb, ControlClient client, Func<ControlClient, CancellationToken, int> work, CancellationToken stop)
    {
        try
        {
            return work(client, stop);
        }
        catch (ControlException e)
        {
            Console.Error.WriteLine($"{verb}: {e.Message}");
            return 2;
        }
        catch (ControlLostException e)
        {
            if (stop.IsCancellationRequested)
                return 1;
            Console.Error.WriteLine($"{verb}: {e.Message}");
            return 2;
        }
    }

    /// <summary>A run that has just begun has decided nothing yet.</summary>
    private static bool AfterFirstScan(ControlClient client, CancellationToken stop)
    {
        for (var tries = 0; tries < 30; tries++)
        {
            try
            {
                using var answer = client.Ask("points");
                return true;
            }
            catch (ControlException) when (!Wait(Second.TotalSeconds, stop))
            {
            }
        }
        return false;
    }
}

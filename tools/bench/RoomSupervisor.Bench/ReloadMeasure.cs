// How late scans come while settings are reloaded all the time, beside the same scans without; and how long check takes when warm.
//
//   dotnet run -c Release --project tools/bench/RoomSupervisor.Bench -- reload
//
// Limits: the 99th percentile of a scan's delay grows by no more than 1 ms; check under 50 ms. Not a benchmark of the usual kind: what
// counts is the tail, not the mean.
using System.Diagnostics;
using System.Globalization;
using System.Text;
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Reload;
using RoomSupervisor.Runtime.Start;
using RoomSupervisor.Runtime.State;

namespace RoomSupervisor.Bench;

/// <summary>Delay of scans with reloads going on.</summary>
internal static class ReloadMeasure
{
    private const int Scans = 4000;
    private const double PeriodMs = 5;

    /// <summary>Measures and prints; 0 when both limits hold.</summary>
    /// <param name="example">Directory of an example site.</param>
    public static int Run(string example)
    {
        var folder = Directory.CreateTempSubdirectory("reload-bench-");
        foreach (var file in new[] { "site.yaml", "household.yaml" })
            File.Copy(Path.Combine(example, file), Path.Combine(folder.FullName, file));
        var state = new StateFolder(Path.Combine(folder.FullName, "state"));
        var start = SiteStart.Read(folder.FullName, StartVerb.Run, Drivers.All, TimeProvider.System, state);
        if (!Wiring.TryBuild(start.Files!, Path.Combine(folder.FullName, "log"), false, TimeProvider.System, TextWriter.Null, out var wiring, out _))
            return 2;
        using (wiring)
        {
            Delays(wiring!, Scans / 4);   // warm
            var without = Delays(wiring!, Scans);
            using var stop = new CancellationTokenSource();
            var reloads = 0;
            var thread = new Thread(() => reloads = Reload(folder.FullName, start, state, wiring!, stop.Token)) { IsBackground = true };
            thread.Start();
            Delays(wiring!, Scans / 4);
            var with = Delays(wiring!, Scans);
            stop.Cancel();
            thread.Join();
            var check = Check(folder.FullName);
            Say("without reload", without);
            Say($"with {reloads} reloads", with);
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"p99 grows by {At(with, 0.99) - At(without, 0.99):0.000} ms (limit 1 ms); check warm {At(check, 0.5):0.0} ms, p99 {At(check, 0.99):0.0} ms (limit 50 ms)"));
            folder.Delete(true);
            return At(with, 0.99) - At(without, 0.99) <= 1 && At(check, 0.5) < 50 ? 0 : 1;
        }
    }

    /// <summary>From when a scan is due to when it is done, ms, sorted.</summary>
    private static double[] Delays(Wiring wiring, int scans)
    {
        var delays = new double[scans];
        var clock = Stopwatch.StartNew();
        for (var i = 0; i < scans; i++)
        {
            var due = (i + 1) * PeriodMs;
            // The last stretch is spun: the timer's own coarseness is not what is measured.
            while (clock.Elapsed.TotalMilliseconds < due)
            {
                if (due - clock.Elapsed.TotalMilliseconds > 2)
                    Thread.Sleep(1);
            }
            wiring.Loop.Scan();
            delays[i] = clock.Elapsed.TotalMilliseconds - due;
        }
        Array.Sort(delays);
        return delays;
    }

    /// <summary>Everything a reload does, as often as it can: read, judge, swap, answer, last good, version.</summary>
    private static int Reload(string folder, StartResult start, StateFolder state, Wiring wiring, CancellationToken stop)
    {
        var judge = new SiteJudge(start, Drivers.All);
        var keep = new Keeping(folder, state, TimeZoneInfo.Utc, Console.Error.WriteLine);
        var plain = Encoding.UTF8.GetString(start.FoundHousehold!);
        var done = 0;
        for (; !stop.IsCancellationRequested; done++)
        {
            var text = Encoding.UTF8.GetBytes(plain.Replace("fan_at_most: 35 %", $"fan_at_most: {25 + done % 50} %", StringComparison.Ordinal));
            var judgement = judge.Judge(start.FoundSite, text, DateTime.UnixEpoch);
            if (judgement.House is { } house)
                wiring.Loop.Swap(house);
            keep.Answer(judgement.Answer ?? "", DateTime.UnixEpoch);
            keep.LastGood(judge.Site, judge.House);
            keep.Version(text, judge.IsWhole, judge.House, judgement.Changes, DateTime.UnixEpoch);
            stop.WaitHandle.WaitOne(20);
        }
        return done;
    }

    private static double[] Check(string folder)
    {
        var times = new double[200];
        for (var i = -50; i < times.Length; i++)
        {
            var clock = Stopwatch.StartNew();
            SiteStart.Read(folder, StartVerb.Check, Drivers.All, TimeProvider.System);
            if (i >= 0)
                times[i] = clock.Elapsed.TotalMilliseconds;
        }
        Array.Sort(times);
        return times;
    }

    private static double At(double[] sorted, double share) => sorted[(int)(share * (sorted.Length - 1))];

    private static void Say(string what, double[] delays)
        => Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{what,-24} delay of a scan: p50 {At(delays, 0.5):0.000} ms, p99 {At(delays, 0.99):0.000} ms, p99.9 {At(delays, 0.999):0.000} ms, worst {delays[^1]:0.000} ms"));
}

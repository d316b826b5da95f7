// How late scans come while settings are reloaded all the time, beside the same scans without; and how long check takes when warm.
//
//   dotnet run -c Release --project tools/bench/RoomSupervisor.Bench -- reload
//
// Limits: the 99th percentile of a scan's delay grows by no more than 1 ms; check under 50 ms. Not a benchmark of the usual kind: what
// counts is the tail, not the mean. Blocks with and without take turns and the middle one of each counts, so that what else runs on the
// machine falls on both alike.
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
    private const int Blocks = 15, Scans = 300;
    private const double PeriodMs = 5;

    /// <summary>Measures and prints; 0 when both limits hold, 1 when not, 3 when the machine is too busy to tell.</summary>
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
            Delays(wiring!, 2 * Scans);   // warm
            using var reloader = new Reloader(folder.FullName, start, state, wiring!);
            var without = new double[Blocks][];
            var with = new double[Blocks][];
            for (var i = 0; i < Blocks; i++)
            {
                without[i] = Delays(wiring!, Scans);
                reloader.Go();
                with[i] = Delays(wiring!, Scans);
                reloader.Pause();
            }
            var check = Check(folder.FullName);
            Say("without reload", without);
            Say($"with {reloader.Done} reloads", with);
            var growth = Middle(with, 0.99) - Middle(without, 0.99);
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"p99 grows by {growth:0.000} ms (limit 1 ms); check warm {At(check, 0.5):0.0} ms, p99 {At(check, 0.99):0.0} ms (limit 50 ms)"));
            folder.Delete(true);
            if (Middle(without, 0.99) > 1)
            {
                Console.WriteLine("no verdict: without any reload scans already come more than 1 ms late, so this machine is too busy to tell");
                return 3;
            }
            return growth <= 1 && At(check, 0.5) < 50 ? 0 : 1;
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

    /// <summary>Everything a reload does, fifty times a second: judge, swap, answer, last good, version.</summary>
    private sealed class Reloader : IDisposable
    {
        private readonly ManualResetEventSlim go = new();
        private readonly Thread thread;
        private volatile bool isOver;

        public Reloader(string folder, StartResult start, StateFolder state, Wiring wiring)
        {
            var judge = new SiteJudge(start, Drivers.All);
            var keep = new Keeping(folder, state, TimeZoneInfo.Utc, Console.Error.WriteLine);
            var plain = Encoding.UTF8.GetString(start.FoundHousehold!);
            thread = new Thread(() =>
            {
                for (go.Wait(); !isOver; go.Wait())
                {
                    Once(judge, keep, wiring, Encoding.UTF8.GetBytes(plain.Replace("fan_at_most: 35 %", $"fan_at_most: {25 + Done++ % 50} %", StringComparison.Ordinal)), start.FoundSite);
                    Thread.Sleep(20);
                }
            });
            thread.Start();
        }

        public int Done { get; private set; }

        public void Go() => go.Set();

        public void Pause() => go.Reset();

        public void Dispose()
        {
            isOver = true;
            go.Set();
            thread.Join();
            go.Dispose();
        }

        private static void Once(SiteJudge judge, Keeping keep, Wiring wiring, byte[] text, byte[]? site)
        {
            var judgement = judge.Judge(site, text, DateTime.UnixEpoch);
            if (judgement.House is { } house)
                wiring.Loop.Swap(house);
            keep.Answer(judgement.Answer ?? "", DateTime.UnixEpoch);
            keep.LastGood(judge.Site, judge.House);
            keep.Version(text, judge.IsWhole, judge.House, judgement.Changes, DateTime.UnixEpoch);
        }
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

    /// <summary>The middle one of the blocks' percentiles.</summary>
    private static double Middle(double[][] blocks, double share)
    {
        var each = blocks.Select(block => At(block, share)).Order().ToArray();
        return each[each.Length / 2];
    }

    private static void Say(string what, double[][] blocks)
        => Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{what,-24} delay of a scan, middle of {Blocks} blocks: p50 {Middle(blocks, 0.5):0.000} ms, p99 {Middle(blocks, 0.99):0.000} ms, worst {Middle(blocks, 1):0.000} ms"));
}

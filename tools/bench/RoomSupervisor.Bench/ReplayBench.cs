// What a trace costs: the loop's side of recording a scan and of what is published for explaining (limit 5 µs together for six rooms, nothing allocated), bytes of a day of a six-room
// house, and how long that day takes to be played again (limit 10 s).
//
//   dotnet run -c Release --project tools/bench/RoomSupervisor.Bench -- replay
using System.Diagnostics;
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Bench;

/// <summary>Cost of traces.</summary>
internal static class ReplayBench
{
    private const int Rooms = 6;

    /// <summary>Measures and prints; 0 when the limits hold, 1 when not.</summary>
    public static int Run(string site)
    {
        var folder = Directory.CreateTempSubdirectory("replay-bench-");
        try
        {
            var held = Loop();
            held &= Day(site, folder.FullName);
            return held ? 0 : 1;
        }
        finally
        {
            folder.Delete(true);
        }
    }

    private static bool Loop()
    {
        var wandering = new WanderingHouse(Rooms);
        var (tap, board) = (new TraceTap(wandering.House), new SnapshotBoard(wandering.House));
        var (best, bestBoard, bytes) = (double.PositiveInfinity, double.PositiveInfinity, 0L);
        for (var round = 0; round < 300; round++)
        {
            var (sum, sumBoard) = (0.0, 0.0);
            for (var i = 0; i < 60; i++)
            {
                var time = new ScanTime(wandering.ClockS, 1, DateTime.UnixEpoch.AddSeconds(wandering.ClockS), DateTime.UnixEpoch);
                wandering.Scan();
                var before = GC.GetAllocatedBytesForCurrentThread();
                var from = Stopwatch.GetTimestamp();
                tap.Before(wandering.House, time, wandering.ClockS - 1, wandering.Samples, wandering.Memory);
                tap.After(wandering.Image);
                var middle = Stopwatch.GetTimestamp();
                board.Publish(wandering.House, time, wandering.Samples, wandering.Image, wandering.Memory);
                sumBoard += (Stopwatch.GetTimestamp() - middle) * 1e6 / Stopwatch.Frequency;
                sum += (middle - from) * 1e6 / Stopwatch.Frequency;
                bytes += round > 0 ? GC.GetAllocatedBytesForCurrentThread() - before : 0;
                while (tap.Peek() is not null)
                    tap.Release();
            }
            if (round > 50)
                (best, bestBoard) = (Math.Min(best, sum / 60), Math.Min(bestBoard, sumBoard / 60));
        }
        Console.WriteLine(FormattableString.Invariant($"{Rooms} rooms: recording {best:0.00} µs a scan in the best minute, publishing with ages {bestBoard:0.00} µs, {bytes} bytes allocated"));
        return best + bestBoard <= 5 && bytes == 0;
    }

    private static bool Day(string site, string folder)
    {
        var plan = RehearsalReader.Read(new RehearsalWish(site) { Days = 1 }, out var problems) ?? throw new InvalidOperationException(string.Join('\n', problems));
        var tap = new TraceTap(plan.Files.House);
        var texts = new TraceTexts(plan.Files.House, File.ReadAllBytes(Path.Combine(site, SiteReader.SiteFile)));
        using (var recorder = new TraceRecorder(folder, tap, plan.Files.Site.TimeZone, texts.Of))
        using (var run = new Rehearsal(plan) { Tap = tap })
        {
            for (var i = 0; i < 86_399; i++)
            {
                run.Step();
                recorder.Drain();
                if (i % 600 == 0)
                    recorder.Spill();
            }
        }
        var file = TraceRecorder.Files(folder)[0];
        var from = Stopwatch.GetTimestamp();
        var outcome = TraceReplay.Play(file, new ReplayPlan());
        var seconds = Stopwatch.GetElapsedTime(from).TotalSeconds;
        Console.WriteLine(FormattableString.Invariant($"a day of {plan.Files.House.Rooms.Length} rooms, {outcome.Scans} scans: {new FileInfo(file).Length / 1e6:0.0} MB; played again in {seconds:0.0} s, {outcome.Differing} scans differ"));
        return seconds < 10 && outcome.Differing == 0;
    }
}

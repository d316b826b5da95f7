// What recording costs: the loop's side of it a scan (limit 5 µs for six rooms, nothing allocated), what goes to the disk in a day (limit 10 MB, six rooms
// of a lively day), and how long a year's trend takes to be looked at (limit 1 s).
//
//   dotnet run -c Release --project tools/bench/RoomSupervisor.Bench -- records
using System.Diagnostics;
using RoomSupervisor.Desk.Trend;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Bench;

/// <summary>Cost of the records.</summary>
internal static class RecordsBench
{
    private const int Rooms = 6;
    private const double Slower = 12;   // air swings by ±2.2 K in six hours, water by ±4 K in two: a lively day
    private static readonly DateTime Start = new(2026, 7, 1, 0, 0, 0, DateTimeKind.Utc);

    /// <summary>Measures and prints; 0 when the limits hold, 1 when not.</summary>
    public static int Run()
    {
        var folder = Directory.CreateTempSubdirectory("records-bench-");
        try
        {
            var held = Loop();
            held &= Day(folder.FullName);
            held &= Year(folder.FullName);
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
        var tap = new TrendTap(wandering.House);
        var best = double.PositiveInfinity;
        var slice = new double[60];
        var bytes = 0L;
        for (var round = 0; round < 300; round++)
        {
            var sum = 0.0;
            for (var i = 0; i < slice.Length; i++)
            {
                wandering.Scan();
                var before = GC.GetAllocatedBytesForCurrentThread();
                var from = Stopwatch.GetTimestamp();
                tap.Look(wandering.Image, Start.AddSeconds(wandering.ClockS), wandering.ClockS);
                sum += (Stopwatch.GetTimestamp() - from) * 1e6 / Stopwatch.Frequency;
                bytes += round > 0 ? GC.GetAllocatedBytesForCurrentThread() - before : 0;
                while (tap.Ring.TryTake(out _))
                {
                }
            }
            if (round > 50)
                best = Math.Min(best, sum / slice.Length);
        }
        Console.WriteLine(FormattableString.Invariant($"{tap.Series.Count} series of {Rooms} rooms: {best:0.00} µs a scan in the best minute, {bytes} bytes allocated"));
        return best <= 5 && bytes == 0;
    }

    private static bool Day(string folder)
    {
        var wandering = new WanderingHouse(Rooms, Slower);
        var tap = new TrendTap(wandering.House);
        var ring = new LogRing(4096);
        var words = new LogVocabulary(wandering.House.NameOf, EventCatalogue.All, SequenceEvents.StageChanged.Id, UnitSystem.Metric);
        DateTime Utc() => Start.AddSeconds(wandering.ClockS);
        using var log = new SiteLog(new LogPlace(Path.Combine(folder, "day"), TimeZoneInfo.Utc, ToConsole: false), ring, words, Console.Error, new LogParts
        {
            Clock = () => (Utc(), wandering.ClockS),
            Trends = new TrendRecorder(Path.Combine(folder, "day", TrendRecorder.FileName), tap.Ring, tap.Series),
        }, hasThread: false);
        log.TakeUp();
        var from = Stopwatch.GetTimestamp();
        while (wandering.ClockS < 86400)
        {
            wandering.Scan();
            foreach (ref readonly var happening in wandering.Image.Happenings.Items)
                ring.Put(new LogEntry(Utc(), wandering.ClockS, happening, happening.Owner == Owner.Room ? wandering.Image.Rooms[happening.Index] : default, default, double.NaN));
            for (var room = 0; room < Rooms && wandering.ClockS % 60 == 0; room++)
                ring.Put(new LogEntry(Utc(), wandering.ClockS, new Happening(LogEntry.Status, Owner.Room, room, default), wandering.Image.Rooms[room], default, double.NaN));
            tap.Look(wandering.Image, Utc(), wandering.ClockS);
            log.Turn();
        }
        var files = new DirectoryInfo(Path.Combine(folder, "day")).GetFiles();
        Console.WriteLine(FormattableString.Invariant($"a day: {log.BytesLastDay / 1e6:0.0} MB written ({Stopwatch.GetElapsedTime(from).TotalSeconds:0} s with the scans); files: {string.Join(", ", files.Select(file => FormattableString.Invariant($"{file.Name} {file.Length / 1e6:0.0} MB")))}"));
        return log.BytesLastDay <= 10_000_000;
    }

    /// <summary>A year of hours and ten days of samples, as the recorder leaves them, made in its own tables by its own hand a day at a time.</summary>
    private static bool Year(string folder)
    {
        var series = new TrendTap(new WanderingHouse(Rooms).House).Series;
        var ring = new TrendRing(100_000);
        var now = 0.0;
        var words = new LogVocabulary((_, _) => "", EventCatalogue.All, SequenceEvents.StageChanged.Id, UnitSystem.Metric);
        var path = Path.Combine(folder, "year", TrendRecorder.FileName);
        using (var log = new SiteLog(new LogPlace(Path.Combine(folder, "year"), TimeZoneInfo.Utc, ToConsole: false), new LogRing(16), words, Console.Error, new LogParts
        {
            Clock = () => (Start.AddSeconds(now), now),
            Trends = new TrendRecorder(path, ring, series, 400_000_000),
        }, hasThread: false))
        {
            log.TakeUp();
            for (; now < 366 * 86400.0; now += 900)
            {
                for (var i = 0; i < series.Count; i++)
                    ring.Put(new TrendSample(Start.AddSeconds(now), i, 20 + i % 7 + Math.Sin(now / 86400 + i), default));
                if (now % 43200 == 0)
                    log.Turn();
            }
        }
        var best = double.PositiveInfinity;
        for (var i = 0; i < 3; i++)
        {
            var from = Stopwatch.GetTimestamp();
            using var reader = TrendReader.Open(path, out _)!;
            var wish = new TrendWish("room-0", reader.Newest!.Value.AddDays(-365), reader.Newest.Value, TimeZoneInfo.Utc, UnitSystem.Metric);
            var text = TrendPicture.Draw(TrendView.Of(reader, wish, TrendPicture.Columns));
            best = Math.Min(best, text.Length > 0 ? Stopwatch.GetElapsedTime(from).TotalSeconds : double.NaN);
        }
        Console.WriteLine(FormattableString.Invariant($"a year's trend of a room as a picture: {best:0.00} s, file {new FileInfo(path).Length / 1e6:0} MB"));
        return best <= 1;
    }
}

// Sudden ends: a process that writes log, trends and memory is killed at random moments, again and again on the same files. Everything must open again, at most
// what had not been written (ten minutes of its time, five of the memory) may be missing, and the next start must say so. ROOM_SUPERVISOR_KILLS says how often;
// a kill is not a power cut: what the kernel has taken stays (what a power cut leaves is up to the flush that follows every batch).
using System.Buffers.Binary;
using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Story;
using Xunit.Abstractions;

namespace RoomSupervisor.House.Tests.Records;

public sealed partial class KillTests(ITestOutputHelper output) : IDisposable
{
    private static readonly int Kills = int.Parse(Environment.GetEnvironmentVariable("ROOM_SUPERVISOR_KILLS") ?? "5", CultureInfo.InvariantCulture);
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("kill-");
    private long worstLost;

    public void Dispose() => folder.Delete(true);

    private string LogDirectory => Path.Combine(folder.FullName, "log");

    [Fact]
    public void Killed_at_any_moment_trends_log_and_memory_open_again_and_only_what_was_not_written_yet_is_missing()
    {
        var chance = new Random(331);
        var from = 0L;
        for (var kill = 0; kill < Kills; kill++)
        {
            // Mostly long enough for several batches; sometimes in the very beginning.
            var reached = Write(from, chance.Next(chance.Next(4) == 0 ? 100 : 6000));
            Look(from, reached);
            from = reached + 100_000;
        }
        using (var last = Start(from, 100))
        {
            last.StandardOutput.ReadToEnd();
            last.WaitForExit();
            Assert.Equal(0, last.ExitCode);
        }
        Assert.Contains("NOTE the run before ended without a stop; what it had not written yet, at most the last 10 min, is lost", LastLines(), StringComparison.Ordinal);
        output.WriteLine($"{Kills} kills; at most {worstLost} s of trends missing");
    }

    private Process Start(long from, long seconds)
    {
        var start = new ProcessStartInfo(Path.Combine(AppContext.BaseDirectory, "story")) { RedirectStandardOutput = true };
        Array.ForEach(["records", folder.FullName, from.ToString(CultureInfo.InvariantCulture), seconds.ToString(CultureInfo.InvariantCulture)], start.ArgumentList.Add);
        return Process.Start(start)!;
    }

    /// <summary>Starts it, lets it tell so many seconds, kills it, and gives the last second it told.</summary>
    private long Write(long from, int lines)
    {
        using var process = Start(from, 0);
        var reached = from;
        for (var line = 0; line <= lines; line++)
            reached = long.Parse(process.StandardOutput.ReadLine() ?? throw new InvalidOperationException("it ended by itself"), CultureInfo.InvariantCulture);
        process.Kill();
        // What was still in the pipe had been told too; the last line may be a torn one.
        var rest = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        var whole = rest.LastIndexOf('\n');
        return whole < 0 ? reached : long.Parse(rest[..whole].Split('\n')[^1], CultureInfo.InvariantCulture);
    }

    private void Look(long from, long reached)
    {
        using (var reader = TrendReader.Open(Path.Combine(LogDirectory, TrendRecorder.FileName), out var why))
        {
            Assert.True(reader is not null, why);
            var points = reader.Samples([RecordsWriter.Second], RecordsWriter.Zero.AddSeconds(from - 0.5), RecordsWriter.Zero.AddSeconds(reached + 10_000))[RecordsWriter.Second].Where(point => point.Value >= from).ToList();
            // Without a hole from the first second on.
            for (var i = 0; i < points.Count; i++)
                Assert.Equal((from + i, RecordsWriter.Zero.AddSeconds(from + i)), ((long)points[i].Value, points[i].Utc));
            var lost = reached - (from + points.Count - 1);
            Assert.InRange(lost, -10_000, 600);
            worstLost = Math.Max(worstLost, lost);
        }
        var memory = new StateFolder(Path.Combine(folder.FullName, "state")).LoadMemory();
        if (reached - from > 300)
            Assert.InRange(reached - BinaryPrimitives.ReadInt64LittleEndian(memory), -10_000, 300);
        Text();
    }

    /// <summary>Every line of both files is whole, or the next one says that it is torn.</summary>
    private void Text()
    {
        foreach (var file in new DirectoryInfo(LogDirectory).GetFiles("room-supervisor.jsonl*"))
        {
            var lines = File.ReadAllLines(file.FullName);
            for (var i = 0; i < lines.Length; i++)
                Assert.True(IsJson(lines[i]) || i == lines.Length - 1 || lines[i + 1].Contains("the line above is torn", StringComparison.Ordinal), lines[i]);
        }
        foreach (var file in new DirectoryInfo(LogDirectory).GetFiles("room-supervisor.log*"))
            Assert.All(File.ReadAllLines(file.FullName), line => Assert.True(line.StartsWith('#') || Stamp().IsMatch(line), line));
    }

    /// <summary>How a line of the log begins: UTC, then the run's own seconds. 500 kills go on into a third year.</summary>
    [GeneratedRegex(@"^20\d\d-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z \d+\.\d{3} ")]
    private static partial Regex Stamp();

    private static bool IsJson(string line)
    {
        try
        {
            JsonDocument.Parse(line).Dispose();
            return true;
        }
        catch (JsonException)
        {
            return false;
        }
    }

    private string LastLines() => string.Concat(File.ReadAllLines(Path.Combine(LogDirectory, "room-supervisor.log")).TakeLast(20));
}

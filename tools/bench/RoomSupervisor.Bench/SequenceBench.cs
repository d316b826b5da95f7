// One room's step and one lockstep line, with Log + Exp as the yardstick of the same run. Limits: a step 2 µs and nothing allocated;
// 20,000 lockstep lines a second, that is 50 µs a line. The room wanders between all stages, so that no branch is lucky.
using System.Buffers;
using System.Text;
using BenchmarkDotNet.Attributes;
using RoomSupervisor.Runtime.Lockstep;
using RoomSupervisor.Sequence;
using RoomSupervisor.Story;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Bench;

/// <summary>Cost of a scan.</summary>
[MemoryDiagnoser]
public class SequenceBench
{
    private const int Scans = 4096;
    private readonly ArrayBufferWriter<byte> answer = new(8192);
    private House house = null!;
    private Memory memory = null!;
    private OutputImage image = null!;
    private Sample[][] samples = null!;
    private byte[][] lines = null!;
    private LockstepSession session = null!;
    private int next;
    private double clock;
    private double x = 1.5;

    [GlobalSetup]
    public void Setup()
    {
        var files = OneRoom.Files(Root());
        house = files.House;
        memory = new Memory(house);
        image = house.NewOutputImage();
        session = OneRoom.Session(files);
        samples = new Sample[Scans][];
        lines = new byte[Scans][];
        for (var i = 0; i < Scans; i++)
        {
            var temperature = 25 + 2.2 * Math.Sin(i / 300.0);
            var humidity = 50 + 8 * Math.Sin(i / 170.0);
            var supply = 17 + 3 * Math.Sin(i / 90.0);
            samples[i] = new Sample[house.InputTable.Count];
            Array.Fill(samples[i], Sample.Nothing);
            Put(i, "weaving-room.air.temperature", temperature);
            Put(i, "weaving-room.air.humidity", humidity);
            Put(i, "weaving-room.opening.open", i % 1500 > 1400 ? 1 : 0);
            Put(i, "weaving-room.coil.drip_tray_full", 0);
            Put(i, "ceiling-loop.supply.temperature", supply);
            lines[i] = Encoding.UTF8.GetBytes(FormattableString.Invariant(
                $"{{\"readings\":{{\"weaving-room.air.temperature\":{temperature},\"weaving-room.air.humidity\":{humidity},\"weaving-room.opening.open\":{(i % 1500 > 1400 ? "true" : "false")},\"weaving-room.coil.drip_tray_full\":false,\"ceiling-loop.supply.temperature\":{supply}}},\"time\":\"2026-07-14T19:00:00Z\",\"elapsed\":"));
        }
    }

    [Benchmark(Baseline = true)]
    public double LogAndExp()
    {
        x = 1.5 + (x % 1) * 1e-6;
        return Math.Log(x) + Math.Exp(x);
    }

    [Benchmark]
    public double OneRoomStep()
    {
        next = (next + 1) % Scans;
        clock++;
        var scan = samples[next];
        for (var i = 0; i < scan.Length; i++)
            scan[i] = scan[i] with { TakenAtS = clock };
        Supervisor.Step(new ScanTime(clock, 1, DateTime.UnixEpoch, DateTime.UnixEpoch), house, scan, memory, image);
        return image.Commands[0].Value;
    }

    [Benchmark]
    public int LockstepLine()
    {
        next = (next + 1) % Scans;
        clock++;
        Span<byte> line = stackalloc byte[1024];
        lines[next].CopyTo(line);
        var length = lines[next].Length;
        System.Buffers.Text.Utf8Formatter.TryFormat((long)clock, line[length..], out var digits);
        line[length + digits] = (byte)'}';
        answer.ResetWrittenCount();
        session.Answer(line[..(length + digits + 1)], answer);
        return answer.WrittenCount;
    }

    private void Put(int scan, string id, double value) => samples[scan][house.InputTable.IndexOf(id)] = new Sample(value, scan, Fault.None);

    private static string Root()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "RoomSupervisor.sln")))
            folder = Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException("RoomSupervisor.sln");
        return folder;
    }
}

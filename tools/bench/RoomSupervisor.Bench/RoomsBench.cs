// What a scan costs a room, from one room to 1,024, with Log + Exp as the yardstick of the same run. Limits: six rooms 6 µs, 64 rooms 64 µs, nothing
// allocated; the cost of a room must not grow with the house. Every room wanders through its stages, each at its own time, so that no branch is lucky.
//
//   dotnet run -c Release --project tools/bench/RoomSupervisor.Bench -- rooms
using System.Diagnostics;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Bench;

/// <summary>Cost of a scan by the number of rooms.</summary>
internal static class RoomsBench
{
    private static readonly int[] Counts = [1, 6, 64, 256, 1024];

    /// <summary>Measures and prints; 0 when the limits hold, 1 when not.</summary>
    public static int Run()
    {
        Console.WriteLine("rooms | µs a scan | µs a room | against 64 rooms | Log + Exp of the same moment, ns | bytes a scan");
        var perRoom = new Dictionary<int, double>();
        var held = true;
        foreach (var rooms in Counts)
        {
            var house = new WanderingHouse(rooms);
            for (var i = 0; i < Math.Max(2000, 20_000 / rooms); i++)
                house.Scan();
            var yardstick = Yardstick();
            var (micros, bytes) = Measure(house, rooms, rooms > 6 ? 10 : 40);
            perRoom[rooms] = micros / rooms;
            held &= bytes == 0 && (rooms is not (6 or 64) || micros <= rooms);
            Console.WriteLine(FormattableString.Invariant(
                $"{rooms,5} | {micros,9:0.00} | {micros / rooms,9:0.000} | {(perRoom.TryGetValue(64, out var of64) ? micros / rooms / of64 : double.NaN),16:0.00} | {yardstick,32:0.0} | {bytes,12}"));
        }
        Console.WriteLine(FormattableString.Invariant($"a room of 1,024 costs {perRoom[1024] / perRoom[6]:0.00} times what one of six does"));
        return held ? 0 : 1;
    }

    /// <summary>One size for ten seconds or so, for a profiler to look at.</summary>
    public static int Watch(int rooms)
    {
        var house = new WanderingHouse(rooms);
        for (var i = 0; i < 600_000 / rooms; i++)
            house.Scan();
        var (micros, _) = Measure(house, rooms, 8);
        Console.WriteLine(FormattableString.Invariant($"{rooms} rooms: {micros:0.00} µs a scan"));
        return 0;
    }

    /// <summary>
    /// The same hour and a half again and again from the same memory, in slices too short for another process to come between: of each slice the fastest
    /// time, so that every stage counts as often as it comes and what else runs on the machine does not. Less what filling in the samples costs.
    /// </summary>
    private static (double Micros, long Bytes) Measure(WanderingHouse house, int rooms, int times)
    {
        var scans = rooms > 100 ? 570 : 5700;
        var slice = Math.Max(1, 300 / rooms);
        var fastest = new double[(scans + slice - 1) / slice];
        Array.Fill(fastest, double.PositiveInfinity);
        house.Keep();
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var time = 0; time < times; time++)
        {
            house.GoBack();
            for (var at = 0; at < fastest.Length; at++)
            {
                var from = Stopwatch.GetTimestamp();
                for (var i = 0; i < slice; i++)
                    house.Scan();
                fastest[at] = Math.Min(fastest[at], (Stopwatch.GetTimestamp() - from) * 1e6 / Stopwatch.Frequency);
            }
        }
        var bytes = GC.GetAllocatedBytesForCurrentThread() - before;
        return (fastest.Sum() / (fastest.Length * slice) - FastestMicros(slice, house.Fill), bytes / ((long)times * fastest.Length * slice));
    }

    private static double FastestMicros(int times, Action one)
    {
        var best = double.PositiveInfinity;
        for (var round = 0; round < Math.Max(9, 2000 / times); round++)
        {
            var from = Stopwatch.GetTimestamp();
            for (var i = 0; i < times; i++)
                one();
            best = Math.Min(best, (Stopwatch.GetTimestamp() - from) * 1e6 / Stopwatch.Frequency / times);
        }
        return best;
    }

    private static double Yardstick()
    {
        var x = 1.5;
        var nanos = 1000 * FastestMicros(100_000, () => x = 1.5 + (Math.Log(x) + Math.Exp(x)) % 1 * 1e-6);
        return x > 0 ? nanos : double.NaN;
    }
}

/// <summary>A house of many rooms, each with coil, ceiling and contact, twelve to a ceiling loop, all wandering.</summary>
internal sealed class WanderingHouse
{
    private const int RoomsALoop = 12;
    private readonly House house;
    private readonly Memory memory;
    private readonly OutputImage image;
    private readonly Sample[] samples;
    private readonly double[] sines = [.. Enumerable.Range(0, 4096).Select(i => Math.Sin(i * Math.PI / 2048))];
    private readonly Memory kept;
    private readonly double slower;
    private double clock, keptClock;

    /// <param name="rooms">Rooms.</param>
    /// <param name="slower">How much slower than by itself it wanders: at 1 through all its stages in half an hour.</param>
    public WanderingHouse(int rooms, double slower = 1)
    {
        this.slower = slower;
        var parts = new List<RoomPart>();
        var loops = new List<LoopPart> { new("coil-loop", LoopType.Direct, LoopServes.Coils, new LoopSettings()) };
        for (var i = 0; i < rooms; i++)
        {
            if (i % RoomsALoop == 0)
                loops.Add(new LoopPart($"ceiling-loop-{i / RoomsALoop}", LoopType.Mixed, LoopServes.Surfaces, new LoopSettings()));
            parts.Add(Room($"room-{i}", $"ceiling-loop-{i / RoomsALoop}"));
        }
        house = new HouseBuilder(_ => new SensorSettings(), _ => true).Build(new HouseParts("Bench", 12, UnitSystem.Metric, new SequenceSettings(), parts, loops));
        memory = new Memory(house);
        image = house.NewOutputImage();
        samples = new Sample[house.Inputs.Length];
        kept = new Memory(house);
    }

    /// <summary>Remembers where everything is.</summary>
    public void Keep()
    {
        memory.CopyTo(kept);
        keptClock = clock;
    }

    /// <summary>Back to where everything was.</summary>
    public void GoBack()
    {
        kept.CopyTo(memory);
        clock = keptClock;
    }

    public House House => house;

    public OutputImage Image => image;

    public double ClockS => clock;

    public Memory Memory => memory;

    public ReadOnlySpan<Sample> Samples => samples;

    public void Scan()
    {
        Fill();
        Supervisor.Step(new ScanTime(clock, 1, DateTime.UnixEpoch, DateTime.UnixEpoch), house, samples, memory, image);
    }

    /// <summary>New samples for every input.</summary>
    public void Fill()
    {
        clock++;
        for (var i = 0; i < samples.Length; i++)
            samples[i] = new Sample(Value(house.Inputs[i].Kind, i), clock, Fault.None);
    }

    private double Value(InputKind kind, int input) => kind switch
    {
        InputKind.RoomAirTemperature => 25 + 2.2 * Sine(1900, input),
        InputKind.RoomHumidity => 50 + 8 * Sine(1100, input),
        InputKind.OutdoorTemperature => 30,
        InputKind.OutdoorHumidity => 60,
        InputKind.WaterTemperature => 15 + 4 * Sine(570, input),
        InputKind.SurfaceTemperature => 20,
        InputKind.Contact => 0,
        InputKind.CarbonDioxide => 600,
        InputKind.Pressure => 150,
        _ => 0,
    };

    private double Sine(int periodS, int input) => sines[(int)((clock / slower + 137 * input) % periodS * sines.Length / periodS)];

    private static RoomPart Room(string name, string loop)
    {
        var kind = Fill(new CoilKind(), CoilKind.Parameters, ("output", 2400));
        var coil = new CoilPart("coil", "coil-loop", Fill(kind, CoilKind.SoundParameters, ("level", 47)), new CoilSettings());
        var ceiling = new SurfacePart("ceiling", loop, SurfaceKind.Panel(), Fill(new SurfaceSettings(), SurfaceSettings.Parameters, ("area", 16)), ActuatorKind.Modulating());
        return new RoomPart(name, Fill(new RoomSettings(), RoomSettings.Parameters, ("number", 1), ("floor_area", 24)), new HouseholdRoom(), [coil], [ceiling]);
    }

    private static T Fill<T>(T owner, IReadOnlyList<Parameter<T>> parameters, params (string Key, double Value)[] values)
    {
        foreach (var (key, value) in values)
            parameters.Single(parameter => parameter.Key == key).SetNumber!(owner, value);
        return owner;
    }
}

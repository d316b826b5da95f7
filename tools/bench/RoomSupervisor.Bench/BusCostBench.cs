// What the loop pays for its buses: requests for many points, bytes allocated by a transaction, the hand-over of the image, and lateness with a bus that
// hangs. Limits: 64 points in 3 requests; nothing allocated; hand-over under 1 µs; the worst hundredth of ticks at most 1.1 times as late.
//
//   dotnet run -c Release --project tools/bench/RoomSupervisor.Bench -- buses
using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Runtime;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Bench;

/// <summary>Cost of the buses for the loop.</summary>
internal static class BusCostBench
{
    private const int Points = 64, Transactions = 20_000, Copies = 200_000;
    private const int Rounds = 40, Ticks = 100;
    private const double TickS = 0.005, LatenessLimit = 1.1;
    private static readonly Mark Here = new("site.yaml", 1, 1);

    /// <summary>Measures and prints; 0 when all limits hold, 1 when not.</summary>
    public static int Run()
    {
        var holds = SixtyFourPoints() & TransactionsInMemory() & TransactionsOverLoopback() & HandOver() & Lateness();
        return holds ? 0 : 1;
    }

    private static bool SixtyFourPoints()
    {
        var (plan, modules) = Plan(new InputImage(Points), _ => null);
        plan.Workers[0].Poll(0);
        var requests = modules[0].Requests.Count;
        plan.Dispose();
        return Say($"{Points} points of one module: {requests} requests; limit 3", requests is > 0 and <= 3);
    }

    private static bool TransactionsInMemory()
    {
        var module = new MemoryModbusDevice { Records = false };
        for (var i = 0; i < Points; i++)
            module[RegisterTable.InputRegister, i] = 1;
        var line = new SerialLine("/dev/ttyS0", 115200);
        return Transact("over TCP in memory", new ModbusTcpLink(new MemoryChannel(module)))
            & Transact("on a serial line in memory", new ModbusRtuLink(new MemoryChannel(new MemoryRtuLine(line, [module])), line));
    }

    private static bool TransactionsOverLoopback()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        var server = new Thread(() => Serve(listener)) { IsBackground = true };
        server.Start();
        using var link = new ModbusTcpLink(new SocketChannel("127.0.0.1", ((IPEndPoint)listener.LocalEndpoint).Port));
        return Transact("over TCP on a real socket", link);
    }

    private static bool Transact(string where, IModbusLink link)
    {
        var (request, answer) = (new byte[5], new byte[ModbusPdu.Longest]);
        ModbusPdu.Read(request, ModbusFunction.ReadInputRegisters, 0, Points);
        for (var i = 0; i < 200; i++)
            link.Transact(1, request, answer, 5);
        var (from, before, failed) = (Stopwatch.GetTimestamp(), GC.GetAllocatedBytesForCurrentThread(), 0);
        for (var i = 0; i < Transactions; i++)
            failed += link.Transact(1, request, answer, 5).Problem == ModbusProblem.None ? 0 : 1;
        var bytes = GC.GetAllocatedBytesForCurrentThread() - before;
        var micros = Stopwatch.GetElapsedTime(from).TotalMicroseconds / Transactions;
        return Say($"a transaction of {Points} registers {where}: {micros:0.0} µs, {bytes} bytes allocated by {Transactions}, {failed} failed; limit nothing", bytes == 0 && failed == 0);
    }

    private static bool HandOver()
    {
        var image = new InputImage(Points);
        var samples = new Sample[Points];
        image.CopyTo(samples);
        var (best, before) = (double.PositiveInfinity, GC.GetAllocatedBytesForCurrentThread());
        for (var round = 0; round < 20; round++)
        {
            var from = Stopwatch.GetTimestamp();
            for (var i = 0; i < Copies / 20; i++)
                image.CopyTo(samples);
            best = Math.Min(best, Stopwatch.GetElapsedTime(from).TotalMicroseconds / (Copies / 20));
        }
        var bytes = GC.GetAllocatedBytesForCurrentThread() - before;
        return Say($"hand-over of an image of {Points} points: {best * 1000:0} ns, {bytes} bytes; limit 1 µs and nothing", best < 1 && bytes == 0);
    }

    /// <summary>Short rounds in turns with and without a bus that hangs, so that what else runs on the machine meets both alike.</summary>
    private static bool Lateness()
    {
        using var loop = new Beside();
        double[] without = new double[Rounds * Ticks], with = new double[Rounds * Ticks];
        loop.Play(without.AsSpan(0, Ticks), TickS);
        for (var round = 0; round < Rounds; round++)
        {
            loop.Hang(false);
            loop.Play(without.AsSpan(round * Ticks, Ticks), TickS);
            loop.Hang(true);
            loop.Play(with.AsSpan(round * Ticks, Ticks), TickS);
        }
        Array.Sort(without);
        Array.Sort(with);
        var at = without.Length - 1 - without.Length / 100;
        var ratio = with[at] / without[at];
        return Say($"lateness of a tick: half under {without[without.Length / 2]:0} µs, one in a hundred over {without[at]:0} µs with eight buses; {with[with.Length / 2]:0} and {with[at]:0} µs when one of them hangs: ratio {ratio:0.00}; limit {LatenessLimit}", ratio <= LatenessLimit);
    }

    private static bool Say(FormattableString line, bool holds)
    {
        Console.WriteLine((holds ? "" : "OVER THE LIMIT: ") + FormattableString.Invariant(line));
        return holds;
    }

    private static (HardwarePlan Plan, List<MemoryModbusDevice> Modules) Plan(InputImage inputs, Func<int, IModbusLink?> links, int devices = 1)
    {
        var modules = new List<MemoryModbusDevice>();
        var settings = new List<DeviceSettings>();
        var wiring = new List<PointWiring>();
        var each = inputs.Count / devices;
        for (var d = 0; d < devices; d++)
        {
            var bag = BusHouse.Defaults(ModbusTcpDriver.Declaration.Parameters);
            bag.Set("host", "192.0.2.10");
            bag.Set("interval", 0.1);
            // Every third address is nobody's.
            bag.Set("join_gap", 1);
            var channels = new Dictionary<string, SettingBag>();
            modules.Add(new MemoryModbusDevice { Records = devices == 1 });
            for (var i = 0; i < each; i++)
            {
                channels.Add($"c{i}", Register(i + i / 2));
                wiring.Add(new PointWiring($"a.b.c{i}", false, d * each + i, Quantity.Number, $"io-{d}", $"c{i}", false, VoltageLine.ZeroToTen, double.NaN, Here));
            }
            for (var address = 0; address < 2 * each; address++)
                modules[d][RegisterTable.InputRegister, address] = (ushort)address;
            settings.Add(new DeviceSettings($"io-{d}", ModbusTcpDriver.Name, bag, channels, Here));
        }
        var plan = HardwarePlan.Build(settings, wiring, inputs, new OutputLeases(0), new Buses
        {
            Modbus = device => int.Parse(device.Name[3..], System.Globalization.CultureInfo.InvariantCulture) is var d && links(d) is { } link ? link : new ModbusTcpLink(new MemoryChannel(modules[d])),
        });
        return plan.Problems.Count == 0 ? (plan, modules) : throw new InvalidOperationException(plan.Problems[0].Text);
    }

    private static SettingBag Register(int address)
    {
        var bag = BusHouse.Defaults(ModbusTcpDriver.Declaration.ChannelParameters);
        bag.Set("table", "input-register");
        bag.Set("address", address);
        return bag;
    }

    private static void Serve(TcpListener listener)
    {
        using var client = listener.AcceptSocket();
        client.NoDelay = true;
        var (request, answer) = (new byte[12], new byte[9 + 2 * Points]);
        try
        {
            while (client.Receive(request) == request.Length)
            {
                (answer[0], answer[1], answer[5], answer[6], answer[7], answer[8]) = (request[0], request[1], (byte)(3 + 2 * Points), request[6], request[7], 2 * Points);
                client.Send(answer);
            }
        }
        catch (SocketException)
        {
        }
    }

    /// <summary>Eight buses on threads of their own, and the loop's side of them.</summary>
    private sealed class Beside : IDisposable
    {
        private const int Buses = 8;
        private readonly RunClock clock = new(TimeProvider.System, TimeZoneInfo.Utc);
        private readonly InputImage inputs = new(Points);
        private readonly Sample[] samples = new Sample[Points];
        private readonly HappeningList told = new(256);
        private readonly HardwarePlan plan;
        private readonly BusThread[] threads;
        private readonly HealthWatch watch;
        private readonly BusKeeper keeper;
        private readonly ManualResetEventSlim free = new(true);

        public Beside()
        {
            MemoryModbusDevice first = new() { Records = false };
            (plan, _) = Plan(inputs, d => d == 0 ? new Hanging(new ModbusTcpLink(new MemoryChannel(first)), free) : null, Buses);
            for (var address = 0; address < 2 * Points; address++)
                first[RegisterTable.InputRegister, address] = 1;
            threads = [.. plan.Workers.Select(worker => new BusThread(worker, clock, _ => { }))];
            watch = new HealthWatch(threads);
            keeper = new BusKeeper(threads, plan.Replace, clock);
            foreach (var thread in threads)
                thread.Start();
            keeper.Start();
        }

        /// <summary>From now on the first bus hangs in the middle of a request, or goes on.</summary>
        public void Hang(bool hangs)
        {
            if (hangs)
                free.Reset();
            else
                free.Set();
            Thread.Sleep(150);
        }

        /// <summary>Plays a tick for each place and notes how late it was done, µs.</summary>
        public void Play(Span<double> late, double tickS)
        {
            var (start, period) = (Stopwatch.GetTimestamp(), (long)(tickS * Stopwatch.Frequency));
            for (var i = 0; i < late.Length; i++)
            {
                var due = start + (i + 1) * period;
                for (var left = due - Stopwatch.GetTimestamp(); left > 0; left = due - Stopwatch.GetTimestamp())
                    Thread.Sleep(TimeSpan.FromSeconds(Math.Max(0.0001, left / (double)Stopwatch.Frequency)));
                inputs.CopyTo(samples);
                told.Clear();
                watch.Look(clock.ElapsedS, told);
                late[i] = Stopwatch.GetElapsedTime(due).TotalMicroseconds;
            }
        }

        public void Dispose()
        {
            free.Set();
            keeper.Dispose();
            foreach (var thread in threads)
                thread.Dispose();
            plan.Dispose();
        }

        /// <summary>A link that does not come back while it hangs.</summary>
        private sealed class Hanging(ModbusTcpLink link, ManualResetEventSlim free) : IModbusLink
        {
            public ModbusReply Transact(byte unit, ReadOnlySpan<byte> request, Span<byte> answer, double deadlineS)
            {
                free.Wait();
                return link.Transact(unit, request, answer, deadlineS);
            }

            public void KeepQuiet(double seconds)
            {
            }

            public void Close()
            {
            }

            public void Dispose()
            {
            }
        }
    }
}

// A site read once, with nothing running: each wired input is asked of its device, no output is touched, then the sequence judges what came. It must never write
// to a device, and never wait longer than the slowest device may take.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Control;

/// <summary>Reads every wired input once.</summary>
public static class OneReading
{
    /// <summary>Longest wait for the devices of a bus, s; a slow chip measures for five.</summary>
    private const double LongestS = 20;

    /// <summary>Reads them; false with what does not fit together.</summary>
    /// <param name="files">The site.</param>
    /// <param name="time">Clock.</param>
    /// <param name="buses">How buses are made; null: real ones.</param>
    /// <param name="parts">What was read, for the requests that show it. Its buses are closed.</param>
    /// <param name="problems">What does not fit together.</param>
    public static bool TryTake(SiteFiles files, TimeProvider time, Buses? buses, out ControlParts? parts, out IReadOnlyList<string> problems)
    {
        parts = null;
        var house = files.House;
        var clock = new RunClock(time, files.Site.TimeZone);
        List<PointWiring> wires = [.. files.Wiring.Where(wire => !wire.IsOutput)];
        var inputs = new InputImage(house.InputTable.Count);
        var leases = new OutputLeases(OutputChannels.CountOf(wires));
        using var plan = HardwarePlan.Build(files.Devices, wires, inputs, leases, buses);
        problems = [.. plan.Problems.Select(problem => $"{problem.Mark}: error: {problem.Text}")];
        if (problems.Count > 0)
            return false;
        BusWorker[] workers = [.. plan.Workers];
        Thread[] threads = [.. workers.Select(worker => new Thread(() => Poll(worker, clock)) { IsBackground = true, Name = "reads " + worker.Name })];
        foreach (var thread in threads)
            thread.Start();
        var until = clock.ElapsedS + LongestS;
        foreach (var thread in threads)
            thread.Join(TimeSpan.FromSeconds(Math.Max(0.01, until - clock.ElapsedS)));
        var board = new SnapshotBoard(house);
        Judge(house, clock, inputs, board);
        parts = new ControlParts(files, wires, board, leases, clock) { Workers = () => workers, IsRunning = false };
        return true;
    }

    /// <summary>Polls a bus until each of its channels has been asked once, and asked again where a first answer was lost.</summary>
    private static void Poll(BusWorker worker, RunClock clock)
    {
        var until = clock.ElapsedS + LongestS - 1;
        using var pause = new ManualResetEventSlim();
        while (clock.ElapsedS < until && !worker.Devices.All(IsDone))
        {
            try
            {
                worker.Poll(clock.ElapsedS);
            }
#pragma warning disable CA1031 // A driver that throws leaves its own points unread, and the reader says so.
            catch (Exception)
#pragma warning restore CA1031
            {
                return;
            }
            pause.Wait(TimeSpan.FromSeconds(Math.Clamp(worker.NextDueS - clock.ElapsedS, 0.002, 0.05)));
        }
    }

    private static bool IsDone(IBusDevice device)
    {
        if (device.Health.State == DeviceState.NotAnswering)
            return true;
        for (var i = 0; i < device.ChannelCount; i++)
        {
            if (device.Channel(i) is { Fault: Fault.NotRead })
                return false;
        }
        return true;
    }

    private static void Judge(House house, RunClock clock, InputImage inputs, SnapshotBoard board)
    {
        var samples = new Sample[house.InputTable.Count];
        inputs.CopyTo(samples);
        var (image, memory) = (house.NewOutputImage(), new Memory(house));
        var utc = clock.Utc;
        var now = new ScanTime(clock.ElapsedS, 0, utc, clock.LocalOf(utc));
        Supervisor.Step(now, house, samples, memory, image);
        board.Publish(house, now, samples, image, memory);
    }
}

// Stage, leases and bus worker together on a device in memory: the order in which relays are written, and what is written at stop.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Hardware.Outputs;

public class RelayWorkerTests
{
    private const int Opens = 1, Shuts = 0;

    private sealed class Bench : IDisposable
    {
        private readonly HardwarePlan plan;
        private readonly OutputStage stage;

        /// <summary>A mixing valve whose shutting relay stands first in the wiring, and a device on which the opening relay is still on.</summary>
        public Bench()
        {
            var shape = new OutputShape { Kind = OutputKind.ThreePoint, StrokeS = 90 };
            PointWiring Relay(string channel, ChannelRole role)
                => Rig.Output("loop.mixing.valve", 0, Quantity.Percent, channel, VoltageLine.ZeroToTen, 0) with { Shape = shape, Role = role };
            PointWiring[] wiring = [Relay("shuts", ChannelRole.Shuts), Relay("opens", ChannelRole.Opens)];
            Device[RegisterTable.Coil, Shuts] = 0;
            Device[RegisterTable.Coil, Opens] = 1;
            var settings = Rig.DeviceWith() with
            {
                Channels = new Dictionary<string, SettingBag>(StringComparer.Ordinal) { ["shuts"] = Rig.Register("coil", Shuts), ["opens"] = Rig.Register("coil", Opens) },
            };
            var leases = new OutputLeases(OutputChannels.CountOf(wiring));
            plan = HardwarePlan.Build([settings], wiring, new InputImage(0), leases, new Buses { Modbus = _ => new ModbusTcpLink(new MemoryChannel(Device)) });
            Assert.Empty(plan.Problems);
            stage = new OutputStage(wiring, leases);
        }

        public MemoryModbusDevice Device { get; } = new();

        public BusWorker Worker => plan.Workers[0];

        /// <summary>Polls that a single moment took at most: more than a few is a worker that runs in circles.</summary>
        public int MostTurns { get; private set; }

        public bool BothOn { get; private set; }

        public double NowS { get; private set; }

        public void Poll()
        {
            for (var turn = 0; turn < 20; turn++)
            {
                Worker.Poll(NowS);
                MostTurns = Math.Max(MostTurns, turn + 1);
                BothOn |= On(Opens) && On(Shuts);
                if (Worker.NextDueS > NowS)
                    return;
            }
        }

        public void Run(double percent, double forS)
        {
            for (var until = NowS + forS; NowS < until; NowS++)
            {
                stage.Put([new Command(percent, default, default, 0)], NowS, 10);
                Poll();
            }
        }

        public bool On(int relay) => Device[RegisterTable.Coil, relay] != 0;

        public void Dispose() => plan.Dispose();
    }

    [Fact]
    public void At_start_the_opening_relay_goes_off_before_the_shutting_one_comes_on()
    {
        using var bench = new Bench();
        bench.Poll();
        Assert.Equal([new MemoryWrite(RegisterTable.Coil, Opens, 0), new MemoryWrite(RegisterTable.Coil, Shuts, 1)], bench.Device.Writes);
        Assert.True(bench.Worker.NextDueS > bench.NowS);
    }

    [Fact]
    public void While_the_device_refuses_to_let_go_of_one_relay_the_other_stays_off_and_the_bus_is_not_flooded()
    {
        using var bench = new Bench();
        bench.Device.Refuse(RegisterTable.Coil, Opens, 4);
        bench.Run(50, 30);
        Assert.False(bench.On(Shuts));
        Assert.InRange(bench.Device.Requests.Count, 1, 8);
        Assert.InRange(bench.MostTurns, 1, 3);
        bench.Device.Refuse(RegisterTable.Coil, Opens, 0);
        bench.Run(0, 30);
        Assert.Equal((false, true), (bench.On(Opens), bench.On(Shuts)));
        Assert.False(bench.BothOn);
    }

    [Fact]
    public void The_full_close_begins_at_the_first_contact_not_at_the_first_scan()
    {
        using var bench = new Bench();
        bench.Device.Powered = false;
        bench.Run(100, 200);
        bench.Device.Powered = true;
        bench.Run(100, 60);
        Assert.Equal((false, true), (bench.On(Opens), bench.On(Shuts)));
        bench.Run(100, 120);
        Assert.Equal((true, false), (bench.On(Opens), bench.On(Shuts)));
        Assert.False(bench.BothOn);
    }

    [Fact]
    public void At_stop_all_channels_get_their_safe_values_off_before_on()
    {
        using var bench = new Bench();
        bench.Run(100, 150);
        Assert.Equal((true, false), (bench.On(Opens), bench.On(Shuts)));
        bench.Device.Writes.Clear();
        var result = bench.Worker.WriteSafe(bench.NowS);
        Assert.Equal((2, 0), (result.Written, result.NotWritten.Count));
        Assert.Equal([new MemoryWrite(RegisterTable.Coil, Opens, 0), new MemoryWrite(RegisterTable.Coil, Shuts, 1)], bench.Device.Writes);
    }

    [Fact]
    public void At_stop_a_relay_that_cannot_be_switched_off_keeps_the_other_off_and_both_are_named()
    {
        using var bench = new Bench();
        bench.Run(100, 150);
        bench.Device.Refuse(RegisterTable.Coil, Opens, 4);
        var result = bench.Worker.WriteSafe(bench.NowS);
        Assert.Equal(["opens", "shuts"], result.NotWritten.Select(one => one.Channel).Order());
        Assert.False(bench.On(Shuts));
    }

    [Fact]
    public void Over_any_sequence_of_commands_and_outages_both_are_never_on()
    {
        for (var seed = 0; seed < 10; seed++)
        {
            var random = new Random(seed);
            using var bench = new Bench();
            for (var i = 0; i < 60; i++)
            {
                bench.Device.Powered = random.Next(6) > 0;
                bench.Device.Silent = random.Next(8) == 0;
                bench.Run(random.Next(5) switch { 0 => 0, 1 => 100, _ => random.NextDouble() * 100 }, random.Next(40));
            }
            Assert.False(bench.BothOn, $"seed {seed}");
        }
    }

    /// <summary>A module with relays only: attempts after an outage must ask something, whichever relay waits for another.</summary>
    [Theory]
    [InlineData(15)]
    [InlineData(25)]
    [InlineData(40)]
    [InlineData(60)]
    public void After_an_outage_a_module_with_relays_only_is_asked_again(double outageS)
    {
        using var bench = new Bench();
        bench.Run(50, 200);
        bench.Device.Powered = false;
        bench.Run(50, outageS);
        bench.Device.Powered = true;
        // Retried within its longest pause, then a full close and half a stroke.
        bench.Run(50, 40);
        Assert.True(bench.On(Shuts));
        bench.Run(50, 200);
        Assert.Equal((false, false), (bench.On(Shuts), bench.On(Opens)));
        Assert.False(bench.BothOn);
    }
}

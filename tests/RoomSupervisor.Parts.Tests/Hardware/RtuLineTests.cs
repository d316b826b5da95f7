// Many units on one serial line under one worker, in memory and virtual time: one dead, all away, one that hangs; settings that differ.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Parts.Tests.Site;
using RoomSupervisor.Terms;
using Xunit;

namespace RoomSupervisor.Parts.Tests.Hardware;

public class RtuLineTests
{
    private const int Units = 20;
    private static readonly SerialLine Line = new("/dev/serial/by-id/usb-line-1", 9600, SerialParity.Even);

    /// <summary>Twenty units with a temperature and a relay each.</summary>
    private sealed class House : IDisposable
    {
        public House(Action<int, SettingBag>? settings = null, Func<DeviceSettings, IModbusLink>? links = null)
        {
            foreach (var (i, module) in Modules.Index())
            {
                module[RegisterTable.InputRegister, 4] = (ushort)(200 + i);
                module[RegisterTable.Coil, 0] = 1;
                module[RegisterTable.HoldingRegister, 112] = 9;
            }
            Peer = new MemoryRtuLine(Line, Modules);
            Channel = new MemoryChannel(Peer);
            var devices = Enumerable.Range(0, Units).Select(i => Device(i, settings)).ToList();
            Plan = HardwarePlan.Build(devices, [.. Enumerable.Range(0, Units).SelectMany(Wires)], Inputs, Leases, new Buses { Modbus = links ?? (_ => new ModbusRtuLink(Channel, Line)) });
            Assert.Empty(Plan.Problems);
        }

        public MemoryModbusDevice[] Modules { get; } = [.. Enumerable.Range(1, Units).Select(unit => new MemoryModbusDevice((byte)unit) { LatencyS = 0.01 })];

        public MemoryRtuLine Peer { get; }

        public MemoryChannel Channel { get; }

        public InputImage Inputs { get; } = new(Units);

        public OutputLeases Leases { get; } = new(Units);

        public HardwarePlan Plan { get; }

        public BusWorker Worker => Plan.Workers[0];

        public Sample Sample(int index)
        {
            var all = new Sample[Inputs.Count];
            Inputs.CopyTo(all);
            return all[index];
        }

        /// <summary>Polls whenever something is due, as a thread would; gives the largest age a reading had while it ran, of units that <paramref name="counts"/> names.</summary>
        public double Run(double fromS, double toS, Func<int, bool> counts)
        {
            var (now, oldest) = (fromS, 0.0);
            while (now < toS)
            {
                now += Worker.Poll(now);
                now = Math.Max(now + 0.001, Math.Min(Worker.NextDueS, now + 0.05));
                Channel.At(now);
                for (var i = 0; i < Units; i++)
                    oldest = counts(i) ? Math.Max(oldest, now - Sample(i).TakenAtS) : oldest;
            }
            return oldest;
        }

        public void Dispose() => Plan.Dispose();
    }

    [Fact]
    public void Twenty_units_on_one_line_share_a_worker_and_are_all_read_and_made_safe()
    {
        using var house = new House();
        Assert.Single(house.Plan.Workers);
        house.Run(0, 3, _ => false);
        for (var i = 0; i < Units; i++)
        {
            Assert.Equal((20 + i / 10.0, Fault.None), (Math.Round(house.Sample(i).Value, 9), house.Sample(i).Fault));
            Assert.Equal(0, house.Modules[i][RegisterTable.Coil, 0]);
        }
        Assert.Equal(1, house.Channel.Connections);
        var health = house.Worker.Devices[0].Health;
        Assert.Equal((health.Requests, 0L, 0L), (health.Counts.Answers, health.Failures, health.Counts.Retries));
        // 8 bytes there, 7 or 8 back with 11 bits each at 9600 baud, the silences, and 10 ms of the unit.
        Assert.InRange(health.MeanLatencyS, 0.028, 0.05);
        Assert.InRange(health.WorstLatencyS, health.MeanLatencyS, 0.08);
    }

    [Fact]
    public void One_dead_unit_of_twenty_holds_the_others_up_by_its_time_out_only_and_less_and_less_often()
    {
        using var house = new House();
        house.Run(0, 5, _ => false);
        var usual = house.Run(5, 60, _ => true);
        house.Modules[7].Powered = false;
        var oldest = house.Run(60, 180, i => i != 7);
        Assert.InRange(oldest, usual, usual + 0.5 + 0.1);
        Assert.Equal((DeviceState.NotAnswering, Fault.Timeout), (house.Worker.Devices[7].Health.State, house.Sample(7).Fault));
        var counts = house.Worker.Devices[7].Health.Counts;
        // 1, 2, 4, 8, 16 s, then every 30 s: no more than nine time-outs in two minutes; each after the first is an attempt anew.
        Assert.InRange(counts.TimedOut, 6, 9);
        Assert.Equal(counts.TimedOut - 1, counts.Retries);
        Assert.All(Enumerable.Range(0, Units).Where(i => i != 7), i => Assert.Equal(0, house.Worker.Devices[i].Health.Failures));

        house.Modules[7].Powered = true;
        house.Run(180, 212, _ => false);
        Assert.Equal((DeviceState.Answering, 20.7), (house.Worker.Devices[7].Health.State, Math.Round(house.Sample(7).Value, 9)));
    }

    [Fact]
    public void The_adapter_pulled_for_thirty_seconds_is_told_and_served_again_with_safe_values_first()
    {
        using var house = new House();
        house.Run(0, 5, _ => false);
        for (var i = 0; i < Units; i++)
            house.Leases.Put(i, new Command(1, default, default, 0), 5, 20);
        house.Run(5, 8, _ => false);
        Assert.All(house.Modules, module => Assert.Equal(1, module[RegisterTable.Coil, 0]));
        // For ten seconds the port looks open, then its path is gone.
        house.Peer.IsPlugged = false;
        house.Run(8, 18, _ => false);
        house.Peer.IsGone = true;
        for (var t = 18; t < 38; t += 10)
        {
            // The loop goes on putting commands that it computes blind; each has a life of 20 s.
            for (var i = 0; i < Units; i++)
                house.Leases.Put(i, new Command(1, default, default, 0), t, 20);
            house.Run(t, t + 10, _ => false);
        }
        Assert.All(house.Worker.Devices, device => Assert.Equal(DeviceState.NotAnswering, device.Health.State));
        Assert.Contains("adapter", house.Worker.Devices[0].Health.LastProblem, StringComparison.Ordinal);
        foreach (var module in house.Modules)
            module.Writes.Clear();
        (house.Peer.IsPlugged, house.Peer.IsGone) = (true, false);
        house.Run(38, 75, _ => false);
        Assert.All(house.Worker.Devices, device => Assert.Equal(DeviceState.Answering, device.Health.State));
        Assert.All(house.Modules, module => Assert.Equal(0, module.Writes[0].Value));
        Assert.All(Enumerable.Range(0, Units), i => Assert.Equal(Fault.None, house.Sample(i).Fault));
    }

    [Fact]
    public void The_modules_own_time_out_is_read_at_the_first_contact_and_written_only_where_it_differs()
    {
        using var house = new House((_, bag) =>
        {
            bag.Set("own_time_out", 60);
            bag.Set("own_time_out_address", 112);
            bag.Set("own_time_out_step", 0.1);
        });
        house.Modules[3][RegisterTable.HoldingRegister, 112] = 600;
        house.Modules[4].Refuse(RegisterTable.HoldingRegister, 112, 2);
        house.Run(0, 40, _ => false);
        Assert.Equal(600, house.Modules[0][RegisterTable.HoldingRegister, 112]);
        Assert.Single(house.Modules[0].Writes, write => write.Table == RegisterTable.HoldingRegister);
        Assert.DoesNotContain(house.Modules[3].Writes, write => write.Table == RegisterTable.HoldingRegister);
        Assert.Equal(("", "register 112: exception 2, address not known to the device"), (house.Worker.Devices[0].Health.SetUpProblem, house.Worker.Devices[4].Health.SetUpProblem));
        Assert.Equal(Fault.None, house.Sample(4).Fault);

        // Power fails at one; it has forgotten.
        house.Modules[0].Powered = false;
        house.Run(40, 45, _ => false);
        (house.Modules[0].Powered, house.Modules[0][RegisterTable.HoldingRegister, 112]) = (true, 9);
        house.Run(45, 80, _ => false);
        Assert.Equal(600, house.Modules[0][RegisterTable.HoldingRegister, 112]);
    }

    [Fact]
    public void A_worker_that_is_replaced_puts_nothing_any_more_and_the_new_one_begins_with_safe_values()
    {
        using var house = new House();
        house.Run(0, 3, _ => false);
        house.Leases.Put(0, new Command(1, default, default, 0), 3, 300);
        house.Run(3, 4, _ => false);
        Assert.Equal(1, house.Modules[0][RegisterTable.Coil, 0]);
        var old = house.Worker;
        var fresh = house.Plan.Replace(old, 20);
        Assert.Same(fresh, house.Worker);
        Assert.True(old.IsReplaced);
        Assert.All(Enumerable.Range(0, Units), i => Assert.Equal((Fault.Timeout, 20.0), (house.Sample(i).Fault, house.Sample(i).TakenAtS)));
        // The request that hung ends at last: its device must put nothing, the worker poll nothing.
        old.Devices[0].Poll(21, () => false);
        Assert.Equal((0.0, Fault.Timeout), (old.Poll(22), house.Sample(0).Fault));

        house.Modules[0].Writes.Clear();
        house.Run(22, 25, _ => false);
        Assert.Equal(0, house.Modules[0].Writes[0].Value);
        Assert.Equal(Fault.None, house.Sample(0).Fault);
        // The command given before does not count, the next one does.
        Assert.Equal(0, house.Modules[0][RegisterTable.Coil, 0]);
        house.Leases.Put(0, new Command(1, default, default, 0), 25, 300);
        house.Run(25, 26, _ => false);
        Assert.Equal(1, house.Modules[0][RegisterTable.Coil, 0]);
    }

    [Fact]
    public void Devices_on_one_line_must_agree_on_it_and_each_has_its_own_unit()
    {
        const string Text = """
            devices:
              a: {driver: modbus-rtu, port: /dev/ttyS1, baud: 9600, parity: even, unit: 1, registers: {t: {table: input-register, address: 0}}}
              b: {driver: modbus-rtu, port: /dev/ttyS1, baud: 19200, parity: none, unit: 2, registers: {t: {table: input-register, address: 0}}}
              c: {driver: modbus-rtu, port: /dev/ttyS1, baud: 9600, parity: even, unit: 1, registers: {t: {table: input-register, address: 0}}}
              d: {driver: modbus-rtu, port: ttyS2, baud: 9601, parity: even, unit: 1, registers: {t: {table: input-register, address: 0}}}
            """;
        var said = SiteTexts.Read(Text + "\n" + SiteTexts.SiteText[..SiteTexts.SiteText.IndexOf("devices:", StringComparison.Ordinal)], SiteTexts.HouseholdText).Problems.Select(one => one.ToString()).ToList();
        Assert.Contains(said, one => one.Contains(":3:", StringComparison.Ordinal) && one.Contains("devices.b.baud", StringComparison.Ordinal) && one.Contains("9600 at device a (line 2)", StringComparison.Ordinal));
        Assert.Contains(said, one => one.Contains("devices.b.parity", StringComparison.Ordinal));
        Assert.Contains(said, one => one.Contains("devices.c", StringComparison.Ordinal) && one.Contains("place of device a (line 2)", StringComparison.Ordinal));
        Assert.Contains(said, one => one.Contains("devices.d.baud", StringComparison.Ordinal) && one.Contains("9601", StringComparison.Ordinal));
    }

    [Fact]
    public void A_time_out_shorter_than_the_wire_needs_is_told_with_numbers()
    {
        var device = Device(0, (_, bag) => bag.Set("baud", "1200"));
        var plan = HardwarePlan.Build([device], [], new InputImage(0), new OutputLeases(0), new Buses { Modbus = _ => new ModbusRtuLink(new MemoryChannel(new MemoryRtuLine(Line, [])), Line) });
        Assert.Empty(plan.Problems);
        device.Settings.Set("timeout", 0.15);
        plan = HardwarePlan.Build([device], [Wires(0).First()], new InputImage(1), new OutputLeases(0), new Buses { Modbus = _ => new ModbusRtuLink(new MemoryChannel(new MemoryRtuLine(Line, [])), Line) });
        Assert.Contains("at 1200 baud its longest request takes", Assert.Single(plan.Problems).Text, StringComparison.Ordinal);
    }

    private static DeviceSettings Device(int i, Action<int, SettingBag>? settings)
    {
        var bag = Rig.Defaults(ModbusRtuDriver.Declaration.Parameters);
        bag.Set("port", Line.Port);
        bag.Set("baud", "9600");
        bag.Set("parity", "even");
        bag.Set("unit", i + 1);
        bag.Set("interval", 2);
        settings?.Invoke(i, bag);
        return new DeviceSettings($"io-{i}", ModbusRtuDriver.Name, bag, new Dictionary<string, SettingBag>(StringComparer.Ordinal)
        {
            ["temperature"] = Rig.Register("input-register", 4, "0.1 °C", "s16"),
            ["relay"] = Rig.Register("coil", 0),
        }, Rig.Here);
    }

    private static IEnumerable<PointWiring> Wires(int i) =>
    [
        Rig.Input($"room-{i}.air.temperature", i, Quantity.Temperature, "temperature") with { Device = $"io-{i}" },
        Rig.Output($"loop-{i}.pump.run", i, Quantity.Switch, "relay", VoltageLine.ZeroToTen, 0) with { Device = $"io-{i}" },
    ];
}

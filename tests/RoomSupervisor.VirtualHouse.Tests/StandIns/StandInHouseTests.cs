// The house of stand-ins with the real drivers and workers between: values both ways, the menu of faults on every driver, power and time-outs,
// nothing allocated, twice the same. Virtual time.
using System.Globalization;
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse.Tests.StandIns;

public class StandInHouseTests
{
    private static void SetAll(ChipHouse chips)
    {
        chips.House.SetInput(ChipHouse.HallT, 25.3);
        chips.House.SetInput(ChipHouse.HallRh, 61);
        chips.House.SetInput(ChipHouse.LoftT, 28.75);
        chips.House.SetInput(ChipHouse.LoftRh, 48);
        chips.House.SetInput(ChipHouse.SupplyT, 17.2);
        chips.House.SetInput(ChipHouse.Door, 1);
        chips.House.SetInput(ChipHouse.OutdoorT, -3.4);
    }

    [Fact]
    public void What_is_set_arrives_as_samples_in_the_same_second()
    {
        using var chips = new ChipHouse();
        SetAll(chips);
        chips.Second(0);
        double[] wanted = [25.3, 61, 28.75, 48, 17.2, 1, -3.4];
        for (int i = 0; i < wanted.Length; i++)
        {
            Assert.Equal((Fault.None, 0.0), (chips.Sample(i).Fault, Math.Round(chips.Sample(i).TakenAtS, 1)));
            Assert.Equal(wanted[i], chips.Sample(i).Value, 2);
        }

        chips.House.SetInput(ChipHouse.Door, 0);
        chips.Second(1);
        Assert.Equal(0, chips.Sample(ChipHouse.Door).Value);
    }

    // Volts by hand from the wiring's lines: fan 60 % is 5.9 V, mixing valve 25 % of 2–10 V is 4 V.
    [Fact]
    public void What_is_commanded_is_on_the_wire_and_asks_the_same_of_the_thing()
    {
        using var chips = new ChipHouse();
        chips.Second(0);
        chips.Put(ChipHouse.Fan, 60, 0);
        chips.Put(ChipHouse.Valve, 30, 0);
        chips.Put(ChipHouse.Mixing, 25, 0);
        chips.Put(ChipHouse.Pump, 1, 0);
        chips.Put(ChipHouse.Shuts, 1, 0);
        chips.Second(1);
        Assert.Equal([5.9, 3.0, 4.0, 1, 0, 1], Enumerable.Range(0, 6).Select(i => Math.Round(chips.House.Output(i), 2)));
        Assert.Equal([60, 30, 25, 1, 0, 1], Enumerable.Range(0, 6).Select(i => Math.Round(chips.House.Asked(i), 0)));
        Assert.Equal((ChannelRole.Opens, Quantity.Switch), (chips.House.Outputs[ChipHouse.Opens].Role, chips.House.Outputs[ChipHouse.Opens].Quantity));
        chips.Run(2, 8);
        Assert.Equal([0, 0, 2, 0], Enumerable.Range(0, 4).Select(i => Math.Round(chips.House.Output(i), 2)));
    }

    /// <summary>The menu on every driver. What each must say is written here by hand; devices next to it go on as if nothing were.</summary>
    [Theory]
    [InlineData("hall-air", BusFault.NoAcknowledge, Fault.NoAcknowledge, "no acknowledge")]
    [InlineData("hall-air", BusFault.BadChecksum, Fault.Crc, "checksum wrong")]
    [InlineData("hall-air", BusFault.CutShort, Fault.BusError, "cut short")]
    [InlineData("hall-air", BusFault.Hung, Fault.Timeout, "line is held low")]
    [InlineData("hall-air", BusFault.Absent, Fault.NoAcknowledge, "nobody at this address")]
    [InlineData("loft-air", BusFault.NoAcknowledge, Fault.NoAcknowledge, "no acknowledge")]
    [InlineData("loft-air", BusFault.BadChecksum, Fault.Crc, "checksum wrong")]
    [InlineData("loft-air", BusFault.CutShort, Fault.BusError, "cut short")]
    [InlineData("loft-air", BusFault.Hung, Fault.Timeout, "line is held low")]
    [InlineData("loft-air", BusFault.Absent, Fault.NoAcknowledge, "nobody at this address")]
    [InlineData("volts", BusFault.NoAcknowledge, Fault.NoAcknowledge, "no acknowledge")]
    [InlineData("volts", BusFault.CutShort, Fault.BusError, "cut short")]
    [InlineData("volts", BusFault.Hung, Fault.Timeout, "line is held low")]
    [InlineData("volts", BusFault.Absent, Fault.NoAcknowledge, "nobody at this address")]
    [InlineData("io-1", BusFault.BadChecksum, Fault.BusError, "not Modbus")]
    [InlineData("io-1", BusFault.CutShort, Fault.Timeout, "not complete in time")]
    [InlineData("io-1", BusFault.Hung, Fault.Timeout, "no answer in time")]
    [InlineData("io-1", BusFault.Absent, Fault.NoAcknowledge, "connection refused")]
    public void Every_fault_of_the_menu_says_what_it_is_and_leaves_the_others_alone(string device, BusFault fault, Fault wanted, string words)
    {
        using var chips = new ChipHouse();
        SetAll(chips);
        chips.Run(0, 5);
        chips.House.SetFault(chips.House.DeviceOf(device), fault);
        chips.Run(6, 40);
        DeviceHealth health = chips.Health(device);
        Assert.Equal((DeviceState.NotAnswering, wanted), (health.State, health.LastFault));
        Assert.Contains(words, health.LastProblem, StringComparison.Ordinal);
        foreach (DeviceSettings other in chips.Devices.Where(one => one.Name != device))
            Assert.Equal((DeviceState.Answering, 0L), (chips.Health(other.Name).State, chips.Health(other.Name).Failures));
        foreach (PointWiring input in ChipHouse.Wiring.Where(one => !one.IsOutput))
            Assert.Equal(input.Device == device ? wanted : Fault.None, chips.Sample(input.Index).Fault);
        chips.House.SetFault(chips.House.DeviceOf(device), BusFault.None);
        chips.Run(41, 80);
        Assert.Equal(DeviceState.Answering, chips.Health(device).State);
        Assert.All(ChipHouse.Wiring.Where(one => !one.IsOutput), input => Assert.Equal(Fault.None, chips.Sample(input.Index).Fault));
    }

    /// <summary>A gateway answers, its sensor does not: no outage of the gateway, and every point of it missing.</summary>
    [Fact]
    public void A_gateway_alone_makes_its_points_missing()
    {
        using var chips = new ChipHouse();
        chips.Run(0, 3);
        chips.House.SetFault(chips.House.DeviceOf("roof"), BusFault.NoAcknowledge);
        chips.Run(4, 10);
        Assert.Equal(Fault.NoAcknowledge, chips.Sample(ChipHouse.OutdoorT).Fault);
        Assert.Equal(DeviceState.Answering, chips.Health("roof").State);
        Assert.Equal(Fault.None, chips.Sample(ChipHouse.SupplyT).Fault);
    }

    [Fact]
    public void A_converter_has_no_checksum_to_spoil()
    {
        using var chips = new ChipHouse();
        int volts = chips.House.DeviceOf("volts");
        Assert.False(chips.House.CanHave(volts, BusFault.BadChecksum));
        Assert.Throws<ArgumentException>(() => chips.House.SetFault(volts, BusFault.BadChecksum));
        Assert.True(chips.House.CanHave(chips.House.DeviceOf("io-1"), BusFault.BadChecksum));
    }

    [Fact]
    public void A_broken_sensor_is_missing_and_its_neighbours_are_not()
    {
        using var chips = new ChipHouse();
        SetAll(chips);
        chips.House.SetInput(ChipHouse.HallRh, double.NaN);
        chips.House.SetInput(ChipHouse.SupplyT, double.NaN);
        chips.Run(0, 5);
        Assert.Equal([Fault.None, Fault.Crc, Fault.None, Fault.None, Fault.BusError, Fault.None, Fault.None], Enumerable.Range(0, 7).Select(i => chips.Sample(i).Fault));
        SetAll(chips);
        chips.Run(6, 11);
        Assert.All(Enumerable.Range(0, 7), i => Assert.Equal(Fault.None, chips.Sample(i).Fault));
    }

    [Fact]
    public void Without_power_outputs_are_at_nought_and_come_back_to_full_volts()
    {
        using var chips = new ChipHouse();
        chips.Second(0);
        for (double t = 0; t < 90; t++)
        {
            chips.Put(ChipHouse.Valve, 100, t);
            if (t == 20) chips.House.SetFault(chips.House.DeviceOf("volts"), BusFault.Absent);
            if (t == 24) chips.House.SetFault(chips.House.DeviceOf("volts"), BusFault.None);
            chips.Second(t + 1);
            if (t is > 20 and < 24) Assert.Equal(0, chips.House.Output(ChipHouse.Valve));
        }

        // A converter that restarted has the small range: 10 V only when the driver sets it anew.
        Assert.Equal(10, chips.House.Output(ChipHouse.Valve), 2);
    }

    [Fact]
    public void A_module_nobody_talks_to_drops_its_outputs_after_its_own_time_out()
    {
        using var chips = new ChipHouse();
        chips.Second(0);
        chips.Put(ChipHouse.Pump, 1, 0, lifeS: 1000);
        chips.Run(1, 3);
        for (double t = 4; t <= 62; t++) chips.House.At(t);
        Assert.Equal(1, chips.House.Output(ChipHouse.Pump));
        chips.House.At(64);
        Assert.Equal(0, chips.House.Output(ChipHouse.Pump));
    }

    /// <summary>Each example site: every wired input can be set and arrives, every wired output reaches its wire; no register is missing.</summary>
    [Theory]
    [InlineData("ferry-house")]
    [InlineData("two-pipe")]
    [InlineData("coil-only")]
    [InlineData("floor-only")]
    [InlineData("one-room")]
    public void Every_wired_channel_of_an_example_exists(string name)
    {
        SiteFiles files = SiteReader.Read(Path.Combine(Data.Root, "config", name), Drivers.All).Files!;
        var inputs = new InputImage(files.House.InputTable.Count);
        var leases = new OutputLeases(OutputChannels.CountOf(files.Wiring));
        StandInHouse house = StandInHouse.Build(files.Devices, files.Wiring);
        using HardwarePlan plan = HardwarePlan.Build(files.Devices, files.Wiring, inputs, leases, house.Buses);
        var samples = new Sample[inputs.Count];
        for (int t = 0; t < 30; t++)
        {
            foreach (PointWiring one in files.Wiring.Where(one => !one.IsOutput)) house.SetInput(one.Index, one.Quantity == Quantity.Switch ? 1 : 12 + one.Index / 10.0);
            for (int lease = 0; lease < leases.Count; lease++) leases.Put(lease, new Command(house.Outputs[lease].Quantity == Quantity.Switch ? 1 : 40, default, default, 0), t, 5);
            house.At(t);
            foreach (BusWorker worker in plan.Workers) worker.Poll(t);
        }

        inputs.CopyTo(samples);
        foreach (PointWiring one in files.Wiring.Where(one => !one.IsOutput))
        {
            RegisterChannel register = RegisterChannel.From(one.Channel, files.Devices.Single(device => device.Name == one.Device).Channels[one.Channel]);
            Assert.Equal((one.PointId, Fault.None), (one.PointId, samples[one.Index].Fault));
            Data.Near(one.Quantity == Quantity.Switch ? 1 : 12 + one.Index / 10.0, samples[one.Index].Value, register.IsBit ? 0 : register.Scale.Factor / 2 + 1e-9, one.PointId);
        }

        foreach (IBusDevice device in plan.Workers.SelectMany(worker => worker.Devices))
            Assert.All(Enumerable.Range(0, device.ChannelCount).Select(device.Channel), channel => Assert.Equal((channel.Wiring.PointId, ""), (channel.Wiring.PointId, channel.Problem)));
        for (int lease = 0; lease < leases.Count; lease++)
            Assert.True(house.Asked(lease) >= (house.Outputs[lease].Quantity == Quantity.Switch && house.Outputs[lease].Role != ChannelRole.Value ? 0 : 1), house.Outputs[lease].PointId);
    }

    [Fact]
    public void A_second_allocates_nothing()
    {
        using var chips = new ChipHouse();
        SetAll(chips);
        chips.Run(0, 30);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (double t = 31; t < 131; t++)
        {
            chips.House.SetInput(ChipHouse.HallT, t % 30);
            chips.Put(ChipHouse.Fan, t % 100, t);
            chips.Put(ChipHouse.Mixing, t % 100, t);
            chips.Second(t);
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    [Fact]
    public void The_same_seconds_give_the_same_samples()
    {
        string Play()
        {
            using var chips = new ChipHouse();
            var text = new System.Text.StringBuilder();
            for (int t = 0; t < 200; t++)
            {
                chips.House.SetInput(ChipHouse.HallT, 20 + t % 17);
                if (t % 40 == 20) chips.House.SetFault(t / 40, (BusFault)(1 + t % 5));
                chips.Second(t);
                for (int i = 0; i < 7; i++) text.Append(CultureInfo.InvariantCulture, $"{chips.Sample(i)};");
            }

            return text.ToString();
        }

        Assert.Equal(Play(), Play());
    }
}

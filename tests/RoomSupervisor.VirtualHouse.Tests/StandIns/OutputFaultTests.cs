// The menu of faults on every driver of outputs, in the example that has them all: each says what it is, leaves the others alone, and mended goes on.
// An output that does not hold what is written is told by its point.
using RoomSupervisor.Hardware;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse.Tests.StandIns;

public class OutputFaultTests
{
    /// <summary>What each must say is written here by hand.</summary>
    [Theory]
    [InlineData("volts", BusFault.NoAcknowledge, Fault.NoAcknowledge, "no acknowledge")]
    [InlineData("volts", BusFault.CutShort, Fault.BusError, "cut short")]
    [InlineData("volts", BusFault.Hung, Fault.Timeout, "line is held low")]
    [InlineData("volts", BusFault.Absent, Fault.NoAcknowledge, "nobody at this address")]
    [InlineData("converter", BusFault.NoAcknowledge, Fault.NoAcknowledge, "no acknowledge")]
    [InlineData("converter", BusFault.CutShort, Fault.BusError, "cut short")]
    [InlineData("converter", BusFault.Hung, Fault.Timeout, "line is held low")]
    [InlineData("converter", BusFault.Absent, Fault.NoAcknowledge, "nobody at this address")]
    [InlineData("pulses", BusFault.NoAcknowledge, Fault.NoAcknowledge, "no acknowledge")]
    [InlineData("pulses", BusFault.CutShort, Fault.BusError, "cut short")]
    [InlineData("pulses", BusFault.Hung, Fault.Timeout, "line is held low")]
    [InlineData("pulses", BusFault.Absent, Fault.NoAcknowledge, "nobody at this address")]
    [InlineData("relays", BusFault.NoAcknowledge, Fault.NoAcknowledge, "no acknowledge")]
    [InlineData("relays", BusFault.CutShort, Fault.BusError, "cut short")]
    [InlineData("relays", BusFault.Hung, Fault.Timeout, "line is held low")]
    [InlineData("relays", BusFault.Absent, Fault.NoAcknowledge, "nobody at this address")]
    [InlineData("small-relays", BusFault.NoAcknowledge, Fault.NoAcknowledge, "no acknowledge")]
    [InlineData("small-relays", BusFault.CutShort, Fault.BusError, "cut short")]
    [InlineData("small-relays", BusFault.Hung, Fault.Timeout, "line is held low")]
    [InlineData("small-relays", BusFault.Absent, Fault.NoAcknowledge, "nobody at this address")]
    [InlineData("board", BusFault.NoAcknowledge, Fault.BusError, "reports a failure of /dev/gpiochip0")]
    [InlineData("board", BusFault.Absent, Fault.BusError, "there is no gpio chip /dev/gpiochip0: see which there are under /dev")]
    [InlineData("board-pulses", BusFault.NoAcknowledge, Fault.BusError, "does not take what output 0 is to do")]
    [InlineData("board-pulses", BusFault.Absent, Fault.BusError, "there is no pwm chip /sys/class/pwm/pwmchip0: switch it on")]
    public void Every_fault_of_the_menu_says_what_it_is_leaves_the_others_alone_and_ends(string device, BusFault fault, Fault wanted, string words)
    {
        using var studio = new StudioHouse();
        studio.Run(0, 5);
        double[] before = Wires(studio);
        studio.House.SetFault(studio.House.DeviceOf(device), fault);
        studio.Run(6, 40);
        DeviceHealth health = studio.Device(device).Health;
        Assert.Equal((DeviceState.NotAnswering, wanted), (health.State, health.LastFault));
        Assert.Contains(words, health.LastProblem, StringComparison.Ordinal);
        foreach (string other in studio.House.Devices.Where(one => one != device))
            Assert.Equal((other, DeviceState.Answering, 0L), (other, studio.Device(other).Health.State, studio.Device(other).Health.Failures));
        Assert.Equal(before, Wires(studio).Select((wire, i) => studio.House.Outputs[i].Device == device ? before[i] : wire));
        studio.House.SetFault(studio.House.DeviceOf(device), BusFault.None);
        studio.Run(41, 80);
        Assert.Equal(DeviceState.Answering, studio.Device(device).Health.State);
        Assert.Equal(before, Wires(studio));
    }

    [Fact]
    public void The_menu_above_is_whole()
    {
        using var studio = new StudioHouse();
        HashSet<(string, BusFault)> tested = [.. typeof(OutputFaultTests).GetMethod(nameof(Every_fault_of_the_menu_says_what_it_is_leaves_the_others_alone_and_ends))!.GetCustomAttributesData()
            .Where(data => data.AttributeType == typeof(InlineDataAttribute)).Select(data => (System.Collections.ObjectModel.ReadOnlyCollection<System.Reflection.CustomAttributeTypedArgument>)data.ConstructorArguments[0].Value!)
            .Select(row => ((string)row[0].Value!, (BusFault)(byte)row[1].Value!))];
        foreach (string device in studio.House.Devices.Where(one => one is not ("studio-air" or "workshop-air" or "io-1")))
        {
            foreach (BusFault fault in Enum.GetValues<BusFault>().Where(one => one != BusFault.None && studio.House.CanHave(studio.House.DeviceOf(device), one)))
                Assert.Contains((device, fault), tested);
        }
    }

    /// <summary>A short, an overload, somebody else who writes: the device answers, so it is no outage, but the point's own trouble; its neighbours go on.</summary>
    [Theory]
    // 50 % on 1.6 V at 20 % to 10 V at 100 %: 1.6 + 30/80 × 8.4 = 4.75 V.
    [InlineData("studio.coil.fan", "wrote 0.00 V, reads back 4.75 V")]
    [InlineData("office.coil.fan", "wrote 0.0 %, reads back 50.0 %")]
    [InlineData("studio.ceiling.valve", "wrote high, reads back low")]
    [InlineData("ceiling-loop.mixing.valve", "wrote high, reads back low")]
    [InlineData("ceiling-loop.pump.run", "wrote low, reads back high")]
    [InlineData("guest-room.coil.fan", "wrote 0.0 %, reads back 50.0 %")]
    public void An_output_that_does_not_hold_what_is_written_is_told_by_its_point_and_named_at_stop(string point, string words)
    {
        using var studio = new StudioHouse();
        studio.Run(0, 5);
        int lease = studio.House.Outputs.Index().First(one => one.Item.PointId == point).Index;
        string device = studio.House.Outputs[lease].Device;
        studio.House.Jam(lease, true);
        List<PointWiring> notWritten = [];
        foreach (BusWorker worker in studio.Plan.Workers) worker.Poll(60);
        foreach (BusWorker worker in studio.Plan.Workers) notWritten.AddRange(worker.WriteSafe(61).NotWritten);
        ChannelHealth jammed = Channels(studio.Device(device)).First(one => one.Wiring.PointId == point);
        Assert.True(jammed.RefusedByDevice);
        Assert.Contains(words, jammed.Problem, StringComparison.Ordinal);
        Assert.Equal(DeviceState.Answering, studio.Device(device).Health.State);
        Assert.All(Channels(studio.Device(device)).Where(one => one.Wiring.IsOutput && one.Wiring.PointId != point), one => Assert.Equal("", one.Problem));
        Assert.All(notWritten, one => Assert.Equal(point, one.PointId));
        Assert.NotEmpty(notWritten);
    }

    [Fact]
    public void An_output_that_holds_again_is_no_trouble_any_more()
    {
        using var studio = new StudioHouse();
        studio.Run(0, 5);
        int lease = studio.House.Outputs.Index().First(one => one.Item.PointId == "studio.coil.fan").Index;
        studio.House.Jam(lease, true);
        foreach (BusWorker worker in studio.Plan.Workers) worker.Poll(60);
        studio.House.Jam(lease, false);
        studio.Run(70, 75);
        Assert.All(Channels(studio.Device("volts")), one => Assert.Equal("", one.Problem));
    }

    /// <summary>Power gone for a moment and nobody noticed: the chip is set up anew and every output is written again.</summary>
    [Theory]
    [InlineData("volts")]
    [InlineData("converter")]
    [InlineData("pulses")]
    [InlineData("relays")]
    [InlineData("small-relays")]
    [InlineData("board-pulses")]
    public void A_chip_that_restarted_between_two_looks_has_its_outputs_back_within_the_refresh(string device)
    {
        using var studio = new StudioHouse();
        studio.Run(0, 5);
        double[] before = Wires(studio);
        studio.House.SetFault(studio.House.DeviceOf(device), BusFault.Absent);
        studio.House.SetFault(studio.House.DeviceOf(device), BusFault.None);
        studio.Run(6, 18);
        Assert.Equal(before, Wires(studio));
        Assert.Equal(0, studio.Device(device).Health.Failures);
    }

    [Fact]
    public void A_second_of_all_output_chips_allocates_nothing()
    {
        using var studio = new StudioHouse();
        studio.Run(0, 30);
        long before = GC.GetAllocatedBytesForCurrentThread();
        studio.Run(31, 131);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private static double[] Wires(StudioHouse studio) => [.. Enumerable.Range(0, studio.House.Outputs.Count).Select(i => Math.Round(studio.House.Output(i), 3))];

    private static IEnumerable<ChannelHealth> Channels(IBusDevice device) => Enumerable.Range(0, device.ChannelCount).Select(device.Channel);
}

// The measuring chips with their real drivers between stand-in and samples: values, every fault of the menu, sensors that break, chips that stop.
// Virtual time. What each fault must say is written here by hand.
using RoomSupervisor.Hardware;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse.Tests.StandIns;

public class MeasuringChipTests
{
    private static void AllNear(MeasuringHouse house, Func<PointWiring, bool> which)
    {
        foreach (PointWiring one in MeasuringHouse.Wiring.Where(which))
        {
            Assert.Equal((one.PointId, Fault.None), (one.PointId, house.Sample(one.Index).Fault));
            Data.Near(MeasuringHouse.True(one.Index), house.Sample(one.Index).Value, MeasuringHouse.Near(one.Index), one.PointId);
        }
    }

    [Fact]
    public void What_is_set_arrives_as_samples()
    {
        using var house = new MeasuringHouse();
        house.Run(0, 12);
        AllNear(house, _ => true);
        Assert.All(house.Devices, device => Assert.Equal((device.Name, 0L), (device.Name, house.Health(device.Name).Failures)));
    }

    [Theory]
    [InlineData(0, -39, 84)]
    [InlineData(2, -39, 100)]
    [InlineData(5, -10, 60)]
    [InlineData(7, -29, 119)]
    [InlineData(8, -59, 179)]
    [InlineData(9, -29, 60)]
    [InlineData(11, -55, 125)]
    public void Over_its_whole_range_each_thermometer_comes_as_near_as_its_step(int input, double fromC, double toC)
    {
        for (int i = 0; i <= 8; i++)
        {
            using var house = new MeasuringHouse();
            double t = fromC + (toC - fromC) * i / 8;
            house.House.SetInput(input, t);
            house.Run(0, 12);
            // At its hot end a thermistor's resistance is small and a step of the converter wide: 0.125 mV of 3.3 V at 120 °C is 0.02 K a tenth of a volt.
            Data.Near(t, house.Sample(input).Value, input is 7 or 8 or 9 ? 0.12 : 0.04, $"{t} °C");
        }
    }

    /// <summary>The menu on every driver; devices next to it, and on other buses, go on as if nothing were.</summary>
    [Theory]
    [InlineData("hall-air", BusFault.NoAcknowledge, Fault.NoAcknowledge, "no acknowledge")]
    [InlineData("hall-air", BusFault.BadChecksum, Fault.BusError, "wires are disturbed")]
    [InlineData("hall-air", BusFault.CutShort, Fault.BusError, "cut short")]
    [InlineData("hall-air", BusFault.Hung, Fault.Timeout, "line is held low")]
    [InlineData("hall-air", BusFault.Absent, Fault.NoAcknowledge, "nobody at this address")]
    [InlineData("loft-air", BusFault.NoAcknowledge, Fault.NoAcknowledge, "no acknowledge")]
    [InlineData("loft-air", BusFault.BadChecksum, Fault.BusError, "wires are disturbed")]
    [InlineData("loft-air", BusFault.CutShort, Fault.BusError, "cut short")]
    [InlineData("loft-air", BusFault.Hung, Fault.Timeout, "line is held low")]
    [InlineData("loft-air", BusFault.Absent, Fault.NoAcknowledge, "nobody at this address")]
    [InlineData("study-air", BusFault.NoAcknowledge, Fault.NoAcknowledge, "no acknowledge")]
    [InlineData("study-air", BusFault.BadChecksum, Fault.Crc, "checksum wrong")]
    [InlineData("study-air", BusFault.CutShort, Fault.BusError, "cut short")]
    [InlineData("study-air", BusFault.Hung, Fault.Timeout, "line is held low")]
    [InlineData("study-air", BusFault.Absent, Fault.NoAcknowledge, "nobody at this address")]
    [InlineData("analog", BusFault.NoAcknowledge, Fault.NoAcknowledge, "no acknowledge")]
    [InlineData("analog", BusFault.BadChecksum, Fault.BusError, "not what was written")]
    [InlineData("analog", BusFault.CutShort, Fault.BusError, "cut short")]
    [InlineData("analog", BusFault.Hung, Fault.Timeout, "line is held low")]
    [InlineData("analog", BusFault.Absent, Fault.NoAcknowledge, "nobody at this address")]
    [InlineData("clock", BusFault.NoAcknowledge, Fault.NoAcknowledge, "no acknowledge")]
    [InlineData("clock", BusFault.BadChecksum, Fault.BusError, "wires are disturbed")]
    [InlineData("clock", BusFault.CutShort, Fault.BusError, "cut short")]
    [InlineData("clock", BusFault.Hung, Fault.Timeout, "line is held low")]
    [InlineData("clock", BusFault.Absent, Fault.NoAcknowledge, "nobody at this address")]
    [InlineData("tank-top", BusFault.NoAcknowledge, Fault.NoAcknowledge, "does not answer")]
    [InlineData("tank-top", BusFault.BadChecksum, Fault.Crc, "checksum wrong")]
    [InlineData("tank-top", BusFault.CutShort, Fault.BusError, "not that of a thermometer")]
    [InlineData("tank-top", BusFault.Hung, Fault.Timeout, "longer than its time-out")]
    [InlineData("tank-top", BusFault.Absent, Fault.NoAcknowledge, "not on the bus")]
    [InlineData("east-air", BusFault.NoAcknowledge, Fault.NoAcknowledge, "nobody at this address")]
    [InlineData("east-air", BusFault.BadChecksum, Fault.Crc, "checksum wrong")]
    [InlineData("east-air", BusFault.Hung, Fault.Timeout, "line is held low")]
    public void A_fault_has_its_own_reason_and_touches_nobody_else(string device, BusFault fault, Fault wanted, string words)
    {
        using var house = new MeasuringHouse();
        house.Run(0, 12);
        house.SetFault(device, fault);
        house.Run(13, 220);
        DeviceHealth health = house.Health(device);
        Assert.Equal((DeviceState.NotAnswering, wanted), (health.State, health.LastFault));
        Assert.Contains(words, health.LastProblem, StringComparison.Ordinal);
        foreach (DeviceSettings other in house.Devices.Where(one => one.Name != device))
            Assert.Equal((other.Name, DeviceState.Answering, 0L), (other.Name, house.Health(other.Name).State, house.Health(other.Name).Failures));
        Assert.All(MeasuringHouse.Wiring.Where(one => one.Device == device), one => Assert.Equal(wanted, house.Sample(one.Index).Fault));
        AllNear(house, one => one.Device != device);
        house.SetFault(device, BusFault.None);
        house.Run(221, 350);
        Assert.Equal(DeviceState.Answering, house.Health(device).State);
        AllNear(house, _ => true);
    }

    /// <summary>Each in its chip's own way; the neighbours on the same chip stay.</summary>
    [Theory]
    [InlineData(0, Fault.BusError, "measured nothing")]
    [InlineData(1, Fault.BusError, "measured nothing")]
    [InlineData(3, Fault.OutOfRange, "beyond what the chip can measure")]
    [InlineData(4, Fault.Crc, "checksum wrong")]
    [InlineData(5, Fault.Crc, "checksum wrong")]
    [InlineData(7, Fault.OutOfRange, "wire broken")]
    [InlineData(8, Fault.OutOfRange, "wire broken")]
    [InlineData(9, Fault.OutOfRange, "wire broken")]
    [InlineData(10, Fault.OutOfRange, "without power")]
    public void A_broken_sensor_is_missing_and_its_neighbours_are_not(int input, Fault fault, string words)
    {
        using var house = new MeasuringHouse();
        house.Run(0, 12);
        house.House.SetInput(input, double.NaN);
        house.Run(13, 25);
        Assert.Equal(fault, house.Sample(input).Fault);
        Assert.Contains(words, house.Channel(input).Problem, StringComparison.Ordinal);
        // Humidity of this chip is computed with its temperature: without it there is none.
        AllNear(house, one => one.Index != input && !(input == 0 && one.Index == 1));
        house.House.SetInput(input, MeasuringHouse.True(input));
        house.Run(26, 45);
        AllNear(house, _ => true);
    }

    /// <summary>On the wire bus; the kernel's files are text and opened anew each time.</summary>
    [Fact]
    public void Ten_minutes_of_all_chips_allocate_nothing()
    {
        using var house = new MeasuringHouse();
        BusWorker chips = house.Plan.Workers.Single(worker => worker.Name == "/dev/i2c-1");
        for (double t = 0; t < 120; t++) StandInHouse.Poll(chips, t);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (double t = 120; t < 720; t++)
        {
            house.House.SetInput(7, t % 60);
            StandInHouse.Poll(chips, t);
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    /// <summary>Starved at 20 °C: refused; a tank that is really at 85 °C, coming from 84: believed.</summary>
    [Fact]
    public void Eighty_five_degrees_count_only_when_the_sensor_was_near_them()
    {
        using var house = new MeasuringHouse();
        house.Run(0, 12);
        house.House.SetInput(11, 85);
        house.Run(13, 30);
        Assert.Equal(Fault.OutOfRange, house.Sample(11).Fault);
        Assert.Contains("after power-up", house.Channel(11).Problem, StringComparison.Ordinal);
        Assert.Equal((Fault.None, DeviceState.Answering), (house.Sample(12).Fault, house.Health("tank-top").State));
        house.House.SetInput(11, 84);
        house.Run(31, 45);
        house.House.SetInput(11, 85);
        house.Run(46, 70);
        Assert.Equal((Fault.None, 85.0), (house.Sample(11).Fault, house.Sample(11).Value));
    }

    [Fact]
    public void A_shorted_wire_gives_noughts_with_a_right_checksum_and_no_temperature()
    {
        using var house = new MeasuringHouse();
        house.House.SetInput(11, double.NaN);
        house.Run(0, 25);
        Assert.Equal((Fault.BusError, Fault.None), (house.Sample(11).Fault, house.Sample(12).Fault));
        Assert.Contains("shorted", house.Health("tank-top").LastProblem, StringComparison.Ordinal);
    }

    /// <summary>Three quarters of a second a sensor, on a worker of their own: the chips' worker does not wait.</summary>
    [Fact]
    public void Sensors_of_the_kernel_s_bus_have_a_worker_of_their_own()
    {
        using var house = new MeasuringHouse();
        BusWorker wire = house.Plan.Workers.Single(worker => worker.Name == "/sys/bus/w1/devices/w1_bus_master1"), chips = house.Plan.Workers.Single(worker => worker.Name == "/dev/i2c-1");
        Assert.Equal((2, 8), (wire.Devices.Count, chips.Devices.Count));
        Data.Near(1.5, wire.Poll(0), 1e-9);
        Assert.InRange(chips.Poll(0), 0.001, 0.1);
    }
}

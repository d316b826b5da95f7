// Stand-ins on a serial line, byte by byte: the example floor-only, every fault on each unit, the others untouched.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;
using Xunit;

namespace RoomSupervisor.VirtualHouse.Tests;

public sealed class SerialLineTests : IDisposable
{
    private readonly SiteFiles files = SiteReader.Read(Path.Combine(Data.Root, "config", "floor-only"), Drivers.All).Files!;
    private readonly StandInHouse house;
    private readonly HardwarePlan plan;
    private readonly InputImage inputs;
    private double free;

    public SerialLineTests()
    {
        inputs = new InputImage(files.House.InputTable.Count);
        house = StandInHouse.Build(files.Devices, files.Wiring);
        plan = HardwarePlan.Build(files.Devices, files.Wiring, inputs, new OutputLeases(OutputChannels.CountOf(files.Wiring)), house.Buses);
    }

    public void Dispose() => plan.Dispose();

    [Fact]
    public void Three_units_on_one_line_have_one_worker() => Assert.Equal(("/dev/serial/by-id/usb-line-1", 3), (Assert.Single(plan.Workers).Name, plan.Workers[0].Devices.Count));

    [Theory]
    [InlineData(BusFault.BadChecksum, Fault.Crc)]
    [InlineData(BusFault.CutShort, Fault.Timeout)]
    [InlineData(BusFault.Hung, Fault.Timeout)]
    [InlineData(BusFault.Absent, Fault.Timeout)]
    public void A_fault_of_one_unit_has_its_own_reason_and_leaves_the_others_alone(BusFault fault, Fault expected)
    {
        Run(0, 5);
        foreach (string name in house.Devices)
        {
            house.SetFault(house.DeviceOf(name), fault);
            double at = Math.Ceiling(free);
            Run(at, at + 10);
            Sample[] samples = Samples();
            foreach (PointWiring wire in files.Wiring.Where(one => !one.IsOutput))
                Assert.Equal((wire.PointId, name, wire.Device == name ? expected : Fault.None), (wire.PointId, name, samples[wire.Index].Fault));
            house.SetFault(house.DeviceOf(name), BusFault.None);
            Run(at + 11, at + 50);
            Assert.All(files.Wiring.Where(one => !one.IsOutput), wire => Assert.Equal((wire.PointId, Fault.None), (wire.PointId, Samples()[wire.Index].Fault)));
        }
    }

    [Fact]
    public void Nobody_acknowledges_on_a_line() => Assert.All(house.Devices, name => Assert.False(house.CanHave(house.DeviceOf(name), BusFault.NoAcknowledge)));

    [Fact]
    public void The_modules_own_time_out_is_set_up_by_its_register()
    {
        Run(0, 3);
        Assert.All(plan.Workers[0].Devices, device => Assert.Equal("", device.Health.SetUpProblem));
        Assert.Equal(0, plan.Workers[0].Devices.Sum(device => device.Health.Failures));
    }

    private Sample[] Samples()
    {
        var samples = new Sample[inputs.Count];
        inputs.CopyTo(samples);
        return samples;
    }

    private void Run(double from, double to)
    {
        for (double t = from; t <= to; t++)
        {
            house.At(t);
            if (free <= t) free = StandInHouse.Poll(plan.Workers[0], t);
        }
    }
}

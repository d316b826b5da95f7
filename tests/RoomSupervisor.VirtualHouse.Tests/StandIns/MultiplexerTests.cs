// Chips behind a multiplexer with their real drivers: equal addresses on different channels and multiplexers, and a multiplexer that fails.
// Virtual time. The stand-in of the bus spoils every transfer that two chips would answer.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse.Tests.StandIns;

public sealed class MultiplexerTests : IDisposable
{
    private readonly Sht4xStandIn[] _chips = [new(0x44), new(0x44), new(0x44), new(0x44), new(0x45)];
    private readonly MultiplexerStandIn _first, _second;
    private readonly InputImage _inputs = new(5);
    private readonly HardwarePlan _plan;
    private readonly I2cBusStandIn _bus;

    public MultiplexerTests()
    {
        _first = new MultiplexerStandIn(0x70, [(2, _chips[0]), (5, _chips[1])]);
        _second = new MultiplexerStandIn(0x71, [(2, _chips[2]), (7, _chips[3])]);
        _bus = new I2cBusStandIn([_first, _second, _chips[4]]);
        (string Name, string Behind, string Address)[] places = [("a", "0x70/2", "0x44"), ("b", "0x70/5", "0x44"), ("c", "0x71/2", "0x44"), ("d", "0x71/7", "0x44"), ("e", "nothing", "0x45")];
        DeviceSettings[] devices = [.. places.Select(one => MeasuringHouse.Chip(one.Name, "sht4x", ("behind", one.Behind), ("address", one.Address)))];
        PointWiring[] points = [.. places.Select((one, i) => MeasuringHouse.Input(i, $"{one.Name}.air.temperature", one.Name, "temperature"))];
        _plan = HardwarePlan.Build(devices, points, _inputs, new OutputLeases(0), new Buses { I2c = _ => _bus });
        Assert.Empty(_plan.Problems);
        for (int i = 0; i < 5; i++) _chips[i].Put(0, 10 + i);
    }

    public void Dispose() => _plan.Dispose();

    private void Run(double fromS, double toS)
    {
        for (double t = fromS; t <= toS; t++) StandInHouse.Poll(_plan.Workers[0], t);
    }

    private Sample[] Samples()
    {
        var all = new Sample[5];
        _inputs.CopyTo(all);
        return all;
    }

    private DeviceHealth Health(int device) => _plan.Workers[0].Devices[device].Health;

    [Fact]
    public void Five_sensors_of_which_four_have_one_address_are_told_apart()
    {
        Run(0, 60);
        Assert.Equal([10, 11, 12, 13, 14], Samples().Select(sample => (int)Math.Round(sample.Value)));
        Assert.Equal(0, _plan.Workers[0].Devices.Sum(device => device.Health.Failures));
    }

    [Theory]
    [InlineData(BusFault.NoAcknowledge, Fault.NoAcknowledge, "the multiplexer it hangs behind")]
    [InlineData(BusFault.Absent, Fault.NoAcknowledge, "the multiplexer it hangs behind")]
    [InlineData(BusFault.Hung, Fault.Timeout, "line is held low")]
    [InlineData(BusFault.CutShort, Fault.BusError, "cut short")]
    public void A_dead_multiplexer_takes_what_is_behind_it_and_nothing_else(BusFault fault, Fault wanted, string words)
    {
        Run(0, 12);
        _second.Fault = fault;
        Run(13, 90);
        Assert.Equal((DeviceState.NotAnswering, wanted), (Health(2).State, Health(2).LastFault));
        Assert.Contains(words, Health(2).LastProblem, StringComparison.Ordinal);
        Assert.Equal([Fault.None, Fault.None, wanted, wanted, Fault.None], Samples().Select(sample => sample.Fault));
        Assert.All((int[])[0, 1, 4], i => Assert.Equal((i, 0L), (i, Health(i).Failures)));
        _second.Fault = BusFault.None;
        Run(91, 160);
        Assert.Equal((DeviceState.Answering, 12.0), (Health(2).State, Math.Round(Samples()[2].Value)));
    }

    /// <summary>Whatever is connected, a chip on the bus itself stays on it: its twin behind a multiplexer could never be asked alone.</summary>
    [Theory]
    [InlineData("nothing", "0x44", "has the address of a, which is behind a multiplexer on the same bus")]
    [InlineData("0x44/1", "0x46", "is no place")]
    [InlineData("0x70/8", "0x46", "is no place")]
    [InlineData("0x70/2", "0x44", "is at the same place as a")]
    public void What_cannot_be_told_apart_is_refused(string behind, string address, string words)
    {
        DeviceSettings[] devices = [MeasuringHouse.Chip("a", "sht4x", ("behind", "0x70/2")), MeasuringHouse.Chip("b", "sht4x", ("behind", behind), ("address", address))];
        Assert.Contains(words, Assert.Single(HardwarePlan.Build(devices, [], new InputImage(0), new OutputLeases(0), new Buses { I2c = _ => _bus }).Problems).Text, StringComparison.Ordinal);
        // The other way round it is the other device that is told, and it is told.
        Assert.Single(HardwarePlan.Build([devices[1], devices[0]], [], new InputImage(0), new OutputLeases(0), new Buses { I2c = _ => _bus }).Problems);
    }

    [Fact]
    public void A_chip_at_the_address_of_a_multiplexer_is_refused()
    {
        DeviceSettings[] devices = [MeasuringHouse.Chip("a", "sht4x", ("behind", "0x76/2")), MeasuringHouse.Chip("b", "bme280", ("address", "0x76"))];
        Assert.Contains("has the address of the multiplexer", Assert.Single(HardwarePlan.Build(devices, [], new InputImage(0), new OutputLeases(0), new Buses { I2c = _ => _bus }).Problems).Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_multiplexer_that_lost_its_power_for_a_moment_is_told_its_channel_anew()
    {
        Run(0, 12);
        _first.Fault = BusFault.Absent;
        _first.Fault = BusFault.None;
        Run(13, 20);
        Assert.Equal((0L, 0L), (Health(0).Failures, Health(1).Failures));
        Assert.Equal((10.0, 11.0), (Math.Round(Samples()[0].Value), Math.Round(Samples()[1].Value)));
    }
}

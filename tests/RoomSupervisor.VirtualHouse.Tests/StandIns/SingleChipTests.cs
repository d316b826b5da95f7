// One measuring chip with its real driver, and the chip in the test's hand: it stops measuring, loses its power, is another one, its wires are shorted.
// Virtual time.
using RoomSupervisor.Hardware;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse.Tests.StandIns;

public class SingleChipTests
{
    /// <summary>Ours on one chip alone, with the chip in the test's hand.</summary>
    private sealed class OneChip : IDisposable
    {
        private readonly InputImage _inputs;

        public OneChip(I2cStandIn chip, DeviceSettings device, double altitudeM, params PointWiring[] points)
        {
            _inputs = new InputImage(points.Length);
            Plan = HardwarePlan.Build([device], points, _inputs, new OutputLeases(0), new Buses { I2c = _ => new I2cBusStandIn([chip]) }, altitudeM);
            Assert.Empty(Plan.Problems);
        }

        public HardwarePlan Plan { get; }

        public IBusDevice Device => Plan.Workers[0].Devices[0];

        public Sample[] Samples
        {
            get
            {
                var all = new Sample[_inputs.Count];
                _inputs.CopyTo(all);
                return all;
            }
        }

        public void Run(double fromS, double toS)
        {
            for (double t = fromS; t <= toS; t++) StandInHouse.Poll(Plan.Workers[0], t);
        }

        public void Dispose() => Plan.Dispose();
    }

    private static PointWiring[] Air => [MeasuringHouse.Input(0, "r.air.temperature", "air", "temperature"), MeasuringHouse.Input(1, "r.air.humidity", "air", "humidity", Quantity.Percent)];

    /// <summary>The trap of dotnet/iot 1132: a chip that takes commands and gives its last value for ever. A live one in still air is not accused.</summary>
    [Fact]
    public void A_chip_that_gives_one_value_for_ever_is_found_out_after_ten_minutes()
    {
        var chip = new Bme280StandIn(0x76);
        using var house = new OneChip(chip, MeasuringHouse.Chip("air", "bme280"), 0, Air);
        house.Run(0, 3000);
        Assert.Equal(Fault.None, house.Samples[0].Fault);
        chip.IsStopped = true;
        house.Run(3001, 3590);
        Assert.Equal(Fault.None, house.Samples[0].Fault);
        double t = 3591;
        while (house.Samples[0].Fault == Fault.None && t < 3620) house.Run(t, t++);
        Assert.Equal((Fault.BusError, Fault.BusError), (house.Samples[0].Fault, house.Samples[1].Fault));
        Assert.Contains("measures no more", house.Device.Channel(0).Problem, StringComparison.Ordinal);
        // Set up anew it has forgotten the old value, and has no new one.
        house.Run(t, 3630);
        Assert.Contains("measured nothing", house.Device.Channel(0).Problem, StringComparison.Ordinal);
        chip.IsStopped = false;
        house.Run(3631, 3650);
        Assert.Equal(Fault.None, house.Samples[0].Fault);
    }

    [Fact]
    public void A_chip_that_says_when_it_has_something_new_and_never_does_counts_as_silent()
    {
        var chip = new Hts221StandIn(0x5F) { IsStopped = true };
        using var house = new OneChip(chip, MeasuringHouse.Chip("air", "hts221"), 0, Air);
        house.Run(0, 30);
        Assert.Equal((DeviceState.NotAnswering, Fault.Timeout), (house.Device.Health.State, house.Device.Health.LastFault));
        Assert.Contains("does not end", house.Device.Health.LastProblem, StringComparison.Ordinal);
        chip.IsStopped = false;
        house.Run(31, 70);
        Assert.Equal(Fault.None, house.Samples[0].Fault);
    }

    [Fact]
    public void Carbon_dioxide_is_told_the_altitude_comes_in_time_and_is_missed_when_it_stops()
    {
        var chip = new Scd4xStandIn(0x62);
        using var house = new OneChip(chip, MeasuringHouse.Chip("air", "scd4x"), 1649.6, [.. Air, MeasuringHouse.Input(2, "r.air.co2", "air", "co2", Quantity.Number)]);
        house.Run(0, 8);
        Assert.Equal((1650, Fault.None, 600.0), (chip.AltitudeM, house.Samples[2].Fault, house.Samples[2].Value));
        Assert.InRange(house.Samples[2].TakenAtS, 5, 8);
        for (double t = 9; t <= 300; t++)
        {
            house.Run(t, t);
            Assert.InRange(t - house.Samples[2].TakenAtS, -0.1, 6.2);
        }

        chip.IsStopped = true;
        house.Run(301, 340);
        Assert.Equal((Fault.Timeout, DeviceState.NotAnswering), (house.Samples[2].Fault, house.Device.Health.State));
        Assert.Contains("no new measurement for 15 s", house.Device.Health.LastProblem, StringComparison.Ordinal);
    }

    [Fact]
    public void A_chip_that_lost_its_power_for_a_moment_is_set_up_anew()
    {
        foreach ((I2cStandIn chip, string driver) in (ReadOnlySpan<(I2cStandIn, string)>)[(new Bme280StandIn(0x76), "bme280"), (new Hts221StandIn(0x5F), "hts221"), (new Scd4xStandIn(0x62), "scd4x")])
        {
            using var house = new OneChip(chip, MeasuringHouse.Chip("air", driver), 500, Air);
            chip.Put(chip.ChannelOf("temperature"), 21);
            house.Run(0, 12);
            Assert.Equal((driver, Fault.None), (driver, house.Samples[0].Fault));
            chip.Fault = BusFault.Absent;
            chip.Fault = BusFault.None;
            chip.Put(chip.ChannelOf("temperature"), 28);
            house.Run(13, 40);
            Assert.Equal((driver, Fault.None), (driver, house.Samples[0].Fault));
            Data.Near(28, house.Samples[0].Value, 0.01, driver);
        }
    }

    [Fact]
    public void Another_chip_at_the_address_is_told()
    {
        using var house = new OneChip(new Hts221StandIn(0x76), MeasuringHouse.Chip("air", "bme280"), 0, Air);
        house.Run(0, 12);
        Assert.Equal(Fault.BusError, house.Device.Health.LastFault);
        Assert.NotEqual(Fault.None, house.Samples[0].Fault);
    }

    [Theory]
    [InlineData("supply", 7)]
    [InlineData("return", 8)]
    [InlineData("outdoor", 9)]
    public void A_short_circuit_has_its_own_reason(string channel, int input)
    {
        DeviceSettings device = MeasuringHouse.Converter();
        var chip = new AnalogStandIn(0x48, device);
        PointWiring[] points = [.. MeasuringHouse.Wiring.Where(one => one.Device == "analog").Select((one, i) => one with { Index = i })];
        using var house = new OneChip(chip, device, 0, points);
        chip.Put(chip.ChannelOf("pressure"), 200);
        chip.Short(channel, true);
        house.Run(0, 3);
        for (int i = 0; i < 4; i++) Assert.Equal(i == input - 7 ? Fault.OutOfRange : Fault.None, house.Samples[i].Fault);
        Assert.Contains("short circuit", house.Device.Channel(input - 7).Problem, StringComparison.Ordinal);
    }

    /// <summary>The reference drifts by 4 %: 2 K wrong when it is taken as written, nothing when it is measured too.</summary>
    [Theory]
    [InlineData("nothing", 1.0, 4.0)]
    [InlineData("a3", 0, 0.03)]
    public void Measured_along_the_reference_s_drift_does_not_count(string referenceInput, double leastK, double mostK)
    {
        DeviceSettings device = MeasuringHouse.Converter(referenceInput, ("supply", MeasuringHouse.Analog("a0", "ntc-10k-3950")), ("pt", MeasuringHouse.Analog("a1", "pt1000", ("series_resistance", 2200))));
        var chip = new AnalogStandIn(0x48, device) { ReferenceV = 3.3 * 0.96 };
        using var house = new OneChip(chip, device, 0, MeasuringHouse.Input(0, "l.supply.temperature", "analog", "supply"), MeasuringHouse.Input(1, "l.return.temperature", "analog", "pt"));
        house.Run(0, 3);
        Assert.InRange(Math.Abs(house.Samples[0].Value - 20), leastK, mostK);
        if (referenceInput == "nothing") return;
        Data.Near(20, house.Samples[1].Value, 0.05);
        chip.ReferenceV = 1.1;
        house.Run(4, 8);
        Assert.Equal(Fault.OutOfRange, house.Samples[0].Fault);
        Assert.Contains("reference voltage", house.Device.Channel(0).Problem, StringComparison.Ordinal);
    }

    /// <summary>Bit or hands: a clock that lost the time and one that stands still both say so.</summary>
    [Fact]
    public void A_clock_tells_that_it_lost_the_time()
    {
        var chip = new ClockChipStandIn(0x68);
        using var house = new OneChip(chip, MeasuringHouse.Chip("clock", "ds3231"), 0, MeasuringHouse.Input(0, "site.leak.detected", "clock", "time_lost", Quantity.Switch));
        house.Run(0, 130);
        Assert.Equal((Fault.None, 0.0), (house.Samples[0].Fault, house.Samples[0].Value));
        chip.IsStuck = true;
        house.Run(131, 260);
        Assert.Equal(1, house.Samples[0].Value);
        chip.IsStuck = false;
        house.Run(261, 400);
        Assert.Equal(0, house.Samples[0].Value);
        chip.Put(1, 1);
        house.Run(401, 480);
        Assert.Equal(1, house.Samples[0].Value);
    }
}

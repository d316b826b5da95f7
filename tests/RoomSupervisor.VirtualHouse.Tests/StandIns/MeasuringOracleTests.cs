// Stand-ins of the measuring chips against bindings that nobody of this project wrote (Iot.Device.Bindings 4.2.0), byte for byte on one bus; and our
// drivers on that same bus: all must read the same within their rounding. The bindings wait in real time, a few hundredths of a second a reading.
using System.Device.I2c;
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse.Tests.StandIns;

public class MeasuringOracleTests
{
    /// <summary>What our driver makes of the same stand-in.</summary>
    private static double[] Ours(I2cStandIn chip, DeviceSettings device, params PointWiring[] points)
    {
        var inputs = new InputImage(points.Length);
        using HardwarePlan plan = HardwarePlan.Build([device], points, inputs, new OutputLeases(0), new Buses { I2c = _ => new I2cBusStandIn([chip]) });
        Assert.Empty(plan.Problems);
        for (double t = 1000; t < 1012; t++) StandInHouse.Poll(plan.Workers[0], t);
        var samples = new Sample[points.Length];
        inputs.CopyTo(samples);
        Assert.All(samples, sample => Assert.Equal(Fault.None, sample.Fault));
        return [.. samples.Select(sample => sample.Value)];
    }

    private static PointWiring[] Air(string device) => [MeasuringHouse.Input(0, "r.air.temperature", device, "temperature"), MeasuringHouse.Input(1, "r.air.humidity", device, "humidity", Quantity.Percent)];

    [Theory]
    [InlineData(25.08, 50)]
    [InlineData(-12.5, 90)]
    [InlineData(31.27, 68.4)]
    [InlineData(60, 8)]
    public void Bme280(double temperature, double humidity)
    {
        var chip = new Bme280StandIn(0x76);
        (int t, int h) = (chip.ChannelOf("temperature"), chip.ChannelOf("humidity"));
        chip.Put(t, temperature);
        chip.Put(h, humidity);
        using var binding = new Iot.Device.Bmxx80.Bme280(new Through(new I2cBusStandIn([chip]), 0x76));
        binding.SetPowerMode(Iot.Device.Bmxx80.PowerMode.Bmx280PowerMode.Forced);
        Assert.True(binding.TryReadTemperature(out UnitsNet.Temperature readT));
        Assert.True(binding.TryReadHumidity(out UnitsNet.RelativeHumidity readH));
        // The whole-number formulas of the stand-in round to 1/1024 % and their word is 0.008 % wide; the last digit stirs.
        Data.Near(temperature, readT.DegreesCelsius, 0.004);
        Data.Near(humidity, readH.Percent, 0.03);
        double[] ours = Ours(chip, MeasuringHouse.Chip("air", "bme280", ("address", "0x76")), Air("air"));
        Data.Near(readT.DegreesCelsius, ours[0], 1e-6);
        Data.Near(readH.Percent, ours[1], 0.01);
    }

    [Theory]
    [InlineData(25, 50)]
    [InlineData(-12.5, 90)]
    [InlineData(31.27, 68.4)]
    public void Hts221(double temperature, double humidity)
    {
        var chip = new Hts221StandIn(0x5F);
        chip.Put(0, temperature);
        chip.Put(1, humidity);
        using var binding = new Iot.Device.Hts221.Hts221(new Through(new I2cBusStandIn([chip]), 0x5F));
        (double readT, double readH) = (binding.Temperature.DegreesCelsius, binding.Humidity.Percent);
        Data.Near(temperature, readT, 0.009);
        Data.Near(humidity, readH, 0.004);
        double[] ours = Ours(chip, MeasuringHouse.Chip("air", "hts221"), Air("air"));
        // The binding computes in single precision.
        Data.Near(readT, ours[0], 1e-4);
        Data.Near(readH, ours[1], 1e-4);
    }

    [Fact]
    public void Scd4x()
    {
        var chip = new Scd4xStandIn(0x62);
        (double Co2, double T, double H) set = (1234, 23.4, 56.7);
        chip.Put(0, set.Co2);
        chip.Put(1, set.T);
        chip.Put(2, set.H);
        var through = new Through(new I2cBusStandIn([chip]), 0x62) { StepS = 0.6 };
        var binding = new Iot.Device.Scd4x.Scd4x(through);
        binding.StartPeriodicMeasurements();
        through.StepS = 6;
        var (co2, rh, t) = binding.ReadPeriodicMeasurement();
        binding.Dispose();
        Data.Near(set.Co2, co2!.Value.PartsPerMillion, 0.5);
        Data.Near(set.T, t!.Value.DegreesCelsius, 0.0014);
        Data.Near(set.H, rh!.Value.Percent, 0.0008);
        PointWiring[] points = [.. Air("air"), MeasuringHouse.Input(2, "r.air.co2", "air", "co2", Quantity.Number)];
        double[] ours = Ours(chip, MeasuringHouse.Chip("air", "scd4x"), points);
        Data.Near(t.Value.DegreesCelsius, ours[0], 1e-9);
        Data.Near(rh.Value.Percent, ours[1], 1e-9);
        Data.Near(co2.Value.PartsPerMillion, ours[2], 1e-6);
    }

    // Volts at the chip by hand: a thermistor at 25 °C, 10 kΩ over 10 kΩ, halves 3.3 V.
    [Theory]
    [InlineData(25, 1.65)]
    [InlineData(85, 0.41824)] // 3.3 V · 1451.35 Ω / 11451.35 Ω, R by beta 3435 K (IEC 60539-1)
    public void Ads1115(double temperature, double volts)
    {
        DeviceSettings device = MeasuringHouse.Converter("nothing", ("supply", MeasuringHouse.Analog("a2", "ntc-10k-3435")));
        var chip = new AnalogStandIn(0x48, device);
        chip.Put(0, temperature);
        using var binding = new Iot.Device.Ads1115.Ads1115(new Through(new I2cBusStandIn([chip]), 0x48), Iot.Device.Ads1115.InputMultiplexer.AIN2,
            Iot.Device.Ads1115.MeasuringRange.FS4096, Iot.Device.Ads1115.DataRate.SPS128, Iot.Device.Ads1115.DeviceMode.PowerDown);
        Data.Near(volts, binding.ReadVoltage().Volts, 0.0000625 + 0.00001);
        Data.Near(0, binding.ReadVoltage(Iot.Device.Ads1115.InputMultiplexer.AIN1).Volts, 1e-9);
        Data.Near(temperature, Ours(chip, device, MeasuringHouse.Input(0, "l.supply.temperature", "analog", "supply"))[0], 0.02);
    }

    /// <summary>Above nought: below it this version of the binding reads 256 K too much (the data sheet has two's complement), ours what was set. Its century is not ours to judge.</summary>
    [Fact]
    public void Ds3231()
    {
        var chip = new ClockChipStandIn(0x68);
        chip.Put(0, 21.25);
        using var binding = new Iot.Device.Rtc.Ds3231(new Through(new I2cBusStandIn([chip]), 0x68) { StepS = 30 });
        Assert.Equal(21.25, binding.Temperature.DegreesCelsius);
        DateTime read = binding.DateTime.DateTime;
        Assert.Equal((1, 2, 12, 2, 0), (read.Month, read.Day, read.Hour, read.Minute, read.Second));
        foreach (double temperature in (ReadOnlySpan<double>)[21.25, -10.75])
        {
            chip.Put(0, temperature);
            Assert.Equal([temperature, 0], Ours(chip, MeasuringHouse.Chip("clock", "ds3231"), MeasuringHouse.Input(0, "buffer.top.temperature", "clock", "temperature"), MeasuringHouse.Input(1, "site.leak.detected", "clock", "time_lost", Quantity.Switch)));
        }
    }

    /// <summary>The bus as the binding of the multiplexer sees one.</summary>
    private sealed class MainBus(I2cBusStandIn bus) : I2cBus
    {
        public override I2cDevice CreateDevice(int deviceAddress) => new Through(bus, (byte)deviceAddress);

        public override void RemoveDevice(int deviceAddress)
        {
        }
    }

    /// <summary>Two chips of one address: the foreign binding reads each on its channel.</summary>
    [Fact]
    public void Tca9548a()
    {
        Sht4xStandIn east = new(0x44), west = new(0x44);
        east.Put(0, 18);
        west.Put(0, 27);
        var bus = new I2cBusStandIn([new MultiplexerStandIn(0x70, [(2, east), (5, west)])]);
        using var binding = new Iot.Device.Tca954x.Tca9548A(new Through(bus, 0x70), new MainBus(bus));
        using var inEast = new Iot.Device.Sht4x.Sht4x(binding.GetChannel(2).CreateDevice(0x44));
        using var inWest = new Iot.Device.Sht4x.Sht4x(binding.GetChannel(5).CreateDevice(0x44));
        Data.Near(18, inEast.ReadHumidityAndTemperature().Temperature!.Value.DegreesCelsius, 0.0014);
        Data.Near(27, inWest.ReadHumidityAndTemperature().Temperature!.Value.DegreesCelsius, 0.0014);
        Data.Near(18, inEast.ReadHumidityAndTemperature().Temperature!.Value.DegreesCelsius, 0.0014);
    }
}

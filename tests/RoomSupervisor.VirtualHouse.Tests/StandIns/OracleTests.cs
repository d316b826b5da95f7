// Stand-in and driver against a binding of the chip that nobody of this project wrote (Iot.Device.Bindings 4.2.0): on one and the same bus all must
// read the same. The binding waits in real time, a few hundredths of a second a reading.
using System.Device.I2c;
using RoomSupervisor.Hardware.I2c;

namespace RoomSupervisor.VirtualHouse.Tests.StandIns;

public class OracleTests
{
    // Within a step of the chip's words: 175/65535 K and 125/65535 %.
    [Theory]
    [InlineData(25, 50)]
    [InlineData(-12.5, 97)]
    [InlineData(31.27, 68.4)]
    [InlineData(60, 3)]
    public void The_binding_reads_from_the_stand_in_what_was_set(double temperature, double humidity)
    {
        var chip = new Sht4xStandIn(0x44);
        chip.Put(chip.ChannelOf("temperature"), temperature);
        chip.Put(chip.ChannelOf("humidity"), humidity);
        using var binding = new Iot.Device.Sht4x.Sht4x(new Through(new I2cBusStandIn([chip]), 0x44));
        var (rh, t) = binding.ReadHumidityAndTemperature();
        Assert.Equal(temperature, t!.Value.DegreesCelsius, 0.0027);
        Assert.Equal(humidity, rh!.Value.Percent, 0.002);
    }

    // This binding rounds to a tenth.
    [Theory]
    [InlineData(25.1, 50.2)]
    [InlineData(-12.5, 97)]
    [InlineData(31.3, 68.4)]
    public void The_binding_of_the_older_family_reads_what_was_set(double temperature, double humidity)
    {
        var chip = new Sht3xStandIn(0x45);
        chip.Put(chip.ChannelOf("temperature"), temperature);
        chip.Put(chip.ChannelOf("humidity"), humidity);
        using var binding = new Iot.Device.Sht3x.Sht3x(new Through(new I2cBusStandIn([chip]), 0x45));
        Assert.Equal(temperature, binding.Temperature.DegreesCelsius, 0.0501);
        Assert.Equal(humidity, binding.Humidity.Percent, 0.0501);
    }

    [Fact]
    public void The_binding_refuses_a_spoilt_word_as_our_driver_does()
    {
        var chip = new Sht4xStandIn(0x44) { Fault = BusFault.BadChecksum };
        using var binding = new Iot.Device.Sht4x.Sht4x(new Through(new I2cBusStandIn([chip]), 0x44));
        var (rh, t) = binding.ReadHumidityAndTemperature();
        Assert.Equal((null, null), (rh, t));
    }

    [Fact]
    public void Measuring_takes_its_time_and_nothing_is_acknowledged_before()
    {
        var chip = new Sht4xStandIn(0x44);
        var bus = new I2cBusStandIn([chip]);
        var bytes = new byte[6];
        Assert.Equal(I2cProblem.NoAcknowledge, bus.Read(0x44, bytes, 0, 1).Problem);
        Assert.Equal(I2cProblem.None, bus.Write(0x44, [0xFD], 1, 1).Problem);
        Assert.Equal(I2cProblem.NoAcknowledge, bus.Read(0x44, bytes, 1.005, 1).Problem);
        Assert.Equal(I2cProblem.NoAcknowledge, bus.Write(0x44, [0xFD], 1.005, 1).Problem);
        Assert.Equal(I2cProblem.None, bus.Read(0x44, bytes, 1.009, 1).Problem);
        Assert.Equal(I2cProblem.NoAcknowledge, bus.Read(0x44, bytes, 1.02, 1).Problem);
        Assert.NotEqual(I2cProblem.None, bus.Write(0x44, [0x2C], 2, 1).Problem);
    }

    // Bytes and volts by hand: FFF0 is 4095, all of the range; 7FF0 is 2047.
    [Fact]
    public void The_converter_puts_out_what_its_registers_and_range_say()
    {
        var chip = new VoltageOutputStandIn(0x58);
        var bus = new I2cBusStandIn([chip]);
        bus.Write(0x58, [2, 0xF0, 0xFF], 0, 1);
        Assert.Equal(5, chip.Get(0), 9);
        bus.Write(0x58, [1, 0x11], 0, 1);
        Assert.Equal(10, chip.Get(0), 9);
        bus.Write(0x58, [2, 0xF0, 0x7F, 0xF0, 0xFF], 0, 1);
        Assert.Equal((4.9988, 10), (Math.Round(chip.Get(0), 4), chip.Get(1)));
        Assert.NotEqual(I2cProblem.None, bus.Write(0x58, [3, 1, 1], 0, 1).Problem);
    }
}

// Stand-ins of output chips against bindings of the chips that nobody of this project wrote (Iot.Device.Bindings 4.2.0): on one and the same bus the binding
// and our driver must bring about the same. There is no binding for the converter with four outputs: its bytes are worked out by hand.
using System.Device.Gpio;
using System.Device.I2c;
using Iot.Device.Mcp23xxx;
using Iot.Device.Pcx857x;
using Iot.Device.Pwm;
using RoomSupervisor.Hardware.I2c;
using static RoomSupervisor.VirtualHouse.Tests.StandIns.OutputChips;

namespace RoomSupervisor.VirtualHouse.Tests.StandIns;

public class OutputOracleTests
{
    // A duty of 0.25 is 1024 of 4096 counts; both ends have their own bits.
    [Theory]
    [InlineData(0)]
    [InlineData(25)]
    [InlineData(62.5)]
    [InlineData(100)]
    public void The_binding_of_the_pulse_chip_makes_the_same_pulses_as_our_driver(double percent)
    {
        var chip = new PwmChipStandIn(0x40);
        using (var binding = new Pca9685(new Through(new I2cBusStandIn([chip]), 0x40) { StepS = 0 }, 1000))
        {
            binding.SetDutyCycle(3, percent / 100);
            Assert.Equal(percent, chip.Get(3), 0.03);
        }

        using var rig = new OutputChips("pca9685", [("bus", "/dev/i2c-1"), ("address", "0x40"), ("frequency", 1000)], [], Percent("out-3", 0));
        rig.Poll(0);
        rig.Put(0, percent, 1);
        rig.Poll(1);
        Assert.Equal(chip.Get(3), rig.House.Output(0), 0.03);
    }

    [Theory]
    [InlineData(50)]
    [InlineData(200)]
    [InlineData(1000)]
    [InlineData(1500)]
    public void The_binding_sets_the_same_prescale(double frequency)
    {
        var chip = new PwmChipStandIn(0x40);
        using var binding = new Pca9685(new Through(new I2cBusStandIn([chip]), 0x40) { StepS = 0 }, frequency);
        using var rig = new OutputChips("pca9685", [("bus", "/dev/i2c-1"), ("address", "0x40"), ("frequency", frequency)], [], Percent("out-0", 0));
        rig.Poll(0);
        Assert.Contains($"fe{chip[0xFE]:x2}", rig.Bytes);
        Assert.Equal(frequency, chip.FrequencyHz, frequency * 0.11);   // at 1,500 Hz a step of the prescale is 25 %
    }

    [Fact]
    public void The_binding_of_the_expander_with_registers_draws_and_reads_the_same_lines()
    {
        LineLoad relay = new("pump", 1, true, true), contact = new("door", 10, false, true);
        var chip = new RegisterExpanderStandIn(0x20, [relay, contact]);
        using var binding = new Mcp23017(new Through(new I2cBusStandIn([chip]), 0x20) { StepS = 0 });
        binding.WriteByte(Register.OLAT, 0xFF, Port.PortA);
        binding.WriteByte(Register.IODIR, 0xFD, Port.PortA);
        Assert.Equal(0, chip.Get(0));
        binding.WriteByte(Register.OLAT, 0xFD, Port.PortA);
        Assert.Equal(1, chip.Get(0));
        chip.Put(1, 1);
        Assert.Equal(0, binding.ReadByte(Register.GPIO, Port.PortB) & 4);
        chip.Put(1, 0);
        Assert.Equal(4, binding.ReadByte(Register.GPIO, Port.PortB) & 4);

        // Our driver on the same chip: the binding reads back what it set.
        using var rig = new OutputChips("mcp23017", [("bus", "/dev/i2c-1"), ("address", "0x20")], [("pump", [("pin", "A1"), ("active", "low")]), ("door", [("pin", "B2"), ("active", "low"), ("pull_up", "yes")])], Relay("pump", 0), Input("door", 0));
        // Made first: its constructor makes every line an input.
        using var reader = new Mcp23017(new Through(rig.Buses.I2c("/dev/i2c-1"), 0x20) { StepS = 0 });
        rig.Poll(0);
        rig.Put(0, 1, 1);
        rig.Poll(1);
        Assert.Equal((0xFD, 0xFF, 0x00, 0x04), (reader.ReadByte(Register.IODIR, Port.PortA), reader.ReadByte(Register.IODIR, Port.PortB), reader.ReadByte(Register.OLAT, Port.PortA), reader.ReadByte(Register.GPPU, Port.PortB)));
        Assert.Equal(0, reader.ReadByte(Register.GPIO, Port.PortA) & 2);
    }

    [Fact]
    public void The_binding_of_the_expander_without_registers_draws_and_reads_the_same_lines()
    {
        LineLoad relay = new("pump", 0, true, true), contact = new("door", 7, false, true);
        var chip = new PlainExpanderStandIn(0x38, [relay, contact]);
        using var binding = new Pcf8574(new Through(new I2cBusStandIn([chip]), 0x38) { StepS = 0 });
        binding.WriteByte(0xFE);
        Assert.Equal(1, chip.Get(0));
        chip.Put(1, 1);
        Assert.Equal(0x7E, binding.ReadByte());
        chip.Put(1, 0);
        binding.WriteByte(0xFF);
        Assert.Equal((0.0, (byte)0xFF), (chip.Get(0), binding.ReadByte()));
    }
}

// Lines in the site file and at the kernel: what a slip is told, what a missing chip is told, and that our picture of the kernel's structures is theirs.
using System.Runtime.InteropServices;
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Gpio;
using RoomSupervisor.Parts.Tests.Site;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;
using static RoomSupervisor.Parts.Tests.Site.SiteTexts;

namespace RoomSupervisor.Parts.Tests.Hardware.Lines;

public class LineTests
{
    /// <summary>Sizes by a C compiler from linux/gpio.h of Linux 6.1: the request 592 bytes, the line's description 256.</summary>
    [Theory]
    [InlineData("Request", 592)]
    [InlineData("LineInfo", 256)]
    [InlineData("Values", 16)]
    public void The_kernels_structures_have_the_kernels_sizes(string name, int bytes)
        => Assert.Equal(bytes, Marshal.SizeOf(typeof(LinuxGpioChip).GetNestedType(name, System.Reflection.BindingFlags.NonPublic)!));

    /// <summary>A request as bytes, at the offsets the same compiler gives: consumer 256, flags 288, attributes 296 and 320, count 560.</summary>
    [Fact]
    public void A_request_lies_in_memory_as_the_kernel_reads_it()
    {
        var type = typeof(LinuxGpioChip).GetNestedType("Request", System.Reflection.BindingFlags.NonPublic)!;
        var lines = new GpioLine[] { new(17, false, GpioPull.Up), new(22, true, GpioPull.AsItIs), new(23, true, GpioPull.AsItIs) };
        var request = type.GetMethod("Of")!.Invoke(null, [lines, 0b100UL])!;
        var bytes = new byte[592];
        var pinned = GCHandle.Alloc(request, GCHandleType.Pinned);
        Marshal.Copy(pinned.AddrOfPinnedObject(), bytes, 0, bytes.Length);
        pinned.Free();
        Assert.Equal([17, 22, 23], Enumerable.Range(0, 3).Select(i => BitConverter.ToInt32(bytes, 4 * i)));
        Assert.Equal("room-supervisor", System.Text.Encoding.ASCII.GetString(bytes, 256, 15));
        Assert.Equal((4UL, 3, 3), (BitConverter.ToUInt64(bytes, 288), BitConverter.ToInt32(bytes, 296), BitConverter.ToInt32(bytes, 560)));
        // Attributes: lines 1 and 2 are outputs (8), their levels (bit 2), and line 0 an input (4) pulled up (256).
        Assert.Equal([(1u, 8UL, 6UL), (2u, 4UL, 6UL), (1u, 260UL, 1UL)],
            Enumerable.Range(0, 3).Select(i => (BitConverter.ToUInt32(bytes, 320 + 24 * i), BitConverter.ToUInt64(bytes, 328 + 24 * i), BitConverter.ToUInt64(bytes, 336 + 24 * i))));
    }

    [Fact]
    public void A_path_that_is_not_there_or_no_chip_is_a_failure_with_what_to_do_and_no_exception()
    {
        var path = Path.Combine(Path.GetTempPath(), "no-such-chip-" + Guid.NewGuid());
        using var missing = new LinuxGpioChip(path);
        var reply = missing.Take([new GpioLine(1, true, GpioPull.AsItIs)], 0);
        Assert.Equal(GpioProblem.NoChip, reply.Problem);
        Assert.StartsWith($"there is no gpio chip {path}: see which there are under /dev", GpioWords.Of(reply, path), StringComparison.Ordinal);
        Assert.Equal(GpioProblem.NoChip, missing.Get(out _).Problem);
        Assert.Equal(GpioProblem.NoChip, missing.Set(1, 1).Problem);
        File.WriteAllText(path, "");
        Assert.Equal(GpioProblem.NoChip, missing.Take([new GpioLine(1, false, GpioPull.AsItIs)], 0).Problem);
        File.Delete(path);
    }

    [Fact]
    public void Every_problem_of_a_chip_says_what_to_do()
    {
        foreach (var problem in Enum.GetValues<GpioProblem>())
            Assert.Equal(problem == GpioProblem.None, GpioWords.Of(new GpioReply(problem), "/dev/gpiochip0").Length == 0);
        Assert.Equal("a line of /dev/gpiochip0 is in use already: end the program that has it, or take it out of the board's configuration (line 17, by led0)", GpioWords.Of(new GpioReply(GpioProblem.InUse, "line 17, by led0"), "/dev/gpiochip0"));
        // errno(3): EACCES 13, EBUSY 16, EINVAL 22, ENODEV 19, ENOTTY 25, EIO 5.
        Assert.Equal([GpioProblem.NotAllowed, GpioProblem.InUse, GpioProblem.NoSuchLine, GpioProblem.NoChip, GpioProblem.NoChip, GpioProblem.Failed],
            new[] { 13, 16, 22, 19, 25, 5 }.Select(GpioWords.OfErrorNumber));
    }

    /// <summary>The weaving room's door and pump on a device of lines.</summary>
    private static SiteResult On(string device) => Read(With(SiteText, ("\ndevices:\n", "\ndevices:\n" + device)), HouseholdText);

    [Theory]
    [InlineData("  it: {driver: mcp23017, bus: /dev/i2c-1, address: 0x28, lines: {a: {pin: A0}}}\n", "0x20 to 0x27")]
    [InlineData("  it: {driver: mcp23017, bus: /dev/i2c-1, lines: {a: {pin: A8}}}\n", "A0")]
    [InlineData("  it: {driver: mcp23017, bus: /dev/i2c-1, lines: {a: {pin: A0}, b: {pin: A0}}}\n", "is also the place of channel a")]
    [InlineData("  it: {driver: pcf8574, bus: /dev/i2c-1, address: 0x30, lines: {a: {pin: P0}}}\n", "0x38 to 0x3f")]
    [InlineData("  it: {driver: gpio, chip: gpiochip0, lines: {a: {line: 17}}}\n", "write it in full, such as /dev/gpiochip0")]
    [InlineData("  it: {driver: gpio, chip: /dev/gpiochip0, lines: {a: {line: 17.5}}}\n", "not a whole number")]
    [InlineData("  it: {driver: gpio, chip: /dev/gpiochip0, lines: {a: {active: low}}}\n", "line")]
    [InlineData("  it: {driver: pwm, chip: /sys/class/pwm/pwmchip0, outputs: {a: {number: 0}, b: {number: 0}}}\n", "is also the place of channel a")]
    [InlineData("  it: {driver: pca9685, bus: /dev/i2c-1, address: 0x70}\n", "bridge another")]
    [InlineData("  it: {driver: pca9685, bus: /dev/i2c-1, frequency: 5}\n", "out of range")]
    [InlineData("  it: {driver: mcp4728, bus: /dev/i2c-1}\n", "amplifier_gain")]
    [InlineData("  it: {driver: mcp4728, bus: /dev/i2c-1, amplifier_gain: 2.5, supply_voltage: 3.3 V}\n", "needs a supply of at least 4.2 V")]
    [InlineData("  it: {driver: gpio, chip: /dev/gpiochip0, lines: {a: {line: 17}}}\n  other: {driver: gpio, chip: /dev/gpiochip0, lines: {a: {line: 18}}}\n", "is also the place of device it")]
    public void A_slip_with_a_device_of_outputs_is_told(string device, string says)
        => Assert.Contains(Errors(On(device)), problem => problem.ToString().Contains(says, StringComparison.Ordinal));

    [Fact]
    public void A_percentage_on_a_relay_and_an_input_on_a_pulse_output_are_refused_by_the_plan()
    {
        var line = new SettingBag();
        (string Key, string Text)[] texts = [("pin", "A0"), ("active", "low"), ("pull_up", "no")];
        foreach (var (key, text) in texts)
            line.Set(key, text);
        line.Set("debounce", 0.05);
        var relays = new DeviceSettings("relays", "mcp23017", I2c.ChipRig.Chip("relays", "mcp23017", "0x20").Settings, new Dictionary<string, SettingBag> { ["a"] = line }, Rig.Here);
        PointWiring[] wiring =
        [
            Rig.Output("x.coil.fan", 0, Quantity.Percent, "a", VoltageLine.ZeroToTen, 0) with { Device = "relays" },
            Rig.Output("x.pump.run", 1, Quantity.Switch, "b", VoltageLine.ZeroToTen, 0) with { Device = "relays" },
            Rig.Output("y.pump.run", 2, Quantity.Switch, "a", VoltageLine.ZeroToTen, 0) with { Device = "relays" },
            Rig.Output("z.pump.run", 3, Quantity.Switch, "a", VoltageLine.ZeroToTen, 0) with { Device = "relays" },
        ];
        var plan = HardwarePlan.Build([relays], wiring, new InputImage(0), new OutputLeases(4), new Buses { I2c = _ => throw new InvalidOperationException() });
        string[] says = ["x.coil.fan is a percentage, but channel a of relays is on or off", "channel b, which device relays does not have", "z.pump.run is on the same pin A0 of relays as y.pump.run"];
        Assert.All(says, part => Assert.Contains(plan.Problems, problem => problem.Text.Contains(part, StringComparison.Ordinal)));
        Assert.Equal(says.Length, plan.Problems.Count);
    }
}

// What answers on a bus and which driver may fit, on buses in memory: the scan knocks and never writes a byte.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Terms;

namespace RoomSupervisor.House.Tests.Control;

public sealed class BusScanTests
{
    [Fact]
    public void Chips_are_found_by_knocking_also_one_that_answers_no_reading_and_the_missing_one_is_named()
    {
        var bus = new KnockBus { Answers = { 0x45, 0x58 }, AnswersReadings = { 0x58 } };
        var scan = BusScan.WireBus("/dev/i2c-1", [Chip("hall-air", "sht4x", "0x44"), Chip("fans", "dac-0-10v", "0x58")], _ => bus);
        Assert.Equal("", scan.Problem);
        Assert.Equal(["0x45", "0x58"], scan.Found.Select(one => one.Place));
        Assert.Empty(scan.Found[0].UsedBy);
        Assert.Contains("sht4x", scan.Found[0].MayBe);
        Assert.DoesNotContain("dac-0-10v", scan.Found[0].MayBe);
        Assert.Equal(["fans"], scan.Found[1].UsedBy);
        Assert.Equal(["hall-air (/dev/i2c-1 0x44)"], scan.Silent);
        Assert.Equal(0, bus.BytesWritten);
    }

    [Theory]
    [InlineData(I2cProblem.NoBus, "boot file")]
    [InlineData(I2cProblem.NotAllowed, "group")]
    [InlineData(I2cProblem.TimedOut, "holds a line low")]
    public void A_bus_that_cannot_be_asked_says_what_to_do(I2cProblem problem, string advice)
    {
        var scan = BusScan.WireBus("/dev/i2c-1", [Chip("hall-air", "sht4x", "0x44")], _ => new KnockBus { Broken = problem });
        Assert.Equal(I2cWords.Of(problem), scan.Problem);
        Assert.Contains(advice, scan.Advice, StringComparison.Ordinal);
    }

    [Fact]
    public void A_bus_that_is_not_there_is_told_by_the_real_one_too()
        => Assert.Contains("boot file", BusScan.WireBus("/dev/i2c-237", [], path => new LinuxI2cBus(path)).Advice, StringComparison.Ordinal);

    [Fact]
    public void A_unit_that_refuses_is_there_and_one_that_is_silent_is_not()
    {
        var device = new MemoryModbusDevice(3);
        device.Refuse(RegisterTable.HoldingRegister, 0, 2);
        var scan = BusScan.Modbus("line", [Unit("meter", 3), Unit("gone", 4)], [5], new ModbusTcpLink(new MemoryChannel(device)));
        Assert.Equal("unit 3", Assert.Single(scan.Found).Place);
        Assert.StartsWith("gone (unit 4)", Assert.Single(scan.Silent), StringComparison.Ordinal);
    }

    [Fact]
    public void One_wire_chips_are_what_the_kernel_lists()
    {
        var folder = Directory.CreateTempSubdirectory("w1-");
        Directory.CreateDirectory(Path.Combine(folder.FullName, "28-00000abcdef0"));
        Directory.CreateDirectory(Path.Combine(folder.FullName, "w1_bus_master1"));
        Assert.Equal("28-00000abcdef0", Assert.Single(BusScan.OneWire(folder.FullName, [])!.Found).Place);
        Assert.Null(BusScan.OneWire(Path.Combine(folder.FullName, "none"), []));
        folder.Delete(true);
    }

    [Fact]
    public async Task A_start_waits_for_a_reader_and_not_for_another_run()
    {
        var folder = Directory.CreateTempSubdirectory("readers-");
        Assert.True(InstanceLock.TryTakeToRead(folder.FullName, out var reader, out _));
        Assert.True(InstanceLock.TryTakeToRead(folder.FullName, out var second, out _));
        second!.Dispose();
        var start = Task.Run(() => InstanceLock.TryTake(folder.FullName, out var run, out _) ? run : null);
        Assert.NotSame(start, await Task.WhenAny(start, Task.Delay(300)));
        reader!.Dispose();
        using (var run = await start)
        {
            Assert.NotNull(run);
            Assert.False(InstanceLock.TryTakeToRead(folder.FullName, out _, out var why));
            Assert.Contains("another run", why, StringComparison.Ordinal);
        }
        folder.Delete(true);
    }

    private static DeviceSettings Chip(string name, string driver, string address)
    {
        var bag = new SettingBag();
        bag.Set("bus", "/dev/i2c-1");
        bag.Set("address", address);
        return new DeviceSettings(name, driver, bag, new Dictionary<string, SettingBag>(), default);
    }

    private static DeviceSettings Unit(string name, int unit)
    {
        var bag = new SettingBag();
        bag.Set("unit", unit);
        bag.Set("timeout", 0.5);
        return new DeviceSettings(name, "modbus-tcp", bag, new Dictionary<string, SettingBag>(), default);
    }

    private sealed class KnockBus : II2cBus
    {
        public HashSet<byte> Answers { get; } = [];

        public HashSet<byte> AnswersReadings { get; } = [];

        public I2cProblem Broken { get; init; }

        public int BytesWritten { get; private set; }

        public I2cReply Write(byte address, ReadOnlySpan<byte> bytes, double nowS, double deadlineS)
        {
            BytesWritten += bytes.Length;
            return new I2cReply(Broken != I2cProblem.None ? Broken : Answers.Contains(address) ? I2cProblem.None : I2cProblem.NoAcknowledge, 0);
        }

        public I2cReply Read(byte address, Span<byte> into, double nowS, double deadlineS)
            => new(Broken != I2cProblem.None ? Broken : AnswersReadings.Contains(address) ? I2cProblem.None : I2cProblem.NoAcknowledge, 0);

        public void Dispose()
        {
        }
    }
}

// What registers may hold and how they are read together: types, orders, bits, offsets, gaps, overlaps.
using RoomSupervisor.Hardware;
using RoomSupervisor.Hardware.Modbus;
using RoomSupervisor.Parts.Tests.Site;
using RoomSupervisor.Terms;
using Xunit;

namespace RoomSupervisor.Parts.Tests.Hardware;

public class RegisterMapTests
{
    // IEEE 754: 1.0 is 3F800000, −2.5 is C0200000, 21.5 is 41AC0000; two's complement of 32 bits for the rest.
    [Theory]
    [InlineData("u16", "high-first", "high-first", 0xFFFE, 0, 65534)]
    [InlineData("u16", "low-first", "high-first", 0x1234, 0, 0x3412)]
    [InlineData("s16", "high-first", "high-first", 0xFFFE, 0, -2)]
    [InlineData("u32", "high-first", "high-first", 0x0001, 0x0002, 65538)]
    [InlineData("u32", "high-first", "low-first", 0x0002, 0x0001, 65538)]
    [InlineData("u32", "high-first", "high-first", 0xFFFF, 0xFFFF, 4294967295)]
    [InlineData("s32", "high-first", "high-first", 0xFFFF, 0xFFFE, -2)]
    [InlineData("s32", "low-first", "low-first", 0xFEFF, 0xFFFF, -2)]
    [InlineData("f32", "high-first", "high-first", 0x41AC, 0x0000, 21.5)]
    [InlineData("f32", "high-first", "low-first", 0x0000, 0xC020, -2.5)]
    [InlineData("f32", "low-first", "high-first", 0x803F, 0x0000, 1)]
    public void A_register_holds_what_its_type_and_orders_say_both_ways(string type, string bytes, string words, int first, int second, double value)
    {
        var channel = Channel(type: type, more: bag => (Set(bag, "byte_order", bytes), Set(bag, "word_order", words)));
        Assert.Equal(value, channel.Raw((ushort)first, (ushort)second));
        Assert.Equal(value, channel.ToPoint(channel.Raw((ushort)first, (ushort)second), Rig.Input("a.b.c", 0, Quantity.Number, "c")));
        var (one, two) = ((ushort)0, (ushort)0);
        channel.Put(channel.ToNumber(value), ref one, ref two);
        Assert.Equal((first, channel.Words == 2 ? second : 0), (one, channel.Words == 2 ? two : 0));
    }

    [Theory]
    [InlineData(0, 0b0001, 1)]
    [InlineData(0, 0b1110, 0)]
    [InlineData(15, 0x8000, 1)]
    [InlineData(9, 0x0200, 1)]
    public void A_bit_of_a_register_is_a_switch(int bit, int raw, double value)
    {
        var channel = Channel(more: bag => Set(bag, "bit", bit));
        Assert.Equal((value, Quantity.Switch), (channel.Raw((ushort)raw, 0), channel.Quantity));
        Assert.Equal(1 - value, channel.ToPoint(channel.Raw((ushort)raw, 0), Rig.Input("a.b.c", 0, Quantity.Switch, "c", inverted: true)));
    }

    [Theory]
    [InlineData("0.1 °C", "-40 °C", 650, 25)]
    [InlineData("0.1 °F", "-40 °F", 1170, 25)] // −40 + 117 = 77 °F
    [InlineData("0.01 V", "2 V", 400, 6)]
    [InlineData("0.5 %", "", 80, 40)]
    [InlineData("1", "-100", 130, 30)]
    public void An_offset_says_what_nought_means(string scale, string offset, int raw, double value)
        => Assert.Equal(value, Channel(scale, more: bag => Set(bag, "offset", offset)).Scale.ToValue(raw), 9);

    [Fact]
    public void A_float_that_is_no_number_is_no_reading()
    {
        var device = Rig.DeviceWith();
        var wiring = new[] { Rig.Input("a.air.temperature", 0, Quantity.Temperature, "f"), Rig.Input("b.air.temperature", 1, Quantity.Temperature, "temperature") };
        var channels = new Dictionary<string, SettingBag>(device.Channels) { ["f"] = Rig.Register("input-register", 8, "1 °C", "f32") };
        var module = new MemoryModbusDevice();
        (module[RegisterTable.InputRegister, 8], module[RegisterTable.InputRegister, 9], module[RegisterTable.InputRegister, 0]) = (0x7FC0, 0, 215);
        var inputs = new InputImage(2);
        using var plan = HardwarePlan.Build([device with { Channels = channels }], wiring, inputs, new OutputLeases(0), new Buses { Modbus = _ => new ModbusTcpLink(new MemoryChannel(module)) });
        plan.Workers[0].Poll(0);
        var samples = new Sample[2];
        inputs.CopyTo(samples);
        Assert.Equal((Fault.OutOfRange, 21.5), (samples[0].Fault, samples[1].Value));
        Assert.Equal("the register holds no number", plan.Workers[0].Devices[0].Channel(0).Problem);
    }

    [Theory]
    [InlineData(0, 16)]
    [InlineData(3, 1)]
    public void Gaps_are_read_along_up_to_the_declared_limit(int gap, int requests)
    {
        // Sixteen registers at 0, 4, 8 …: three unlisted between two.
        var (module, plan, inputs) = Many(16, 4, gap);
        plan.Workers[0].Poll(0);
        Assert.Equal(requests, module.Requests.Count);
        var samples = new Sample[16];
        inputs.CopyTo(samples);
        Assert.All(samples.Index(), one => Assert.Equal(4 * one.Index, one.Item.Value));
        plan.Dispose();
    }

    [Fact]
    public void A_module_that_refuses_the_addresses_between_is_read_without_them()
    {
        var (module, plan, inputs) = Many(16, 2, 1);
        module.Refuse(RegisterTable.InputRegister, 5, 2);
        for (var t = 0; t < 3; t++)
            plan.Workers[0].Poll(t);
        var samples = new Sample[16];
        inputs.CopyTo(samples);
        Assert.All(samples, one => Assert.Equal(Fault.None, one.Fault));
        plan.Dispose();
    }

    [Fact]
    public void Sixty_four_points_come_with_three_requests()
    {
        var (module, plan, _) = Many(64, 2, 1);
        plan.Workers[0].Poll(0);
        Assert.InRange(module.Requests.Count, 1, 3);
        plan.Dispose();
    }

    [Theory]
    [InlineData("a: {table: input-register, address: 4, type: u32}", "b: {table: input-register, address: 5}", "input-register 5", "input-register 4 and 5")]
    [InlineData("a: {table: input-register, address: 5}", "b: {table: input-register, address: 4, type: f32}", "input-register 4 and 5", "input-register 5")]
    [InlineData("a: {table: holding-register, address: 4, bit: 3}", "b: {table: holding-register, address: 4, bit: 3}", "holding-register 4 bit 3", "holding-register 4 bit 3")]
    [InlineData("a: {table: coil, address: 4}", "b: {table: coil, address: 4}", "coil 4", "coil 4")]
    [InlineData("a: {table: coil, address: 4}", "b: {table: input-register, address: 65535, type: u32}", "takes two registers: at most 65534", "")]
    [InlineData("a: {table: coil, address: 4}", "b: {table: input-register, address: 65536}", "65536", "")]
    [InlineData("a: {table: coil, address: 4}", "b: {table: coil, address: 5, bit: 3}", "for registers only", "")]
    [InlineData("a: {table: coil, address: 4}", "b: {table: input-register, address: 5, word_order: low-first}", "word_order is for numbers of two registers", "")]
    [InlineData("a: {table: coil, address: 4}", "b: {table: input-register, address: 5, scale: 0.1 °C, offset: 4 V}", "does not go with scale", "")]
    [InlineData("a: {table: holding-register, address: 4, bit: 3}", "b: {table: holding-register, address: 4, bit: 4}", null, "")]
    [InlineData("a: {table: holding-register, address: 4, bit: 3}", "b: {table: holding-register, address: 4}", null, "")]
    public void Overlaps_and_addresses_out_of_range_are_told_with_line_and_key(string a, string b, string? says, string other)
    {
        var text = $"devices:\n  io:\n    driver: modbus-tcp\n    host: 192.0.2.10\n    registers:\n      {a}\n      {b}\n" + SiteTexts.SiteText[..SiteTexts.SiteText.IndexOf("devices:", StringComparison.Ordinal)];
        var problems = SiteTexts.Read(text, SiteTexts.HouseholdText).Problems.Select(one => one.ToString()).Where(one => one.Contains("devices.io", StringComparison.Ordinal) && one.Contains("error", StringComparison.Ordinal)).ToList();
        if (says is null)
        {
            Assert.Empty(problems);
            return;
        }
        var problem = Assert.Single(problems);
        Assert.Contains(":7:", problem, StringComparison.Ordinal);
        Assert.Contains("devices.io.registers.b", problem, StringComparison.Ordinal);
        Assert.Contains(says, problem, StringComparison.Ordinal);
        Assert.Contains(other, problem, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(60, 0.1, null)]
    [InlineData(double.NaN, 0.1, "does not say what it shall hold")]
    [InlineData(60, 0.7, "whole number of them")]
    public void The_register_of_the_own_time_out_needs_a_time_in_its_steps(double time, double step, string? says)
    {
        var device = Rig.DeviceWith(bag =>
        {
            bag.Set("own_time_out", time);
            bag.Set("own_time_out_address", 112);
            bag.Set("own_time_out_step", step);
        });
        var wrong = ModbusTcpDriver.Declaration.CheckDevice!(device.Settings);
        Assert.Equal(says is null, wrong is null);
        Assert.Contains(says ?? "", wrong ?? "", StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("u32")]
    [InlineData("f32")]
    public void An_output_wants_a_whole_register(string type)
        => Assert.Contains("outputs go to a coil or to a whole register", Channel("1 mV", type).Mismatch(Rig.Output("r.coil.fan", 0, Quantity.Percent, "c", VoltageLine.ZeroToTen, 0)), StringComparison.Ordinal);

    [Fact]
    public void An_output_in_a_register_with_its_low_byte_first_is_written_so()
        => Assert.Equal(0xE803, Channel("1 mV", more: bag => Set(bag, "byte_order", "low-first")).ToRaw(10, Rig.Output("r.coil.fan", 0, Quantity.Percent, "c", VoltageLine.ZeroToTen, 0)));

    private static (MemoryModbusDevice Module, HardwarePlan Plan, InputImage Inputs) Many(int count, int step, int gap)
    {
        var module = new MemoryModbusDevice();
        for (var i = 0; i < step * count; i++)
            module[RegisterTable.InputRegister, i] = (ushort)i;
        var device = Rig.DeviceWith(bag => bag.Set("join_gap", gap));
        var channels = Enumerable.Range(0, count).ToDictionary(i => $"c{i}", i => Rig.Register("input-register", step * i));
        var wiring = Enumerable.Range(0, count).Select(i => Rig.Input($"a.b.c{i}", i, Quantity.Number, $"c{i}")).ToList();
        var inputs = new InputImage(count);
        var plan = HardwarePlan.Build([device with { Channels = channels }], wiring, inputs, new OutputLeases(0), new Buses { Modbus = _ => new ModbusTcpLink(new MemoryChannel(module)) });
        Assert.Empty(plan.Problems);
        return (module, plan, inputs);
    }

    private static RegisterChannel Channel(string scale = "1", string type = "u16", Func<SettingBag, object>? more = null)
    {
        var bag = Rig.Register("holding-register", 0, scale, type);
        more?.Invoke(bag);
        return RegisterChannel.From("c", bag);
    }

    private static bool Set(SettingBag bag, string key, string text)
    {
        bag.Set(key, text);
        return true;
    }

    private static bool Set(SettingBag bag, string key, double number)
    {
        bag.Set(key, number);
        return true;
    }
}

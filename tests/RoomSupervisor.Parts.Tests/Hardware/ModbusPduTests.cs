// Framing against the published examples, and every way an answer can fail to fit.
// Source of the examples: MODBUS Application Protocol Specification V1.1b3 (2012), sections 6.1–6.6, 6.11, 6.12. The requests, and the answers
// of 6.1 and the layout of 6.12, were seen in reprints; the other answers are from memory.
using RoomSupervisor.Hardware.Modbus;
using Xunit;

namespace RoomSupervisor.Parts.Tests.Hardware;

public class ModbusPduTests
{
    public static TheoryData<string, string, string> Published => new()
    {
        { "6.1 read coils 20–38", "01 00 13 00 13", "01 03 CD 6B 05" },
        { "6.2 read discrete inputs 197–218", "02 00 C4 00 16", "02 03 AC DB 35" },
        { "6.3 read holding registers 108–110", "03 00 6B 00 03", "03 06 02 2B 00 00 00 64" },
        { "6.4 read input register 9", "04 00 08 00 01", "04 02 00 0A" },
        { "6.5 write coil 173 on", "05 00 AC FF 00", "05 00 AC FF 00" },
        { "6.6 write register 2 to 3", "06 00 01 00 03", "06 00 01 00 03" },
        { "6.11 write coils 20–29", "0F 00 13 00 0A 02 CD 01", "0F 00 13 00 0A" },
        { "6.12 write registers 2–3", "10 00 01 00 02 04 00 0A 01 02", "10 00 01 00 02" },
    };

    [Theory]
    [MemberData(nameof(Published))]
    public void Requests_are_built_as_published_and_the_published_answers_accepted(string what, string request, string answer)
    {
        var pdu = new byte[ModbusPdu.Longest];
        var length = what[..4] switch
        {
            "6.1 " => ModbusPdu.Read(pdu, ModbusFunction.ReadCoils, 19, 19),
            "6.2 " => ModbusPdu.Read(pdu, ModbusFunction.ReadDiscreteInputs, 196, 22),
            "6.3 " => ModbusPdu.Read(pdu, ModbusFunction.ReadHoldingRegisters, 107, 3),
            "6.4 " => ModbusPdu.Read(pdu, ModbusFunction.ReadInputRegisters, 8, 1),
            "6.5 " => ModbusPdu.WriteCoil(pdu, 172, true),
            "6.6 " => ModbusPdu.WriteRegister(pdu, 1, 3),
            "6.11" => ModbusPdu.WriteCoils(pdu, 19, [true, false, true, true, false, false, true, true, true, false]),
            _ => ModbusPdu.WriteRegisters(pdu, 1, [0x000A, 0x0102]),
        };
        Assert.Equal(request, Hex(pdu.AsSpan(0, length)));
        Assert.Equal(ModbusProblem.None, ModbusPdu.Check(pdu.AsSpan(0, length), Bytes(answer), out _));
    }

    [Fact]
    public void Published_values_come_out()
    {
        // 6.1: outputs 27–20 are CD = 1100 1101, output 20 the lowest bit; 38–36 are 05.
        bool[] coils = [true, false, true, true, false, false, true, true];
        for (var i = 0; i < 8; i++)
            Assert.Equal(coils[i], ModbusPdu.Bit(Bytes("01 03 CD 6B 05"), i));
        Assert.True(ModbusPdu.Bit(Bytes("01 03 CD 6B 05"), 18));
        Assert.False(ModbusPdu.Bit(Bytes("01 03 CD 6B 05"), 17));
        // 6.3: 555, 0, 100.
        Assert.Equal([555, 0, 100], Enumerable.Range(0, 3).Select(i => (int)ModbusPdu.Register(Bytes("03 06 02 2B 00 00 00 64"), i)));
    }

    [Theory]
    [InlineData("03 00 6B 00 03", "83 02", ModbusProblem.Refused)]
    [InlineData("03 00 6B 00 03", "83 00", ModbusProblem.WrongException)]
    [InlineData("03 00 6B 00 03", "83", ModbusProblem.WrongLength)]
    [InlineData("03 00 6B 00 03", "83 02 00", ModbusProblem.WrongLength)]
    [InlineData("03 00 6B 00 03", "84 02", ModbusProblem.WrongFunction)]
    [InlineData("03 00 6B 00 03", "04 06 02 2B 00 00 00 64", ModbusProblem.WrongFunction)]
    [InlineData("03 00 6B 00 03", "03 04 02 2B 00 00", ModbusProblem.WrongLength)]
    [InlineData("03 00 6B 00 03", "03 08 02 2B 00 00 00 64 00 00", ModbusProblem.WrongLength)]
    [InlineData("03 00 6B 00 03", "03 04 02 2B 00 00 00 64", ModbusProblem.WrongByteCount)]
    [InlineData("01 00 13 00 13", "01 02 CD 6B 05", ModbusProblem.WrongByteCount)]
    [InlineData("06 00 01 00 03", "06 00 02 00 03", ModbusProblem.WrongEcho)]
    [InlineData("06 00 01 00 03", "06 00 01 00 04", ModbusProblem.WrongEcho)]
    [InlineData("05 00 AC FF 00", "05 00 AC 00 00", ModbusProblem.WrongEcho)]
    [InlineData("10 00 01 00 02 04 00 0A 01 02", "10 00 01 00 01", ModbusProblem.WrongEcho)]
    public void Answers_that_do_not_fit_are_not_accepted(string request, string answer, ModbusProblem expected)
        => Assert.Equal(expected, ModbusPdu.Check(Bytes(request), Bytes(answer), out _));

    [Fact]
    public void Limits_of_the_specification_are_kept()
    {
        var pdu = new byte[ModbusPdu.Longest];
        Assert.Equal(5, ModbusPdu.Read(pdu, ModbusFunction.ReadHoldingRegisters, 65535, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => ModbusPdu.Read(pdu, ModbusFunction.ReadHoldingRegisters, 0, 126));
        Assert.Throws<ArgumentOutOfRangeException>(() => ModbusPdu.Read(pdu, ModbusFunction.ReadCoils, 0, 2001));
        Assert.Throws<ArgumentOutOfRangeException>(() => ModbusPdu.Read(pdu, ModbusFunction.ReadCoils, 0, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => ModbusPdu.Read(pdu, ModbusFunction.ReadCoils, 65535, 2));
        Assert.Throws<ArgumentOutOfRangeException>(() => ModbusPdu.WriteRegister(pdu, 65536, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => ModbusPdu.WriteRegisters(pdu, 0, new ushort[124]));
        Assert.Equal(ModbusPdu.Longest - 1, ModbusPdu.WriteRegisters(pdu, 0, new ushort[123]));
    }

    [Fact]
    public void Every_exception_of_the_specification_has_its_own_words()
    {
        byte[] codes = [1, 2, 3, 4, 5, 6, 7, 8, 10, 11];
        Assert.Equal(codes.Length, codes.Select(ModbusWords.OfException).Where(text => !text.Contains("not in", StringComparison.Ordinal)).Distinct().Count());
        Assert.Contains("not in the specification", ModbusWords.OfException(9), StringComparison.Ordinal);
        Assert.All(Enum.GetValues<ModbusProblem>(), problem => Assert.NotEqual("unknown problem", ModbusWords.Of(problem, 2)));
    }

    internal static byte[] Bytes(string hex) => Convert.FromHexString(hex.Replace(" ", "", StringComparison.Ordinal));

    private static string Hex(ReadOnlySpan<byte> bytes) => string.Join(' ', bytes.ToArray().Select(one => one.ToString("X2", null)));
}

// Reads the two lines the kernel gives of a 1-Wire thermometer. Pure.
// It must never make a temperature of a line whose checksum is not said to fit, nor of a wire that is shorted.
// Source: Linux kernel documentation, "Kernel driver w1_therm" (w1_slave: nine bytes, crc=.. YES or NO; nine bytes, t= thousandths of a degree).
using System.Buffers.Text;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.OneWire;

/// <summary>What the lines say.</summary>
/// <param name="TemperatureC">°C; not a number when there is none.</param>
/// <param name="Fault">Why there is none.</param>
/// <param name="Problem">The same in words.</param>
internal readonly record struct SensorText(double TemperatureC, Fault Fault, string Problem)
{
    private const int Bytes = 9;

    public static SensorText Of(ReadOnlySpan<byte> text)
    {
        var end = text.IndexOf((byte)'\n');
        var first = end < 0 ? text : text[..end];
        if (!TryBytes(first, out var all))
            return new SensorText(double.NaN, Fault.BusError, "the kernel's answer is not that of a thermometer: is it one?");
        if (all == Same.Ones)
            return new SensorText(double.NaN, Fault.NoAcknowledge, "the sensor does not answer: wire, plug, power");
        // A shorted wire gives noughts, whose checksum is nought: it fits, and the temperature would be 0.
        if (all == Same.Noughts)
            return new SensorText(double.NaN, Fault.BusError, "nothing but noughts: the wire is shorted to ground");
        if (!first.TrimEnd((byte)' ').EndsWith("YES"u8))
            return new SensorText(double.NaN, Fault.Crc, "checksum wrong: disturbed or too long wires");
        var at = text.LastIndexOf("t="u8);
        return at >= 0 && Utf8Parser.TryParse(text[(at + 2)..], out int thousandths, out _)
            ? new SensorText(thousandths / 1000.0, Fault.None, "")
            : new SensorText(double.NaN, Fault.BusError, "the kernel's answer holds no temperature");
    }

    private enum Same : byte
    {
        No, Noughts, Ones,
    }

    private static bool TryBytes(ReadOnlySpan<byte> line, out Same all)
    {
        var (noughts, ones) = (0, 0);
        all = Same.No;
        for (var i = 0; i < Bytes; i++)
        {
            if (line.Length < 3 * i + 2 || !Utf8Parser.TryParse(line.Slice(3 * i, 2), out byte value, out var used, 'x') || used != 2)
                return false;
            noughts += value == 0 ? 1 : 0;
            ones += value == 0xFF ? 1 : 0;
        }
        all = noughts == Bytes ? Same.Noughts : ones == Bytes ? Same.Ones : Same.No;
        return true;
    }
}

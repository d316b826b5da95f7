// A BME280 in memory, byte by byte: trimming numbers, one measurement at a demand, words that stand until the next. The words come from the data
// sheet's whole-number formulas, searched backwards; the driver uses the other set, in floating point. Written apart from it on purpose.
// Must never measure without being told, nor clear its old words before the new ones are there.
// Source: data sheet of the BME280 (registers, times, section "Compensation formula in 32 bit fixed point"). The trimming numbers are like those of
// any chip: T1 to T3 are the data sheet's own example of the sister chip, the others typical, from memory.
using RoomSupervisor.Hardware.I2c;

namespace RoomSupervisor.VirtualHouse;

/// <summary>The chip.</summary>
internal sealed class Bme280StandIn : RegisterStandIn
{
    private const int T1 = 27504, T2 = 26435, T3 = -1000, H1 = 75, H2 = 370, H3 = 0, H4 = 313, H5 = 50, H6 = 30, Nothing = int.MinValue;
    private double _readyAtS = double.PositiveInfinity;
    private int _humidityTimes, _measurements;

    public Bme280StandIn(byte address) : base(address, ("temperature", 20), ("humidity", 50)) => PowerUp();

    /// <summary>It takes commands and never measures again: the last words stand for ever.</summary>
    public bool IsStopped { get; set; }

    /// <inheritdoc/>
    protected override I2cProblem Store(ReadOnlySpan<byte> bytes, double nowS)
    {
        if (bytes.Length % 2 != 0) return I2cProblem.CutShort; // pairs only: the chip does not count on while it is written
        for (int i = 0; i < bytes.Length; i += 2) Store(bytes[i], bytes[i + 1], nowS);
        return I2cProblem.None;
    }

    /// <inheritdoc/>
    protected override void Until(double nowS)
    {
        if (nowS < _readyAtS) return;
        _readyAtS = double.PositiveInfinity;
        Registers[0xF3] = 0;
        Registers[0xF4] &= 0xFC;
        if (IsStopped) return;
        int temperature = (Registers[0xF4] >> 5) == 0 || double.IsNaN(True[0]) ? 0x80000 : Search(Nothing, True[0]) << 4;
        int humidity = _humidityTimes == 0 || double.IsNaN(True[1]) ? 0x8000 : Search(Fine(temperature), True[1]);
        // The last digit of a live chip is never still.
        humidity += humidity == 0x8000 ? 0 : _measurements++ & 1;
        (Registers[0xFA], Registers[0xFB], Registers[0xFC]) = ((byte)(temperature >> 12), (byte)(temperature >> 4), (byte)(temperature << 4));
        (Registers[0xFD], Registers[0xFE]) = ((byte)(humidity >> 8), (byte)humidity);
    }

    /// <inheritdoc/>
    protected override void LosePower() => PowerUp();

    private static int Fine(int raw)
    {
        int first = ((raw >> 3) - (T1 << 1)) * T2 >> 11;
        int second = ((raw >> 4) - T1) * ((raw >> 4) - T1) >> 12;
        return first + (second * T3 >> 14);
    }

    // 1/1024 %.
    private static int Humidity(int raw, int fine)
    {
        int v = fine - 76800;
        v = ((raw << 14) - (H4 << 20) - H5 * v + 16384 >> 15)
            * (((((v * H6 >> 10) * ((v * H3 >> 11) + 32768) >> 10) + 2097152) * H2 + 8192) >> 14);
        v -= ((v >> 15) * (v >> 15) >> 7) * H1 >> 4;
        return Math.Clamp(v, 0, 419430400) >> 12;
    }

    // The word of sixteen bits whose value is nearest: humidity at a fine temperature, or temperature.
    private static int Search(int fine, double wanted)
    {
        int low = 0, high = 65535;
        while (high - low > 1)
        {
            int middle = (low + high) / 2;
            if (Value(middle, fine) < wanted) low = middle;
            else high = middle;
        }

        return wanted - Value(low, fine) < Value(high, fine) - wanted ? low : high;
    }

    private static double Value(int raw, int fine) => fine == Nothing ? Fine(raw << 4) / 5120.0 : Humidity(raw, fine) / 1024.0;

    private static double Times(int word) => word == 0 ? 0 : 1 << Math.Min(word, 5) - 1;

    private void Store(byte register, byte value, double nowS)
    {
        if (register == 0xE0 && value == 0xB6) PowerUp();
        if (register is 0xF2 or 0xF4 or 0xF5) Registers[register] = value;
        if (register != 0xF4) return;
        _humidityTimes = Registers[0xF2] & 7;
        if ((value & 3) is not (1 or 2)) return;
        double pressure = Times(value >> 2 & 7), humidity = Times(_humidityTimes);
        // Longest times of the data sheet.
        _readyAtS = nowS + 1e-3 * (1.25 + 2.3 * Times(value >> 5) + (pressure > 0 ? 2.3 * pressure + 0.575 : 0) + (humidity > 0 ? 2.3 * humidity + 0.575 : 0));
        Registers[0xF3] = 0x08;
    }

    private void PowerUp()
    {
        Array.Clear(Registers);
        _readyAtS = double.PositiveInfinity;
        _humidityTimes = 0;
        Registers[0xD0] = 0x60;
        Registers[0xF7] = Registers[0xFA] = Registers[0xFD] = 0x80;
        Word(0x88, T1);
        Word(0x8A, T2);
        Word(0x8C, T3);
        // The pressure's numbers, of the same example: the foreign binding reads them.
        int[] pressure = [36477, -10685, 3024, 2855, 140, -7, 15500, -14600, 6000];
        for (int i = 0; i < pressure.Length; i++) Word(0x8E + 2 * i, pressure[i]);
        Registers[0xA1] = H1;
        Word(0xE1, H2);
        (Registers[0xE3], Registers[0xE4], Registers[0xE5], Registers[0xE6], Registers[0xE7]) = (H3, H4 >> 4, (H5 & 0xF) << 4 | H4 & 0xF, H5 >> 4, H6);
    }

    private void Word(int register, int word) => (Registers[register], Registers[register + 1]) = ((byte)word, (byte)(word >> 8));
}

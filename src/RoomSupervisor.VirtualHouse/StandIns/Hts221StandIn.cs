// An HTS221 in memory, byte by byte: two points of calibration, one measurement at a demand or many by itself, bits that say what is new.
// Must never call a word new twice.
// Source: data sheet of the HTS221 (registers, one-shot, reading on by the highest bit). Calibration like any chip's, from memory. Written apart from the driver.
using RoomSupervisor.Hardware.I2c;

namespace RoomSupervisor.VirtualHouse;

/// <summary>The chip.</summary>
internal sealed class Hts221StandIn : RegisterStandIn
{
    // 30 % and 70 %, 20 °C and 40 °C, and their words.
    private const int H0 = 60, H1 = 140, T0 = 160, T1 = 320, RawH0 = -3700, RawH1 = -10800, RawT0 = 300, RawT1 = 1550;
    private const double MeasuresInS = 0.012;
    private double _readyAtS = double.PositiveInfinity;

    public Hts221StandIn(byte address) : base(address, ("temperature", 20), ("humidity", 50)) => PowerUp();

    /// <summary>It takes commands and never measures again.</summary>
    public bool IsStopped { get; set; }

    /// <inheritdoc/>
    protected override I2cProblem Store(ReadOnlySpan<byte> bytes, double nowS)
    {
        int register = bytes[0] & 0x7F;
        if (bytes.Length != 2 || register is not (0x10 or 0x20 or 0x21 or 0x22)) return I2cProblem.CutShort;
        Registers[register] = bytes[1];
        if (register != 0x21) return I2cProblem.None;
        if ((bytes[1] & 0x80) != 0) Registers[0x21] = 0; // calibration is copied at once here
        bool isOn = (Registers[0x20] & 0x80) != 0;
        if ((bytes[1] & 1) != 0 && isOn) _readyAtS = nowS + MeasuresInS;
        return I2cProblem.None;
    }

    /// <inheritdoc/>
    protected override void Until(double nowS)
    {
        bool byItself = (Registers[0x20] & 0x80) != 0 && (Registers[0x20] & 3) != 0;
        if (IsStopped || nowS < _readyAtS && !byItself) return;
        _readyAtS = double.PositiveInfinity;
        Registers[0x21] &= 0xFE;
        Registers[0x27] = 3;
        Word(0x28, double.IsNaN(True[1]) ? short.MaxValue : RawH0 + (True[1] - 30) / 40 * (RawH1 - RawH0));
        Word(0x2A, double.IsNaN(True[0]) ? short.MinValue : RawT0 + (True[0] - 20) / 20 * (RawT1 - RawT0));
    }

    /// <inheritdoc/>
    protected override byte Give(int index)
    {
        int register = (Pointer & 0x80) != 0 ? (Pointer & 0x7F) + index : Pointer;
        byte value = Registers[register & 0x7F];
        if (register == 0x29) Registers[0x27] &= 0xFD;
        if (register == 0x2B) Registers[0x27] &= 0xFE;
        return value;
    }

    /// <inheritdoc/>
    protected override void LosePower() => PowerUp();

    private void PowerUp()
    {
        Array.Clear(Registers);
        _readyAtS = double.PositiveInfinity;
        (Registers[0x0F], Registers[0x10]) = (0xBC, 0x1B);
        (Registers[0x30], Registers[0x31], Registers[0x32], Registers[0x33], Registers[0x35]) = (H0, H1, T0 & 0xFF, T1 & 0xFF, T0 >> 8 | T1 >> 8 << 2);
        Word(0x36, RawH0);
        Word(0x3A, RawH1);
        Word(0x3C, RawT0);
        Word(0x3E, RawT1);
    }

    private void Word(int register, double word)
    {
        int whole = (int)Math.Round(Math.Clamp(word, short.MinValue, short.MaxValue));
        (Registers[register], Registers[register + 1]) = ((byte)whole, (byte)(whole >> 8));
    }
}

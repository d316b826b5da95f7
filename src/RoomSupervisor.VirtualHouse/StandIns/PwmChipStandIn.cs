// The chip with sixteen pulse-width outputs in memory, byte by byte.
// Must never change an output while the chip sleeps; a driver that forgets to wake it moves nothing.
// Source: data sheet of the PCA9685 family (registers, sleep, prescale, always on and off). Written apart from the driver on purpose.
using System.Globalization;
using RoomSupervisor.Hardware.I2c;

namespace RoomSupervisor.VirtualHouse;

/// <summary>The chip.</summary>
/// <param name="address">Its address.</param>
internal sealed class PwmChipStandIn(byte address) : I2cStandIn(address)
{
    private const int Mode1 = 0, FirstOutput = 6, AllOutputs = 0xFA, Prescale = 0xFE;
    private readonly byte[] _registers = Fresh(), _jammedAt = new byte[64];
    private readonly bool[] _jammed = new bool[16];
    private readonly double[] _percent = new double[16];
    private int _pointer;

    /// <summary>Pulses a second, Hz.</summary>
    public double FrequencyHz => 25e6 / (4096 * (_registers[Prescale] + 1));

    /// <summary>Register as the chip holds it.</summary>
    public byte this[int register] => _registers[register];

    private bool IsAsleep => (_registers[Mode1] & 0x10) != 0;

    /// <inheritdoc/>
    public override bool CanHave(BusFault fault) => fault != BusFault.BadChecksum;

    /// <inheritdoc/>
    public override bool CarriesPulses => true;

    /// <inheritdoc/>
    public override int ChannelOf(string name)
        => name.StartsWith("out-", StringComparison.Ordinal) && int.TryParse(name.AsSpan(4), NumberStyles.None, CultureInfo.InvariantCulture, out int number) && number < 16 ? number : -1;

    /// <inheritdoc/>
    public override void Put(int channel, double value) => throw new InvalidOperationException("an output measures nothing");

    /// <inheritdoc/>
    public override void Jam(int channel, bool jammed)
    {
        _jammed[channel] = jammed;
        _registers.AsSpan(FirstOutput + 4 * channel, 4).CopyTo(_jammedAt.AsSpan(4 * channel));
    }

    /// <inheritdoc/>
    public override double Get(int channel) => Fault == BusFault.Absent ? 0 : _percent[channel];

    /// <inheritdoc/>
    public override I2cProblem Written(ReadOnlySpan<byte> bytes, double nowS)
    {
        _pointer = bytes[0];
        foreach (byte value in bytes[1..])
        {
            Store(_pointer, value);
            Step();
        }

        Apply();
        return I2cProblem.None;
    }

    /// <inheritdoc/>
    public override I2cProblem Read(Span<byte> into, double nowS)
    {
        for (int i = 0; i < into.Length; i++)
        {
            into[i] = _pointer is >= AllOutputs and < Prescale ? (byte)0 : _registers[_pointer];
            Step();
        }

        return I2cProblem.None;
    }

    /// <inheritdoc/>
    protected override void LosePower()
    {
        Fresh().CopyTo(_registers, 0);
        Array.Clear(_percent);
    }

    private void Step() => _pointer = (_registers[Mode1] & 0x20) != 0 ? (_pointer + 1) & 0xFF : _pointer;

    private void Store(int register, byte value)
    {
        if (register is >= AllOutputs and < Prescale)
        {
            for (int output = 0; output < 16; output++) _registers[FirstOutput + 4 * output + register - AllOutputs] = value;
        }
        else if (register != Prescale || IsAsleep)
        {
            _registers[register] = value;
        }
    }

    /// <summary>Asleep nothing at the outputs changes.</summary>
    private void Apply()
    {
        for (int i = 0; i < 16; i++)
        {
            Span<byte> counts = _registers.AsSpan(FirstOutput + 4 * i, 4);
            if (_jammed[i]) _jammedAt.AsSpan(4 * i, 4).CopyTo(counts);
            if (IsAsleep) continue;
            int on = counts[1] << 8 | counts[0], off = counts[3] << 8 | counts[2];
            _percent[i] = (off & 0x1000) != 0 ? 0 : (on & 0x1000) != 0 ? 100 : ((off - on) & 0xFFF) * 100.0 / 4096;
        }
    }

    private static byte[] Fresh()
    {
        var registers = new byte[256];
        (registers[Mode1], registers[1], registers[Prescale]) = (0x11, 0x04, 0x1E);
        for (int i = 0; i < 16; i++) registers[FirstOutput + 4 * i + 3] = 0x10;
        return registers;
    }
}

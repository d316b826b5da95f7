// An SHT4x in memory, byte by byte: measuring takes its time, until then it does not acknowledge; each word has its checksum.
// Must never answer a command the chip does not know.
// Source: data sheet of the SHT4x family (commands, longest times, conversion, checksum). Written apart from the driver on purpose.
using RoomSupervisor.Hardware.I2c;

namespace RoomSupervisor.VirtualHouse;

/// <summary>The chip.</summary>
/// <param name="address">Its address.</param>
internal sealed class Sht4xStandIn(byte address) : I2cStandIn(address)
{
    private const int Temperature = 0, Humidity = 1;
    private readonly double[] _true = [20, 50];
    private readonly byte[] _ready = new byte[6];
    private double _readyAtS = double.PositiveInfinity;
    private bool _resting = true;

    /// <inheritdoc/>
    public override int ChannelOf(string name) => name == "temperature" ? Temperature : Humidity;

    /// <inheritdoc/>
    public override void Put(int channel, double value) => _true[channel] = value;

    /// <inheritdoc/>
    public override double Get(int channel) => _true[channel];

    /// <inheritdoc/>
    public override I2cProblem Written(ReadOnlySpan<byte> bytes, double nowS)
    {
        // While it measures it acknowledges nothing but a general call.
        if (!_resting && nowS < _readyAtS) return I2cProblem.NoAcknowledge;
        if (bytes.Length != 1) return I2cProblem.CutShort;
        switch (bytes[0])
        {
            case 0xFD: return Begin(nowS, 0.0083);
            case 0xF6: return Begin(nowS, 0.0045);
            case 0xE0: return Begin(nowS, 0.0016);
            case 0x89:
                // The serial number of a chip that nobody made.
                (_ready[0], _ready[1], _ready[3], _ready[4]) = (0, 0, 0, Address);
                return Finish(nowS);
            case 0x94:
                LosePower();
                return I2cProblem.None;
            default: return I2cProblem.CutShort;
        }
    }

    /// <inheritdoc/>
    public override I2cProblem Read(Span<byte> into, double nowS)
    {
        if (_resting || nowS < _readyAtS) return I2cProblem.NoAcknowledge;
        // What is read past the end is the bus at rest.
        into.Fill(0xFF);
        _ready.AsSpan(0, Math.Min(into.Length, 6)).CopyTo(into);
        _resting = true;
        return I2cProblem.None;
    }

    /// <inheritdoc/>
    protected override void LosePower() => _resting = true;

    private I2cProblem Begin(double nowS, double takesS)
    {
        Word(0, (_true[Temperature] + 45) / 175);
        Word(3, (_true[Humidity] + 6) / 125);
        I2cProblem begun = Finish(nowS + takesS);
        // A broken sensor's word is told apart by its checksum, the only way a chip has.
        if (double.IsNaN(_true[Temperature])) _ready[2] ^= 0xFF;
        if (double.IsNaN(_true[Humidity])) _ready[5] ^= 0xFF;
        return begun;
    }

    private I2cProblem Finish(double readyAtS)
    {
        (_ready[2], _ready[5]) = (Checksum(_ready[0], _ready[1]), Checksum(_ready[3], _ready[4]));
        (_readyAtS, _resting) = (readyAtS, false);
        return I2cProblem.None;
    }

    private void Word(int at, double share)
    {
        int word = double.IsNaN(share) ? 0 : (int)Math.Round(Math.Clamp(share, 0, 1) * 65535);
        (_ready[at], _ready[at + 1]) = ((byte)(word >> 8), (byte)word);
    }

    private static byte Checksum(byte high, byte low)
    {
        int crc = 0xFF ^ high;
        for (int bit = 0; bit < 16; bit++)
        {
            if (bit == 8) crc ^= low;
            crc = (crc & 0x80) != 0 ? (crc << 1 ^ 0x31) & 0xFF : crc << 1 & 0xFF;
        }

        return (byte)crc;
    }
}

// Chips of the SHT4x and SHT3x families in memory, byte by byte: measuring takes its time, until then they do not acknowledge; each word has its checksum.
// Must never answer a command the chip does not know.
// Source: data sheets of the two families (commands, longest times, conversion, checksum). Written apart from the drivers on purpose.
using RoomSupervisor.Hardware.I2c;

namespace RoomSupervisor.VirtualHouse;

/// <summary>What both have in common: two words, ready at a moment.</summary>
/// <param name="address">Its address.</param>
/// <param name="lowestPercent">Humidity of a word of 0, %.</param>
/// <param name="spanPercent">Humidity of the whole word, %.</param>
internal abstract class HumidityStandIn(byte address, double lowestPercent, double spanPercent) : MeasuringStandIn(address, ("temperature", 20), ("humidity", 50))
{
    private const int Temperature = 0, Humidity = 1;
    private readonly byte[] _ready = new byte[6];
    private double _readyAtS = double.PositiveInfinity;
    private bool _resting = true;

    /// <inheritdoc/>
    public override I2cProblem Written(ReadOnlySpan<byte> bytes, double nowS)
        => !_resting && nowS < _readyAtS ? I2cProblem.NoAcknowledge : Obey(bytes, nowS);

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

    /// <summary>A command, while it measures nothing.</summary>
    protected abstract I2cProblem Obey(ReadOnlySpan<byte> command, double nowS);

    /// <summary>Begins to measure.</summary>
    protected I2cProblem Begin(double nowS, double takesS)
    {
        Finish(Word((True[Temperature] + 45) / 175), Word((True[Humidity] - lowestPercent) / spanPercent), nowS + takesS);
        // A broken sensor's word is told apart by its checksum, the only way a chip has.
        if (double.IsNaN(True[Temperature])) _ready[2] ^= 0xFF;
        if (double.IsNaN(True[Humidity])) _ready[5] ^= 0xFF;
        return I2cProblem.None;
    }

    /// <summary>Two words with their checksums, ready at a moment.</summary>
    protected I2cProblem Finish(int first, int second, double readyAtS)
    {
        (_ready[0], _ready[1], _ready[3], _ready[4]) = ((byte)(first >> 8), (byte)first, (byte)(second >> 8), (byte)second);
        (_ready[2], _ready[5]) = (Checksum(_ready[0], _ready[1]), Checksum(_ready[3], _ready[4]));
        (_readyAtS, _resting) = (readyAtS, false);
        return I2cProblem.None;
    }

    /// <inheritdoc/>
    protected override void LosePower() => _resting = true;

    private static int Word(double share) => double.IsNaN(share) ? 0 : (int)Math.Round(Math.Clamp(share, 0, 1) * 65535);
}

/// <summary>An SHT4x: commands of one byte.</summary>
/// <param name="address">Its address.</param>
internal sealed class Sht4xStandIn(byte address) : HumidityStandIn(address, -6, 125)
{
    /// <inheritdoc/>
    protected override I2cProblem Obey(ReadOnlySpan<byte> command, double nowS)
    {
        if (command.Length != 1) return I2cProblem.CutShort;
        switch (command[0])
        {
            case 0xFD: return Begin(nowS, 0.0083);
            case 0xF6: return Begin(nowS, 0.0045);
            case 0xE0: return Begin(nowS, 0.0016);
            case 0x89: return Finish(0, Address, nowS); // the serial number of a chip that nobody made
            case 0x94:
                LosePower();
                return I2cProblem.None;
            default: return I2cProblem.CutShort;
        }
    }
}

/// <summary>An SHT3x: commands of two bytes, here those without holding the clock line.</summary>
/// <param name="address">Its address.</param>
internal sealed class Sht3xStandIn(byte address) : HumidityStandIn(address, 0, 100)
{
    /// <inheritdoc/>
    protected override I2cProblem Obey(ReadOnlySpan<byte> command, double nowS)
    {
        if (command.Length != 2) return I2cProblem.CutShort;
        switch (command[0] << 8 | command[1])
        {
            case 0x2400: return Begin(nowS, 0.0155);
            case 0x240B: return Begin(nowS, 0.0065);
            case 0x2416: return Begin(nowS, 0.0045);
            case 0xF32D: return Finish(0, 0xFFFF, nowS); // status: nothing to tell; only its first word is read
            case 0x30A2:
                LosePower();
                return I2cProblem.None;
            case 0x3041 or 0x3066 or 0x306D: return I2cProblem.None; // status cleared, heater off and on
            default: return I2cProblem.CutShort;
        }
    }
}

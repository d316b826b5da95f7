// A chip of the SCD4x family in memory, byte by byte: it measures every five seconds once it is started, and takes nothing but a few commands meanwhile.
// Must never give a measurement twice, nor take a word whose checksum is wrong.
// Source: data sheet of the SCD4x family (commands, times, which of them count while it measures). Written apart from the driver on purpose.
using RoomSupervisor.Hardware.I2c;

namespace RoomSupervisor.VirtualHouse;

/// <summary>The chip.</summary>
/// <param name="address">Its address.</param>
internal sealed class Scd4xStandIn(byte address) : MeasuringStandIn(address, ("co2", 600), ("temperature", 20), ("humidity", 50))
{
    private const double PeriodS = 5, StopsInS = 0.5, AnswersInS = 0.001;
    private readonly byte[] _answer = new byte[9];
    private int _length;
    private double _startedAtS = double.NaN, _busyUntilS = double.NegativeInfinity;
    private double _fetched;

    /// <summary>What it was told, m.</summary>
    public int AltitudeM { get; private set; }

    /// <summary>It takes commands and never measures again.</summary>
    public bool IsStopped { get; set; }

    /// <inheritdoc/>
    public override I2cProblem Written(ReadOnlySpan<byte> bytes, double nowS)
    {
        if (nowS < _busyUntilS) return I2cProblem.NoAcknowledge;
        _length = 0;
        return bytes.Length >= 2 && Obey(bytes[0] << 8 | bytes[1], bytes[2..], nowS) ? I2cProblem.None : I2cProblem.NoAcknowledge;
    }

    /// <inheritdoc/>
    public override I2cProblem Read(Span<byte> into, double nowS)
    {
        if (nowS < _busyUntilS || _length == 0) return I2cProblem.NoAcknowledge;
        into.Fill(0xFF);
        _answer.AsSpan(0, Math.Min(into.Length, _length)).CopyTo(into);
        _length = 0;
        return I2cProblem.None;
    }

    /// <inheritdoc/>
    protected override void LosePower() => (_startedAtS, _busyUntilS, _length, AltitudeM) = (double.NaN, double.NegativeInfinity, 0, 0);

    private bool IsMeasuring => !double.IsNaN(_startedAtS);

    private double Made(double nowS) => IsStopped ? 0 : Math.Floor((nowS - _startedAtS) / PeriodS);

    private bool Obey(int command, ReadOnlySpan<byte> words, double nowS)
    {
        switch (command)
        {
            case 0x3F86: // stop
                (_startedAtS, _busyUntilS) = (double.NaN, nowS + StopsInS);
                return true;
            case 0xE4B8: // is there a new one?
                Answer(0, IsMeasuring && Made(nowS) > _fetched ? 0x8006 : 0x8000);
                return Takes(nowS, 3);
            case 0xEC05 when IsMeasuring && Made(nowS) > _fetched:
                _fetched = Made(nowS);
                Answer(0, Math.Round(True[0]));
                Answer(3, Math.Round((True[1] + 45) / 175 * 65535));
                Answer(6, Math.Round(True[2] / 100 * 65535));
                return Takes(nowS, 9);
            case 0x21B1 when !IsMeasuring:
                (_startedAtS, _fetched) = (nowS, 0);
                return true;
            case 0x3646 when !IsMeasuring: // as after power-up
                return Takes(nowS + 0.019, 0);
            case 0x2427 when !IsMeasuring && words.Length == 3 && Checksum(words[0], words[1]) == words[2]:
                AltitudeM = words[0] << 8 | words[1];
                return Takes(nowS, 0);
            default: return false;
        }
    }

    private bool Takes(double nowS, int length)
    {
        (_busyUntilS, _length) = (nowS + AnswersInS, length);
        return true;
    }

    private void Answer(int at, double value)
    {
        int word = double.IsNaN(value) ? 0 : (int)Math.Clamp(value, 0, 65535);
        (_answer[at], _answer[at + 1]) = ((byte)(word >> 8), (byte)word);
        // A broken sensor's word is told apart by its checksum, the only way a chip has.
        _answer[at + 2] = (byte)(Checksum(_answer[at], _answer[at + 1]) ^ (double.IsNaN(value) ? 0xFF : 0));
    }
}

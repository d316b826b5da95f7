// A 12-bit converter with two outputs in memory, byte by byte: registers as written become volts.
// Must never put out more than its range gives: a driver that forgets the range gets half the volts.
using RoomSupervisor.Hardware.I2c;

namespace RoomSupervisor.VirtualHouse;

/// <summary>The converter. Its outputs may be written in one go, the second following the first; without power both are 0 V and the range is the small one.</summary>
/// <param name="address">Its address.</param>
internal sealed class VoltageOutputStandIn(byte address) : I2cStandIn(address)
{
    private readonly int[] _raw = new int[2];
    private double _fullV = 5;

    /// <inheritdoc/>
    public override bool CanHave(BusFault fault) => fault != BusFault.BadChecksum;

    /// <inheritdoc/>
    public override bool CarriesVolts(int channel) => true;

    /// <inheritdoc/>
    public override int ChannelOf(string name) => name switch
    {
        "out-1" => 0,
        "out-2" => 1,
        _ => -1,
    };

    /// <inheritdoc/>
    public override void Put(int channel, double value) => throw new InvalidOperationException("a converter measures nothing");

    /// <inheritdoc/>
    public override double Get(int channel) => _raw[channel] * _fullV / 4095;

    /// <inheritdoc/>
    public override I2cProblem Written(ReadOnlySpan<byte> bytes, double nowS)
    {
        switch (bytes[0])
        {
            case 1 when bytes.Length == 2 && bytes[1] is 0x00 or 0x11:
                _fullV = bytes[1] == 0 ? 5 : 10;
                return I2cProblem.None;
            case 2 or 4 when bytes.Length is 3 || bytes.Length is 5 && bytes[0] == 2:
                Take(bytes[0] == 2 ? 0 : 1, bytes[1..]);
                if (bytes.Length == 5) Take(1, bytes[3..]);
                return I2cProblem.None;
            default: return I2cProblem.CutShort;
        }
    }

    /// <inheritdoc/>
    public override I2cProblem Read(Span<byte> into, double nowS)
    {
        into.Fill(0xFF);
        return I2cProblem.None;
    }

    /// <inheritdoc/>
    protected override void LosePower()
    {
        Array.Clear(_raw);
        _fullV = 5;
    }

    private void Take(int channel, ReadOnlySpan<byte> word) => _raw[channel] = (word[1] << 8 | word[0]) >> 4;
}

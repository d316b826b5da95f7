// A multiplexer of the TCA9548A kind in memory, with the chips behind it.
// Must never connect a channel it was not told to, nor remember any without power.
// Source: data sheet of the TCA9548A: one register, a bit a channel.
using RoomSupervisor.Hardware.I2c;

namespace RoomSupervisor.VirtualHouse;

/// <summary>The multiplexer.</summary>
/// <param name="address">Its address.</param>
/// <param name="behind">The chips behind it, each with its channel.</param>
internal sealed class MultiplexerStandIn(byte address, IReadOnlyList<(int Channel, I2cStandIn Chip)> behind) : I2cStandIn(address)
{
    private readonly (int Channel, I2cStandIn Chip)[] _behind = [.. behind];
    private byte _connected;

    /// <inheritdoc/>
    public override bool CanHave(BusFault fault) => fault != BusFault.BadChecksum;

    /// <inheritdoc/>
    public override int ChannelOf(string name) => -1;

    /// <inheritdoc/>
    public override void Put(int channel, double value) => throw new InvalidOperationException("a multiplexer measures nothing");

    /// <inheritdoc/>
    public override double Get(int channel) => _connected >> channel & 1;

    /// <summary>How many chips with an address are connected, and the last of them.</summary>
    public int Connected(byte chip, ref I2cStandIn? found)
    {
        int count = 0;
        foreach ((int channel, I2cStandIn one) in _behind)
        {
            if (one.Address != chip || (_connected >> channel & 1) == 0) continue;
            found = one;
            count++;
        }

        return count;
    }

    /// <inheritdoc/>
    public override I2cProblem Written(ReadOnlySpan<byte> bytes, double nowS)
    {
        _connected = bytes[^1];
        return I2cProblem.None;
    }

    /// <inheritdoc/>
    public override I2cProblem Read(Span<byte> into, double nowS)
    {
        into.Fill(_connected);
        return I2cProblem.None;
    }

    /// <inheritdoc/>
    protected override void LosePower() => _connected = 0;
}

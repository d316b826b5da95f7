// A chip in memory that measures: its channels by name, and what each of them truly is.
// Must never hold what the chip made of it: that is the chip's own.
namespace RoomSupervisor.VirtualHouse;

/// <summary>The channels of a measuring chip; a chip adds its bytes.</summary>
/// <param name="address">Its address.</param>
/// <param name="channels">Its channels and what they measure at first.</param>
internal abstract class MeasuringStandIn(byte address, params (string Name, double First)[] channels) : I2cStandIn(address)
{
    private readonly string[] _names = [.. channels.Select(one => one.Name)];

    /// <summary>What the channels measure, in their order.</summary>
    protected double[] True { get; } = [.. channels.Select(one => one.First)];

    /// <inheritdoc/>
    public sealed override int ChannelOf(string name) => Array.IndexOf(_names, name);

    /// <inheritdoc/>
    public sealed override void Put(int channel, double value) => True[channel] = value;

    /// <inheritdoc/>
    public sealed override double Get(int channel) => True[channel];

    /// <summary>The checksum that some of these chips send behind a word: polynomial 0x31, start 0xFF. Written apart from the drivers' on purpose.</summary>
    protected static byte Checksum(byte high, byte low)
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

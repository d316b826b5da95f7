// A wire bus with multiplexers of the TCA9548A kind on it: the chips behind them, each on its channel, as if each were on a bus of its own.
// It must never leave two chips with one address connected at once, and never let a dead multiplexer cost the chips that are on the bus itself.
// Source: data sheet of the TCA9548A: 0x70 to 0x77; the one byte written to it has a bit a channel; after power-up none is connected.
namespace RoomSupervisor.Hardware.I2c;

/// <summary>A bus, seen from the chips that are on it themselves; <see cref="Behind"/> gives it as seen from a channel of a multiplexer.</summary>
/// <param name="bus">The bus.</param>
internal sealed class I2cTree(II2cBus bus) : II2cBus
{
    private const byte NoChannel = 0;

    // Addresses that chips behind a multiplexer have: before one of them is asked on the bus itself, nothing may be connected.
    private readonly II2cBus bus = bus;
    private readonly bool[] behind = new bool[128];
    private readonly byte[] select = new byte[1];
    private byte connected;

    /// <summary>The bus as a chip on a channel sees it.</summary>
    /// <param name="multiplexer">Address of the multiplexer.</param>
    /// <param name="channel">0 to 7.</param>
    /// <param name="address">Address of the chip.</param>
    public II2cBus Behind(byte multiplexer, byte channel, byte address)
    {
        behind[address] = true;
        return new Channel(this, multiplexer, (byte)(1 << channel));
    }

    /// <inheritdoc/>
    public I2cReply Write(byte address, ReadOnlySpan<byte> bytes, double nowS, double deadlineS)
    {
        var tookS = Clear(address, nowS, deadlineS);
        return Late(bus.Write(address, bytes, nowS + tookS, deadlineS), tookS);
    }

    /// <inheritdoc/>
    public I2cReply Read(byte address, Span<byte> into, double nowS, double deadlineS)
    {
        var tookS = Clear(address, nowS, deadlineS);
        return Late(bus.Read(address, into, nowS + tookS, deadlineS), tookS);
    }

    public void Dispose() => bus.Dispose();

    private static I2cReply Late(in I2cReply reply, double tookS) => reply with { TookS = reply.TookS + tookS };

    /// <summary>
    /// Takes the multiplexer off before a chip on the bus itself whose twin is behind one. One that does not answer is not waited for again: what
    /// was connected counts as not connected until a channel is connected anew.
    /// </summary>
    private double Clear(byte address, double nowS, double deadlineS)
    {
        if (!behind[address] || connected == 0)
            return 0;
        var reply = Select(connected, NoChannel, nowS, deadlineS);
        connected = 0;
        return reply.TookS;
    }

    /// <summary>Connects a channel, the other multiplexers none. Always written anew: a multiplexer that lost its power in between has forgotten it.</summary>
    private I2cReply Connect(byte multiplexer, byte mask, double nowS, double deadlineS)
    {
        var tookS = 0.0;
        if (connected != 0 && connected != multiplexer)
        {
            var off = Select(connected, NoChannel, nowS, deadlineS);
            tookS = off.TookS;
            connected = 0;
        }
        if (tookS >= deadlineS)
            return new I2cReply(I2cProblem.TimedOut, tookS);
        var reply = Late(Select(multiplexer, mask, nowS + tookS, deadlineS - tookS), tookS);
        connected = reply.Problem == I2cProblem.None ? multiplexer : connected;
        return reply.Problem == I2cProblem.NoAcknowledge ? reply with { Problem = I2cProblem.NoMultiplexer } : reply;
    }

    private I2cReply Select(byte multiplexer, byte mask, double nowS, double deadlineS)
    {
        select[0] = mask;
        return bus.Write(multiplexer, select, nowS, deadlineS);
    }

    /// <summary>A channel of a multiplexer: connected before each transfer.</summary>
    private sealed class Channel(I2cTree tree, byte multiplexer, byte mask) : II2cBus
    {
        public I2cReply Write(byte address, ReadOnlySpan<byte> bytes, double nowS, double deadlineS)
            => Connects(nowS, deadlineS, out var reply) ? Late(tree.bus.Write(address, bytes, nowS + reply.TookS, deadlineS - reply.TookS), reply.TookS) : reply;

        public I2cReply Read(byte address, Span<byte> into, double nowS, double deadlineS)
            => Connects(nowS, deadlineS, out var reply) ? Late(tree.bus.Read(address, into, nowS + reply.TookS, deadlineS - reply.TookS), reply.TookS) : reply;

        public void Dispose() => tree.Dispose();

        private bool Connects(double nowS, double deadlineS, out I2cReply reply)
        {
            reply = tree.Connect(multiplexer, mask, nowS, deadlineS);
            if (reply.Problem == I2cProblem.None && reply.TookS >= deadlineS)
                reply = reply with { Problem = I2cProblem.TimedOut };
            return reply.Problem == I2cProblem.None;
        }
    }
}

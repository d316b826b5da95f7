// A wire bus with multiplexers of the TCA9548A kind on it: the chips behind them, each on its channel, as if each were on a bus of its own.
// It must never leave two chips with one address connected at once. A chip on the bus itself stays on it whatever is connected, so none behind a
// multiplexer may have its address: I2cPlace.Clash refuses that.
// Source: data sheet of the TCA9548A: 0x70 to 0x77; the one byte written to it has a bit a channel; after power-up none is connected.
namespace RoomSupervisor.Hardware.I2c;

/// <summary>A bus, seen from the chips that are on it themselves; <see cref="Behind"/> gives it as seen from a channel of a multiplexer.</summary>
/// <param name="bus">The bus.</param>
internal sealed class I2cTree(II2cBus bus) : II2cBus
{
    private const byte NoChannel = 0;

    private readonly II2cBus bus = bus;
    private readonly byte[] select = new byte[1];
    private byte connected, known;
    private bool areSeveral;

    /// <summary>The bus as a chip on a channel sees it.</summary>
    /// <param name="multiplexer">Address of the multiplexer.</param>
    /// <param name="channel">0 to 7.</param>
    public II2cBus Behind(byte multiplexer, byte channel)
    {
        areSeveral |= known != 0 && known != multiplexer;
        known = multiplexer;
        return new Channel(this, multiplexer, (byte)(1 << channel));
    }

    /// <inheritdoc/>
    public I2cReply Write(byte address, ReadOnlySpan<byte> bytes, double nowS, double deadlineS) => bus.Write(address, bytes, nowS, deadlineS);

    /// <inheritdoc/>
    public I2cReply Read(byte address, Span<byte> into, double nowS, double deadlineS) => bus.Read(address, into, nowS, deadlineS);

    public void Dispose() => bus.Dispose();

    private static I2cReply Late(in I2cReply reply, double tookS) => reply with { TookS = reply.TookS + tookS };

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

    /// <summary>
    /// With several multiplexers each is taken off after every transfer: one that fails while it is connected would leave its chip beside the twins
    /// behind the others. That this fails is no fault of the transfer before it.
    /// </summary>
    private I2cReply Disconnect(in I2cReply reply, double nowS, double deadlineS)
    {
        if (!areSeveral)
            return reply;
        var off = Select(connected, NoChannel, nowS + reply.TookS, deadlineS);
        connected = off.Problem == I2cProblem.None ? (byte)0 : connected;
        return Late(reply, off.TookS);
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
        {
            var reply = Connected(nowS, deadlineS);
            if (reply.Problem != I2cProblem.None)
                return reply;
            return tree.Disconnect(Late(tree.bus.Write(address, bytes, nowS + reply.TookS, deadlineS - reply.TookS), reply.TookS), nowS, deadlineS);
        }

        public I2cReply Read(byte address, Span<byte> into, double nowS, double deadlineS)
        {
            var reply = Connected(nowS, deadlineS);
            if (reply.Problem != I2cProblem.None)
                return reply;
            return tree.Disconnect(Late(tree.bus.Read(address, into, nowS + reply.TookS, deadlineS - reply.TookS), reply.TookS), nowS, deadlineS);
        }

        public void Dispose() => tree.Dispose();

        private I2cReply Connected(double nowS, double deadlineS)
        {
            var reply = tree.Connect(multiplexer, mask, nowS, deadlineS);
            return reply.Problem == I2cProblem.None && reply.TookS >= deadlineS ? reply with { Problem = I2cProblem.TimedOut } : reply;
        }
    }
}

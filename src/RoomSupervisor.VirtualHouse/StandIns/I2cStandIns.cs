// A wire bus in memory with its chips. The time a transfer takes on the wire is counted; a hung chip takes all the time it is given.
// Must never have a clock: the time comes with each transfer.
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

/// <summary>A chip in memory.</summary>
/// <param name="address">Its address.</param>
internal abstract class I2cStandIn(byte address) : StandIn
{
    /// <summary>Its address.</summary>
    public byte Address => address;

    /// <summary>Bytes were written to it: what it makes of them.</summary>
    public abstract I2cProblem Written(ReadOnlySpan<byte> bytes, double nowS);

    /// <summary>Bytes are read from it.</summary>
    public abstract I2cProblem Read(Span<byte> into, double nowS);
}

/// <summary>Bus and address of a chip, from the site.</summary>
internal static class I2cStandIns
{
    public static string BusOf(DeviceSettings device) => device.Settings.Text("bus");

    public static byte AddressOf(DeviceSettings device) => Convert.ToByte(device.Settings.Text("address"), 16);

    /// <summary>The chips that are on a bus themselves, and the multiplexers with those behind them.</summary>
    public static IReadOnlyList<I2cStandIn> OnBus(IEnumerable<(DeviceSettings Device, I2cStandIn Chip)> chips)
    {
        ILookup<string, (DeviceSettings Device, I2cStandIn Chip)> ways = chips.ToLookup(one => BehindOf(one.Device));
        IEnumerable<IGrouping<string, (int Channel, byte Multiplexer, I2cStandIn Chip)>> behind = ways.Where(way => way.Key.Length > 0)
            .SelectMany(way => way.Select(one => (way.Key[^1] - '0', Convert.ToByte(way.Key[..^2], 16), one.Chip))).GroupBy(one => $"{one.Item2}");
        return [.. ways[""].Select(one => one.Chip), .. behind.Select(one => new MultiplexerStandIn(one.First().Multiplexer, [.. one.Select(chip => (chip.Channel, chip.Chip))]))];
    }

    private static string BehindOf(DeviceSettings device)
        => device.Settings.Has("behind") && device.Settings.Text("behind") is var behind && behind != "nothing" ? behind : "";
}

/// <summary>A bus in memory.</summary>
/// <param name="chips">The chips on it, each with an address of its own.</param>
internal sealed class I2cBusStandIn(IReadOnlyList<I2cStandIn> chips) : II2cBus
{
    // Nine clocks a byte, address included, at the standard 100 kHz (I2C-bus specification, standard mode).
    private const double SecondsAByte = 9e-5;
    private readonly I2cStandIn?[] _chips = At(chips);
    private readonly MultiplexerStandIn[] _multiplexers = [.. chips.OfType<MultiplexerStandIn>()];

    /// <summary>Transfers so far.</summary>
    public long Transfers { get; private set; }

    /// <inheritdoc/>
    public I2cReply Write(byte address, ReadOnlySpan<byte> bytes, double nowS, double deadlineS)
    {
        double tookS = SecondsAByte * (1 + bytes.Length);
        I2cProblem problem = Reach(address, out I2cStandIn? chip, ref tookS, deadlineS);
        // A chip that gives up in the middle has acknowledged the first byte, and takes nothing.
        return new I2cReply(problem == I2cProblem.None ? chip!.Written(bytes, nowS + tookS) : problem, tookS);
    }

    /// <inheritdoc/>
    public I2cReply Read(byte address, Span<byte> into, double nowS, double deadlineS)
    {
        double tookS = SecondsAByte * (1 + into.Length);
        I2cProblem problem = Reach(address, out I2cStandIn? chip, ref tookS, deadlineS);
        if (problem != I2cProblem.None) return new I2cReply(problem, tookS);
        problem = chip!.Read(into, nowS);
        if (chip.Fault == BusFault.BadChecksum) Spoil(into);
        return new I2cReply(problem, tookS);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
    }

    private I2cProblem Reach(byte address, out I2cStandIn? chip, ref double tookS, double deadlineS)
    {
        Transfers++;
        chip = _chips[address];
        int answering = chip is null ? 0 : 1;
        foreach (MultiplexerStandIn one in _multiplexers) answering += one.Connected(address, ref chip);
        // Two chips at once spoil each other's bits; the adapter sees a bit it did not send.
        if (answering > 1) return I2cProblem.ArbitrationLost;
        switch (chip?.Fault ?? BusFault.Absent)
        {
            case BusFault.Absent or BusFault.NoAcknowledge:
                tookS = SecondsAByte;
                return I2cProblem.NoAcknowledge;
            case BusFault.Hung:
                tookS = deadlineS;
                return I2cProblem.TimedOut;
            case BusFault.CutShort:
                return I2cProblem.CutShort;
            default:
                return I2cProblem.None;
        }
    }

    private static void Spoil(Span<byte> bytes)
    {
        for (int i = 0; i < bytes.Length; i += 3) bytes[i] ^= 1;
    }

    private static I2cStandIn?[] At(IReadOnlyList<I2cStandIn> chips)
    {
        var at = new I2cStandIn?[128];
        foreach (I2cStandIn chip in chips) at[chip.Address] = chip;
        return at;
    }
}

// A serial line in memory with Modbus devices on it, and the time its characters take. A stand-in for rehearsals and tests; it must never be
// reachable from the verb that runs a real house.
namespace RoomSupervisor.Hardware.Modbus;

/// <summary>The other end of the channel of a line. For one thread.</summary>
/// <param name="line">How the line is set.</param>
/// <param name="devices">The devices on it, each with a unit number of its own.</param>
public sealed class MemoryRtuLine(SerialLine line, IReadOnlyList<MemoryModbusDevice> devices) : IMemoryPeer
{
    private readonly byte[] frame = new byte[ModbusRtuFrame.Longest], pdu = new byte[ModbusPdu.Longest];

    /// <summary>False: the adapter is pulled; the port looks open, and nobody answers. <see cref="IsGone"/> says whether it can be opened.</summary>
    public bool IsPlugged { get; set; } = true;

    /// <summary>True: the port cannot be opened, its path is not there.</summary>
    public bool IsGone { get; set; }

    /// <inheritdoc/>
    public ModbusProblem Accept(out double tookS)
    {
        tookS = 0;
        return IsGone ? ModbusProblem.NoPort : ModbusProblem.None;
    }

    /// <inheritdoc/>
    public void Received(ReadOnlySpan<byte> bytes, MemoryChannel channel)
    {
        if (!IsPlugged || bytes.Length < 4 || ModbusRtuFrame.Crc(bytes[..^2]) != (bytes[^2] | bytes[^1] << 8))
            return;
        for (var i = 0; i < devices.Count; i++)
        {
            var device = devices[i];
            var length = device.Fault == MemoryFault.GatewayAlone ? 0 : device.Answer(bytes[0], bytes[1..^2], pdu);
            if (length == 0)
                continue;
            var sent = ModbusRtuFrame.Write(frame, device.Unit, pdu.AsSpan(0, length));
            if (device.Fault == MemoryFault.Damaged)
                frame[sent - 1] ^= 0xFF;
            else
                device.Heard(channel.NowS);
            sent -= device.Fault == MemoryFault.Truncated ? 1 : 0;
            channel.Deliver(frame.AsSpan(0, sent), (bytes.Length + sent) * line.CharacterS + line.GapS + device.LatencyS);
        }
    }
}

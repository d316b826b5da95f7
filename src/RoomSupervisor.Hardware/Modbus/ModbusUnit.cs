// One unit number on a link: reads a block, writes a channel, holds the buffers. Allocates nothing per request.
// It must never retry by itself, except to use the other function for writing where the device does not know the first.
namespace RoomSupervisor.Hardware.Modbus;

/// <summary>A unit on a link. For one thread.</summary>
internal sealed class ModbusUnit(IModbusLink link, byte number) : IDisposable
{
    private const byte FunctionUnknown = 1;
    private readonly byte[] request = new byte[ModbusPdu.Longest];
    private readonly byte[] answer = new byte[ModbusPdu.Longest];
    private bool coilsInBlocks, registersInBlocks;

    public ModbusReply Read(ReadBlock block, double deadlineS)
    {
        var length = ModbusPdu.Read(request, block.Function, block.Address, block.Count);
        return link.Transact(number, request.AsSpan(0, length), answer, deadlineS);
    }

    /// <summary>Raw value at an address of the block just read: 0 or 1, or a register.</summary>
    public int Raw(ReadBlock block, int address)
        => block.IsBits ? (ModbusPdu.Bit(answer, address - block.Address) ? 1 : 0) : ModbusPdu.Register(answer, address - block.Address);

    /// <summary>Writes one coil or register. Devices exist that know only the single and that know only the multiple function.</summary>
    public ModbusReply Write(RegisterChannel channel, ushort raw, double deadlineS)
    {
        ref var inBlocks = ref channel.IsBit ? ref coilsInBlocks : ref registersInBlocks;
        var reply = Write(channel, raw, inBlocks, deadlineS);
        if (reply.Exception != FunctionUnknown || deadlineS <= reply.TookS)
            return reply;
        var other = Write(channel, raw, !inBlocks, deadlineS - reply.TookS);
        if (other.Problem == ModbusProblem.None)
            inBlocks = !inBlocks;
        return other with { TookS = reply.TookS + other.TookS, NewConnection = reply.NewConnection || other.NewConnection };
    }

    public void Dispose() => link.Dispose();

    private ModbusReply Write(RegisterChannel channel, ushort raw, bool inBlock, double deadlineS)
    {
        var length = (channel.IsBit, inBlock) switch
        {
            (true, false) => ModbusPdu.WriteCoil(request, channel.Address, raw != 0),
            (true, true) => ModbusPdu.WriteCoils(request, channel.Address, [raw != 0]),
            (false, false) => ModbusPdu.WriteRegister(request, channel.Address, raw),
            (false, true) => ModbusPdu.WriteRegisters(request, channel.Address, [raw]),
        };
        return link.Transact(number, request.AsSpan(0, length), answer, deadlineS);
    }
}

// One unit number on a link: reads a block, writes a channel, holds the buffers. Allocates nothing per request.
// It must never retry by itself, except to use the other function for writing where the device does not know the first.
namespace RoomSupervisor.Hardware.Modbus;

/// <summary>A unit on a link. For one thread.</summary>
/// <param name="link">The way to it, shared by all units on a line.</param>
/// <param name="number">Its number.</param>
/// <param name="turnaroundS">Silence it needs before a request and after its answer, s.</param>
internal sealed class ModbusUnit(IModbusLink link, byte number, double turnaroundS = 0) : IDisposable
{
    private const byte FunctionUnknown = 1;
    private readonly byte[] request = new byte[ModbusPdu.Longest];
    private readonly byte[] answer = new byte[ModbusPdu.Longest];
    private bool coilsInBlocks, registersInBlocks;

    public ModbusReply Read(ReadBlock block, double deadlineS)
    {
        var length = ModbusPdu.Read(request, block.Function, block.Address, block.Count);
        return Transact(length, deadlineS);
    }

    /// <summary>Raw number of a channel of the block just read: 0 or 1, or what its registers hold.</summary>
    public double Raw(ReadBlock block, RegisterChannel channel)
    {
        var at = channel.Address - block.Address;
        if (block.IsBits)
            return ModbusPdu.Bit(answer, at) ? 1 : 0;
        return channel.Raw(ModbusPdu.Register(answer, at), channel.Words > 1 ? ModbusPdu.Register(answer, at + 1) : (ushort)0);
    }

    /// <summary>Reads one holding register.</summary>
    public ModbusReply ReadRegister(int address, double deadlineS, out ushort value)
    {
        var reply = Transact(ModbusPdu.Read(request, ModbusFunction.ReadHoldingRegisters, address, 1), deadlineS);
        value = reply.Problem == ModbusProblem.None ? ModbusPdu.Register(answer, 0) : (ushort)0;
        return reply;
    }

    /// <summary>Writes one holding register.</summary>
    public ModbusReply WriteRegister(int address, ushort value, double deadlineS) => Write(isBit: false, address, value, deadlineS);

    /// <summary>Writes one coil or register.</summary>
    public ModbusReply Write(RegisterChannel channel, ushort raw, double deadlineS) => Write(channel.IsBit, channel.Address, raw, deadlineS);

    public void Dispose() => link.Dispose();

    /// <summary>Devices exist that know only the single and that know only the multiple function.</summary>
    private ModbusReply Write(bool isBit, int address, ushort raw, double deadlineS)
    {
        ref var inBlocks = ref isBit ? ref coilsInBlocks : ref registersInBlocks;
        var reply = Write(isBit, address, raw, inBlocks, deadlineS);
        if (reply.Exception != FunctionUnknown || deadlineS <= reply.TookS)
            return reply;
        var other = Write(isBit, address, raw, !inBlocks, deadlineS - reply.TookS);
        if (other.Problem == ModbusProblem.None)
            inBlocks = !inBlocks;
        return other with { TookS = reply.TookS + other.TookS, NewConnection = reply.NewConnection || other.NewConnection };
    }

    private ModbusReply Write(bool isBit, int address, ushort raw, bool inBlock, double deadlineS)
    {
        var length = (isBit, inBlock) switch
        {
            (true, false) => ModbusPdu.WriteCoil(request, address, raw != 0),
            (true, true) => ModbusPdu.WriteCoils(request, address, [raw != 0]),
            (false, false) => ModbusPdu.WriteRegister(request, address, raw),
            (false, true) => ModbusPdu.WriteRegisters(request, address, [raw]),
        };
        return Transact(length, deadlineS);
    }

    private ModbusReply Transact(int length, double deadlineS)
    {
        // The link may be shared with units that need another silence.
        link.KeepQuiet(turnaroundS);
        return link.Transact(number, request.AsSpan(0, length), answer, deadlineS);
    }
}

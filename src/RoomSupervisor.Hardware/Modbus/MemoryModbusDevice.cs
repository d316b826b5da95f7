// A well-behaved Modbus device in memory, over TCP or on a line (MemoryRtuLine): four tables of the addresses it was given, with latency, power and refusals to set.
// A stand-in for rehearsals and tests; it must never be reachable from the verb that runs a real house.
using System.Buffers.Binary;

namespace RoomSupervisor.Hardware.Modbus;

/// <summary>One value a client wrote.</summary>
public readonly record struct MemoryWrite(RegisterTable Table, int Address, ushort Value);

/// <summary>What is wrong with the answers of a device in memory.</summary>
public enum MemoryFault : byte
{
    None,

    /// <summary>A gateway answers alone: the device behind it does not (exception 11).</summary>
    GatewayAlone,

    /// <summary>Answers come damaged in their header.</summary>
    Damaged,

    /// <summary>Answers end in the middle.</summary>
    Truncated,
}

/// <summary>A device in memory. For one thread.</summary>
/// <param name="unit">Unit number it answers to.</param>
public sealed class MemoryModbusDevice(byte unit = 1) : IMemoryPeer
{
    private const byte Unlisted = 2, GatewayTarget = 11;
    private readonly Cells[] tables = [new(), new(), new(), new()];
    private readonly HashSet<(RegisterTable, int)> ignored = [];
    private readonly byte[] frame = new byte[ModbusTcpFrame.Longest];

    /// <summary>Seconds from request to answer.</summary>
    public double LatencyS { get; set; }

    /// <summary>False: nobody there, connections are refused.</summary>
    public bool Powered { get; set; } = true;

    /// <summary>True: accepts connections and requests, answers nothing.</summary>
    public bool Silent { get; set; }

    /// <summary>True: closes the connection after each answer, as some devices do.</summary>
    public bool HangsUp { get; set; }

    /// <summary>What is wrong with its answers.</summary>
    public MemoryFault Fault { get; set; }

    /// <summary>False: keeps neither <see cref="Requests"/> nor <see cref="Writes"/>, for long runs.</summary>
    public bool Records { get; init; } = true;

    /// <summary>The channel's time of the latest request it understood, s.</summary>
    public double HeardAtS { get; private set; } = double.NegativeInfinity;

    /// <summary>Function codes it does not know.</summary>
    public HashSet<byte> UnknownFunctions { get; } = [];

    /// <summary>What clients wrote, oldest first.</summary>
    public List<MemoryWrite> Writes { get; } = [];

    /// <summary>Protocol data units of the requests it understood, oldest first.</summary>
    public List<byte[]> Requests { get; } = [];

    /// <summary>A value; setting one makes the address exist.</summary>
    public ushort this[RegisterTable table, int address]
    {
        get => tables[(int)table].Exists(address) ? tables[(int)table].Values[address] : throw new KeyNotFoundException($"{table} {address}");
        set => tables[(int)table].Set(address, value);
    }

    /// <summary>Makes an address refuse with an exception code; 0 ends it.</summary>
    public void Refuse(RegisterTable table, int address, byte exception) => tables[(int)table].Refuse(address, exception);

    /// <summary>Makes requests that begin at an address go unanswered.</summary>
    public void Ignore(RegisterTable table, int address) => ignored.Add((table, address));

    /// <inheritdoc/>
    public ModbusProblem Accept(out double tookS)
    {
        tookS = 0;
        return Powered ? ModbusProblem.None : ModbusProblem.ConnectionRefused;
    }

    /// <inheritdoc/>
    public void Received(ReadOnlySpan<byte> bytes, MemoryChannel channel)
    {
        if (!Powered)
        {
            channel.HangUp(0);
            return;
        }
        var length = Answer(bytes[6], bytes[ModbusTcpFrame.HeaderLength..], frame.AsSpan(ModbusTcpFrame.HeaderLength));
        if (length == 0)
            return;
        ModbusTcpFrame.WriteHeader(frame, (ushort)ModbusPdu.Word(bytes, 0), unit, length);
        if (Fault == MemoryFault.Damaged)
            frame[2] ^= 0xFF;
        else if (Fault != MemoryFault.GatewayAlone)
            HeardAtS = channel.NowS;
        var sent = ModbusTcpFrame.HeaderLength + length - (Fault == MemoryFault.Truncated ? 1 : 0);
        channel.Deliver(frame.AsSpan(0, sent), LatencyS);
        if (HangsUp)
            channel.HangUp(LatencyS);
    }

    /// <summary>Number it answers to.</summary>
    public byte Unit => unit;

    /// <summary>The protocol data unit of its answer, whatever the envelope. Returns the length; 0: it does not answer.</summary>
    internal int Answer(byte to, ReadOnlySpan<byte> request, Span<byte> answer)
    {
        if (!Powered || Silent || to != unit)
            return 0;
        if (ignored.Count > 0 && ignored.Contains((TableOf((ModbusFunction)request[0]), ModbusPdu.Word(request, 1))))
            return 0;
        if (Records)
            Requests.Add(request.ToArray());
        return Serve(request, answer);
    }

    /// <summary>A line brought it a request that it understood.</summary>
    internal void Heard(double nowS) => HeardAtS = nowS;

    private static RegisterTable TableOf(ModbusFunction function) => function switch
    {
        ModbusFunction.ReadDiscreteInputs => RegisterTable.DiscreteInput,
        ModbusFunction.ReadCoils or ModbusFunction.WriteSingleCoil or ModbusFunction.WriteMultipleCoils => RegisterTable.Coil,
        ModbusFunction.ReadInputRegisters => RegisterTable.InputRegister,
        _ => RegisterTable.HoldingRegister,
    };

    private int Serve(ReadOnlySpan<byte> request, Span<byte> answer)
    {
        var (function, address) = ((ModbusFunction)request[0], ModbusPdu.Word(request, 1));
        answer[0] = request[0];
        var table = TableOf(function);
        var single = function is ModbusFunction.WriteSingleCoil or ModbusFunction.WriteSingleRegister;
        var count = single ? 1 : ModbusPdu.Word(request, 3);
        var exception = Fault == MemoryFault.GatewayAlone ? GatewayTarget : UnknownFunctions.Contains(request[0]) ? (byte)1 : tables[(int)table].Refusal(address, count);
        if (exception != 0)
        {
            (answer[0], answer[1]) = ((byte)(request[0] | 0x80), exception);
            return 2;
        }
        if (request[0] <= (byte)ModbusFunction.ReadInputRegisters)
            return Read(table, address, count, answer);
        for (var i = 0; i < count; i++)
            Store(table, address + i, Written(request, single, table, i));
        request[..5].CopyTo(answer);
        return 5;
    }

    private int Read(RegisterTable table, int address, int count, Span<byte> answer)
    {
        var isBits = table is RegisterTable.Coil or RegisterTable.DiscreteInput;
        var bytes = isBits ? (count + 7) / 8 : 2 * count;
        answer[1] = (byte)bytes;
        answer.Slice(2, bytes).Clear();
        var values = tables[(int)table].Values;
        for (var i = 0; i < count; i++)
        {
            if (isBits)
                answer[2 + i / 8] |= (byte)(values[address + i] << (i % 8));
            else
                BinaryPrimitives.WriteUInt16BigEndian(answer[(2 + 2 * i)..], values[address + i]);
        }
        return 2 + bytes;
    }

    private static ushort Written(ReadOnlySpan<byte> request, bool single, RegisterTable table, int index) => (single, table) switch
    {
        (true, RegisterTable.Coil) => (ushort)(ModbusPdu.Word(request, 3) == 0xFF00 ? 1 : 0),
        (true, _) => (ushort)ModbusPdu.Word(request, 3),
        (false, RegisterTable.Coil) => (ushort)(request[6 + index / 8] >> (index % 8) & 1),
        _ => (ushort)ModbusPdu.Word(request, 6 + 2 * index),
    };

    private void Store(RegisterTable table, int address, ushort value)
    {
        tables[(int)table].Set(address, value);
        if (Records)
            Writes.Add(new MemoryWrite(table, address, value));
    }

    /// <summary>One table, as far as its highest listed address.</summary>
    private sealed class Cells
    {
        // The exception an address answers with; 0: its value.
        private byte[] refusals = [];
        private bool[] exists = [];

        public ushort[] Values { get; private set; } = [];

        public bool Exists(int address) => address < exists.Length && exists[address];

        public void Set(int address, ushort value)
        {
            Reach(address);
            (Values[address], exists[address]) = (value, true);
        }

        public void Refuse(int address, byte exception)
        {
            Reach(address);
            refusals[address] = exception;
        }

        public byte Refusal(int address, int count)
        {
            for (var i = address; i < address + count; i++)
            {
                if (i >= exists.Length)
                    return Unlisted;
                if (refusals[i] != 0)
                    return refusals[i];
                if (!exists[i])
                    return Unlisted;
            }
            return 0;
        }

        private void Reach(int address)
        {
            if (address < exists.Length)
                return;
            var (values, known) = (Values, exists);
            Array.Resize(ref values, address + 1);
            Array.Resize(ref known, address + 1);
            Array.Resize(ref refusals, address + 1);
            (Values, exists) = (values, known);
        }
    }
}

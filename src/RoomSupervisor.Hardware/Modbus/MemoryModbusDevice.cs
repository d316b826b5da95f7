// A well-behaved Modbus TCP device in memory: four tables of the addresses it was given, with latency, power and refusals to set.
// A stand-in for rehearsals and tests; it must never be reachable from the verb that runs a real house.
using System.Buffers.Binary;

namespace RoomSupervisor.Hardware.Modbus;

/// <summary>One value a client wrote.</summary>
public readonly record struct MemoryWrite(RegisterTable Table, int Address, ushort Value);

/// <summary>A device in memory. For one thread.</summary>
/// <param name="unit">Unit number it answers to.</param>
public sealed class MemoryModbusDevice(byte unit = 1) : IMemoryPeer
{
    private readonly Dictionary<(RegisterTable, int), ushort> values = [];
    private readonly Dictionary<(RegisterTable, int), byte> refusals = [];
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

    /// <summary>Function codes it does not know.</summary>
    public HashSet<byte> UnknownFunctions { get; } = [];

    /// <summary>What clients wrote, oldest first.</summary>
    public List<MemoryWrite> Writes { get; } = [];

    /// <summary>Protocol data units of the requests it understood, oldest first.</summary>
    public List<byte[]> Requests { get; } = [];

    /// <summary>A value; setting one makes the address exist.</summary>
    public ushort this[RegisterTable table, int address]
    {
        get => values[(table, address)];
        set => values[(table, address)] = value;
    }

    /// <summary>Makes an address refuse with an exception code; 0 ends it.</summary>
    public void Refuse(RegisterTable table, int address, byte exception) => refusals[(table, address)] = exception;

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
        if (Silent || bytes[6] != unit)
            return;
        var request = bytes[ModbusTcpFrame.HeaderLength..];
        if (ignored.Contains((TableOf((ModbusFunction)request[0]), ModbusPdu.Word(request, 1))))
            return;
        Requests.Add(request.ToArray());
        var length = Serve(request, frame.AsSpan(ModbusTcpFrame.HeaderLength));
        ModbusTcpFrame.WriteHeader(frame, (ushort)ModbusPdu.Word(bytes, 0), unit, length);
        channel.Deliver(frame.AsSpan(0, ModbusTcpFrame.HeaderLength + length), LatencyS);
        if (HangsUp)
            channel.HangUp(LatencyS);
    }

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
        var exception = UnknownFunctions.Contains(request[0]) ? (byte)1 : Refusal(table, address, count);
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

    private byte Refusal(RegisterTable table, int address, int count)
    {
        for (var i = address; i < address + count; i++)
        {
            if (refusals.TryGetValue((table, i), out var code) && code != 0)
                return code;
            if (!values.ContainsKey((table, i)))
                return 2;
        }
        return 0;
    }

    private int Read(RegisterTable table, int address, int count, Span<byte> answer)
    {
        var isBits = table is RegisterTable.Coil or RegisterTable.DiscreteInput;
        var bytes = isBits ? (count + 7) / 8 : 2 * count;
        answer[1] = (byte)bytes;
        answer.Slice(2, bytes).Clear();
        for (var i = 0; i < count; i++)
        {
            if (isBits)
                answer[2 + i / 8] |= (byte)(values[(table, address + i)] << (i % 8));
            else
                BinaryPrimitives.WriteUInt16BigEndian(answer[(2 + 2 * i)..], values[(table, address + i)]);
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
        values[(table, address)] = value;
        Writes.Add(new MemoryWrite(table, address, value));
    }
}

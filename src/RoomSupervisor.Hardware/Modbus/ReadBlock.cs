// Which registers are read together: neighbours of one table, with no more unlisted ones between them than the site file allows (some devices
// refuse the whole request then).
using RoomSupervisor.Hardware.Devices;

namespace RoomSupervisor.Hardware.Modbus;

/// <summary>An input point on its channel.</summary>
/// <param name="Channel">Where it lies.</param>
/// <param name="Wiring">Its point.</param>
/// <param name="Health">Its place in the device's health book.</param>
internal sealed record WiredInput(RegisterChannel Channel, Terms.PointWiring Wiring, int Health) : WiredPoint(Wiring, Health);

/// <summary>Inputs read with one request.</summary>
internal sealed class ReadBlock : ReadJob
{
    private const int OnlySame = -1;
    private readonly bool hasGaps;

    private ReadBlock(List<WiredInput> inputs)
        : base([.. inputs])
    {
        Inputs = [.. inputs];
        Address = inputs[0].Channel.Address;
        Count = inputs.Max(one => one.Channel.End) - Address;
        IsBits = inputs[0].Channel.IsBit;
        hasGaps = inputs.Index().Skip(1).Any(one => one.Item.Channel.Address > inputs.Take(one.Index).Max(before => before.Channel.End));
        Function = inputs[0].Channel.Table switch
        {
            RegisterTable.Coil => ModbusFunction.ReadCoils,
            RegisterTable.DiscreteInput => ModbusFunction.ReadDiscreteInputs,
            RegisterTable.HoldingRegister => ModbusFunction.ReadHoldingRegisters,
            _ => ModbusFunction.ReadInputRegisters,
        };
    }

    public WiredInput[] Inputs { get; }

    public ModbusFunction Function { get; }

    public int Address { get; }

    public int Count { get; }

    public bool IsBits { get; }

    /// <summary>Neighbouring addresses together, as many as one request may ask.</summary>
    /// <param name="inputs">All inputs of a device.</param>
    /// <param name="gap">Addresses nobody listed that may lie between two.</param>
    public static ReadBlock[] Group(IEnumerable<WiredInput> inputs, int gap)
    {
        var blocks = new List<ReadBlock>();
        var open = new List<WiredInput>();
        foreach (var input in inputs.OrderBy(one => one.Channel.Table).ThenBy(one => one.Channel.Address))
        {
            if (open.Count > 0 && !Joins(open, input.Channel, gap))
            {
                blocks.Add(new ReadBlock(open));
                open.Clear();
            }
            open.Add(input);
        }
        if (open.Count > 0)
            blocks.Add(new ReadBlock(open));
        return [.. blocks];
    }

    /// <summary>After a refusal: first without the addresses nobody listed, then every address by itself; null when nothing is left to take apart.</summary>
    public ReadBlock[]? Split()
    {
        var parts = Group(Inputs, hasGaps ? 0 : OnlySame);
        return parts.Length > 1 ? parts : null;
    }

    private static bool Joins(List<WiredInput> open, RegisterChannel next, int gap)
    {
        var first = open[0].Channel;
        if (next.Table != first.Table)
            return false;
        if (gap == OnlySame)
            return next.Address == first.Address;
        var most = first.IsBit ? ModbusPdu.MostBitsRead : ModbusPdu.MostRegistersRead;
        return next.Address - open.Max(one => one.Channel.End) <= gap && next.End - first.Address <= most;
    }
}

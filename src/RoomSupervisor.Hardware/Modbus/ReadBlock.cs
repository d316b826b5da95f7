// Which registers are read together: neighbours of one table, and never one that nobody listed (some devices refuse the whole request then).
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
    private ReadBlock(List<WiredInput> inputs)
        : base([.. inputs])
    {
        Inputs = [.. inputs];
        Address = inputs[0].Channel.Address;
        Count = inputs[^1].Channel.Address - Address + 1;
        IsBits = inputs[0].Channel.IsBit;
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
    public static ReadBlock[] Group(IEnumerable<WiredInput> inputs) => Group(inputs, joined: true);

    /// <summary>Every address by itself.</summary>
    public ReadBlock[] Split() => Group(Inputs, joined: false);

    private static ReadBlock[] Group(IEnumerable<WiredInput> inputs, bool joined)
    {
        var blocks = new List<ReadBlock>();
        var open = new List<WiredInput>();
        foreach (var input in inputs.OrderBy(one => one.Channel.Table).ThenBy(one => one.Channel.Address))
        {
            if (open.Count > 0 && !Joins(open, input.Channel, joined))
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

    private static bool Joins(List<WiredInput> open, RegisterChannel next, bool joined)
    {
        var (first, last) = (open[0].Channel, open[^1].Channel);
        var most = first.IsBit ? ModbusPdu.MostBitsRead : ModbusPdu.MostRegistersRead;
        return next.Table == first.Table && next.Address - last.Address <= (joined ? 1 : 0) && next.Address - first.Address < most;
    }
}

// The bytes of a Modbus unit: which registers are read together, and what an answer means for writes and reads.
// It must never let one register the unit refuses make its neighbours missing.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Modbus;

/// <summary>One unit on a Modbus link.</summary>
internal sealed class ModbusDevice : PolledDevice
{
    private readonly ModbusUnit unit;
    private readonly ReadBlock[] wholeBlocks;

    public ModbusDevice(string name, ModbusUnit unit, PollTimes times, IReadOnlyList<(RegisterChannel Channel, OutputChannel Point)> wired, DeviceParts parts)
        : base(name, times, [.. wired.Select(one => ((IOutputChannel?)one.Channel, one.Point))], parts)
    {
        this.unit = unit;
        wholeBlocks = ReadBlock.Group(wired.Index().Where(one => !one.Item.Point.Wiring.IsOutput)
            .Select(one => new WiredInput(one.Item.Channel, one.Item.Point.Wiring, one.Index)));
        ReadFrom(wholeBlocks);
    }

    public override void Dispose() => unit.Dispose();

    protected override DeviceReply Write(IOutputChannel channel, ushort raw, double nowS, double deadlineS)
        => Of(unit.Write((RegisterChannel)channel, raw, deadlineS));

    protected override DeviceReply Read(ReadJob job, bool collects, double nowS, double deadlineS) => Of(unit.Read((ReadBlock)job, deadlineS));

    protected override void Deliver(ReadJob job, double takenAt)
    {
        var block = (ReadBlock)job;
        foreach (var input in block.Inputs)
            Put(input, input.Channel.ToPoint(unit.Raw(block, input.Channel.Address), input.Wiring), takenAt);
    }

    protected override ReadJob[]? SplitAfter(ReadJob job, in DeviceReply reply)
        => ((ReadBlock)job).Count > 1 && reply.Code is 2 or 3 or 4 ? ((ReadBlock)job).Split() : null;

    protected override void CameBack() => ReadFrom(wholeBlocks);

    private DeviceReply Of(in ModbusReply reply) => new(reply.Fault, ModbusWords.Of(reply.Problem, reply.Exception), reply.TookS)
    {
        IsRefusal = reply.Problem == ModbusProblem.Refused,
        IsCertain = reply.Fault == Fault.NoAcknowledge,
        IsNewContact = reply.NewConnection,
        Code = reply.Exception,
        PauseS = reply.Exception is 5 or 6 ? Times.RetryAtFirstS : Times.RefreshS,
    };
}

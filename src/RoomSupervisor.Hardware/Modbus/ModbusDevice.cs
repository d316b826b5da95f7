// The bytes of a Modbus unit: which registers are read together, what an answer means for writes and reads, its own time-out set up.
// It must never let one register the unit refuses make its neighbours missing.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Modbus;

/// <summary>How a unit is asked.</summary>
/// <param name="Times">Its times.</param>
/// <param name="JoinGap">Addresses nobody listed that may be read along between two that are.</param>
/// <param name="OwnTimeOut">Holding register of its own time-out and what it shall hold; null where the site file names none.</param>
internal sealed record ModbusPlan(PollTimes Times, int JoinGap = 0, (int Address, ushort Value)? OwnTimeOut = null);

/// <summary>One unit on a Modbus link.</summary>
internal sealed class ModbusDevice : PolledDevice
{
    private readonly ModbusUnit unit;
    private readonly ReadBlock[] wholeBlocks;
    private readonly (int Address, ushort Value)? ownTimeOut;
    private bool isSetUp;
    private double setUpAgainAtS = double.NegativeInfinity;

    public ModbusDevice(string name, ModbusUnit unit, ModbusPlan plan, IReadOnlyList<(RegisterChannel Channel, OutputChannel Point)> wired, DeviceParts parts)
        : base(name, plan.Times, [.. wired.Select(one => ((IOutputChannel?)one.Channel, one.Point))], parts)
    {
        (this.unit, ownTimeOut) = (unit, plan.OwnTimeOut);
        isSetUp = ownTimeOut is null;
        wholeBlocks = ReadBlock.Group(
            wired.Index().Where(one => !one.Item.Point.Wiring.IsOutput).Select(one => new WiredInput(one.Item.Channel, one.Item.Point.Wiring, one.Index)), plan.JoinGap);
        ReadFrom(wholeBlocks);
    }

    public override void Dispose() => unit.Dispose();

    protected override DeviceReply Write(IOutputChannel channel, ushort raw, double nowS, double deadlineS)
        => Of(unit.Write((RegisterChannel)channel, raw, deadlineS));

    protected override DeviceReply Read(ReadJob job, bool collects, double nowS, double deadlineS)
        => Of(unit.Read((ReadBlock)job, deadlineS));

    protected override void Deliver(ReadJob job, double takenAt)
    {
        var block = (ReadBlock)job;
        foreach (var input in block.Inputs)
        {
            var value = input.Channel.ToPoint(unit.Raw(block, input.Channel), input.Wiring);
            if (double.IsFinite(value))
                Put(input, value, takenAt);
            else
                PutFault(input, Fault.OutOfRange, "the register holds no number", takenAt);
        }
    }

    protected override ReadJob[]? SplitAfter(ReadJob job, in DeviceReply reply) => reply.Code is 2 or 3 or 4 ? ((ReadBlock)job).Split() : null;

    protected override void CameBack() => ReadFrom(wholeBlocks);

    protected override double LongestSetUpS => ownTimeOut is null ? 0 : 2 * Times.TimeoutS;

    protected override void MayHaveRestarted() => isSetUp = ownTimeOut is null;

    /// <summary>After the first answer, and whenever the device may have restarted: its own time-out. Written only where it holds another value: such registers wear out.</summary>
    protected override double SetUpIfNeeded(double nowS)
    {
        if (isSetUp || ownTimeOut is not { } own || nowS < setUpAgainAtS)
            return 0;
        var reply = unit.ReadRegister(own.Address, Times.TimeoutS, out var holds);
        var tookS = reply.TookS;
        if (reply.Problem == ModbusProblem.None && holds != own.Value)
        {
            reply = unit.WriteRegister(own.Address, own.Value, Times.TimeoutS);
            tookS += reply.TookS;
        }
        // Without an answer it is tried again, but not at every poll; a refusal stays one until the next contact.
        (isSetUp, setUpAgainAtS) = (reply.Answered, nowS + Times.RetryAtMostS);
        SetUp(reply.Problem == ModbusProblem.None ? "" : $"register {own.Address}: {ModbusWords.Of(reply.Problem, reply.Exception)}");
        return tookS;
    }

    private DeviceReply Of(in ModbusReply reply) => new(reply.Fault, ModbusWords.Of(reply.Problem, reply.Exception), reply.TookS)
    {
        IsRefusal = reply.Problem == ModbusProblem.Refused,
        IsCertain = reply.Fault == Fault.NoAcknowledge,
        IsNewContact = reply.NewConnection,
        Code = reply.Exception,
        PauseS = reply.Exception is 5 or 6 ? Times.RetryAtFirstS : Times.RefreshS,
    };
}

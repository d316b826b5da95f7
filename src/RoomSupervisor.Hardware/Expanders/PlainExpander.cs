// The byte of the expander without registers: a one is high, only weakly, and at the same time the way to read a line.
// It must never write a zero to a line that is an input: that would short the contact's supply.
// Source: data sheet of the PCF8574 family, "Quasi-bidirectional I/Os": one byte sets all lines, one byte reads them; all are high when it gets power.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Expanders;

/// <summary>One expander of eight lines.</summary>
internal sealed class PlainExpander(string name, ChipTalk talk, PollTimes times, IReadOnlyList<ExpanderLine> lines, DeviceParts parts)
    : LineDevice(name, times, [.. lines.Select(line => (line.Channel, line.Point))], parts)
{
    private const ulong All = 0xFF;
    private readonly byte[] one = new byte[1];
    private bool isKnown, wasEverKnown;

    public override void Dispose() => talk.Dispose();

    /// <summary>A relay that is drawn by a high line loads it below what reads as high: of these only the low level can be told.</summary>
    protected override ulong Verifiable(ulong wanted) => OutputMask & (ActiveLowMask | ~wanted);

    protected override void Lost() => isKnown = false;

    protected override DeviceReply Prepare(ref ulong stands, out bool restarted, double nowS, double deadlineS)
    {
        restarted = false;
        if (isKnown)
            return new DeviceReply(Fault.None, "", 0);
        if (!wasEverKnown)
        {
            (stands, isKnown) = (SafeLevels, true);
            return new DeviceReply(Fault.None, "", 0);
        }
        // Whether it restarted cannot be asked: what stands there now is what the other lines keep until their own turn.
        var reply = Look(out var reads, nowS, deadlineS);
        isKnown = reply.Granted;
        stands = isKnown ? reads & OutputMask : stands;
        return reply;
    }

    protected override DeviceReply Exchange(ulong wanted, out ulong reads, double nowS, double deadlineS)
    {
        talk.Begin(nowS, deadlineS);
        one[0] = (byte)(wanted | All & ~OutputMask);
        talk.Write(one);
        reads = Get();
        wasEverKnown |= talk.IsWell;
        return talk.Reply;
    }

    protected override DeviceReply Look(out ulong reads, double nowS, double deadlineS)
    {
        talk.Begin(nowS, deadlineS);
        reads = Get();
        return talk.Reply;
    }

    private ulong Get() => talk.Read(one) ? (ulong)one[0] : 0;
}

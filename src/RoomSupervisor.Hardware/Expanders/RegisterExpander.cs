// The bytes of the expander with registers: latch first, then direction, so that a line that becomes an output does so at its safe level.
// It must never touch its interrupt or bank settings: with other banks every register would have another number.
// Source: data sheet of the MCP23017 family, register addresses with bank 0: 00 direction (1: input), 02 polarity, 0C pull-up, 12 lines, 14 latch, two each.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.I2c;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Expanders;

/// <summary>One expander of sixteen lines.</summary>
internal sealed class RegisterExpander(string name, ChipTalk talk, PollTimes times, IReadOnlyList<ExpanderLine> lines, DeviceParts parts)
    : LineDevice(name, times, [.. lines.Select(line => (line.Channel, line.Point))], parts)
{
    private const byte Direction = 0x00, Polarity = 0x02, PullUps = 0x0C, Levels = 0x12, Latch = 0x14;

    private readonly ushort pullUps = (ushort)lines.Where(line => line.PullsUp).Aggregate(0UL, (bits, line) => bits | line.Channel.Mask);
    private readonly byte[] words = new byte[3], pair = new byte[2];
    private bool isKnown, wasEverKnown;
    private double lookAtS = double.NegativeInfinity;

    public override void Dispose() => talk.Dispose();

    protected override void Lost() => isKnown = false;

    protected override DeviceReply Prepare(ref ulong stands, out bool restarted, double nowS, double deadlineS)
    {
        restarted = false;
        if (isKnown && nowS < lookAtS)
            return new DeviceReply(Fault.None, "", 0);
        talk.Begin(nowS, deadlineS);
        var isSetUp = IsSetUp();
        var latch = Get(Latch) & OutputMask;
        if (talk.IsWell && (!isSetUp || !wasEverKnown))
        {
            (stands, restarted) = (SafeLevels, wasEverKnown);
            Put(Latch, stands);
            Put(PullUps, pullUps);
            Put(Polarity, 0);
            Put(Direction, ~OutputMask);
        }
        else if (talk.IsWell)
        {
            // Out of reach it kept what it had; where somebody else wrote, everything is written anew.
            restarted = isKnown && latch != stands;
            stands = latch;
        }
        isKnown = talk.IsWell;
        wasEverKnown |= isKnown;
        lookAtS = nowS + Times.RefreshS;
        return talk.Reply;
    }

    protected override DeviceReply Exchange(ulong wanted, out ulong reads, double nowS, double deadlineS)
    {
        talk.Begin(nowS, deadlineS);
        Put(Latch, wanted);
        reads = Get(Levels);
        return talk.Reply;
    }

    protected override DeviceReply Look(out ulong reads, double nowS, double deadlineS)
    {
        talk.Begin(nowS, deadlineS);
        reads = Get(Levels);
        return talk.Reply;
    }

    private bool IsSetUp() => Get(Direction) == (ushort)~OutputMask & Get(PullUps) == pullUps & Get(Polarity) == 0;

    private void Put(byte register, ulong bits)
    {
        (words[0], words[1], words[2]) = (register, (byte)bits, (byte)(bits >> 8));
        talk.Write(words);
    }

    private ulong Get(byte register) => talk.ReadAt(register, pair) ? (ulong)(pair[1] << 8 | pair[0]) : 0;
}

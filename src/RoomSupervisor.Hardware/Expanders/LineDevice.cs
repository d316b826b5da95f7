// What port expanders and the board's own lines share: all levels are written together, inputs are looked at and debounced, outputs read back.
// It must never move a line that was not asked to move, except to what is safe at the first contact or after a restart.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Expanders;

/// <summary>A device of lines that are high or low.</summary>
internal abstract class LineDevice : PolledDevice
{
    private readonly Input[] inputs;
    private ulong levels;

    protected LineDevice(string name, PollTimes times, IReadOnlyList<(LineChannel Channel, OutputChannel Point)> wired, DeviceParts parts)
        : base(name, times, [.. wired.Select(one => ((IOutputChannel?)one.Channel, one.Point))], parts)
    {
        foreach (var (line, point) in wired)
        {
            if (!point.Wiring.IsOutput)
            {
                InputMask |= line.Mask;
                continue;
            }
            OutputMask |= line.Mask;
            // Of relays that exclude each other the safe one comes on by itself, after the others are known to be off.
            var raw = line.ToRaw(point.Wiring.Role == ChannelRole.Value ? double.NaN : 0, point.Wiring);
            SafeLevels |= raw == 0 ? 0 : line.Mask;
            ActiveLowMask |= line.ActiveLow ? line.Mask : 0;
        }
        levels = SafeLevels;
        inputs = [.. wired.Index().Where(one => !one.Item.Point.Wiring.IsOutput).Select(one => new Input(one.Item.Channel, one.Item.Point.Wiring, one.Index))];
        if (inputs.Length > 0)
            ReadFrom([new Looks(inputs)]);
    }

    protected ulong OutputMask { get; }

    protected ulong InputMask { get; }

    /// <summary>Of outputs: low is on.</summary>
    protected ulong ActiveLowMask { get; }

    /// <summary>What all outputs get before any of them is asked.</summary>
    protected ulong SafeLevels { get; }

    /// <summary>Outputs whose level can be told from outside at these levels.</summary>
    protected virtual ulong Verifiable(ulong wanted) => OutputMask;

    /// <summary>Nobody knows any more what the device is set to.</summary>
    protected abstract void Lost();

    /// <summary>
    /// Makes sure the device is set up. Where it has restarted, or was never asked, <paramref name="stands"/> becomes what is safe; where it only was out of
    /// reach, what stands there. Nothing is done to lines that stand as they should.
    /// </summary>
    /// <param name="stands">Levels of the outputs as known; on return as they are.</param>
    /// <param name="restarted">True when it had been set up before and was not any more.</param>
    protected abstract DeviceReply Prepare(ref ulong stands, out bool restarted, double nowS, double deadlineS);

    /// <summary>Writes all output levels and reads all lines back.</summary>
    protected abstract DeviceReply Exchange(ulong wanted, out ulong reads, double nowS, double deadlineS);

    /// <summary>Reads all lines.</summary>
    protected abstract DeviceReply Look(out ulong reads, double nowS, double deadlineS);

    protected sealed override DeviceReply Write(IOutputChannel channel, ushort raw, double nowS, double deadlineS)
    {
        var line = (LineChannel)channel;
        var reply = Prepare(ref levels, out var restarted, nowS, deadlineS);
        if (!reply.Granted)
            return reply;
        var wanted = raw != 0 ? levels | line.Mask : levels & ~line.Mask;
        var (spent, differs, reads) = (reply.TookS, 0UL, 0UL);
        for (var tries = 0; tries < ReadBack.Tries && (tries == 0 || differs != 0); tries++)
        {
            reply = Exchange(wanted, out reads, nowS + spent, deadlineS - spent);
            spent += reply.TookS;
            if (!reply.Granted)
            {
                Lost();
                return reply with { TookS = spent };
            }
            levels = wanted;
            differs = (reads ^ wanted) & Verifiable(wanted) & line.Mask;
        }
        return differs == 0 ? reply with { TookS = spent, IsNewContact = restarted } : ReadBack.Differs(ReadBack.OnOff(raw != 0), ReadBack.OnOff((reads & line.Mask) != 0), spent, Times.RetryAtFirstS);
    }

    protected sealed override DeviceReply Read(ReadJob job, bool collects, double nowS, double deadlineS)
    {
        var stands = levels;
        var reply = Prepare(ref stands, out var restarted, nowS, deadlineS);
        if (!reply.Granted)
            return reply;
        levels = stands;
        var spent = reply.TookS;
        reply = Look(out var reads, nowS + spent, deadlineS - spent);
        if (!reply.Granted)
        {
            Lost();
            return reply with { TookS = spent + reply.TookS };
        }
        foreach (var input in inputs)
            input.Counts = input.Bounce.Look((reads & input.Line.Mask) != 0, nowS);
        // What does not stand as it was written is written anew; if it does not hold then either, that is told.
        var differs = ((reads ^ levels) & Verifiable(levels)) != 0;
        if (differs)
            Lost();
        return reply with { TookS = spent + reply.TookS, IsNewContact = restarted || differs };
    }

    protected sealed override void Deliver(ReadJob job, double takenAt)
    {
        foreach (var input in inputs)
            Put(input, input.Line.ToPoint(input.Counts, input.Wiring), takenAt);
    }

    protected sealed override void CameBack()
    {
        foreach (var input in inputs)
            input.Bounce.Anew();
    }

    private sealed record Input(LineChannel Line, PointWiring Wiring, int Health) : WiredPoint(Wiring, Health)
    {
        public Debouncer Bounce { get; } = new(Line.DebounceS);

        public bool Counts { get; set; }
    }

    private sealed class Looks(WiredPoint[] points) : ReadJob(points);
}

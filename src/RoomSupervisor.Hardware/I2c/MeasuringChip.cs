// What measuring chips share: set up before they measure where they need it, one reading of all their points, in as many turns as the chip needs.
// It must never trust a set-up past a failure: a chip that lost its power in between looks like one that did not.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.I2c;

/// <summary>A chip that measures; a driver adds its turns.</summary>
internal abstract class MeasuringChip : PolledDevice
{
    private const string Disturbed = "it is another chip than the site says, or wires are disturbed";

    /// <param name="name">Name in the site file.</param>
    /// <param name="place">Where it is.</param>
    /// <param name="times">Its times.</param>
    /// <param name="points">The points wired to it.</param>
    /// <param name="parts">Where samples go.</param>
    protected MeasuringChip(string name, I2cAddress place, PollTimes times, IReadOnlyList<OutputChannel> points, DeviceParts parts)
        : base(name, times, [.. points.Select(point => ((IOutputChannel?)null, point))], parts)
    {
        Talk = new ChipTalk(place);
        if (points.Count > 0)
            ReadFrom([new All([.. points.Index().Select(point => new WiredPoint(point.Item.Wiring, point.Index))])]);
    }

    /// <summary>The way to the chip, within the turn.</summary>
    protected ChipTalk Talk { get; }

    /// <summary>True once the chip was told how to measure.</summary>
    protected bool IsSetUp { get; set; }

    public override void Dispose() => Talk.Dispose();

    /// <summary>One turn of a reading, by <see cref="Talk"/>: granted once all is there, or told to come back.</summary>
    /// <param name="isFirst">True for the first turn of a reading.</param>
    protected abstract DeviceReply Turn(bool isFirst);

    protected sealed override DeviceReply Write(IOutputChannel channel, ushort raw, double nowS, double deadlineS) => new(Fault.NotRead, "", 0);

    protected sealed override DeviceReply Read(ReadJob job, bool collects, double nowS, double deadlineS)
    {
        Talk.Begin(nowS, deadlineS);
        var reply = Turn(!collects);
        IsSetUp &= reply.Granted;
        return reply;
    }

    /// <summary>What to answer where the chip tells another kind than it should be.</summary>
    protected DeviceReply AnotherChip() => Talk.Wrong(Fault.BusError, Disturbed);

    private sealed class All(WiredPoint[] points) : ReadJob(points);
}

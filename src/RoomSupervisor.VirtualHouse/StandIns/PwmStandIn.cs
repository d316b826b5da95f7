// A board's pwm chip in memory. Must never pulse an output that was not set up.
using RoomSupervisor.Hardware.Pwm;
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

/// <summary>The chip.</summary>
/// <param name="device">The device of the site.</param>
internal sealed class PwmStandIn(DeviceSettings device) : StandIn, IPwmChip
{
    private readonly (string Name, int Number)[] _outputs = [.. device.Channels.Select(one => (one.Key, (int)one.Value.Number("number")))];
    private readonly double[] _percent = new double[device.Channels.Count];
    private readonly bool[] _jammed = new bool[device.Channels.Count];

    /// <summary>Folder of the chip.</summary>
    public string Chip { get; } = device.Settings.Text("chip");

    /// <summary>It can be gone, and the system can report a failure; nothing comes over a wire.</summary>
    public override bool CanHave(BusFault fault) => fault is BusFault.None or BusFault.Absent or BusFault.NoAcknowledge;

    /// <inheritdoc/>
    public override bool CarriesPulses => true;

    /// <inheritdoc/>
    public override int ChannelOf(string name) => Array.FindIndex(_outputs, one => one.Name == name);

    /// <inheritdoc/>
    public override void Put(int channel, double value) => throw new InvalidOperationException("an output measures nothing");

    /// <inheritdoc/>
    public override double Get(int channel) => _percent[channel];

    /// <inheritdoc/>
    public override void Jam(int channel, bool jammed) => _jammed[channel] = jammed;

    /// <inheritdoc/>
    public PwmReply Set(PwmOutput output, long pulseNs)
    {
        if (Fault != BusFault.None) return new PwmReply(Fault == BusFault.Absent ? PwmProblem.NoChip : PwmProblem.Failed, 0);
        int channel = 0;
        while (_outputs[channel].Number != output.Number) channel++;
        if (!_jammed[channel]) _percent[channel] = 100.0 * pulseNs / output.PeriodNs;
        return new PwmReply(PwmProblem.None, (long)Math.Round(_percent[channel] * output.PeriodNs / 100));
    }

    /// <inheritdoc/>
    public void Dispose()
    {
    }

    /// <inheritdoc/>
    protected override void LosePower() => Array.Clear(_percent);
}

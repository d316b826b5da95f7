// The keys of a line that is an input or a relay: level and debounce, the same words for port expanders and for the board's own lines.
// It must never decide which way a line goes: that follows from the point wired to it.
using RoomSupervisor.Hardware.Devices;
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;
using static RoomSupervisor.Hardware.Devices.DeclareKeys;

namespace RoomSupervisor.Hardware.Expanders;

/// <summary>Declares and reads the keys of lines.</summary>
internal static class LineKeys
{
    public const string Lines = "lines", Active = "active", ActiveLow = "low", Debounce = "debounce";

    public static Parameter<SettingBag> ActiveKey { get; } = Choice(Active, "high", ["high", ActiveLow],
        "Level at which the relay is drawn or the contact counts as made. Most relay boards switch at low; a contact to ground with a pull-up is low when made.");

    public static Parameter<SettingBag> DebounceKey { get; }
        = Number(Debounce, Quantity.Duration, 0.05, 0, 5, "An input's new level counts when it has stood that long, seen at two looks in a row at least.");

    public static Parameter<SettingBag> IntervalKey { get; } = Number(Interval, Quantity.Duration, 0.05, 0.02, 10, "How often inputs are looked at.");

    /// <summary>What is wrong with points on listed lines, worded for the plan: every line is on or off, and carries one point.</summary>
    public static IEnumerable<PlanProblem> Check(DriverDeclaration declaration, DeviceSettings device, IReadOnlyList<OutputChannel> points)
    {
        var taken = new Dictionary<string, PointWiring>(StringComparer.Ordinal);
        foreach (var wiring in points.Select(point => point.Wiring))
        {
            if (!device.Channels.TryGetValue(wiring.Channel, out var line))
                yield return new PlanProblem(wiring.Mark, $"{wiring.PointId} is wired to channel {wiring.Channel}, which device {device.Name} does not have");
            else if (declaration.CheckChannel?.Invoke(line) is { } bad)
                yield return new PlanProblem(wiring.Mark, $"channel {wiring.Channel} of {device.Name}: {bad}");
            else if (wiring.Quantity != Quantity.Switch)
                yield return new PlanProblem(wiring.Mark, $"{wiring.PointId} is {QuantityText.Words(wiring.Quantity)}, but channel {wiring.Channel} of {device.Name} is on or off: wire it elsewhere");
            else if (!taken.TryAdd(declaration.ChannelPlace!(line), wiring))
                yield return new PlanProblem(wiring.Mark, $"{wiring.PointId} is on the same {declaration.ChannelPlace(line)} of {device.Name} as {taken[declaration.ChannelPlace(line)].PointId}: one point a line");
        }
    }

    public static bool IsActiveLow(SettingBag line) => line.Text(Active) == ActiveLow;
}

/// <summary>One line of a device.</summary>
/// <param name="Name">Its channel in the site file.</param>
/// <param name="Bit">Its place in the device's levels.</param>
/// <param name="ActiveLow">Low means drawn, or made.</param>
/// <param name="DebounceS">How long a new level of an input must stand, s.</param>
internal sealed record LineChannel(string Name, int Bit, bool ActiveLow, double DebounceS) : IOutputChannel
{
    public ulong Mask => 1UL << Bit;

    /// <summary>The level (1: high) for a command; a switch is on from 0.5.</summary>
    public ushort ToRaw(double command, PointWiring wiring) => (ushort)(ChannelValue.OrSafe(command, wiring) >= 0.5 != wiring.Inverted != ActiveLow ? 1 : 0);

    /// <summary>The point's value for a level.</summary>
    public double ToPoint(bool isHigh, PointWiring wiring) => isHigh != ActiveLow != wiring.Inverted ? 1 : 0;
}

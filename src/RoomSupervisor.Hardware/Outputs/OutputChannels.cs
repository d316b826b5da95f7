// From the wiring of outputs to their channels: each has a lease of its own, and where the output works by relays its channels carry
// switches. Stage and bus workers both ask here, so that they never disagree on which lease is whose.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Outputs;

/// <summary>One channel of an output.</summary>
/// <param name="Wiring">Its wiring as the device sees it: the quantity, inversion and safe value of the channel; index and id are the output's.</param>
/// <param name="Lease">Index of its lease, from 0 in the order of the wiring.</param>
public readonly record struct OutputChannel(PointWiring Wiring, int Lease);

/// <summary>The channels of all outputs of a house.</summary>
public static class OutputChannels
{
    /// <summary>How many leases a wiring needs: one a channel that carries an output.</summary>
    public static int CountOf(IReadOnlyList<PointWiring> wiring) => wiring.Count(one => one.IsOutput);

    /// <summary>The channels, in the order of the wiring.</summary>
    public static IReadOnlyList<OutputChannel> Of(IReadOnlyList<PointWiring> wiring)
        => [.. wiring.Where(one => one.IsOutput).Select((one, lease) => new OutputChannel(AsChannel(one), lease))];

    /// <summary>True for an output that is asked in percent and works by relays.</summary>
    internal static bool IsByRelays(PointWiring wiring)
        => wiring.Quantity == Quantity.Percent && wiring.Shape.Kind is OutputKind.OnOff or OutputKind.ThreePoint or OutputKind.SteppedFan;

    private static PointWiring AsChannel(PointWiring wiring) => !IsByRelays(wiring) ? wiring : wiring with
    {
        Quantity = Quantity.Switch,
        Inverted = wiring.Inverted != (wiring.Shape.Kind == OutputKind.OnOff && wiring.Shape.NormallyOpen),
        SafeValue = SafeOf(wiring),
    };

    /// <summary>A three-point actuator is driven shut. A relay that stays on means 100 %, nothing less; no step is above the safe speed.</summary>
    private static double SafeOf(PointWiring wiring) => wiring.Role switch
    {
        ChannelRole.Opens => 0,
        ChannelRole.Shuts => 1,
        ChannelRole.Step => wiring.Step == SpeedSteps.AtOrUnder(wiring.Shape.StepsPercent, wiring.SafeValue) ? 1 : 0,
        _ => wiring.SafeValue >= 100 ? 1 : 0,
    };
}

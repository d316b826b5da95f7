// Points on a device that has its channels without being told: which of them cannot be wired there.
// It must never look at the device itself: its declaration does that.
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Devices;

/// <summary>Checks wirings to the fixed channels of a declaration.</summary>
internal static class FixedChannels
{
    /// <summary>What is wrong with the points on a device that has channels without being told, worded for the plan.</summary>
    public static IEnumerable<PlanProblem> Check(DriverDeclaration declaration, DeviceSettings device, IReadOnlyList<OutputChannel> points)
    {
        var taken = new Dictionary<string, PointWiring>(StringComparer.Ordinal);
        foreach (var wiring in points.Select(point => point.Wiring))
        {
            if (Mismatch(declaration, device, wiring) is { } mismatch)
                yield return new PlanProblem(wiring.Mark, mismatch);
            else if (wiring.IsOutput && !taken.TryAdd(wiring.Channel, wiring))
                yield return new PlanProblem(wiring.Mark, $"{wiring.PointId} would write the same {wiring.Channel} as {taken[wiring.Channel].PointId}: one output a channel");
        }
    }

    private static string? Mismatch(DriverDeclaration declaration, DeviceSettings device, PointWiring wiring)
    {
        var channel = declaration.FixedChannels.FirstOrDefault(one => one.Id == wiring.Channel);
        if (channel is null)
            return $"{wiring.PointId} is wired to channel {wiring.Channel}, which device {device.Name} does not have";
        if (wiring.IsOutput != declaration.FixedChannelsAreOutputs)
            return $"{wiring.PointId} is an {(wiring.IsOutput ? "output" : "input")}, but channel {channel.Id} of {device.Name} can only be {(declaration.FixedChannelsAreOutputs ? "written" : "read")}";
        if (wiring.Inverted)
            return $"{wiring.PointId} is inverted, but only switches can be: leave inverted out";
        var fits = channel.Quantity == wiring.Quantity || wiring.IsOutput && wiring.Quantity == Quantity.Percent && channel.Quantity == Quantity.Voltage;
        return fits ? null : $"{wiring.PointId} is {QuantityText.Words(wiring.Quantity)}, but channel {channel.Id} is {QuantityText.Words(channel.Quantity)}";
    }
}

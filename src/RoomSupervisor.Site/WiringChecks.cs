// Every wired point against its device and channel: that both exist, that the channel carries what the point is, that an output can be
// written, that nobody else is on it. Needs no house: so these mistakes are told together with all others.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal sealed class WiringChecks(Problems problems, DeviceReader devices, IReadOnlyList<DriverDeclaration> drivers)
{
    private readonly Dictionary<(string Device, string Channel), PointSpec> taken = [];

    /// <summary>Tells what does not fit, and devices and channels that no point uses.</summary>
    public void Check(IEnumerable<PointSpec> specs)
    {
        foreach (var spec in specs)
        {
            if (devices.Devices.Find(candidate => candidate.Name == spec.Device) is { } device)
            {
                if (Fits(spec, device) && !taken.TryAdd((spec.Device, spec.Channel), spec))
                {
                    problems.Error(spec.Group.MarkOf("channel"), spec.Path, spec.Channel, $"{taken[(spec.Device, spec.Channel)].Id} is on the same channel of {spec.Device}",
                        "one point a channel", "");
                }
            }
            else if (!devices.Names.Contains(spec.Device))
            {
                problems.Error(spec.Group.MarkOf("device"), spec.Path + ".device", spec.Device, "there is no such device", string.Join(", ", devices.Names),
                    Nearest.Hint(spec.Device, devices.Names));
            }
        }
        // A channel may seem unused only because the point on it was refused.
        foreach (var device in problems.Errors == 0 ? devices.Devices : [])
            WarnUnused(device);
    }

    /// <summary>The wires, once everything was sound.</summary>
    public static IReadOnlyList<PointWiring> Wire(House house, IEnumerable<PointSpec> specs) =>
    [
        .. specs.Select(spec =>
        {
            var index = spec.Name.IsOutput ? house.OutputTable.IndexOf(spec.Id) : house.InputTable.IndexOf(spec.Id);
            return new PointWiring(
                spec.Id, spec.Name.IsOutput, index, spec.Name.Quantity, spec.Device, spec.Channel, spec.Inverted,
                LineOf(house, spec.Name.IsOutput ? index : -1), 0, spec.Mark);
        }),
    ];

    private bool Fits(PointSpec spec, DeviceSettings device)
    {
        var driver = drivers.First(candidate => candidate.Name == device.Driver);
        var path = spec.Path + ".channel";
        var mark = spec.Group.MarkOf("channel");
        if (!device.Channels.TryGetValue(spec.Channel, out var channel))
        {
            var builtIn = driver.FixedChannels.FirstOrDefault(candidate => candidate.Id == spec.Channel);
            string[] known = [.. device.Channels.Keys, .. driver.FixedChannels.Select(candidate => candidate.Id)];
            if (builtIn is not null)
                return Carries(spec, builtIn.Quantity, canWrite: false, path, mark);
            if (!devices.ChannelMarks.ContainsKey((device.Name, spec.Channel)))
                problems.Error(mark, path, spec.Channel, $"{device.Name} has no such channel", string.Join(", ", known), Nearest.Hint(spec.Channel, known));
            return false;
        }
        return Carries(spec, driver.ChannelQuantity?.Invoke(channel) ?? spec.Name.Quantity, driver.ChannelCanWrite?.Invoke(channel) ?? false, path, mark);
    }

    private bool Carries(PointSpec spec, Quantity carried, bool canWrite, string path, Mark mark)
    {
        var wanted = spec.Name.Quantity;
        if (spec.Name.IsOutput && !canWrite)
        {
            problems.Error(mark, path, spec.Channel, "an output hangs on a channel that can only be read", "a channel that can be written, such as a coil or holding-register", "");
            return false;
        }
        var fits = carried == wanted || (wanted == Quantity.Switch && carried == Quantity.Number)
            || (spec.Name.IsOutput && wanted == Quantity.Percent && carried is Quantity.Voltage or Quantity.Switch);
        if (!fits)
        {
            problems.Error(mark, path, spec.Channel, $"carries {QuantityText.Words(carried)}, the point is {QuantityText.Words(wanted)}",
                "", "give the channel the right table or scale, such as 0.1 °C, 0.1 % or 1 mV");
        }
        return fits;
    }

    private void WarnUnused(DeviceSettings device)
    {
        if (!taken.Keys.Any(key => key.Device == device.Name))
        {
            problems.Warn(device.Mark, $"devices.{device.Name}", "", "no point is on this device", "wire it or remove it");
            return;
        }
        foreach (var channel in device.Channels.Keys.Where(channel => !taken.ContainsKey((device.Name, channel))))
            problems.Warn(devices.ChannelMarks[(device.Name, channel)], $"devices.{device.Name}", channel, "no point is on this channel", "wire it or remove it");
    }

    /// <summary>A fan has its kind's line; valves and mixing are 0 to 10 V.</summary>
    private static VoltageLine LineOf(House house, int output)
    {
        foreach (var coil in house.Coils)
        {
            if (output >= 0 && coil.Fan == output)
                return coil.Kind.Line;
        }
        return VoltageLine.ZeroToTen;
    }
}

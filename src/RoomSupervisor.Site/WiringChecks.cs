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
                foreach (var wire in spec.Wires)
                    Check(spec, wire, device);
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

    private void Check(PointSpec spec, PointWire wire, DeviceSettings device)
    {
        if (Fits(spec, wire, device) && !taken.TryAdd((spec.Device, wire.Channel), spec))
            problems.Error(wire.Mark, $"{spec.Path}.{wire.Key}", wire.Channel, $"{taken[(spec.Device, wire.Channel)].Id} is on the same channel of {spec.Device}", "one point a channel", "");
    }

    /// <summary>The wires, once everything was sound.</summary>
    public static IReadOnlyList<PointWiring> Wire(House house, IEnumerable<PointSpec> specs) =>
    [
        .. specs.SelectMany(spec => spec.Wires.Select(wire =>
        {
            var index = spec.Name.IsOutput ? house.OutputTable.IndexOf(spec.Id) : house.InputTable.IndexOf(spec.Id);
            var shape = spec.Name.Shape ?? OutputShape.Plain;
            return new PointWiring(spec.Id, spec.Name.IsOutput, index, spec.Name.Quantity, spec.Device, wire.Channel, spec.Inverted, shape.Line, 0, spec.Mark)
            {
                Shape = shape,
                Role = wire.Role,
                Step = wire.Step,
            };
        })),
    ];

    private bool Fits(PointSpec spec, PointWire wire, DeviceSettings device)
    {
        var driver = drivers.First(candidate => candidate.Name == device.Driver);
        if (!device.Channels.TryGetValue(wire.Channel, out var channel))
        {
            var builtIn = driver.FixedChannels.FirstOrDefault(candidate => candidate.Id == wire.Channel);
            string[] known = [.. device.Channels.Keys, .. driver.FixedChannels.Select(candidate => candidate.Id)];
            if (builtIn is not null)
                return (spec.Name.IsOutput || CanBeRead(spec, wire, driver)) && Carries(spec, wire, builtIn.Quantity, driver.FixedChannelsAreOutputs);
            if (!devices.ChannelMarks.ContainsKey((device.Name, wire.Channel)))
                problems.Error(wire.Mark, $"{spec.Path}.{wire.Key}", wire.Channel, $"{device.Name} has no such channel", string.Join(", ", known), Nearest.Hint(wire.Channel, known));
            return false;
        }
        return Carries(spec, wire, driver.ChannelQuantity?.Invoke(channel) ?? spec.Name.Quantity, driver.ChannelCanWrite?.Invoke(channel) ?? false);
    }

    private bool CanBeRead(PointSpec spec, PointWire wire, DriverDeclaration driver)
    {
        if (driver.FixedChannelsAreOutputs)
            problems.Error(wire.Mark, $"{spec.Path}.{wire.Key}", wire.Channel, "an input hangs on a channel that can only be written", "a channel that can be read", "");
        return !driver.FixedChannelsAreOutputs;
    }

    private bool Carries(PointSpec spec, PointWire wire, Quantity carried, bool canWrite)
    {
        var path = $"{spec.Path}.{wire.Key}";
        if (spec.Name.IsOutput && !canWrite)
        {
            problems.Error(wire.Mark, path, wire.Channel, "an output hangs on a channel that can only be read", "a channel that can be written, such as a coil or holding-register", "");
            return false;
        }
        if (spec.Name.Shape is null)
            return true;   // nobody knows what it should carry
        if (spec.Name.IsOutput && spec.Name.Quantity == Quantity.Percent)
            return CarriesPercent(spec.Name.Shape.Kind, wire, carried, path);
        var wanted = spec.Name.Quantity;
        var fits = carried == wanted || (wanted == Quantity.Switch && carried == Quantity.Number);
        if (!fits)
        {
            problems.Error(wire.Mark, path, wire.Channel, $"carries {QuantityText.Words(carried)}, the point is {QuantityText.Words(wanted)}",
                "", "give the channel the right table or scale, such as 0.1 °C, 0.1 % or 1 mV");
        }
        return fits;
    }

    /// <summary>A percentage goes out as volts or percent, or through relays where its actuator is one for relays.</summary>
    private bool CarriesPercent(OutputKind kind, PointWire wire, Quantity carried, string path)
    {
        var relays = kind is OutputKind.OnOff or OutputKind.ThreePoint or OutputKind.SteppedFan;
        if (relays ? carried == Quantity.Switch : carried is Quantity.Voltage or Quantity.Percent)
            return true;
        if (relays)
            problems.Error(wire.Mark, path, wire.Channel, $"carries {QuantityText.Words(carried)}, its actuator works by relays", "a channel that is on or off, such as a coil", "");
        else
            problems.Error(wire.Mark, path, wire.Channel, $"carries {QuantityText.Words(carried)}, its actuator follows a voltage or a percentage", "a register with scale 1 mV or 0.1 %", "or name an actuator of type on-off or three-point where a relay drives it");
        return false;
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
}

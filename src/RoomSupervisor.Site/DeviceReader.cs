// The devices: section, bound by what each driver declares of itself; and the check of every wired point against its channel.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal sealed class DeviceReader(Problems problems, ParameterBinder binder, IReadOnlyList<DriverDeclaration> drivers)
{
    private readonly Dictionary<string, Mark> channelMarks = new(StringComparer.Ordinal);
    private readonly HashSet<string> names = new(StringComparer.Ordinal);

    public List<DeviceSettings> Devices { get; } = [];

    public void Read(MapNode? section)
    {
        foreach (var entry in section?.Entries ?? [])
        {
            var path = $"devices.{entry.Key}";
            names.Add(entry.Key);
            if (NameRules.Fault(entry.Key) is { } fault)
                problems.Error(entry.KeyMark, path, entry.Key, fault);
            else if (entry.Value is MapNode group)
                ReadOne(entry, group, path);
            else if (entry.Value is not BrokenNode)
                problems.Error(entry.Value.Mark, path, "", "one value or nothing stands where a group is wanted", "{driver: …}", "");
        }
    }

    /// <summary>Wires of all points that are sound; what does not fit is told.</summary>
    public IReadOnlyList<PointWiring> Wire(House house, IEnumerable<PointSpec> specs)
    {
        var wires = new List<PointWiring>();
        var taken = new Dictionary<string, PointSpec>(StringComparer.Ordinal);
        foreach (var spec in specs)
        {
            var output = house.OutputTable.IndexOf(spec.Id);
            var input = house.InputTable.IndexOf(spec.Id);
            var point = output >= 0 ? house.OutputTable[output] : house.InputTable[input];
            if (!Fits(spec, point, output >= 0))
                continue;
            var key = $"{spec.Device} {spec.Channel}";
            if (!taken.TryAdd(key, spec))
                problems.Error(spec.Mark, spec.Path, spec.Channel, $"{taken[key].Id} is on the same channel of {spec.Device}", "one point a channel", "");
            wires.Add(new PointWiring(
                spec.Id, output >= 0, Math.Max(output, input), point.Quantity, spec.Device, spec.Channel, spec.Inverted, LineOf(house, output), 0, spec.Mark));
        }
        WarnUnused(taken);
        return wires;
    }

    private void ReadOne(Entry entry, MapNode group, string path)
    {
        var word = new TypeWord("driver", "what kind of device it is", [.. drivers.Select(driver => driver.Name)]);
        if (!binder.Bind(LoopReader.Only(group, "driver"), path, word, word.Parameters))
            return;
        var driver = drivers.First(candidate => candidate.Name == word.Word);
        var settings = new SettingBag();
        string[] groups = driver.ChannelsKey is null ? ["driver"] : ["driver", driver.ChannelsKey];
        var sound = binder.Bind(group, path, settings, driver.Parameters, groups);
        var channels = new Dictionary<string, SettingBag>(StringComparer.Ordinal);
        if (driver.ChannelsKey is { } key)
            sound &= ReadChannels(group, entry, driver, path, key, channels);
        if (sound)
            Devices.Add(new DeviceSettings(entry.Key, driver.Name, settings, channels, entry.KeyMark));
    }

    private bool ReadChannels(MapNode group, Entry device, DriverDeclaration driver, string path, string key, Dictionary<string, SettingBag> channels)
    {
        var before = problems.Errors;
        var entry = group.Entries.FirstOrDefault(candidate => candidate.Key == key);
        if (entry?.Value is not MapNode list)
        {
            if (entry?.Value is not BrokenNode)
                problems.Error(entry?.Value.Mark ?? group.Mark, ParameterBinder.Join(path, key), "", "has no channels under it", "a group a channel", "");
            return false;
        }
        foreach (var channel in list.Entries)
        {
            var channelPath = $"{path}.{key}.{channel.Key}";
            if (NameRules.Fault(channel.Key) is { } fault)
                problems.Error(channel.KeyMark, channelPath, channel.Key, fault);
            else if (channel.Value is MapNode settings)
                ReadChannel(channel, settings, device.Key, driver, channelPath, channels);
            else if (channel.Value is not BrokenNode)
                problems.Error(channel.Value.Mark, channelPath, "", "one value or nothing stands where a group is wanted", string.Join(", ", driver.ChannelParameters.Select(p => p.Key)), "");
        }
        return problems.Errors == before;
    }

    private void ReadChannel(Entry channel, MapNode settings, string device, DriverDeclaration driver, string path, Dictionary<string, SettingBag> channels)
    {
        var bag = new SettingBag();
        channelMarks[$"{device} {channel.Key}"] = channel.KeyMark;
        if (!binder.Bind(settings, path, bag, driver.ChannelParameters))
            return;
        if (driver.CheckChannel?.Invoke(bag) is { } wrong)
            problems.Error(channel.KeyMark, path, "", wrong);
        else
            channels[channel.Key] = bag;
    }

    private bool Fits(PointSpec spec, Point point, bool isOutput)
    {
        var device = Devices.Find(candidate => candidate.Name == spec.Device);
        if (device is null)
        {
            if (!names.Contains(spec.Device))
                problems.Error(spec.Mark, spec.Path + ".device", spec.Device, "there is no such device", string.Join(", ", names), Nearest.Hint(spec.Device, names));
            return false;
        }
        var driver = drivers.First(candidate => candidate.Name == device.Driver);
        if (!device.Channels.TryGetValue(spec.Channel, out var channel))
        {
            if (!channelMarks.ContainsKey($"{spec.Device} {spec.Channel}"))
                problems.Error(spec.Mark, spec.Path + ".channel", spec.Channel, $"{spec.Device} has no such channel", string.Join(", ", device.Channels.Keys), Nearest.Hint(spec.Channel, device.Channels.Keys));
            return false;
        }
        if (isOutput && driver.ChannelCanWrite?.Invoke(channel) == false)
        {
            problems.Error(spec.Mark, spec.Path + ".channel", spec.Channel, "an output hangs on a channel that can only be read", "coil or holding-register", "");
            return false;
        }
        var carried = driver.ChannelQuantity?.Invoke(channel) ?? point.Quantity;
        var fits = carried == point.Quantity || (point.IsSwitch && carried == Quantity.Number)
            || (isOutput && point.Quantity == Quantity.Percent && carried is Quantity.Voltage or Quantity.Switch);
        if (!fits)
        {
            problems.Error(
                spec.Mark, spec.Path + ".channel", spec.Channel, $"carries {QuantityText.Words(carried)}, the point is {QuantityText.Words(point.Quantity)}",
                "", "give the channel the right table or scale, such as 0.1 °C, 0.1 % or 1 mV");
        }
        return fits;
    }

    private static VoltageLine LineOf(House house, int output)
    {
        foreach (var coil in house.Coils)
        {
            if (coil.Fan == output)
                return coil.Kind.Line;
        }
        return VoltageLine.ZeroToTen;
    }

    private void WarnUnused(Dictionary<string, PointSpec> taken)
    {
        foreach (var device in Devices)
        {
            foreach (var channel in device.Channels.Keys.Where(channel => !taken.ContainsKey($"{device.Name} {channel}")))
                problems.Warn(channelMarks[$"{device.Name} {channel}"], $"devices.{device.Name}", channel, "no point is on this channel", "wire it or remove it");
            if (device.Channels.Count == 0)
                problems.Warn(device.Mark, $"devices.{device.Name}", "", "no point is on this device", "wire it or remove it");
        }
    }
}

// The devices: section, bound by what each driver declares of itself. It never opens a device.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal sealed class DeviceReader(Problems problems, ParameterBinder binder, IReadOnlyList<DriverDeclaration> drivers)
{
    /// <summary>Names as written, whether sound or not.</summary>
    public HashSet<string> Names { get; } = new(StringComparer.Ordinal);

    /// <summary>Where each listed channel stands, whether sound or not.</summary>
    public Dictionary<(string Device, string Channel), Mark> ChannelMarks { get; } = [];

    /// <summary>The sound ones.</summary>
    public List<DeviceSettings> Devices { get; } = [];

    /// <summary>The word that names a device's driver.</summary>
    public static TypeWord Word(IReadOnlyList<DriverDeclaration> drivers) => new("driver", "what kind of device it is", [.. drivers.Select(driver => driver.Name)]);

    /// <param name="section">The devices: section, or null.</param>
    /// <param name="others">Names that rooms and loops have.</param>
    public void Read(MapNode? section, IReadOnlyCollection<string> others)
    {
        foreach (var entry in section?.Entries ?? [])
        {
            var path = $"devices.{entry.Key}";
            Names.Add(entry.Key);
            if (NameRules.Fault(entry.Key) is { } fault)
                problems.Error(entry.KeyMark, path, entry.Key, fault);
            else if (others.Contains(entry.Key))
                problems.Error(entry.KeyMark, path, entry.Key, "a room or a loop has the same name", "names of rooms, loops and devices are unique together", "rename one");
            else if (entry.Value is MapNode group)
                ReadOne(entry, group, path);
            else if (entry.Value is not BrokenNode)
                problems.Error(entry.Value.Mark, path, "", "one value or nothing stands where a group is wanted", "{driver: …}", "");
        }
    }

    private void ReadOne(Entry entry, MapNode group, string path)
    {
        var word = Word(drivers);
        if (!binder.Bind(LoopReader.Only(group, "driver"), path, word, word.Parameters))
            return;
        var driver = drivers.First(candidate => candidate.Name == word.Word);
        var settings = new SettingBag();
        var mounting = new DeviceMounting();
        string[] common = [.. DeviceMounting.Parameters.Select(parameter => parameter.Key)];
        string[] groups = driver.ChannelsKey is null ? ["driver", .. common] : ["driver", driver.ChannelsKey, .. common];
        var sound = binder.Bind(group, path, settings, driver.Parameters, groups)
            & binder.Bind(group.Where(e => common.Contains(e.Key)), path, mounting, DeviceMounting.Parameters);
        if (sound && driver.CheckDevice?.Invoke(settings) is { } wrong)
        {
            problems.Error(entry.KeyMark, path, "", wrong);
            sound = false;
        }
        if (sound && TwinOf(driver, settings) is { } twin)
        {
            problems.Error(entry.KeyMark, path, driver.DevicePlace!(settings), $"is also the place of device {twin.Name} (line {twin.Mark.Line})", "one device an address", "give each its own address");
            sound = false;
        }
        sound = sound && Agrees(driver, settings, group, entry, path);
        if (sound && driver.Clash is { } clash && Devices.Select(other => clash(settings, other.Name, other.Settings)).FirstOrDefault(why => why is not null) is { } reason)
        {
            problems.Error(entry.KeyMark, path, "", reason);
            sound = false;
        }
        var channels = new Dictionary<string, SettingBag>(StringComparer.Ordinal);
        if (driver.ChannelsKey is { } key)
            sound &= ReadChannels(group, entry, driver, path, key, channels);
        if (sound)
            Devices.Add(new DeviceSettings(entry.Key, driver.Name, settings, channels, entry.KeyMark) { Mounting = mounting });
    }

    /// <summary>What devices on one line must all say the same of it.</summary>
    private bool Agrees(DriverDeclaration driver, SettingBag settings, MapNode group, Entry entry, string path)
    {
        var place = driver.SharedPlace?.Invoke(settings);
        var first = place is null ? null : Devices.Find(other => other.Driver == driver.Name && driver.SharedPlace!(other.Settings) == place);
        if (first is null)
            return true;
        var before = problems.Errors;
        foreach (var key in driver.SharedKeys.Where(key => first.Settings.Text(key) != settings.Text(key)))
        {
            var mark = group.Entries.FirstOrDefault(candidate => candidate.Key == key)?.KeyMark ?? entry.KeyMark;
            problems.Error(
                mark, $"{path}.{key}", settings.Text(key), $"is {first.Settings.Text(key)} at device {first.Name} (line {first.Mark.Line}) on the same line {place}",
                "one line, one setting", "set all devices on the line alike, and write it alike");
        }
        return problems.Errors == before;
    }

    private DeviceSettings? TwinOf(DriverDeclaration driver, SettingBag settings)
    {
        var place = driver.DevicePlace?.Invoke(settings);
        return place is null ? null : Devices.Find(other => drivers.First(candidate => candidate.Name == other.Driver).DevicePlace?.Invoke(other.Settings) == place);
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
        ChannelMarks[(device, channel.Key)] = channel.KeyMark;
        if (!binder.Bind(settings, path, bag, driver.ChannelParameters))
            return;
        if (driver.CheckChannel?.Invoke(bag) is { } wrong)
        {
            problems.Error(channel.KeyMark, path, "", wrong);
            return;
        }
        // Two outputs on one register would overwrite each other; two inputs there are one of them misread.
        var twin = driver.ChannelPlace is { } place
            ? channels.FirstOrDefault(other => driver.ChannelsOverlap?.Invoke(other.Value, bag) ?? place(other.Value) == place(bag)).Key : null;
        if (twin is not null)
            problems.Error(channel.KeyMark, path, driver.ChannelPlace!(bag), $"is also the place of channel {twin}, {driver.ChannelPlace(channels[twin])} (line {ChannelMarks[(device, twin)].Line})", "one channel a place", "look it up in the device's register list");
        else
            channels[channel.Key] = bag;
    }
}

// The one-room example as the house of the story and of the recorded rooms.
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime.Lockstep;
using RoomSupervisor.Site;

namespace RoomSupervisor.Story;

/// <summary>Opens sessions on config/one-room.</summary>
public static class OneRoom
{
    /// <summary>
    /// The example, with ceiling water as cold as 8 °C allowed: the recorded rooms are drier than a summer by the sea, and with 15 °C the guard would
    /// hardly ever have to hold the water back.
    /// </summary>
    /// <param name="root">The repository's folder.</param>
    /// <exception cref="InvalidOperationException">The example is broken; the message says where.</exception>
    public static SiteFiles Files(string root)
    {
        var folder = Path.Combine(root, "config", "one-room");
        var site = File.ReadAllText(Path.Combine(folder, SiteReader.SiteFile)).Replace("    stroke: 90 s", "    coldest: 8 °C\n    stroke: 90 s", StringComparison.Ordinal);
        var result = SiteReader.Read(site, File.ReadAllText(Path.Combine(folder, SiteReader.HouseholdFile)), Drivers.All);
        return result.Files ?? throw new InvalidOperationException(string.Join('\n', result.Problems));
    }

    public static LockstepSession Session(SiteFiles files) => new(files.House, files.Site.TimeZone);
}

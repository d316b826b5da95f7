// The example sites as they lie in config/, read from disk as a user's copy would be. Never changes what they say.
using RoomSupervisor.Hardware;
using RoomSupervisor.House.Tests.Repository;
using RoomSupervisor.Site;

namespace RoomSupervisor.House.Tests.Examples;

internal static class Example
{
    /// <summary>Every folder under config/.</summary>
    public static IEnumerable<string> Names => Directory.GetDirectories(Root.At("config")).Select(folder => Path.GetFileName(folder)).Order(StringComparer.Ordinal);

    public static SiteResult Read(string name) => SiteReader.Read(Root.At("config", name), Drivers.All);

    /// <exception cref="InvalidOperationException">The example has errors; the message holds them.</exception>
    public static SiteFiles Files(string name)
    {
        var result = Read(name);
        return result.Files ?? throw new InvalidOperationException(string.Join('\n', result.Problems));
    }
}

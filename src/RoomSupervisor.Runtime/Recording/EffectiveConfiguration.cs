// What a site is set to, as lines for the head of a log file: whoever gets only the file must see what the house was told. Decides nothing.
using RoomSupervisor.Site;

namespace RoomSupervisor.Runtime.Recording;

/// <summary>Lines of the effective configuration.</summary>
public static class EffectiveConfiguration
{
    /// <summary>Version, site, and every value that somebody wrote.</summary>
    public static IReadOnlyList<string> Lines(SiteFiles files)
    {
        var written = files.Effective.Where(value => !value.IsDefault).ToList();
        return
        [
            $"room-supervisor {SiteRun.Version}: {files.Site.Name}, time zone {files.Site.TimeZone.Id}; times in this file are universal time, then seconds since the start",
            "what was set when this run began; what was changed since then has lines of its own (reload-accepted)",
            .. written.Select(value => $"{value.Path} = {value.Shown}"),
            $"and {files.Effective.Count - written.Count} values by default (room-supervisor check --all lists them)",
        ];
    }
}

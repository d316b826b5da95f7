// Looks up the site's time zone in the tz database of the machine. Never falls back to another zone in silence: schedules would be
// hours off.
using System.Security;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal static class TimeZones
{
    private const string Table = "/usr/share/zoneinfo";

    /// <summary>Sets the zone of a site, or tells what is wrong.</summary>
    public static void Look(SiteSettings site, Mark mark, Problems problems)
    {
        try
        {
            site.TimeZone = TimeZoneInfo.FindSystemTimeZoneById(site.TimeZoneName);
        }
        catch (Exception e) when (e is TimeZoneNotFoundException or InvalidTimeZoneException or SecurityException or UnauthorizedAccessException or IOException or ArgumentException)
        {
            var hasTable = Directory.Exists(Table);
            problems.Error(
                mark, "site.time_zone", site.TimeZoneName, hasTable ? "is no time zone of the tz database" : "cannot be looked up: this system has no tz database",
                "such as America/New_York, Europe/Brussels or UTC", hasTable ? Hint(site.TimeZoneName) : "install the package tzdata");
        }
    }

    /// <summary>What is wrong with a zone's name, or null.</summary>
    public static string? Fault(string name)
    {
        var problems = new Problems();
        var site = new SiteSettings();
        SiteSettings.Parameters.First(parameter => parameter.Key == "time_zone").SetText!(site, name);
        Look(site, new Mark("", 1, 1), problems);
        return problems.Errors == 0 ? null : problems.Ordered() is [var problem] ? $"\"{name}\" {problem.Message}; {problem.WhatToDo}" : "";
    }

    /// <summary>A town without its continent, or a slip of typing. Reads the whole table: for a refused name only.</summary>
    private static string Hint(string name)
    {
        var names = TimeZoneInfo.GetSystemTimeZones().Select(zone => zone.Id).ToList();
        var town = "/" + name.Trim().Replace(' ', '_');
        var found = names.Find(candidate => candidate.EndsWith(town, StringComparison.OrdinalIgnoreCase));
        return found is null ? Nearest.Hint(name, names) : $"did you mean {found}?";
    }
}

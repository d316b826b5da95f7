// The site: section of site.yaml and the source's own keys. Filled by the reader; never changed afterwards.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>What the site as a whole says of itself.</summary>
public sealed class SiteSettings
{
    public string Name { get; private set; } = "";

    /// <summary>Altitude, m.</summary>
    public double AltitudeM { get; private set; }

    /// <summary>Name of the time zone, as in the tz database.</summary>
    public string TimeZoneName { get; private set; } = "";

    /// <summary>The time zone itself.</summary>
    public TimeZoneInfo TimeZone { get; internal set; } = TimeZoneInfo.Utc;

    /// <summary>How values are shown to people.</summary>
    public UnitSystem Units { get; private set; }

    /// <summary>Which units people read.</summary>
    public static Parameter<SiteSettings> UnitsParameter { get; } = new()
    {
        Key = "units",
        Quantity = Quantity.Text,
        DefaultText = "metric",
        Choices = ["metric", "us"],
        Help = "how values are shown to people, everywhere",
        SetText = (s, v) => s.Units = UnitsOf(v),
        GetText = s => s.Units == UnitSystem.Us ? "us" : "metric",
    };

    /// <summary>The system a word means; metric for anything else.</summary>
    public static UnitSystem UnitsOf(string word) => word == "us" ? UnitSystem.Us : UnitSystem.Metric;

    public static IReadOnlyList<Parameter<SiteSettings>> Parameters { get; } =
    [
        new()
        {
            Key = "name", Quantity = Quantity.Text, Required = true, Help = "name of the site, for logs and reports", Example = "Ferry House",
            SetText = (s, v) => s.Name = v, GetText = s => s.Name,
        },
        new()
        {
            Key = "altitude", Quantity = Quantity.Length, Default = 0, Lowest = -430, Highest = 4000, Help = "altitude above the sea, for air pressure",
            SetNumber = (s, v) => s.AltitudeM = v, GetNumber = s => s.AltitudeM,
        },
        new()
        {
            Key = "time_zone", Quantity = Quantity.Text, Required = true, NeedsRestart = true, Example = "America/New_York",
            Help = "time zone as in the tz database, such as America/New_York; schedules follow it",
            SetText = (s, v) => s.TimeZoneName = v, GetText = s => s.TimeZoneName,
        },
        UnitsParameter,
    ];
}

/// <summary>A setting that is a word of a few: the type of a kind, a loop, a source.</summary>
internal sealed class TypeWord(string key, string help, params string[] choices)
{
    public string Word { get; private set; } = "";

    public IReadOnlyList<Parameter<TypeWord>> Parameters { get; } =
    [
        new() { Key = key, Quantity = Quantity.Text, Required = true, Choices = choices, Help = help, SetText = (t, v) => t.Word = v, GetText = t => t.Word },
    ];
}

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

    /// <summary>Running time of a fan after which its filter is due, s; 0: never.</summary>
    public double FilterAfterS { get; private set; }

    /// <summary>Wet time of a coil after which it is to be cleaned, s; 0: never.</summary>
    public double CoilCleaningAfterS { get; private set; }

    /// <summary>A command that is run at alarms; "": none.</summary>
    public string Notify { get; private set; } = "";

    /// <summary>Where a stick for a second copy is mounted; "": none.</summary>
    public string SecondCopy { get; private set; } = "";

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
        new()
        {
            Key = "filter_after", Quantity = Quantity.Duration, Default = 1000 * 3600, Lowest = 0, Highest = 20000 * 3600.0, NeedsRestart = true, Audience = Audience.Service,
            Help = "running time of a coil's fan after which it is told that its filter is due; 0: never",
            More = "The counter begins anew when somebody says that it was done: room-supervisor care done filter ROOM. Three months at half of the time: common practice, no published source.",
            SetNumber = (s, v) => s.FilterAfterS = v, GetNumber = s => s.FilterAfterS,
        },
        new()
        {
            Key = "coil_cleaning_after", Quantity = Quantity.Duration, Default = 2000 * 3600, Lowest = 0, Highest = 20000 * 3600.0, NeedsRestart = true, Audience = Audience.Service,
            Help = "time a coil is wet after which it is told that coil, tray and drain want cleaning; 0: never",
            More = "It is told earlier when a cooling season in which the coil was wet for three days or more has been over for four months: before the next one. Once a season: common practice, no published source.",
            SetNumber = (s, v) => s.CoilCleaningAfterS = v, GetNumber = s => s.CoilCleaningAfterS,
        },
        new()
        {
            Key = "notify", Quantity = Quantity.Text, DefaultText = "", NeedsRestart = true, Audience = Audience.Service, Example = "/etc/room-supervisor/notify",
            Help = "a program or script that is run at alarms and urgent events, at most once a minute; none unless written",
            More = "The worst priority is its argument, a line an event its standard input. It runs as the service's own user, which reaches only the house's own network: let it hand the words to something in the house that sends them on. `run --notify` comes before it.",
            SetText = (s, v) => s.Notify = v, GetText = s => s.Notify,
        },
        new()
        {
            Key = "second_copy", Quantity = Quantity.Text, DefaultText = "", NeedsRestart = true, Audience = Audience.Service, Example = "/media/room-supervisor",
            Help = "a folder a stick is mounted at: once a day a second copy of site files, settings, memory and counters is written there; none unless written",
            More = "Only while something is mounted there. `restore FILE` puts a copy onto a spare board. The packaged service may write below /media/room-supervisor.",
            SetText = (s, v) => s.SecondCopy = v, GetText = s => s.SecondCopy,
        },
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

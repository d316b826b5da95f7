// What happens in a rehearsal: weather, dates, what the household does, what breaks and when.
// Must never hold what a controller should do: only what it meets.
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

/// <summary>A whole scenario.</summary>
public sealed class Scenario
{
    /// <summary>Name of a shipped weather (<c>chicago</c>, <c>new-york</c>) or path of an EPW file or a design day beside the scenario.</summary>
    public string Weather { get; private set; } = "";

    /// <summary>First day, minutes of wall time since 1970.</summary>
    public double FromMinutes { get; private set; } = double.NaN;

    /// <summary>Length, days.</summary>
    public int Days { get; private set; } = 1;

    /// <summary>Seed of all chance.</summary>
    public ulong Seed { get; private set; } = 1;

    /// <summary>What the household does, in the order written.</summary>
    public IReadOnlyList<Happening> Happenings { get; internal set; } = [];

    /// <summary>What breaks, in the order written.</summary>
    public IReadOnlyList<Breakage> Breakages { get; internal set; } = [];

    /// <summary>Keys of the file's top.</summary>
    public static IReadOnlyList<Parameter<Scenario>> Parameters { get; } =
    [
        Declare.Name<Scenario>("weather", "chicago, new-york, an EPW file or a design day (.yaml) beside the scenario", s => s.Weather, (s, v) => s.Weather = v, example: "new-york"),
        new()
        {
            Key = "from", Quantity = Quantity.Date, Lowest = DateText.Earliest, Highest = DateText.Latest, Required = true, Example = "2026-07-12",
            Help = "first day, wall time of the site", GetNumber = s => s.FromMinutes, SetNumber = (s, v) => s.FromMinutes = v,
        },
        Declare.Number<Scenario>("days", Quantity.Number, 1, 1, 366, "how many days", s => s.Days, (s, v) => s.Days = (int)v, whole: true),
        Declare.Number<Scenario>("seed", Quantity.Number, 1, 0, 1e9, "seed of all chance", s => s.Seed, (s, v) => s.Seed = (ulong)v, whole: true),
    ];
}

/// <summary>A stretch of time on one day or on every day; it may run over midnight.</summary>
public abstract class Stretch
{
    /// <summary>Name in the file.</summary>
    public string Name { get; internal set; } = "";

    /// <summary>Where it happens.</summary>
    public string Where { get; protected set; } = "";

    /// <summary>Day of the scenario, 1 for the first; 0: every day.</summary>
    public int Day { get; protected set; }

    /// <summary>Beginning, minutes after midnight.</summary>
    public double FromMinute { get; protected set; } = double.NaN;

    /// <summary>Length, s.</summary>
    public double ForS { get; protected set; } = double.NaN;

    /// <summary>True while it lasts.</summary>
    /// <param name="secondsSinceMidnight">Seconds of wall time since the scenario's first midnight.</param>
    public bool IsOn(double secondsSinceMidnight)
    {
        double start = FromMinute * 60;
        if (Day > 0) return Within(secondsSinceMidnight, start + (Day - 1) * 86_400.0);
        double day = Math.Floor(secondsSinceMidnight / 86_400);
        return Within(secondsSinceMidnight, start + day * 86_400) || (day > 0 && Within(secondsSinceMidnight, start + (day - 1) * 86_400));
    }

    private bool Within(double now, double start) => now >= start && now < start + ForS;
}

/// <summary>What the household does.</summary>
public sealed class Happening : Stretch
{
    /// <summary>All words of <see cref="What"/>.</summary>
    public static IReadOnlyList<string> Words { get; } = ["open", "people", "shower", "cooking", "devices", "taps"];

    /// <summary>open (a door or opening), people, shower, cooking, devices (rooms), taps (hot water).</summary>
    public string What { get; private set; } = "";

    /// <summary>How many people, how wide open (%), how many W, how many l/min.</summary>
    public double Count { get; private set; }

    /// <summary>Activity of people, met.</summary>
    public double Activity { get; private set; }

    /// <summary>Keys of one happening.</summary>
    public static IReadOnlyList<Parameter<Happening>> Parameters { get; } =
    [
        Declare.Choice<Happening>("what", null, Words, "what happens", h => h.What, (h, v) => h.What = v),
        Declare.Name<Happening>("where", "a door, an opening or a room; hot-water for taps", h => h.Where, (h, v) => h.Where = v),
        Declare.Number<Happening>("day", Quantity.Number, 0, 0, 366, "day of the scenario, 1 for the first; 0 for every day", h => h.Day, (h, v) => h.Day = (int)v, whole: true),
        Declare.Number<Happening>("at", Quantity.TimeOfDay, double.NaN, 0, 1439, "when it begins", h => h.FromMinute, (h, v) => h.FromMinute = v, required: true),
        Declare.Number<Happening>("for", Quantity.Duration, double.NaN, 1, 86_400, "how long", h => h.ForS, (h, v) => h.ForS = v, required: true),
        Declare.Number<Happening>("count", Quantity.Number, 1, 0, 10_000, "people; W of devices; l/min at taps; share open in % for doors (100 without)", h => h.Count, (h, v) => h.Count = v),
        Declare.Number<Happening>("activity", Quantity.Number, 1.2, 0.7, 5, "activity of people, met: 0.7 asleep, 1.2 sitting and reading, 2 cooking", h => h.Activity, (h, v) => h.Activity = v),
    ];
}

/// <summary>What breaks.</summary>
public sealed class Breakage : Stretch
{
    /// <summary>Faults of a point.</summary>
    public static IReadOnlyList<string> PointWords { get; } = ["off", "stuck", "wrong-by", "drifting", "noisy", "slow", "delayed", "intermittent"];

    /// <summary>Faults of the plant and the board.</summary>
    public static IReadOnlyList<string> PlantWords { get; } = ["seized", "valve-stuck", "leaking", "air-lock", "dusty", "locked-out", "power-cut", "clock-jump"];

    /// <summary>Faults of a device on its bus.</summary>
    public static IReadOnlyList<string> DeviceWords { get; } = ["absent", "hung", "no-acknowledge", "bad-checksum", "short"];

    /// <summary>One of <see cref="PointWords"/>, <see cref="PlantWords"/> or <see cref="DeviceWords"/>.</summary>
    public string What { get; private set; } = "";

    /// <summary>For wrong-by, drifting (an hour) and noisy: in the point's own unit.</summary>
    public double By { get; private set; }

    /// <summary>For slow, delayed and clock-jump, s.</summary>
    public double TimeS { get; private set; }

    /// <summary>For intermittent, leaking, air-lock and dusty, %.</summary>
    public double SharePercent { get; private set; }

    /// <summary>Keys of one breakage.</summary>
    public static IReadOnlyList<Parameter<Breakage>> Parameters { get; } =
    [
        Declare.Choice<Breakage>("what", null, [.. PointWords, .. PlantWords, .. DeviceWords], "what breaks", b => b.What, (b, v) => b.What = v),
        Declare.Name<Breakage>("where", "a point, a part of the plant, or a device (absent, hung, no-acknowledge, bad-checksum, short); site for power-cut and clock-jump", b => b.Where, (b, v) => b.Where = v),
        Declare.Number<Breakage>("day", Quantity.Number, 0, 0, 366, "day of the scenario, 1 for the first; 0 for every day", b => b.Day, (b, v) => b.Day = (int)v, whole: true),
        Declare.Number<Breakage>("at", Quantity.TimeOfDay, double.NaN, 0, 1439, "when it begins", b => b.FromMinute, (b, v) => b.FromMinute = v, required: true),
        Declare.Number<Breakage>("for", Quantity.Duration, double.NaN, 1, 366.0 * 86_400, "how long", b => b.ForS, (b, v) => b.ForS = v, required: true),
        Declare.Number<Breakage>("by", Quantity.Number, 0, -1000, 1000, "wrong-by, drifting (an hour), noisy: in the point's own unit", b => b.By, (b, v) => b.By = v),
        Declare.Number<Breakage>("time", Quantity.Duration, 0, -86_400, 86_400, "slow: time constant; delayed: how late; clock-jump: how far", b => b.TimeS, (b, v) => b.TimeS = v),
        Declare.Number<Breakage>("share", Quantity.Percent, 0, 0, 100, "intermittent, leaking, air-lock, dusty: how much", b => b.SharePercent, (b, v) => b.SharePercent = v),
    ];

    /// <summary>The fault of a point it stands for, over the days given, or null where it is one of the plant's.</summary>
    /// <param name="day">Day it is asked for, 1 for the first.</param>
    public PointFaultPlan? PointFault(int day)
    {
        int index = PointWords.ToList().IndexOf(What);
        if (index < 0) return null;
        double start = FromMinute * 60 + ((Day > 0 ? Day : day) - 1) * 86_400.0;
        PointFaultKind kind = (PointFaultKind)index;
        double amount = kind switch
        {
            PointFaultKind.Slow or PointFaultKind.Delayed => TimeS,
            PointFaultKind.Intermittent => SharePercent / 100,
            _ => By,
        };
        return new PointFaultPlan(kind, start, start + ForS, amount);
    }
}

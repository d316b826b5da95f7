// What a replay is asked for and what it came to. Plain data.
using RoomSupervisor.Runtime.Lockstep;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Recording;

/// <summary>How a trace is played.</summary>
public sealed record ReplayPlan
{
    /// <summary>Household settings to try, in the order given; empty: only whether all is as it was.</summary>
    public IReadOnlyList<(string Path, string Value)> Settings { get; init; } = [];

    /// <summary>The site of a trace that has no head of its own (a rehearsal's); null: such a trace is refused.</summary>
    public SiteFiles? Site { get; init; }

    /// <summary>Told of every scan: time, house, what was decided, and with settings what would have been (else the same image).</summary>
    public Action<ScanTime, House, OutputImage, OutputImage>? Watch { get; init; }

    /// <summary>Told of every scan before it is stepped: time, seconds of the scan before, memory and house, what was recorded, texts of the house. For whoever cuts a piece out.</summary>
    internal Action<ScanTime, double, ReplayLane, LockstepLine, SiteTexts>? Before { get; init; }

    /// <summary>For tests that take a rule out and must see a replay differ: the house that is stepped in place of the real one.</summary>
    internal Func<House, House>? Altered { get; init; }
}

/// <summary>What a replay came to.</summary>
public sealed class ReplayOutcome
{
    public long Scans { get; internal set; }

    /// <summary>Scans that were recorded with what they decided.</summary>
    public long Checked { get; internal set; }

    /// <summary>Scans that decided otherwise than recorded.</summary>
    public long Differing { get; internal set; }

    /// <summary>The first of them in words; "" when there is none.</summary>
    public string FirstDifference { get; internal set; } = "";

    /// <summary>Starts, holes and days: how often the memory was told anew.</summary>
    public int Begun { get; internal set; }

    /// <summary>How often settings changed within the trace.</summary>
    public int Reloads { get; internal set; }

    /// <summary>Scans that were not recorded.</summary>
    public long Lost { get; internal set; }

    /// <summary>Program and platform that recorded it; "" for a trace without a head.</summary>
    public string Program { get; internal set; } = "";

    public string PlatformText { get; internal set; } = "";

    /// <summary>True where it must be equal bit for bit: same program, same platform, memory read.</summary>
    public bool MustBeEqual { get; internal set; }

    /// <summary>What was not as it should be, each once.</summary>
    public List<string> Remarks { get; } = [];

    public DateTime FromUtc { get; internal set; }

    public DateTime ToUtc { get; internal set; }

    /// <summary>Time zone of the site.</summary>
    public TimeZoneInfo Zone { get; internal set; } = TimeZoneInfo.Utc;
}

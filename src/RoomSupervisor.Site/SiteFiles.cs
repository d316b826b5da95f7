// What reading a site's two files came to. Pure data.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

/// <summary>One value as it holds, for showing what was understood.</summary>
/// <param name="Path">Key path.</param>
/// <param name="Shown">The value as people of the site's unit system read it.</param>
/// <param name="IsDefault">True when nobody wrote it.</param>
public sealed record EffectiveValue(string Path, string Shown, bool IsDefault)
{
    /// <summary>False for a number outside its declared limits: a fault of the reader, told by tests.</summary>
    public bool IsWithinLimits { get; init; } = true;

    /// <summary>True when a change of it takes effect only after a restart.</summary>
    public bool NeedsRestart { get; init; }

    /// <summary>True for a setting of household.yaml.</summary>
    public bool IsHousehold { get; init; }
}

/// <summary>A site that was understood.</summary>
public sealed record SiteFiles(
    House House, SiteSettings Site, IReadOnlyList<DeviceSettings> Devices, IReadOnlyList<PointWiring> Wiring, IReadOnlyList<EffectiveValue> Effective);

/// <summary>The outcome of reading.</summary>
/// <param name="Files">The site, or null when there is any error.</param>
/// <param name="Problems">Errors and warnings, by file and line.</param>
public sealed record SiteResult(SiteFiles? Files, IReadOnlyList<Problem> Problems)
{
    /// <summary>What became of the household's file where it was read group by group (<see cref="SiteReader.Accept"/>); else null.</summary>
    public HouseholdOutcome? Household { get; init; }
}

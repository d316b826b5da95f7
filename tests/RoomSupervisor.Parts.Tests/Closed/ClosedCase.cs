// One case of the closed test room's grid, and which third of the grid is kept unseen while rules are shaped. Never knows a result.
namespace RoomSupervisor.Parts.Tests.Closed;

/// <summary>A case: household's fan limit in percent, coil size as a share of 2.4 kW rated, sensor lag in seconds, panel or floor, and the seed its room is drawn by.</summary>
internal sealed record ClosedCase(int CapPercent, double CoilSize, int LagS, bool Floor, int Seed)
{
    public static readonly int[] Caps = [35, 60, 100];

    public static readonly double[] Sizes = [0.6, 1, 1.6];

    public static readonly int[] Lags = [30, 120, 300];

    public string Name => FormattableString.Invariant($"cap {CapPercent} coil {CoilSize:0.0} lag {LagS} {(Floor ? "floor" : "panel")} seed {Seed}");

    /// <summary>The whole grid, in a fixed order.</summary>
    public static IEnumerable<ClosedCase> Grid()
        => from floor in new[] { false, true }
           from seed in Enumerable.Range(1, 4)
           from cap in Caps
           from size in Sizes
           from lag in Lags
           select new ClosedCase(cap, size, lag, floor, seed);

    /// <summary>A third of the grid by its name's hash; chosen before the first run and never to be chosen anew.</summary>
    public bool IsUnseen => Hash % 3 == 0;

    /// <summary>FNV-1a, 32 bits, of the name: the same on every machine; also the seed of the noise.</summary>
    public uint Hash => Name.Aggregate(2166136261u, (hash, letter) => unchecked((hash ^ letter) * 16777619u));
}

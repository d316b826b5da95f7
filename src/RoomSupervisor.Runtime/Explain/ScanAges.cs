// How long everything has been as it is: kept beside the scan for people who ask since when. Runs in the loop: must never allocate, wait or make text.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Explain;

/// <summary>What a room's memory tells people beside its status.</summary>
/// <param name="Heats">True while it works towards heat_below.</param>
/// <param name="StageForS">How long its stage has held, s; counted over restarts. NaN: not known.</param>
public readonly record struct RoomSeen(bool Heats, double StageForS);

/// <summary>Times since the last change of a reason, level or state.</summary>
public sealed class ScanAges(House house)
{
    private readonly Cause[] commandWas = new Cause[house.OutputTable.Count], sourceWas = new Cause[house.Sources.Length], readingWas = new Cause[house.InputTable.Count];
    private readonly GuardLevel[] circuitWas = new GuardLevel[house.Circuits.Length];
    private double begunS = double.NaN;

    /// <summary>How long each command has had its reason, s; at most since the start.</summary>
    public double[] CommandForS { get; } = new double[house.OutputTable.Count];

    /// <summary>How long each reading has been as good as it is, for the same cause, s.</summary>
    public double[] ReadingForS { get; } = new double[house.InputTable.Count];

    /// <summary>How long each surface circuit has had its guard level, s.</summary>
    public double[] CircuitForS { get; } = new double[house.Circuits.Length];

    /// <summary>How long each source has been called, or not, for the same reason, s.</summary>
    public double[] SourceForS { get; } = new double[house.Sources.Length];

    /// <summary>How long anybody has been looking, s: what has not changed within that may be older.</summary>
    public double LookedForS { get; private set; }

    /// <summary>Takes a scan's result.</summary>
    /// <param name="nowS">Monotonic seconds.</param>
    /// <param name="image">What the scan left.</param>
    /// <param name="memory">What it remembers.</param>
    public void Look(double nowS, OutputImage image, Memory memory)
    {
        var isFirst = double.IsNaN(begunS);
        if (isFirst)
            begunS = nowS;
        var step = isFirst ? 0 : nowS - begunS - LookedForS;
        LookedForS = nowS - begunS;
        for (var i = 0; i < commandWas.Length; i++)
            Count(ref commandWas[i], image.Commands[i].Binding.Cause, ref CommandForS[i], step);
        for (var i = 0; i < readingWas.Length; i++)
            Count(ref readingWas[i], image.Readings[i].Cause, ref ReadingForS[i], step);
        for (var i = 0; i < sourceWas.Length; i++)
            Count(ref sourceWas[i], image.Sources[i].Reason.Cause, ref SourceForS[i], step);
        for (var i = 0; i < circuitWas.Length; i++)
        {
            var level = memory.Circuits[i].Level;
            CircuitForS[i] = level == circuitWas[i] ? CircuitForS[i] + step : 0;
            circuitWas[i] = level;
        }
    }

    internal void CopyTo(ScanAges other)
    {
        CommandForS.CopyTo(other.CommandForS, 0);
        ReadingForS.CopyTo(other.ReadingForS, 0);
        CircuitForS.CopyTo(other.CircuitForS, 0);
        SourceForS.CopyTo(other.SourceForS, 0);
        other.LookedForS = LookedForS;
    }

    /// <summary>For a moment that was read from the trends: how long somebody had been looking by then, s.</summary>
    internal void Looked(double forS) => LookedForS = forS;

    private static void Count(ref Cause was, Cause now, ref double forS, double step)
    {
        forS = now == was ? forS + step : 0;
        was = now;
    }
}

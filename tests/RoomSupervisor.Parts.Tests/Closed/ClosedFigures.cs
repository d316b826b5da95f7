// The figures of section 10 of the sequence of operation, taken from one run. Never forgives: what is not reached counts as the end of the run.
namespace RoomSupervisor.Parts.Tests.Closed;

/// <summary>
/// Figures of one case. Recovered: the true air is at the set point plus 0.1 K, the same for the controller and for the coil held at its cap.
/// </summary>
internal sealed record ClosedFigures(ClosedCase Case)
{
    public const double ReachedAboveK = 0.1;

    public required double MinimumOverLoad { get; init; }

    public required double ShortestMin { get; init; }

    public required double RecoveryMin { get; init; }

    /// <summary>Recovery over the shortest possible; NaN where the coil at its cap never gets there.</summary>
    public double Ratio => IsReachable ? RecoveryMin / ShortestMin : double.NaN;

    /// <summary>True when the coil alone at its cap reaches the set point within four hours: else there is no shortest recovery to compare with.</summary>
    public bool IsReachable => double.IsFinite(ShortestMin);

    /// <summary>Lowest true air under the set point within 45 min after it was reached, K.</summary>
    public required double OvershootK { get; init; }

    /// <summary>Highest true air over the set point within 90 min after it was reached, K.</summary>
    public required double BounceK { get; init; }

    /// <summary>Farthest from the set point in half-hour windows, an hour after recovery and before the opening: those without a coil start or stop.</summary>
    public required double SteadyK { get; init; }

    /// <summary>The same of those with a coil start or stop; 0: none.</summary>
    public required double WithStartsK { get; init; }

    public required double FilmGPerM2 { get; init; }

    /// <summary>Minutes that condense (over 0.1 g/m²h) later than 10 min after the shutting.</summary>
    public required double CondensingMin { get; init; }

    /// <summary>Most audible changes in any hour outside pull-down, easing off and opening.</summary>
    public required int AudibleAnHour { get; init; }

    /// <summary>The conditions under which section 10 promises anything; the lag is told within a third in every case.</summary>
    public bool IsPromised => MinimumOverLoad <= 1.8 && ShortestMin >= 5 && IsReachable;

    public static ClosedFigures Of(ClosedCase one)
    {
        var run = ClosedRun.Play(one);
        var air = run.Moments.Select(m => m.AirC).ToArray();
        var end = ClosedRun.EndsAtS;
        var shortest = run.AtCap.FindIndex(t => t <= ClosedHouse.WantedC + ReachedAboveK);
        var reached = Array.FindIndex(air, ClosedRun.ShutsAtS, t => t <= ClosedHouse.WantedC + ReachedAboveK);
        var recovered = reached < 0 ? end : reached;
        var after = air[recovered..Math.Min(end, recovered + 2700)];
        var settled = air[recovered..Math.Min(end, recovered + 5400)];
        var (without, with) = SteadyWindows.Of(run.Moments, recovered);
        return new ClosedFigures(one)
        {
            MinimumOverLoad = run.MinimumOverLoad,
            ShortestMin = shortest < 0 ? double.PositiveInfinity : (shortest + 1) / 60.0,
            RecoveryMin = (recovered - ClosedRun.ShutsAtS + 1) / 60.0,
            OvershootK = after.Length == 0 ? 0 : Math.Max(0, ClosedHouse.WantedC - after.Min()),
            BounceK = settled.Length == 0 ? 0 : Math.Max(0, settled.Max() - ClosedHouse.WantedC),
            SteadyK = without,
            WithStartsK = with,
            FilmGPerM2 = run.Moments.Skip(ClosedRun.OpensAtS).Max(m => m.FilmGPerM2),
            CondensingMin = run.Moments.Skip(ClosedRun.ShutsAtS + 600).Count(m => m.CondensingGPerM2H > 0.1) / 60.0,
            AudibleAnHour = AudibleChanges.MostInAnHour(run.Moments),
        };
    }
}

// What an estimate comes to: plain data, from which table, pages, lists and files are made. Must never hold a rule.
namespace RoomSupervisor.Desk.Estimate;

/// <summary>A surface in its room.</summary>
/// <param name="Key">Its key.</param>
/// <param name="AreaM2">m².</param>
/// <param name="Humid">At the dew point the room has when nothing dries its air; its output is 0 where the guard allows no water cold enough.</param>
/// <param name="Dry">At the dew point coils hold, whether the room has any or not; where its air is drier by itself, at that.</param>
/// <param name="HumidDewC">°C.</param>
/// <param name="DryDewC">°C.</param>
/// <param name="HeatingW">Heat it gives at most: with the loop's warmest water, a floor no warmer than it may be.</param>
/// <param name="HeatingSupplyC">Water for the share of the load it is to carry, °C.</param>
/// <param name="IsCooled">It is cooled.</param>
public sealed record SurfaceEstimate(string Key, double AreaM2, SurfaceAt Humid, SurfaceAt Dry, double HumidDewC, double DryDewC, double HeatingW, double HeatingSupplyC, bool IsCooled)
{
    /// <summary>W at the room's own dew point.</summary>
    public double HumidW => Humid.WPerM2 * AreaM2;

    /// <summary>W at the dew point coils hold.</summary>
    public double DryW => Dry.WPerM2 * AreaM2;
}

/// <summary>A coil in its room.</summary>
/// <param name="Key">Its key.</param>
/// <param name="OutputW">Rated, W.</param>
/// <param name="IsSized">The estimate chose it.</param>
/// <param name="CapPercent">Fastest it may turn, %.</param>
/// <param name="AtCap">There, in the room's air while it is dried.</param>
/// <param name="AtSlowest">At its slowest.</param>
/// <param name="Ratio">What it gives at its slowest over what its rooms usually need.</param>
/// <param name="HeatingW">Heat at its cap, W.</param>
/// <param name="Rooms">Rooms it serves.</param>
public sealed record CoilEstimate(string Key, double OutputW, bool IsSized, double CapPercent, CoilAt AtCap, CoilAt AtSlowest, double Ratio, double HeatingW, int Rooms);

/// <summary>A room.</summary>
/// <param name="Name">Its name.</param>
/// <param name="FloorM2">m².</param>
/// <param name="Heat">Heating load.</param>
/// <param name="Day">Cooling load under an ideal plant that dries, hour by hour.</param>
/// <param name="GivenW">What its emitters took, sensible, hour by hour.</param>
/// <param name="UsualW">What it usually needs, W.</param>
/// <param name="HumidDewC">Dew point at the hour of the house's peak when nothing dries, °C.</param>
/// <param name="Surfaces">Surfaces.</param>
/// <param name="Coils">Coils.</param>
public sealed record RoomEstimate(
    string Name, double FloorM2, HeatParts Heat, RoomDay Day, double[] GivenW, double UsualW, double HumidDewC, IReadOnlyList<SurfaceEstimate> Surfaces, IReadOnlyList<CoilEstimate> Coils)
{
    /// <summary>Most that is asked in an hour, sensible, W.</summary>
    public double PeakSensibleW => Day.SensibleW.Max();

    /// <summary>Moisture to be taken out in that hour, as heat, W.</summary>
    public double PeakLatentW => Day.LatentW[PeakHour];

    /// <summary>The hour that begins then, 0…23.</summary>
    public int PeakHour => Array.IndexOf(Day.SensibleW, Day.SensibleW.Max());

    /// <summary>Most that its emitters took in an hour, sensible, W.</summary>
    public double PeakGivenW => GivenW.Max();

    /// <summary>Hours of the design day outside comfort.</summary>
    public double OutsideH { get; init; }

    /// <summary>By how much in all, K·h.</summary>
    public double OutsideKh { get; init; }

    /// <summary>Minutes to come back after its door stood open; NaN: no door or never.</summary>
    public double RecoveryMin { get; init; } = double.NaN;

    /// <summary>
    /// What its emitters can give at most against the most that is asked, sensible, while its air is dried; NaN: nothing is asked. Under 1.15 it only just holds: then the minutes of
    /// a recovery hang on single degrees of water, and are told as a range.
    /// </summary>
    public double Reserve { get; init; } = double.NaN;

    /// <summary>How many times as large its coils must be to give 1.15 times what is asked, its surfaces helping in dried air; NaN: it has none that runs, or asks nothing.</summary>
    public double CoilsTimesToHold => Reserve * PeakSensibleW - Surfaces.Sum(surface => surface.DryW) is > 0 and var coils && Coils.Count > 0 ? (TightReserve * PeakSensibleW - Surfaces.Sum(surface => surface.DryW)) / coils : double.NaN;

    /// <summary>It only just holds.</summary>
    public bool IsTight => Reserve < TightReserve;

    /// <summary>Under this share of what is asked a room only just holds (project choice).</summary>
    public const double TightReserve = 1.15;

    /// <summary>Of a room that only just holds: the quickest and the slowest, min, with the source's water at both ends of its band; NaN: not such a room, or never within four hours.</summary>
    public double QuickestMin { get; init; } = double.NaN;

    /// <summary>See <see cref="QuickestMin"/>.</summary>
    public double SlowestMin { get; init; } = double.NaN;

    /// <summary>Minutes for people: one figure, or from and to.</summary>
    public string RecoveryText => !double.IsFinite(RecoveryMin) && !double.IsFinite(QuickestMin) ? "–"
        : !IsTight || !double.IsFinite(QuickestMin) ? FormattableString.Invariant($"{RecoveryMin:0}")
        : double.IsFinite(SlowestMin) ? FormattableString.Invariant($"{QuickestMin:0} to {SlowestMin:0}") : FormattableString.Invariant($"{QuickestMin:0} or more");

    /// <summary>Air when the door shuts, °C; NaN: no door.</summary>
    public double OpenedC { get; init; } = double.NaN;

    /// <summary>Energy mean of its fans while they turn, dB(A); negative infinity: they never do.</summary>
    public double MeanDb { get; init; } = double.NegativeInfinity;

    /// <summary>Loudest, dB(A).</summary>
    public double LoudestDb { get; init; } = double.NegativeInfinity;

    /// <summary>Hours a fan turns.</summary>
    public double FanH { get; init; }

    /// <summary>Condensate over the day, kg.</summary>
    public double CondensateKg { get; init; }
}

/// <summary>One way of building it.</summary>
/// <param name="Name">as wished, or the variant's name.</param>
/// <param name="Rooms">Rooms.</param>
/// <param name="Loops">Loops.</param>
/// <param name="Source">Source.</param>
/// <param name="Drafted">The site it would be.</param>
/// <param name="SupplyLowC">Coldest supply of cooled surfaces, °C; infinite: none.</param>
/// <param name="SupplyHighC">Warmest.</param>
/// <param name="WaterW">Cold the house takes by hour, W.</param>
public sealed record WayEstimate(
    string Name, IReadOnlyList<RoomEstimate> Rooms, IReadOnlyList<LoopEstimate> Loops, SourceEstimate Source, Drafted Drafted, double SupplyLowC, double SupplyHighC, double[] WaterW)
{
    /// <summary>Worst of the rooms' recoveries, min; NaN: none.</summary>
    public double RecoveryMin => Rooms.Select(room => room.RecoveryMin).Where(double.IsFinite).DefaultIfEmpty(double.NaN).Max();

    /// <summary>The same for people: a range where that room only just holds.</summary>
    public string RecoveryText => Rooms.Where(room => room.RecoveryText != "–").MaxBy(room => room.IsTight && !double.IsFinite(room.SlowestMin) ? double.PositiveInfinity : Math.Max(Finite(room.RecoveryMin), Finite(room.SlowestMin)))?.RecoveryText ?? "–";

    private static double Finite(double value) => double.IsFinite(value) ? value : 0;

    /// <summary>Loudest mean of its rooms, dB(A); negative infinity: silent.</summary>
    public double MeanDb => Rooms.Select(room => room.MeanDb).DefaultIfEmpty(double.NegativeInfinity).Max();

    /// <summary>Room hours outside comfort.</summary>
    public double OutsideH => Rooms.Sum(room => room.OutsideH);

    /// <summary>Cold that pipes of running loops take up from the house by hour, W.</summary>
    public double[] PipesW { get; init; } = new double[24];

    /// <summary>Share of surfaces in what was taken; NaN: nothing was.</summary>
    public double SurfaceShare { get; init; } = double.NaN;
}

/// <summary>An estimate with its variants.</summary>
/// <param name="File">What was asked.</param>
/// <param name="Days">For which days.</param>
/// <param name="Wish">As wished.</param>
/// <param name="Variants">Set beside it.</param>
/// <param name="Advice">What does not work and what would, one sentence each.</param>
public sealed record EstimateResult(VirtualHouse.EstimateFile File, DesignDays Days, WayEstimate Wish, IReadOnlyList<WayEstimate> Variants, IReadOnlyList<string> Advice)
{
    /// <summary>Ways that were asked for and cannot be built, with why.</summary>
    public IReadOnlyList<string> LeftOut { get; init; } = [];

    /// <summary>The caution that stands with every output.</summary>
    public const string Caution = "An estimate, not a design: local codes come first, and a licensed designer answers for loads, sizes and safety.";
}

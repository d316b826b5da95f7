// What befalls a house: people, doors, showers, broken sensors, hand values, restarts, clocks that jump. A life is a list of turns, so that a failing one can be
// told with only the turns it needs. Must never depend on what the sequence does.
using CsCheck;

namespace RoomSupervisor.Parts.Tests.Invariants;

/// <summary>Kinds of what befalls a house.</summary>
internal enum TurnKind : byte
{
    Opening, Shower, Burst, Fail, Tray, Wet, ManifoldWet, HighLimit, LowPressure, LeakAndRestart, Slug, Edit, SwitchOff, Quiet, Hand, EndHand, HandThenCut, Restart, ClockJump, LongStep, LateScan, SourceFault, UtilityLock, OwnHotWater, Defrost, Cycles, DrawOff, Surplus, InHand, StuckOpen,
}

/// <summary>One thing that happens.</summary>
/// <param name="Kind">What.</param>
/// <param name="AtS">When it begins, s of the life.</param>
/// <param name="ForS">How long it lasts, s.</param>
/// <param name="Who">Whom it concerns, by count of what there is.</param>
/// <param name="Amount">How much, −1…1.</param>
/// <param name="How">Which of several kinds.</param>
internal sealed record Turn(TurnKind Kind, double AtS, double ForS, int Who, double Amount, Wrong How)
{
    public override string ToString()
        => FormattableString.Invariant($"{AtS:0} s: {Kind}{(Kind == TurnKind.Fail ? " " + How : "")} no. {Who}, {Amount:0.###}, for {ForS:0} s");
}

/// <summary>A whole life: rough for a while, then good.</summary>
internal sealed record RandomLife(DrawnHouse House, RandomWeather Weather, Turn[] Turns, double ScanS, double RoughS, double GoodS, int Chance)
{
    private static readonly Gen<TurnKind> Kind = Gen.Frequency(
        (10, TurnKind.Opening), (6, TurnKind.Shower), (10, TurnKind.Burst), (18, TurnKind.Fail), (4, TurnKind.Tray), (5, TurnKind.Wet), (3, TurnKind.ManifoldWet), (2, TurnKind.HighLimit),
        (1, TurnKind.LowPressure), (1, TurnKind.LeakAndRestart), (3, TurnKind.Slug), (10, TurnKind.Edit), (2, TurnKind.SwitchOff), (4, TurnKind.Quiet), (12, TurnKind.Hand), (1, TurnKind.EndHand), (2, TurnKind.HandThenCut),
        (2, TurnKind.Restart), (2, TurnKind.ClockJump), (2, TurnKind.LongStep), (2, TurnKind.LateScan),
        (2, TurnKind.SourceFault), (2, TurnKind.UtilityLock), (3, TurnKind.OwnHotWater), (2, TurnKind.Defrost), (2, TurnKind.Cycles), (6, TurnKind.DrawOff), (2, TurnKind.Surplus), (2, TurnKind.InHand), (5, TurnKind.StuckOpen));

    /// <summary>Short ones are the more frequent: most of what a controller gets wrong it gets wrong within minutes.</summary>
    private static Gen<double> Lasting(double roughS) => Gen.Select(Even.Between(0, 1), share => Math.Round(2 + roughS * 3 / 7 * share * share));

    private static Gen<Turn> Turn(double roughS) => Gen.Select(
        Kind, Even.Between(0, roughS), Lasting(roughS), Gen.Int[0, 999], Even.Between(-1, 1), Gen.Int[1, 8],
        (kind, at, lasts, who, amount, how) => new Turn(
            kind, Math.Round(at), Math.Min(kind == TurnKind.StuckOpen ? Math.Max(lasts, 0.3 * roughS) : lasts, Math.Max(1, roughS - at)), who, amount, (Wrong)how));

    public static Gen<RandomLife> Lives(double roughS, double goodS, params double[] scans) => Gen.Select(
        RandomHouse.Houses, RandomWeather.Weathers, Turn(roughS).Array[0, 40], Gen.OneOf(scans), Gen.Int,
        (house, weather, turns, scan, chance) => new RandomLife(house, weather, [.. turns.OrderBy(turn => turn.AtS)], scan, roughS, goodS, chance));

    /// <summary>The life of a seed, the same in every run.</summary>
    public static RandomLife Of(uint seed, double roughS, double goodS) => Lives(roughS, goodS, 1, 1, 1, 0.5, 2, 5).Generate(new PCG(seed, 0x9E3779B97F4A7C15UL), null, out _);

    /// <summary>The same over more than a day, in the longest scans a site may ask for: what takes hours to come or to go.</summary>
    public static RandomLife LongOf(uint seed, double roughS, double goodS) => Lives(roughS, goodS, 10).Generate(new PCG(seed, 0xD1B54A32D192ED03UL), null, out _);
}

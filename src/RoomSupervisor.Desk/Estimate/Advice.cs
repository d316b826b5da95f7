// What of the wish does not work, and what would: one sentence each, with its figures. Must never call a thing impossible without saying what would do.
using System.Globalization;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

internal sealed class Advice
{
    /// <summary>What a coil gives at its slowest against the usual load: so much is wanted at most, so much works (rule 2.8 of the sequence).</summary>
    internal const double GoodRatio = 1.2, WorstRatio = 1.8;

    // Under this many heat pumps that take their heat from the air stand (common practice, no published source).
    private const double PumpStandsC = -25;

    // The largest coil an estimate can name, W.
    private const double LargestCoilW = 20_000;

    // A house forgives so long a pause of its heating (common practice, no published source).
    private const double LongestChargeMin = 150;

    private readonly List<string> lines = [];
    private readonly EstimateFile file;
    private readonly DesignDays days;
    private readonly WayEstimate wish;

    private Advice(EstimateFile file, DesignDays days, WayEstimate wish) => (this.file, this.days, this.wish) = (file, days, wish);

    public static IReadOnlyList<string> Of(EstimateFile file, DesignDays days, WayEstimate wish)
    {
        var advice = new Advice(file, days, wish);
        foreach (var room in wish.Rooms)
        {
            if (file.Source.Cools)
            {
                advice.Surfaces(room);
                advice.Coils(room);
                advice.Cold(room);
            }
            if (file.Source.Heats)
                advice.Heat(room);
        }
        advice.Source();
        return advice.lines;
    }

    private void Say(FormattableString line) => lines.Add(line.ToString(CultureInfo.InvariantCulture));

    private bool IsDried(RoomEstimate room) => wish.Drafted.Files.House.Rooms.First(one => one.Id == room.Name).Coils.Length > 0;

    private void Surfaces(RoomEstimate room)
    {
        foreach (var surface in room.Surfaces.Where(surface => surface.IsCooled))
        {
            if (IsDried(room))
                continue;
            if (surface.HumidW < 0.1 * Math.Max(room.PeakSensibleW, 1))
                Say($"{room.Name}: the {surface.Key} alone does not cool it: its air has a dew point of {surface.HumidDewC:0.0} °C on the design day, the guard allows no water under {surface.Humid.SupplyC:0.0} °C, and so it gives {surface.HumidW:0} of {room.PeakSensibleW:0} W. A coil that dries the air to {LoadRun.DryC:0} °C would let it give {surface.DryW:0} W: add coil: {{}}, or share one with a neighbouring room.");
            else if (surface.HumidW < room.PeakSensibleW)
                Say($"{room.Name}: the {surface.Key} gives {surface.HumidW:0} of {room.PeakSensibleW:0} W at the design dew point of {surface.HumidDewC:0.0} °C; dried to {LoadRun.DryC:0} °C it would give {surface.DryW:0} W.");
        }
    }

    private void Coils(RoomEstimate room)
    {
        foreach (var coil in room.Coils)
        {
            if (coil.CapPercent <= 0)
            {
                NeverRuns(room, coil);
                continue;
            }
            if (Limit(room) is var limit && coil.AtCap.LevelDb > limit + 0.5)
                Say($"{room.Name}: the {coil.Key} is {coil.AtCap.LevelDb:0} dB(A) at its limit of {coil.CapPercent:0} %, and {limit:0} dB(A) are asked: motor and bearings are heard beside the air. Allow {Math.Ceiling(coil.AtCap.LevelDb):0} dB, or take a quieter coil.");
            if (coil.Ratio > WorstRatio)
                Say($"{room.Name}: the {coil.Key} gives {coil.AtSlowest.SensibleW:0} W at its slowest, {coil.Ratio:0.0} times what is usually needed: it can only start and stop. {Smaller(room, coil)}");
            else if (Math.Round(coil.Ratio, 1) > GoodRatio)
                Say($"{room.Name}: the {coil.Key} gives {coil.Ratio:0.0} times the usual load at its slowest; up to {GoodRatio} is wanted, to {WorstRatio} it works. {Smaller(room, coil)}");
        }
    }

    // The smallest coils there are give some 200 W, the slowest fans turn at some 8 %: under that the room needs none of its own (common practice, no published source).
    private static string Smaller(RoomEstimate room, CoilEstimate coil)
    {
        var (smaller, slower) = (Math.Round(coil.OutputW * GoodRatio / coil.Ratio / 50) * 50, 100 * CoilGives.SpeedShare(CoilGives.Share(coil.AtSlowest.SpeedPercent) * GoodRatio / coil.Ratio));
        return smaller < 200
            ? "It needs so little that a share of a neighbour's coil (shared_with), or a surface, would do; as a drier it may stay."
            // One that small must still hold the room in its hardest hour.
            : smaller < coil.OutputW * Finite(room.CoilsTimesToHold)
                ? slower >= 8 ? FormattableString.Invariant($"A smaller one would not hold the room in its hardest hour; one that starts at {slower:0} % would do.") : "A smaller one would not hold the room in its hardest hour: more surface, or more shade on its glass, and a smaller one would do."
                : FormattableString.Invariant($"A coil of {smaller:0} W{(slower >= 8 ? FormattableString.Invariant($", or one that starts at {slower:0} %,") : "")} would do.");
    }

    private static double Finite(double value) => double.IsFinite(value) ? value : 0;

    // Asked of its fans, dB(A); infinite: nothing is.
    private double Limit(RoomEstimate room) => wish.Drafted.Wish.Rooms.First(one => one.Name == room.Name).NoiseAtMostDb is var db && double.IsFinite(db) ? HouseholdDraft.Noise(db) : double.PositiveInfinity;

    private void NeverRuns(RoomEstimate room, CoilEstimate coil)
    {
        var (allowed, slowest) = (wish.Drafted.Wish.Rooms.First(one => one.Name == room.Name).From.FanAtMostPercent, coil.AtSlowest.SpeedPercent);
        if (allowed < slowest)
            Say($"{room.Name}: the {coil.Key} never runs: fan_at_most lets it turn at {allowed:0} % and its slowest is {slowest:0} %. Allow {slowest:0} %, or take one that starts slower.");
        else
            Say($"{room.Name}: the {coil.Key} never runs: its limit lies under its slowest speed of {slowest:0} % ({coil.AtSlowest.LevelDb:0} dB(A)). Allow {Math.Ceiling(coil.AtSlowest.LevelDb):0} dB, or take a quieter coil or one that starts slower.");
    }

    private void Cold(RoomEstimate room)
    {
        if (!LoadRun.IsCooled(wish.Drafted.Files.House, wish.Rooms.ToList().IndexOf(room)))
            return;
        if (room.OutsideH <= 0.5 && room.IsTight)
            Say($"{room.Name}: its emitters give {room.Reserve * room.PeakSensibleW:0} W at most and it asks {room.PeakSensibleW:0} W: it only just holds, and after an open door it comes back when the water lets it{(room.RecoveryText == "–" ? "" : $" ({room.RecoveryText} min)")}. {Larger(room)}");
        if (room.OutsideH > 0.5)
            Say($"{room.Name}: {room.OutsideH:0.0} h of the design day it is more than 0.3 K too warm (together {room.OutsideKh:0.0} K·h): {(room.GivenW[room.PeakHour] < room.PeakSensibleW ? FormattableString.Invariant($"in the hour it asks most, {room.PeakSensibleW:0} W, it gets {room.GivenW[room.PeakHour]:0} W") : "what it gets comes too late")}. {Larger(room)}");
    }

    private string Larger(RoomEstimate room)
    {
        var missing = (1.15 - room.Reserve) * room.PeakSensibleW;
        var coil = room.Coils.Count > 0 ? room.Coils[0] : wish.Rooms.SelectMany(other => other.Coils.Where(one => one.Rooms > 1 && Shares(other, one, room))).FirstOrDefault();
        if (coil is null)
            return room.Surfaces.Any(surface => surface.IsCooled && surface.DryW > surface.HumidW) ? "A coil that dries the air would do." : "A coil would do.";
        if (coil.AtCap.SensibleW <= 0)
            return "A coil that may run would do.";
        var wanted = coil.AtCap.SensibleW + Math.Max(missing, 0.1 * room.PeakSensibleW) * coil.Rooms;
        var share = wanted / coil.AtCap.SensibleW;
        var percent = Math.Min(coil.CapPercent * CoilGives.SpeedShare(share), 999);
        return percent <= 100
            ? FormattableString.Invariant($"A limit of {percent:0} % ({coil.AtCap.LevelDb + 50 * Math.Log10(percent / coil.CapPercent):0} dB(A)) in place of {coil.CapPercent:0} % would do, or a coil of {Math.Ceiling(coil.OutputW * share / 50) * 50:0} W.")
            : FormattableString.Invariant($"{Coils(coil.OutputW * share)} would do{Unlimited(coil, wanted)}, or more shade on its glass.");
    }

    private static string Coils(double watts)
        => watts <= LargestCoilW ? FormattableString.Invariant($"A coil of {Math.Ceiling(watts / 50) * 50:0} W") : FormattableString.Invariant($"Coils of {Math.Ceiling(watts / 50) * 50:0} W together");

    // A coil that is held back by its limit need be less large without it.
    private static string Unlimited(CoilEstimate coil, double wantedW)
        => coil.CapPercent >= 99.5 ? "" : FormattableString.Invariant($" at its limit of {coil.CapPercent:0} %, or {Math.Ceiling(coil.OutputW * wantedW / coil.AtCap.SensibleW * CoilGives.Share(coil.CapPercent) / 50) * 50:0} W at full speed");

    private void Heat(RoomEstimate room)
    {
        var given = room.Surfaces.Sum(surface => surface.HeatingW) + room.Coils.Sum(coil => coil.HeatingW / coil.Rooms)
            + wish.Rooms.Where(other => other != room).Sum(other => other.Coils.Where(coil => coil.Rooms > 1 && Shares(other, coil, room)).Sum(coil => coil.HeatingW / coil.Rooms));
        if (given <= 0 || given >= room.Heat.RoomW)
            return;
        var own = wish.Drafted.Wish.Rooms.First(one => one.Name == room.Name);
        List<string> would = [room.Surfaces.Count > 0 ? "more surface" : "a heated surface"];
        if (own.Surfaces.Any(surface => surface.From.Made == "screed" && surface.From.CoveringM2KPerW > 0.05))
            would.Add("a thinner covering on its floor");
        else if (room.Surfaces.Count > 0 && !own.Surfaces.Any(surface => surface.From.IsFloor))
            would.Add("a heated floor");
        if (room.Coils.Count == 0)
            would.Add("a coil");
        else if (room.Coils.Sum(coil => coil.HeatingW / coil.Rooms) is > 0 and var coils)
            would.Add($"{(room.Coils.Count > 1 ? "coils" : "a coil")} {Math.Ceiling((room.Heat.RoomW - given + coils) / coils * 20 - 1e-9) / 20:0.0#} times as large");
        Say($"{room.Name}: {given:0} of {room.Heat.RoomW:0} W of heat at {days.WinterC:0.#} °C outdoors. {char.ToUpperInvariant(would[0][0])}{string.Join(", ", would)[1..]} or better insulation would do.");
    }

    private bool Shares(RoomEstimate owner, CoilEstimate coil, RoomEstimate room) => wish.Drafted.Wish.Rooms.First(one => one.Name == owner.Name).Coils.Any(one => one.Key == coil.Key && one.From.SharedWith == room.Name);

    private void Source()
    {
        var written = file.Building.CoolingOutputW;
        if (file.Source.Cools && double.IsFinite(written) && wish.Source.CoolingPeakW > written)
            Say($"source: {written:0} W of cold are written and the house takes {wish.Source.CoolingPeakW:0} W at once on the design day: rooms that come back from an open door wait for each other.");
        var hotWater = wish.Source.HotWater;
        var (needs, makes) = (wish.Source.HeatingPeakW + (hotWater?.MeanW ?? 0), wish.Source.WinterOutputW);
        if (file.Source.Heats && double.IsFinite(file.Building.HeatingOutputW) && needs > makes)
            Say($"source: at {days.WinterC:0.#} °C outdoors it makes {makes:0} W of the {needs:0} W the house needs{(hotWater is null ? "" : $", {hotWater.MeanW:0} W of them for hot water")}: a larger one, or a second source for the coldest days.");
        if (file.Source.HeatsByPump && days.WinterC < PumpStandsC)
            Say($"source: at {days.WinterC:0.#} °C outdoors it is sized as if it ran; many heat pumps that take their heat from the air stand under {PumpStandsC:0} °C. Ask for its lowest outdoor temperature; a second source for the coldest days would do, and lets the machine be smaller.");
        if (hotWater?.ChargeMin(makes) > LongestChargeMin)
            Say($"source: a tank of {hotWater.TankL:0} l that has gone cold keeps it from the rooms for {hotWater.ChargeMin(makes):0} min at {days.WinterC:0.#} °C outdoors. A second source for hot water, or a larger one, would do; or charge at night.");
    }
}

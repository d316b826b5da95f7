// What of the wish does not work, and what would: one sentence each, with its figures. Must never call a thing impossible without saying what would do.
using System.Globalization;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

internal sealed class Advice
{
    private const double GoodRatio = 1.2, WorstRatio = 1.8;

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
                Say($"{room.Name}: the {surface.Key} alone does not cool it: its air has a dew point of {surface.HumidDewC:0.0} °C on the design day, the guard allows no water under {surface.Humid.SupplyC:0.0} °C, and so it gives {surface.HumidW:0} of {room.PeakSensibleW:0} W. A coil that dries the air to {LoadRun.DryC:0} °C would let it give {At(room, surface):0} W: add coil: {{}}, or share one with a neighbouring room.");
            else if (surface.HumidW < room.PeakSensibleW)
                Say($"{room.Name}: the {surface.Key} gives {surface.HumidW:0} of {room.PeakSensibleW:0} W at the design dew point of {surface.HumidDewC:0.0} °C; dried to {LoadRun.DryC:0} °C it would give {At(room, surface):0} W.");
        }
    }

    // What an undried room's surface would give if its air were dried: the same surface at the dew point coils hold.
    private double At(RoomEstimate estimate, SurfaceEstimate surface)
    {
        var room = wish.Drafted.Wish.Rooms.First(one => one.Name == estimate.Name);
        var wished = room.Surfaces.First(one => one.Key == surface.Key);
        var supply = Math.Max(SurfaceGives.LowestSafeC(room.From.CoolAboveC, LoadRun.DryC), SurfaceGives.ColdestC);
        return surface.AreaM2 * SurfaceGives.At(wished.CoolingWPerM2, wished.Exponent, wished.CoolingWPerM2 / 3 / 4190, supply, room.From.CoolAboveC, 10).WPerM2;
    }

    private void Coils(RoomEstimate room)
    {
        foreach (var coil in room.Coils)
        {
            if (coil.CapPercent <= 0)
            {
                Say($"{room.Name}: the {coil.Key} never runs: its limit lies under its slowest speed of {coil.AtSlowest.SpeedPercent:0} % ({coil.AtSlowest.LevelDb:0} dB(A)). Allow {Math.Ceiling(coil.AtSlowest.LevelDb):0} dB, or take a quieter coil or one that starts slower.");
                continue;
            }
            if (coil.Ratio > WorstRatio)
                Say($"{room.Name}: the {coil.Key} gives {coil.AtSlowest.SensibleW:0} W at its slowest, {coil.Ratio:0.0} times what is usually needed: it can only start and stop. {Smaller(coil)}");
            else if (coil.Ratio > GoodRatio + 0.005)
                Say($"{room.Name}: the {coil.Key} gives {coil.Ratio:0.0} times the usual load at its slowest; up to {GoodRatio} is wanted, to {WorstRatio} it works. {Smaller(coil)}");
        }
    }

    // The smallest coils there are give some 200 W, the slowest fans turn at some 8 %: under that the room needs none of its own (common practice, no published source).
    private static string Smaller(CoilEstimate coil)
    {
        var (smaller, slower) = (Math.Round(coil.OutputW * GoodRatio / coil.Ratio / 50) * 50, 100 * Math.Pow(CoilGives.Share(coil.AtSlowest.SpeedPercent) * GoodRatio / coil.Ratio, 1 / 0.7));
        return smaller < 200
            ? "It needs so little that a share of a neighbour's coil (shared_with), or a surface, would do; as a drier it may stay."
            : FormattableString.Invariant($"A coil of {smaller:0} W{(slower >= 8 ? FormattableString.Invariant($", or one that starts at {slower:0} %,") : "")} would do.");
    }

    private void Cold(RoomEstimate room)
    {
        if (!LoadRun.IsCooled(wish.Drafted.Files.House, wish.Rooms.ToList().IndexOf(room)))
        {
            if (room.Surfaces.Count + room.Coils.Count == 0)
                Say($"{room.Name}: nothing is wished in it; it goes as the house lets it.");
            return;
        }
        if (room.OutsideH <= 0.5 && room.IsTight)
            Say($"{room.Name}: its emitters give {room.Reserve * room.PeakSensibleW:0} W at most and it asks {room.PeakSensibleW:0} W: it only just holds, and after an open door it comes back when the water lets it{(room.RecoveryText == "–" ? "" : $" ({room.RecoveryText} min)")}. {Larger(room)}");
        if (room.OutsideH > 0.5)
            Say($"{room.Name}: {room.OutsideH:0.0} h of the design day it is more than 0.3 K too warm (together {room.OutsideKh:0.0} K·h): it gets {room.PeakGivenW:0} W at most and asks {room.PeakSensibleW:0} W. {Larger(room)}");
    }

    private string Larger(RoomEstimate room)
    {
        var missing = (1.15 - room.Reserve) * room.PeakSensibleW;
        var coil = room.Coils.Count > 0 ? room.Coils[0] : wish.Rooms.SelectMany(other => other.Coils.Where(one => one.Rooms > 1 && Shares(other, one, room))).FirstOrDefault();
        if (coil is null || coil.AtCap.SensibleW <= 0)
            return "A coil, or more surface with drier air, would do.";
        var wanted = coil.AtCap.SensibleW + Math.Max(missing, 0.1 * room.PeakSensibleW) * coil.Rooms;
        var share = wanted / coil.AtCap.SensibleW;
        var percent = Math.Min(coil.CapPercent * Math.Pow(share, 1 / 0.7), 999);
        return percent <= 100
            ? FormattableString.Invariant($"A limit of {percent:0} % ({coil.AtCap.LevelDb + 50 * Math.Log10(percent / coil.CapPercent):0} dB(A)) in place of {coil.CapPercent:0} % would do, or a coil of {Math.Ceiling(coil.OutputW * share / 50) * 50:0} W.")
            : FormattableString.Invariant($"A coil of {Math.Ceiling(coil.OutputW * share / 50) * 50:0} W would do, or more shade on its glass.");
    }

    private void Heat(RoomEstimate room)
    {
        var given = room.Surfaces.Sum(surface => surface.HeatingW) + room.Coils.Sum(coil => coil.HeatingW / coil.Rooms)
            + wish.Rooms.Where(other => other != room).Sum(other => other.Coils.Where(coil => coil.Rooms > 1 && Shares(other, coil, room)).Sum(coil => coil.HeatingW / coil.Rooms));
        if (given <= 0 || given >= room.Heat.RoomW)
            return;
        var floor = room.Surfaces.Any(surface => surface.Key.StartsWith("floor", StringComparison.Ordinal)) ? "" : ", a heated floor";
        Say($"{room.Name}: {given:0} of {room.Heat.RoomW:0} W of heat at {days.WinterC:0.#} °C outdoors. More surface{floor}, a larger coil or better insulation would do.");
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
        if (hotWater?.ChargeMin(makes) > LongestChargeMin)
            Say($"source: a tank of {hotWater.TankL:0} l that has gone cold keeps it from the rooms for {hotWater.ChargeMin(makes):0} min at {days.WinterC:0.#} °C outdoors. A second source for hot water, or a larger one, would do; or charge at night.");
    }
}

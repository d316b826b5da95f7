// From what was asked to what is needed: loads first, then sizes, then the house with its emitters on the design day, once for each way of building it.
// Must never size by a figure it does not show.
using RoomSupervisor.Sequence;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>Makes estimates.</summary>
public static class Estimator
{
    // A coil gives at its slowest what the room usually needs, and a tenth more (rule 2.8 aims at 1.2 at most).
    private const double AimedRatio = 1.1;

    /// <summary>Makes an estimate.</summary>
    /// <param name="file">What was asked.</param>
    /// <param name="folder">Where its own weather file lies.</param>
    /// <exception cref="ArgumentException">The weather cannot be used.</exception>
    /// <exception cref="NotSupportedException">A house the simulator cannot play.</exception>
    public static EstimateResult Of(EstimateFile file, string folder)
    {
        ArgumentNullException.ThrowIfNull(file);
        var days = DesignDays.Of(file, folder);
        var size = new PlantSize(5000, 6000, 1500, 200, days.AltitudeM, days.WinterC);
        var bare = Drafted.Make(EstimateWish.Of(file, EstimateVariant.Wish, (_, _) => 1000), size);
        if (file.Source.Cools)
            days = days.WithHardestDay(bare);
        var sizes = CoilSizes(bare, days);
        double Size(string room, string key) => sizes.GetValueOrDefault((room, key), 1000);
        var wish = Way(file, EstimateVariant.Wish, days, Size, size);
        if (file.Source.Cools && Resize(sizes, wish))
            wish = Way(file, EstimateVariant.Wish, days, Size, size);
        List<WayEstimate> variants = [];
        List<string> leftOut = [];
        foreach (var variant in file.Variants)
        {
            if (IsTheWish(file, variant))
                continue;
            var empty = EstimateWish.Of(file, variant, Size).Empty;
            if (empty.Count == 0)
                variants.Add(Way(file, variant, days, Size, size));
            else
                leftOut.Add($"{variant.Name}: not set beside it, for {string.Join(", ", empty)} would have nothing that heats or cools {(empty.Count == 1 ? "it" : "them")}.");
        }
        return new EstimateResult(file, days, wish, variants, Advice.Of(file, days, wish)) { LeftOut = leftOut };
    }

    // Sizes were found by the load alone; the day played with them shows what the room usually takes and whether it is held at its limit. A coil that is too large at its slowest is made smaller,
    // one that would not hold the peak larger, as far as it may be too large at its slowest.
    private static bool Resize(Dictionary<(string, string), double> sizes, WayEstimate wish)
    {
        var any = false;
        foreach (var room in wish.Rooms)
        {
            foreach (var coil in room.Coils.Where(coil => coil.IsSized && coil.AtCap.SensibleW > 0 && double.IsFinite(coil.Ratio)))
            {
                var ratio = coil.Ratio * room.Coils.Count;
                var most = coil.OutputW * Advice.WorstRatio / Math.Max(ratio, 0.1);
                var aimed = Math.Round(ratio, 1) > Advice.GoodRatio ? coil.OutputW * AimedRatio / ratio : coil.OutputW;
                var holds = Math.Ceiling(coil.OutputW * room.CoilsTimesToHold / 50 - 1e-9) * 50;
                var size = Rounded(Math.Max(aimed, double.IsFinite(holds) ? Math.Min(holds, most) : 0));
                any |= size != coil.OutputW;
                sizes[(room.Name, coil.Key)] = size;
            }
        }
        return any;
    }

    // A variant that changes nothing in this house is not set beside it.
    private static bool IsTheWish(EstimateFile file, EstimateVariant variant)
        => (variant.HasCeilings || file.Rooms.All(room => room.Surfaces.All(surface => surface.IsFloor)))
            && (variant is { HasCoils: true, CoilSizePercent: 100 } || file.Rooms.All(room => room.Coils.Count == 0))
            && file.Rooms.All(room => double.IsNaN(room.NoiseAtMostDb) || !HasFan(file, room.Name) || HouseholdDraft.Noise(room.NoiseAtMostDb + variant.CapDb) == room.NoiseAtMostDb);

    private static bool HasFan(EstimateFile file, string room) => file.Rooms.Any(one => one.Coils.Any(coil => one.Name == room || coil.SharedWith == room));

    // By the load of the rooms it serves: at its slowest no more than they usually need.
    private static Dictionary<(string, string), double> CoilSizes(Drafted bare, DesignDays days)
    {
        Dictionary<(string, string), double> sizes = [];
        if (!bare.Wish.File.Source.Cools)
            return bare.Wish.Rooms.SelectMany((room, i) => room.Coils.Select(coil => ((room.Name, coil.Key), Watts: HeatingEstimate.Of(bare, i).RoomW / 1.5 / room.Coils.Count))).ToDictionary(one => one.Item1, one => Rounded(one.Watts));
        var loads = LoadRun.Settled(bare, days, Dried.ByCoils);
        for (var i = 0; i < bare.Wish.Rooms.Count; i++)
        {
            var room = bare.Wish.Rooms[i];
            foreach (var coil in room.Coils)
            {
                var other = coil.From.SharedWith.Length == 0 ? -1 : bare.Wish.Rooms.ToList().FindIndex(one => one.Name == coil.From.SharedWith);
                var hours = loads[i].SensibleW.Zip(other < 0 ? new double[24] : loads[other].SensibleW, (a, b) => a + b).Where(watts => watts > 20).DefaultIfEmpty(100).ToArray();
                var atSlowest = CoilGives.Share(coil.SlowestPercent);
                // Colder air than at the rating leaves the coil less to take: 24 °C against 27 °C over 7 °C water.
                var inRoom = (room.From.CoolAboveC - CoilGives.ColdC) / 20;
                sizes[(room.Name, coil.Key)] = Rounded(AimedRatio * hours.Average() / atSlowest / inRoom / room.Coils.Count);
            }
        }
        return sizes;
    }

    private static double Rounded(double watts) => Math.Clamp(Math.Round(watts / 50) * 50, 200, 20_000);

    private static WayEstimate Way(EstimateFile file, EstimateVariant variant, DesignDays days, Func<string, string, double> size, PlantSize first)
    {
        var wish = EstimateWish.Of(file, variant, size);
        var drafted = Drafted.Make(wish, first);
        HeatParts[] heat = [.. wish.Rooms.Select((_, i) => HeatingEstimate.Of(drafted, i))];
        var heatW = file.Source.Heats ? heat.Sum(parts => parts.InHouseW) : 0;
        var cold = 0.0;
        if (file.Source.Cools)
        {
            var trial = new DesignPlay(drafted, days);
            trial.Run();
            cold = trial.WaterW.Max();
        }
        drafted = Drafted.Make(wish, SourceSize.Of(file, days, cold, heatW));
        return new WayMaker(drafted, days, heat).Make(variant.Name, heatW);
    }
}

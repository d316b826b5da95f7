// One way of building the house, worked out: what each emitter gives, the day with them, recoveries, water, source.
// Must never take a figure from another way of building it.
using RoomSupervisor.Physics;
using RoomSupervisor.Sequence;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

internal sealed class WayMaker(Drafted drafted, DesignDays days, HeatParts[] heat)
{
    private readonly House house = drafted.Files.House;
    private readonly CircuitPlace[] circuits = CircuitPlace.Of(drafted);

    private bool Cools => house.Sources[0].Cools;

    public WayEstimate Make(string name, double heatW)
    {
        var zeros = house.Rooms.Select(_ => new RoomDay(new double[24], new double[24], new double[24], new double[24])).ToArray();
        var loads = Cools ? LoadRun.Settled(drafted, days, Dried.ByCoils) : zeros;
        var humid = Cools ? LoadRun.Settled(drafted, days, Dried.None) : zeros;
        var play = new DesignPlay(drafted, days);
        if (Cools)
            play.Run();
        RoomEstimate[] rooms = [.. house.Rooms.Select((_, i) => Room(i, loads[i], humid[i], play))];
        var loops = Hydronics.Of(drafted).Select(Waters(rooms, play)).ToArray();
        var warmest = loops.Select(loop => loop.HeatingSupplyC).Where(double.IsFinite).DefaultIfEmpty(double.NaN).Max();
        var source = drafted.Wish.File.Source;
        var hotWater = HotWaterEstimate.Of(source);
        var estimate = new SourceEstimate(
            Cools ? play.WaterW.Max() : 0, heatW, drafted.Size, play.WorkJ > 0 ? play.ColdJ / play.WorkJ : double.NaN,
            source.HeatsByPump && double.IsFinite(warmest) ? SourceSize.HeatingPerformance(source, days.WinterC, warmest) : double.NaN, warmest,
            double.IsFinite(source.BufferL) ? "as written" : FormattableString.Invariant($"{drafted.Size.LeastW:0} W of least output for {source.ShortestRunS / 60:0.#} min, the water drifting by 5 K{(drafted.Size.BufferL <= SourceSize.LeastBufferL ? $"; {SourceSize.LeastBufferL} l at least" : "")}"))
        {
            HotWater = hotWater,
            HotWaterPerformance = hotWater is not null && source.HeatsByPump ? SourceSize.HeatingPerformance(source, days.WinterC, hotWater.TankC + SourceSize.OverTankK) : double.NaN,
            WinterOutputW = source.Heats ? SourceSize.HeatAt(source, drafted.Size, days.WinterC) : double.NaN,
        };
        var (surfaces, coils) = (play.Rooms.Sum(room => room.SurfaceW.Sum()), play.Rooms.Sum(room => room.CoilSensibleW.Sum()));
        return new WayEstimate(name, rooms, loops, estimate, drafted, play.SupplyLowC, play.SupplyHighC, play.WaterW)
        {
            PipesW = play.PipesW,
            SurfaceShare = surfaces + coils > 0 ? surfaces / (surfaces + coils) : double.NaN,
        };
    }

    private RoomEstimate Room(int index, RoomDay day, RoomDay humid, DesignPlay play)
    {
        var (wished, played) = (drafted.Wish.Rooms[index], play.Rooms[index]);
        // Air that is held at its limit and dried by nothing is saturated at the most: what is over drips.
        var humidDew = Cools ? humid.DewC[Array.IndexOf(day.SensibleW, day.SensibleW.Max())] : double.NaN;
        if (LoadRun.IsCooled(house, index))
            humidDew = Math.Min(humidDew, wished.From.CoolAboveC);
        var given = played.SurfaceW.Zip(played.CoilSensibleW, (a, b) => a + b).ToArray();
        var recovery = Recovery(index, play);
        SurfaceEstimate[] surfaces = [.. wished.Surfaces.Select(surface => Surface(index, surface, humidDew))];
        var most = surfaces.Sum(surface => house.Rooms[index].Coils.Length > 0 ? surface.DryW : surface.HumidW) + house.Rooms[index].Coils.Sum(coil => Coil(coil, play) is var one ? one.AtCap.SensibleW / one.Rooms : 0);
        var reserve = LoadRun.IsCooled(house, index) && day.SensibleW.Max() > 20 ? most / day.SensibleW.Max() : double.NaN;
        // A room that only just holds: its minutes hang on single degrees of water, so both ends of the machine's band are played.
        var isTight = reserve < RoomEstimate.TightReserve;
        return new RoomEstimate(
            wished.Name, wished.From.FloorAreaM2, heat[index], day, given, played.UsualW, humidDew, surfaces,
            [.. house.Rooms[index].Coils.Where(coil => house.Coils[coil].Rooms[0] == index).Select(coil => Coil(coil, play))])
        {
            Reserve = reserve,
            QuickestMin = isTight ? Recovery(index, play, -drafted.Plant.Machine.BandK).Minutes : double.NaN,
            SlowestMin = isTight ? Recovery(index, play, drafted.Plant.Machine.BandK).Minutes : double.NaN,
            OutsideH = played.OutsideH,
            OutsideKh = played.OutsideKh,
            RecoveryMin = recovery.Minutes,
            OpenedC = recovery.OpenedC,
            MeanDb = played.MeanDb,
            LoudestDb = played.LoudestDb,
            FanH = played.HeardH,
            CondensateKg = played.CoilLatentW.Sum() * 3600 / 2_501_000,
        };
    }

    private RecoveryEstimate Recovery(int room, DesignPlay play, double warmerK = 0)
    {
        var opening = drafted.Building.OpeningsOf[room];
        return Cools && opening.Length > 0 && house.Rooms[room].Coils.Length > 0 && play.Openings.Count > 0
            ? RecoveryPlay.Of(drafted, days, play, room, opening.MaxBy(one => drafted.Building.Plan.Openings[one].AreaM2), warmerK)
            : new RecoveryEstimate(double.NaN, double.NaN, double.NaN);
    }

    private SurfaceEstimate Surface(int index, WishedSurface surface, double humidDewC)
    {
        var (from, id) = (drafted.Wish.Rooms[index].From, $"{house.Rooms[index].Id}.{surface.Key}");
        var place = circuits.FirstOrDefault(one => house.Circuits[one.Circuit].Id == id);
        // As if coils dried it, whether there are any or not: that is what drying would add.
        var dry = Math.Min(LoadRun.DryC, humidDewC);
        SurfaceAt Cold(double dew) => place is null || !double.IsFinite(dew) ? default : Cooled(surface, place, from.CoolAboveC, dew);
        var flow = drafted.Plant.Loops.SelectMany(loop => loop.Circuits).First(one => one.Name == id).Flow.RatedKgPerS / surface.AreaM2;
        var (most, supply) = house.Sources[0].Heats && house.Loops[house.Circuits.First(one => one.Id == id).Loop].Heats ? Warm(surface, flow, from.HeatBelowC, heat[index].RoomW) : (0, double.NaN);
        return new SurfaceEstimate(surface.Key, surface.AreaM2, Cold(humidDewC), Cold(dry), humidDewC, dry, most, supply, place is not null);
    }

    // No colder than the guard, the loop and the surface's own limit allow: 17 °C on walls and ceilings, 19.5 °C on floors.
    private static SurfaceAt Cooled(WishedSurface surface, CircuitPlace place, double roomC, double dewC)
    {
        var (flow, exchange) = (place.RatedKgPerS / place.AreaM2, SurfaceGives.Exchange(surface.From, heats: false));
        var supply = Math.Max(SurfaceGives.LowestSafeC(roomC, dewC), SurfaceGives.ColdestC);
        if (supply > SurfaceGives.WarmestC || supply >= roomC)
            return new SurfaceAt(supply, supply, 0, roomC);
        var limit = surface.From.IsFloor ? 19.5 : SurfaceLimits.CooledWallOrCeilingC;
        var at = SurfaceGives.At(surface.CoolingWPerM2, surface.Exponent, flow, supply, roomC, exchange);
        for (var i = 0; i < 40 && at.SurfaceC < limit; i++)
        {
            supply += 0.25;
            at = SurfaceGives.At(surface.CoolingWPerM2, surface.Exponent, flow, supply, roomC, exchange);
        }
        return at;
    }

    private static (double MostW, double SupplyC) Warm(WishedSurface surface, double flow, double roomC, double loadW)
    {
        var exchange = SurfaceGives.Exchange(surface.From, heats: true);
        var most = SurfaceGives.At(surface.HeatingWPerM2, surface.Exponent, flow, surface.From.IsFloor ? 40 : 35, roomC, exchange).WPerM2;
        if (surface.From.IsFloor && SurfaceLimits.TryHighestFloorHeating(SurfaceLimits.HeatedFloorOccupiedC, roomC, out var floor, out _))
            most = Math.Min(most, floor);
        var wanted = Math.Min(loadW / surface.AreaM2, most);
        return (most * surface.AreaM2, Math.Round(SurfaceGives.SupplyFor(surface.HeatingWPerM2, surface.Exponent, flow, wanted, roomC, heats: true), 1));
    }

    private CoilEstimate Coil(int index, DesignPlay play)
    {
        var (coil, plan) = (house.Coils[index], drafted.Plant.FanCoils[index]);
        var from = drafted.Wish.Rooms[coil.Rooms[0]];
        var wished = from.Coils.First(one => coil.Id == $"{from.Name}.{one.Key}" || coil.Id == $"{from.Name}-{one.Key}" || coil.Id == $"{from.Name}-{one.Key}.coil");
        MoistAir.TryHumidityRatio(LoadRun.DryC, 100, house.PressurePa, out var ratio, out _);
        var cap = CoilGives.CapPercent(drafted, coil);
        CoilAt At(double percent) => CoilGives.At(plan, percent, from.From.CoolAboveC, ratio, house.PressurePa, CoilGives.ColdC);
        var (atCap, slowest, usual) = (At(cap), At(coil.StartSpeedPercent), coil.Rooms.Sum(room => play.Rooms[room].UsualW));
        var heating = coil.Kind.HeatingOutputW * CoilGives.Share(cap) * (40 - from.From.HeatBelowC) / 20;
        return new CoilEstimate(wished.Key, wished.OutputW, wished.IsSized, cap, atCap, slowest, usual > 0 ? slowest.SensibleW / usual : double.NaN, cap > 0 && double.IsFinite(heating) ? heating : 0, coil.Rooms.Length);
    }

    // Water of a loop: in cooling what the day asked, in heating the warmest that a surface on it needs.
    private Func<LoopEstimate, LoopEstimate> Waters(RoomEstimate[] rooms, DesignPlay play) => estimate =>
    {
        var loop = house.Loops.First(one => one.Id == estimate.Id);
        var low = play.LoopLowC[house.Loops.IndexOf(loop)];
        if (loop.Serves == LoopServes.Coils)
            return estimate with { CoolingSupplyC = Cools ? CoilGives.ColdC : double.NaN, HeatingSupplyC = house.Sources[0].Heats ? 40 : double.NaN };
        var warm = loop.Circuits.Select(circuit => rooms[house.Circuits[circuit].Room].Surfaces.First(one => house.Circuits[circuit].Id.EndsWith("." + one.Key, StringComparison.Ordinal)).HeatingSupplyC);
        return estimate with
        {
            CoolingSupplyC = Cools && loop.Cools && double.IsFinite(low) ? low : double.NaN,
            HeatingSupplyC = warm.Where(double.IsFinite).DefaultIfEmpty(double.NaN).Max(),
        };
    };
}

// Loads of a building held by an ideal plant that heats and cools its air and dries it: what the rooms ask, before anybody says with what.
// Must never know an emitter: what surfaces and coils change of it is DesignPlay's business.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Physics;
using RoomSupervisor.Sequence;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>Loads of one room over a day, hourly means.</summary>
/// <param name="SensibleW">24 values, W, over 0 where it is cooled.</param>
/// <param name="LatentW">24 values, W.</param>
/// <param name="HeatW">24 values, W, over 0 where it is heated.</param>
/// <param name="DewC">Dew point at the hours' ends, °C.</param>
public sealed record RoomDay(double[] SensibleW, double[] LatentW, double[] HeatW, double[] DewC);

/// <summary>Which rooms of a house are dried.</summary>
internal enum Dried : byte
{
    /// <summary>None: what their air comes to by itself.</summary>
    None,

    /// <summary>Those with a coil.</summary>
    ByCoils,

    /// <summary>All: for finding the hardest day, whatever is wished in the rooms.</summary>
    All,
}

/// <summary>A building under an ideal plant, day by day.</summary>
internal sealed class LoadRun
{
    /// <summary>Rooms with a coil are dried to this dew point, °C: what the sequence aims at.</summary>
    public const double DryC = 15;

    private const double DryingS = 3600;

    private readonly Drafted drafted;
    private readonly BuildingModel building;
    private readonly HouseholdPlay household;
    private readonly VirtualHouse.Weather weather;
    private readonly double stepS, dryRatio;
    private readonly Dried dries;

    /// <param name="drafted">The house.</param>
    /// <param name="days">Its weather.</param>
    /// <param name="stepS">Step, s; a part of an hour.</param>
    /// <param name="dries">Which rooms are dried.</param>
    public LoadRun(Drafted drafted, DesignDays days, double stepS, Dried dries)
    {
        (this.drafted, this.stepS, this.dries, weather) = (drafted, stepS, dries, days.Summer);
        building = new BuildingModel(drafted.Building.Plan, stepS);
        household = new HouseholdPlay(drafted.Household(days), building);
        Prepared.Surround(building, drafted.Building, weather);
        MoistAir.TryHumidityRatio(DryC, 100, drafted.Building.Plan.PressurePa, out dryRatio, out _);
    }

    /// <summary>Loads of the last day by room.</summary>
    public RoomDay[] Rooms { get; private set; } = [];

    /// <summary>Plays a day after the days before it; J of cooling, heat and moisture together.</summary>
    /// <param name="date">Local date.</param>
    public double Day(DateOnly date)
    {
        var house = drafted.Files.House;
        Rooms = [.. house.Rooms.Select(_ => new RoomDay(new double[24], new double[24], new double[24], new double[24]))];
        var start = DesignDays.Midnight(date, drafted.Files.Site.TimeZone);
        var perHour = (int)Math.Round(3600 / stepS);
        var joules = 0.0;
        for (var i = 0; i < 24 * perHour; i++)
            joules += Step(start.AddSeconds((i + 1) * stepS), i * stepS, i / perHour, 1.0 / perHour);
        return joules;
    }

    private double Step(DateTimeOffset end, double wallS, int hour, double share)
    {
        var house = drafted.Files.House;
        household.Set(wallS);
        var joules = 0.0;
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            var from = drafted.Wish.Rooms[i].From;
            building.IdealCoolC[i] = IsCooled(house, i) ? from.CoolAboveC : double.NaN;
            building.IdealHeatC[i] = house.Sources[0].Heats ? from.HeatBelowC : double.NaN;
            var removed = dries == Dried.All || (dries == Dried.ByCoils && house.Rooms[i].Coils.Length > 0) ? Math.Max(building.DryAirKg[i] * (building.HumidityRatio[i] - dryRatio) / DryingS, 0) : 0;
            building.VapourKgPerS[i] -= removed;
            Rooms[i].LatentW[hour] += share * removed * 2_501_000;
            joules += removed * 2_501_000 * stepS;
        }
        weather.At(end, out var now);
        building.Step(now);
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            Rooms[i].SensibleW[hour] += share * Math.Max(-building.IdealW[i], 0);
            Rooms[i].HeatW[hour] += share * Math.Max(building.IdealW[i], 0);
            Rooms[i].DewC[hour] = building.DewPointC[i];
            joules += Math.Max(-building.IdealW[i], 0) * stepS;
        }
        return joules;
    }

    /// <summary>Something in the room can cool it.</summary>
    public static bool IsCooled(House house, int room)
        => house.Sources[0].Cools && (house.Rooms[room].Coils.Length > 0 || house.Rooms[room].Circuits.Any(circuit => house.Loops[house.Circuits[circuit].Loop].Cools));

    /// <summary>Loads of a day after five days of the weather before it.</summary>
    public static RoomDay[] Settled(Drafted drafted, DesignDays days, Dried dries)
    {
        var run = new LoadRun(drafted, days, 300, dries);
        for (var before = 5; before >= 0; before--)
            run.Day(days.SummerDate.AddDays(-before));
        return run.Rooms;
    }
}

// What somebody who asks "what do I need for this house?" writes down: place, building, source, and the variants to set side by side. Rooms are in EstimateRoom.cs.
// Must never hold a result: what follows from it is the desk's business, and what nobody wrote has a stated default.
using RoomSupervisor.Terms;

namespace RoomSupervisor.VirtualHouse;

/// <summary>An estimate's input. Every value has a default or must be written; <see cref="Effective"/> tells which are which.</summary>
public sealed class EstimateFile
{
    /// <summary>Name of the house.</summary>
    public string Name { get; private set; } = "";

    /// <summary>metric or us: how values are shown.</summary>
    public string Units { get; private set; } = "metric";

    /// <summary>Time zone of the place, as in site.yaml.</summary>
    public string TimeZone { get; private set; } = "";

    /// <summary>Where it stands.</summary>
    public EstimatePlace Place { get; } = new();

    /// <summary>What the house is made of, as building.yaml says it; rooms, doors and openings included.</summary>
    public BuildingFile Building { get; } = new();

    /// <summary>What of it an estimate asks besides.</summary>
    public EstimateShell Shell { get; } = new();

    /// <summary>What makes the water.</summary>
    public EstimateSource Source { get; } = new();

    /// <summary>Rooms in the order written.</summary>
    public IReadOnlyList<EstimateRoom> Rooms { get; internal set; } = [];

    /// <summary>What is set beside the wish.</summary>
    public IReadOnlyList<EstimateVariant> Variants { get; internal set; } = [];

    /// <summary>Something in a room heats or cools it: its own, or a neighbour's coil.</summary>
    /// <param name="room">Its name.</param>
    public bool HasEmitter(string room) => Rooms.Any(one => (one.Name == room && one.Surfaces.Count + one.Coils.Count > 0) || one.Coils.Any(coil => coil.SharedWith == room));

    /// <summary>Something wished in a room cools it.</summary>
    /// <param name="room">Its name.</param>
    public bool IsCooled(string room)
        => Source.Cools && Rooms.Any(one => (one.Name == room && (one.Coils.Count > 0 || one.Surfaces.Any(surface => surface.IsCooled))) || one.Coils.Any(coil => coil.SharedWith == room));

    /// <summary>Every value as it holds, with whether somebody wrote it.</summary>
    public IReadOnlyList<Site.EffectiveValue> Effective { get; internal set; } = [];

    /// <summary>Keys of the file's top.</summary>
    public static IReadOnlyList<Parameter<EstimateFile>> Parameters { get; } =
    [
        Declare.Name<EstimateFile>("name", "name of the house", f => f.Name, (f, v) => f.Name = v, example: "Boat shed"),
        Declare.Choice<EstimateFile>("units", "metric", ["metric", "us"], "how values are shown", f => f.Units, (f, v) => f.Units = v),
        Declare.Name<EstimateFile>("time_zone", "time zone of the place", f => f.TimeZone, (f, v) => f.TimeZone = v, example: "America/New_York"),
    ];
}

/// <summary>Where the house stands: a weather file, or design conditions; conditions that are written go before those of the file.</summary>
public sealed class EstimatePlace
{
    /// <summary>chicago, new-york, an EPW file beside the estimate, or empty: conditions are written.</summary>
    public string Weather { get; private set; } = "";

    /// <summary>Above the sea, m; NaN: the weather file's.</summary>
    public double AltitudeM { get; private set; } = double.NaN;

    /// <summary>Degrees, north positive; NaN: the weather file's.</summary>
    public double LatitudeDegrees { get; private set; } = double.NaN;

    /// <summary>Degrees, east positive; NaN: the weather file's.</summary>
    public double LongitudeDegrees { get; private set; } = double.NaN;

    /// <summary>Design outdoor temperature in winter, °C; NaN: passed in all but 35 hours of the weather file's year (99.6 %).</summary>
    public double WinterC { get; private set; } = double.NaN;

    /// <summary>Highest air of the summer design day, °C; NaN: the day of the weather file that asks most of the house.</summary>
    public double SummerC { get; private set; } = double.NaN;

    /// <summary>Range of the summer design day, K.</summary>
    public double SummerRangeK { get; private set; } = 9;

    /// <summary>Dew point of the summer design day, °C.</summary>
    public double SummerDewC { get; private set; } = double.NaN;

    /// <summary>Mean of the year, for the ground, °C; NaN: the weather file's, else 12 °C.</summary>
    public double MeanC { get; private set; } = double.NaN;

    /// <summary>Keys.</summary>
    public static IReadOnlyList<Parameter<EstimatePlace>> Parameters { get; } =
    [
        Declare.Name<EstimatePlace>("weather", "chicago, new-york, or an EPW file beside the estimate; without it the conditions below must be written", p => p.Weather, (p, v) => p.Weather = v, required: false, example: "new-york"),
        Declare.Number<EstimatePlace>("altitude", Quantity.Length, double.NaN, -400, 2500, "height above the sea; without it the weather file's", p => p.AltitudeM, (p, v) => p.AltitudeM = v, example: "12 m"),
        Declare.Number<EstimatePlace>("latitude", Quantity.Number, double.NaN, -66, 66, "degrees, north positive; needed without a weather file", p => p.LatitudeDegrees, (p, v) => p.LatitudeDegrees = v, example: "40.6"),
        Declare.Number<EstimatePlace>("longitude", Quantity.Number, double.NaN, -180, 180, "degrees, east positive; needed without a weather file", p => p.LongitudeDegrees, (p, v) => p.LongitudeDegrees = v, example: "-73.8"),
        Declare.Number<EstimatePlace>("winter_outdoor", Quantity.Temperature, double.NaN, -40, 18, "design outdoor temperature in winter; without it that which all but 35 hours of the weather file's year pass", p => p.WinterC, (p, v) => p.WinterC = v, example: "-9 °C"),
        Declare.Number<EstimatePlace>("summer_outdoor", Quantity.Temperature, double.NaN, 15, 50, "highest air of the summer design day; without it the hardest day of the weather file", p => p.SummerC, (p, v) => p.SummerC = v, example: "32 °C"),
        Declare.Number<EstimatePlace>("summer_range", Quantity.TemperatureDifference, 9, 1, 25, "from the coolest to the warmest hour of that day", p => p.SummerRangeK, (p, v) => p.SummerRangeK = v),
        Declare.Number<EstimatePlace>("summer_dew_point", Quantity.Temperature, double.NaN, -5, 29, "its dew point; needed beside summer_outdoor", p => p.SummerDewC, (p, v) => p.SummerDewC = v, example: "23 °C"),
        Declare.Number<EstimatePlace>("mean_outdoor", Quantity.Temperature, double.NaN, -10, 30, "mean of the year, for the ground; without it the weather file's, else 12 °C", p => p.MeanC, (p, v) => p.MeanC = v, example: "12 °C"),
    ];
}

/// <summary>What an estimate asks of the shell beside building.yaml's keys.</summary>
public sealed class EstimateShell
{
    /// <summary>Added to every U value for thermal bridges, W/(m²·K).</summary>
    public double BridgesWPerM2K { get; private set; } = 0.05;

    /// <summary>Outdoor air of the whole house at the winter design temperature, changes an hour.</summary>
    public double AirChangesPerH { get; private set; } = 0.25;

    /// <summary>Outdoor air that each single room is reckoned with, changes an hour.</summary>
    public double RoomChangesPerH { get; private set; } = 0.5;

    /// <summary>Heat for warming up again after a set-back, W/m².</summary>
    public double ReheatWPerM2 { get; private set; }

    /// <summary>Keys.</summary>
    public static IReadOnlyList<Parameter<EstimateShell>> Parameters { get; } =
    [
        Declare.Number<EstimateShell>("thermal_bridges", Quantity.AreaTransfer, 0.05, 0, 0.3, "added to every U value: 0.02 attested, 0.05 careful new work, 0.10 others, 0.15 insulated inside (EN 12831-1 table B.1)", s => s.BridgesWPerM2K, (s, v) => s.BridgesWPerM2K = v),
        Declare.Number<EstimateShell>("air_change", Quantity.Number, 0.25, 0.1, 3, "outdoor air of the whole house, changes an hour: 0.25 tight windows, 0.5 older, 1 leaky (EN 12831-1 table B.12)", s => s.AirChangesPerH, (s, v) => s.AirChangesPerH = v),
        Declare.Number<EstimateShell>("room_air_change", Quantity.Number, 0.5, 0.1, 3, "outdoor air each room by itself is heated for, changes an hour (EN 12831-1 table B.12)", s => s.RoomChangesPerH, (s, v) => s.RoomChangesPerH = v),
        Declare.Number<EstimateShell>("reheat", Quantity.AreaPower, 0, 0, 60, "heat beside the load for warming up after a set-back", s => s.ReheatWPerM2, (s, v) => s.ReheatWPerM2 = v),
    ];
}

/// <summary>What makes the water.</summary>
public sealed class EstimateSource
{
    /// <summary>heat-pump, chiller, boiler, or four-pipe: a chiller, and beside it a second source for heat.</summary>
    public string Type { get; private set; } = "heat-pump";

    /// <summary>What makes the heat of a four-pipe house: heat-pump or boiler.</summary>
    public string HeatBy { get; private set; } = "heat-pump";

    /// <summary>People it makes hot water for; 0: none.</summary>
    public double HotWaterPeople { get; private set; }

    /// <summary>What each draws a day, reckoned as water of 60 °C, l.</summary>
    public double HotWaterL { get; private set; } = 40;

    /// <summary>Wanted temperature of the tank, °C.</summary>
    public double HotWaterC { get; private set; } = 52;

    /// <summary>Least output, share of the full one, %.</summary>
    public double LeastPercent { get; private set; } = 30;

    /// <summary>Shortest run, s.</summary>
    public double ShortestRunS { get; private set; } = 600;

    /// <summary>Share of the ideal cycle, %.</summary>
    public double ShareOfIdealPercent { get; private set; } = 42;

    /// <summary>Water in its buffer, l; NaN: sized.</summary>
    public double BufferL { get; private set; } = double.NaN;

    /// <summary>Cold and warm water stand side by side: two machines, each sized for itself.</summary>
    public bool IsFourPipe => Type == "four-pipe";

    /// <summary>Its heat comes from a heat pump.</summary>
    public bool HeatsByPump => Type == "heat-pump" || (IsFourPipe && HeatBy == "heat-pump");

    /// <summary>It makes hot water as well.</summary>
    public bool HasHotWater => HotWaterPeople > 0;

    /// <summary>It can cool.</summary>
    public bool Cools => Type != "boiler";

    /// <summary>It can heat.</summary>
    public bool Heats => Type != "chiller";

    /// <summary>Keys.</summary>
    public static IReadOnlyList<Parameter<EstimateSource>> Parameters { get; } =
    [
        Declare.Choice<EstimateSource>("type", "heat-pump", ["heat-pump", "chiller", "boiler", "four-pipe"], "what makes the water; four-pipe: a chiller and beside it a second source for heat, so that rooms may be heated and cooled at once", s => s.Type, (s, v) => s.Type = v),
        Declare.Choice<EstimateSource>("heat_by", "heat-pump", ["heat-pump", "boiler"], "what makes the heat of a four-pipe house", s => s.HeatBy, (s, v) => s.HeatBy = v),
        Declare.Number<EstimateSource>("hot_water_people", Quantity.Number, 0, 0, 50, "people it makes hot water for as well; 0: none", s => s.HotWaterPeople, (s, v) => s.HotWaterPeople = v, whole: true),
        Declare.Number<EstimateSource>("hot_water_a_person", Quantity.Volume, 40, 10, 150, "what each draws a day, reckoned as water of 60 °C from 10 °C (the order of EN 12831-3's dwellings, from memory)", s => s.HotWaterL, (s, v) => s.HotWaterL = v),
        Declare.Number<EstimateSource>("hot_water_wanted", Quantity.Temperature, 52, 40, 65, "wanted temperature of the tank; hygiene and scalds are matters of local code", s => s.HotWaterC, (s, v) => s.HotWaterC = v),
        Declare.Number<EstimateSource>("least_output", Quantity.Percent, 30, 10, 100, "least output it can hold, share of the full one", s => s.LeastPercent, (s, v) => s.LeastPercent = v),
        Declare.Number<EstimateSource>("shortest_run", Quantity.Duration, 600, 60, 3600, "run that a start should be worth, for the buffer", s => s.ShortestRunS, (s, v) => s.ShortestRunS = v),
        Declare.Number<EstimateSource>("buffer", Quantity.Volume, double.NaN, 30, 5000, "water in its buffer; without it the least output for the shortest run", s => s.BufferL, (s, v) => s.BufferL = v, example: "200 l"),
        Declare.Number<EstimateSource>("share_of_ideal", Quantity.Percent, 42, 15, 70, "its performance as a share of the ideal cycle between its refrigerant's temperatures (common practice, no published source)", s => s.ShareOfIdealPercent, (s, v) => s.ShareOfIdealPercent = v),
    ];
}

/// <summary>A variant: what is other than wished.</summary>
public sealed class EstimateVariant
{
    /// <summary>Name in the file.</summary>
    public string Name { get; internal set; } = "";

    /// <summary>Cooled and heated ceilings and walls are built.</summary>
    public bool HasCeilings { get; private set; } = true;

    /// <summary>Coils are built.</summary>
    public bool HasCoils { get; private set; } = true;

    /// <summary>Size of the coils against the wish, %.</summary>
    public double CoilSizePercent { get; private set; } = 100;

    /// <summary>Noise caps against the wish, dB.</summary>
    public double CapDb { get; private set; }

    /// <summary>The wish itself.</summary>
    public static EstimateVariant Wish { get; } = new() { Name = "as wished" };

    /// <summary>Those set beside it when nobody writes any.</summary>
    public static IReadOnlyList<EstimateVariant> Usual { get; } =
    [
        new() { Name = "without ceilings", HasCeilings = false },
        new() { Name = "coils half as large again", CoilSizePercent = 150 },
        new() { Name = "caps 5 dB lower", CapDb = -5 },
    ];

    /// <summary>Keys.</summary>
    public static IReadOnlyList<Parameter<EstimateVariant>> Parameters { get; } =
    [
        Declare.Switch<EstimateVariant>("ceilings", true, "ceilings and walls with water are built", v => v.HasCeilings, (v, x) => v.HasCeilings = x),
        Declare.Switch<EstimateVariant>("coils", true, "coils are built", v => v.HasCoils, (v, x) => v.HasCoils = x),
        Declare.Number<EstimateVariant>("coil_size", Quantity.Percent, 100, 30, 300, "coils against those wished", v => v.CoilSizePercent, (v, x) => v.CoilSizePercent = x),
        Declare.Number<EstimateVariant>("cap_change", Quantity.Level, 0, -20, 20, "all noise caps higher or lower by this", v => v.CapDb, (v, x) => v.CapDb = x),
    ];
}

// The design day with the emitters that are wished, moved by the simplest hands there are: the coil takes what is left, within its cap; the surface trims slowly, as cold as the dew point allows.
// Must never be taken for the controller: a rehearsal plays that. It is quick, and it errs to neither side on purpose.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Sequence;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>Plays the day.</summary>
internal sealed partial class DesignPlay
{
    internal const double StepS = 60;

    // The surface is held a little under the coil's limit, so that the coil ends by itself: W/K for a m² of floor, integral time, how much under. Choices of this project.
    private const double TrimWPerM2K = 25, TrimS = 1800, UnderK = 0.05, LooksS = 300;

    // Water called for is 7 °C; the machine's band and the buffer let it swing from 5 to 11 °C in rehearsals, 8 °C in the mean. A house whose coils only hold has 10 °C.
    private const double PlayedColdC = 8, HoldingC = 10;

    private readonly Drafted drafted;
    private readonly House house;
    private readonly DesignDays days;
    private readonly BuildingModel building;
    private readonly HouseholdPlay household;
    private readonly double[] open, held, capacityW, slowestW, latentAtCapW, latentAtSlowestW, capPercent, takenW, takenCoilW, forcedW, dryW, leadSlowestW, pipesIn;
    private readonly bool[] limited;
    private readonly DryingPlay drying;
    private readonly CircuitPlace[] circuits;
    private readonly LoopPipes[] pipes;
    private double pipesW, standsForS;
    private bool isCold;
    private double coilWaterC = double.NaN;
    private double looked = double.PositiveInfinity;

    public DesignPlay(Drafted drafted, DesignDays days)
    {
        (this.drafted, this.days, house) = (drafted, days, drafted.Files.House);
        building = new BuildingModel(drafted.Building.Plan, StepS);
        household = new HouseholdPlay(drafted.Household(days), building);
        Prepared.Surround(building, drafted.Building, days.Summer);
        var rooms = house.Rooms.Length;
        (open, held) = (new double[house.Circuits.Length], new double[house.Circuits.Length]);
        (forcedW, dryW, leadSlowestW, drying) = (new double[rooms], new double[rooms], new double[rooms], new DryingPlay(rooms));
        (limited, takenW, takenCoilW, pipesIn) = (new bool[rooms], new double[rooms], new double[rooms], new double[rooms]);
        (capacityW, slowestW, latentAtCapW, latentAtSlowestW) = (new double[rooms], new double[rooms], new double[rooms], new double[rooms]);
        capPercent = [.. house.Coils.Select(coil => CoilGives.CapPercent(drafted, coil))];
        circuits = CircuitPlace.Of(drafted);
        pipes = LoopPipes.Of(drafted);
        Rooms = [.. house.Rooms.Select(_ => new RoomPlayed())];
    }

    /// <summary>Rooms of the last day.</summary>
    public RoomPlayed[] Rooms { get; private set; }

    /// <summary>Most that the house took of its water at once, hourly mean, W, by hour: coils with their moisture, and surfaces.</summary>
    public double[] WaterW { get; } = new double[24];

    /// <summary>Cold that pipes of running loops took up, hourly mean, W, by hour.</summary>
    public double[] PipesW { get; } = new double[24];

    /// <summary>Cold made, J, and the work for it, J, over the day.</summary>
    public double ColdJ { get; private set; }

    public double WorkJ { get; private set; }

    /// <summary>Warmest and coldest supply of cooled surfaces while they were used, °C.</summary>
    public double SupplyLowC { get; private set; } = double.PositiveInfinity;

    public double SupplyHighC { get; private set; } = double.NegativeInfinity;

    /// <summary>The house as it stood when an airing begins on the design day.</summary>
    public double[] AtOpening { get; private set; } = [];

    /// <summary>What each room was given then, W sensible.</summary>
    public double[] TakenAtOpeningW { get; private set; } = [];

    /// <summary>Cold that the house took then, W, moisture counted.</summary>
    public double WaterAtOpeningW { get; private set; }

    /// <summary>Cold that running pipes took up in each room then, W.</summary>
    public double[] PipesAtOpeningW { get; private set; } = [];

    /// <summary>Water of the coils in the hour before, mean while any coil had some, °C; NaN: none had.</summary>
    public double CoilWaterAtOpeningC { get; private set; } = double.NaN;

    /// <summary>Plays five days before and the design day.</summary>
    public void Run()
    {
        for (var before = 5; before >= 0; before--)
        {
            Rooms = [.. house.Rooms.Select(_ => new RoomPlayed())];
            Array.Clear(WaterW);
            Array.Clear(PipesW);
            (ColdJ, WorkJ, SupplyLowC, SupplyHighC) = (0, 0, double.PositiveInfinity, double.NegativeInfinity);
            Day(days.SummerDate.AddDays(-before), before == 0);
        }
    }

    private void Day(DateOnly date, bool isLast)
    {
        var start = DesignDays.Midnight(date, drafted.Files.Site.TimeZone);
        for (var i = 0; i < 86_400 / (int)StepS; i++)
        {
            var wallS = i * StepS;
            if (isLast && wallS == BuildingDraft.Opened.At.TotalSeconds)
                (AtOpening, TakenAtOpeningW, PipesAtOpeningW, WaterAtOpeningW, CoilWaterAtOpeningC) = (building.Save(), [.. takenW], [.. pipesIn], WaterNowW(), coilWaterC);
            household.Set(wallS);
            if ((looked += StepS) > LooksS)
                Look();
            Emit();
            days.Summer.At(start.AddSeconds(wallS + StepS), out var weather);
            building.Step(weather);
            Settle((int)(wallS / 3600), weather.AirC);
        }
    }

    private void Emit()
    {
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            var set = SetC(i);
            building.IdealHeatC[i] = house.Sources[0].Heats ? drafted.Wish.Rooms[i].From.HeatBelowC : double.NaN;
            building.IdealCoolC[i] = capacityW[i] > 0 && !limited[i] ? set : double.NaN;
            if (limited[i])
                building.ConvectiveW[i] -= capacityW[i];
            else
                building.ConvectiveW[i] -= forcedW[i];
            building.VapourKgPerS[i] -= LatentW(i, takenCoilW[i]) / 2_501_000;
        }
        foreach (var place in circuits)
        {
            building.WaterInC[place.Surface] = SupplyOf(place.Loop);
            building.WaterKgPerS[place.Surface] = open[place.Circuit] * place.RatedKgPerS;
        }
        Mix();
        Pipes();
    }

    // Sensible heat that the coils take whatever the room asks: a drying one, and one that serves several rooms.
    private void Force()
    {
        var asked = new double[house.Rooms.Length];
        for (var i = 0; i < asked.Length; i++)
        {
            var over = building.AirC[i] - drafted.Wish.Rooms[i].From.CoolAboveC;
            var floor = TrimWPerM2K * drafted.Wish.Rooms[i].From.FloorAreaM2;
            drying.Step(i, StepS, over, building.DewPointC[i], takenW[i] + floor * over, takenW[i] - takenCoilW[i], dryW[i], leadSlowestW[i]);
            asked[i] = takenCoilW[i] - floor * Math.Max(SetC(i) - building.AirC[i], 0);
            forcedW[i] = drying.ForcedW(i);
        }
        // A coil of several rooms gives to all what the neediest asks.
        foreach (var coil in house.Coils)
        {
            if (coil.Rooms.Length < 2)
                continue;
            var most = coil.Rooms.Max(room => Math.Max(asked[room], forcedW[room]));
            foreach (var room in coil.Rooms)
                forcedW[room] = Math.Clamp(most, 0, capacityW[room]);
        }
    }

    private double SetC(int room) => drafted.Wish.Rooms[room].From.CoolAboveC - drying.ShiftK(room);

    private double SupplyOf(int loop) => CircuitPlace.SupplyC(circuits, loop, building, drafted);

    private void Settle(int hour, double outdoorC)
    {
        Array.Clear(takenW);
        var (cold, anyCoil) = (pipesW, false);
        isCold = false;
        foreach (var place in circuits)
            takenW[house.Circuits[place.Circuit].Room] += Math.Max(-building.WaterW[place.Surface], 0);
        // What coils took is known for all before any surface moves.
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            var coil = limited[i] ? capacityW[i] : double.IsNaN(building.IdealCoolC[i]) ? 0 : forcedW[i] + Math.Max(-building.IdealW[i], 0);
            limited[i] = capacityW[i] > 0 && (limited[i] ? building.AirC[i] > SetC(i) + 0.02 : coil > capacityW[i]);
            takenCoilW[i] = Math.Min(coil, Math.Max(capacityW[i], 0));
            var latent = LatentW(i, takenCoilW[i]);
            Trim(i);
            Book(i, hour, latent);
            cold += takenW[i] + takenCoilW[i] + latent;
            isCold |= limited[i] || (drying.Dries(i) && takenCoilW[i] > 1);
            anyCoil |= takenCoilW[i] > 1;
            takenW[i] += takenCoilW[i];
        }
        Force();
        FollowWater(anyCoil);
        WaterW[hour] += cold * StepS / 3600;
        PipesW[hour] += pipesW * StepS / 3600;
        Source(cold, anyCoil, outdoorC);
    }

    // Mean of about an hour; forgotten when nothing has drawn for a quarter of one: the buffer has drifted by then.
    private void FollowWater(bool anyCoil)
    {
        standsForS = anyCoil ? 0 : standsForS + StepS;
        var water = isCold ? PlayedColdC : HoldingC;
        coilWaterC = standsForS > 900 ? double.NaN : !anyCoil ? coilWaterC : double.IsNaN(coilWaterC) ? water : coilWaterC + (water - coilWaterC) * StepS / 3600;
    }

    private double WaterNowW()
    {
        var sum = pipesW;
        for (var i = 0; i < house.Rooms.Length; i++)
            sum += takenW[i] + LatentW(i, takenCoilW[i]);
        return sum;
    }

    // The surface follows what is left for the coil, and the air where there is no coil; it is given up while the coil dries.
    private void Trim(int room)
    {
        foreach (var place in circuits)
        {
            if (house.Circuits[place.Circuit].Room != room)
                continue;
            var may = SupplyOf(place.Loop) <= SurfaceGives.WarmestC;
            // What a share of the rated flow is worth: at little flow the water comes back as warm as the room.
            var most = Math.Max(place.RatedKgPerS * 4190 * Math.Max(building.AirC[room] - SupplyOf(place.Loop), 1), 1);
            var pull = TrimWPerM2K * drafted.Wish.Rooms[room].From.FloorAreaM2 * (building.AirC[room] - SetC(room) + UnderK) / most;
            // What a drying coil takes anyway, or is about to take, the surface need not.
            var givesWay = Math.Max(forcedW[room], drying.GivesWayW(room));
            // While it gives way it learns nothing: what the room lacks meanwhile is what the coil is to take.
            if (!drying.Fades(room))
                held[place.Circuit] = Math.Clamp(held[place.Circuit] + (may ? (Math.Max(takenCoilW[room] - givesWay, 0) / most + pull) * StepS / TrimS : -StepS / 300), 0, 1);
            open[place.Circuit] = may ? Math.Clamp(held[place.Circuit] + pull - givesWay / most, 0, 1) : Math.Min(open[place.Circuit], held[place.Circuit]);
            // Warmer water than may be is in a circuit that is shutting: it cools nothing any more.
            if (building.WaterInC[place.Surface] <= SurfaceGives.WarmestC && open[place.Circuit] > 0.02)
                (SupplyLowC, SupplyHighC) = (Math.Min(SupplyLowC, building.WaterInC[place.Surface]), Math.Max(SupplyHighC, building.WaterInC[place.Surface]));
        }
    }

    private void Book(int room, int hour, double latent)
    {
        var one = Rooms[room];
        var (share, surface) = (StepS / 3600, takenW[room]);
        one.SurfaceW[hour] += share * surface;
        one.CoilSensibleW[hour] += share * takenCoilW[room];
        one.CoilLatentW[hour] += share * latent;
        one.DewC[hour] = building.DewPointC[room];
        if (surface + takenCoilW[room] > 20)
            one.Given(surface + takenCoilW[room], StepS);
        var over = building.AirC[room] - drafted.Wish.Rooms[room].From.CoolAboveC;
        if (over > 0.3 && LoadRun.IsCooled(house, room))
            (one.OutsideH, one.OutsideKh) = (one.OutsideH + share, one.OutsideKh + over * share);
        if (takenCoilW[room] > 1)
            one.Heard(LevelDb(room, takenCoilW[room]), StepS);
    }

    // Water as cold as it must be: 7 °C to dry or at the cap, 10 °C for coils that only hold, 15 °C for surfaces alone.
    private void Source(double coldW, bool anyCoil, double outdoorC)
    {
        ColdJ += coldW * StepS;
        var performance = SourceSize.CoolingPerformance(drafted.Wish.File.Source, outdoorC, isCold ? PlayedColdC : anyCoil ? HoldingC : SurfaceGives.ColdestC);
        WorkJ += coldW * StepS / performance;
    }
}

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

    // The surface is held a little under the coil's limit, so that the coil ends by itself (a choice of this project): how much under, K.
    private const double UnderK = 0.05, LooksS = 300, ShutsS = 300;

    // Water called for is 7 °C; the machine's band and the buffer let it swing from 5 to 11 °C in rehearsals, 8 °C in the mean. A house whose coils only hold has 10 °C.
    private const double PlayedColdC = 8;

    internal const double HoldingC = 10;

    private readonly Drafted drafted;
    private readonly House house;
    private readonly DesignDays days;
    private readonly BuildingModel building;
    private readonly HouseholdPlay household;
    private readonly double[] open, heldW, givenW, throttledKgPerS, capacityW, slowestW, latentAtCapW, latentAtSlowestW, capPercent, takenW, takenCoilW, forcedW, dryW, leadSlowestW, leadThrottledW, throttledW, latentThrottledW, surfaceW, pipesIn, gainWPerK, latentDryW, latentLeadSlowestW, latentLeadThrottledW, surfaceMostW;
    private readonly bool[] limited;
    private readonly DryingPlay drying;
    private readonly HelpPlay help;
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
        LoopLowC = new double[house.Loops.Length];
        (open, heldW, givenW) = (new double[house.Circuits.Length], new double[house.Circuits.Length], new double[house.Circuits.Length]);
        throttledKgPerS = [.. house.Coils.Select((_, c) => CoilGives.WaterKgPerS(drafted, c, one => one == c ? DryingPlay.LeastStroke : 0))];
        (forcedW, dryW, leadSlowestW, drying, help) = (new double[rooms], new double[rooms], new double[rooms], new DryingPlay(rooms), new HelpPlay(rooms));
        (leadThrottledW, throttledW, latentThrottledW, surfaceW) = (new double[rooms], new double[rooms], new double[rooms], new double[rooms]);
        (latentDryW, latentLeadSlowestW, latentLeadThrottledW, surfaceMostW) = (new double[rooms], new double[rooms], new double[rooms], new double[rooms]);
        (limited, takenW, takenCoilW, pipesIn) = (new bool[rooms], new double[rooms], new double[rooms], new double[rooms]);
        (capacityW, slowestW, latentAtCapW, latentAtSlowestW) = (new double[rooms], new double[rooms], new double[rooms], new double[rooms]);
        capPercent = [.. house.Coils.Select(coil => CoilGives.CapPercent(drafted, coil))];
        (meanCoilW, meanSurfaceW) = (new double[rooms], new double[rooms]);
        circuits = CircuitPlace.Of(drafted);
        pipes = LoopPipes.Of(drafted);
        gainWPerK = [.. house.Rooms.Select((_, room) => GainWPerK(room))];
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

    /// <summary>The coldest by loop; infinite where none of it was used.</summary>
    public double[] LoopLowC { get; }

    /// <summary>Plays five days before and the design day.</summary>
    public void Run()
    {
        for (var before = 5; before >= 0; before--)
        {
            Rooms = [.. house.Rooms.Select(_ => new RoomPlayed())];
            Array.Clear(WaterW);
            Array.Clear(PipesW);
            (ColdJ, WorkJ, SupplyLowC, SupplyHighC) = (0, 0, double.PositiveInfinity, double.NegativeInfinity);
            Array.Fill(LoopLowC, double.PositiveInfinity);
            Day(days.SummerDate.AddDays(-before), before == 0);
        }
    }

    private void Day(DateOnly date, bool isLast)
    {
        var start = DesignDays.Midnight(date, drafted.Files.Site.TimeZone);
        for (var i = 0; i < 86_400 / (int)StepS; i++)
        {
            var wallS = i * StepS;
            if (isLast && BuildingDraft.Opened.MayOpen(wallS))
                Keep(wallS);
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
            building.IdealCoolC[i] = capacityW[i] > 0 && !limited[i] && !help.IsAlone(i) ? set : double.NaN;
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
            var needed = AskedW(i) + gainWPerK[i] * (building.AirC[i] - SetC(i));
            drying.Step(i, StepS, over, building.DewPointC[i], needed, surfaceW[i], dryW[i], leadSlowestW[i], leadThrottledW[i]);
            help.Step(i, StepS, over, needed, surfaceMostW[i], surfaceW[i], drying.Dries(i));
            asked[i] = takenCoilW[i] - gainWPerK[i] * Math.Max(SetC(i) - building.AirC[i], 0);
            forcedW[i] = drying.Dries(i) ? drying.ForcedW(i) : BesideW(i, Math.Max(needed - surfaceW[i], 0));
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
            takenW[place.Room] += Math.Max(-building.WaterW[place.Surface], 0);
        // What coils took is known for all before any surface moves.
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            var coil = limited[i] ? capacityW[i] : forcedW[i] + Math.Max(-building.IdealW[i], 0);
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
        FollowDrawn();
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
        // A way that takes away all that cools a room leaves it too warm: it is counted there too.
        if (over > 0.3 && drafted.Wish.File.IsCooled(drafted.Wish.Rooms[room].Name))
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

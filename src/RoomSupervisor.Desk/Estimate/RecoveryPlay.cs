// How long a room takes after its door has stood open for forty minutes on the design day: the building in steps of ten seconds, the coil at its cap once its water is there, machine and buffer as large as they are,
// once for each moment of the source's cycle at which the door may shut. Must never be quicker than valve, pipe and coil let it be.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Rehearsal.Measures;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>A recovery as estimated. Minutes until the air is within 0.3 K for a quarter of an hour, as a rehearsal counts them; NaN: not within four hours.</summary>
/// <param name="OpenedC">Air when the door shuts, °C.</param>
/// <param name="OpenedDewC">Its dew point then, °C.</param>
/// <param name="Minutes">The middle of all moments of the source's cycle.</param>
/// <param name="QuickestMin">With the source at its best moment, sensors that err to the quick side, and no other room that wants its loop's water colder.</param>
/// <param name="SlowestMin">With the source at its worst, it has just stopped and must rest, and sensors that err to the slow side.</param>
internal readonly record struct RecoveryEstimate(double OpenedC, double OpenedDewC, double Minutes, double QuickestMin, double SlowestMin);

internal sealed class RecoveryPlay
{
    private const double StepS = 10, LongestS = 4 * 3600, HoldsS = 900, CoilLagS = 30, BranchS = 16, DriesS = 600;

    // A coil that has its room back gives what is asked, over so many kelvins under the limit.
    private const double BandK = 0.1;

    private readonly Drafted drafted;
    private readonly DesignDays days;
    private readonly DesignPlay played;
    private readonly House house;
    private readonly int room;
    private readonly BuildingModel building;
    private readonly HouseholdPlay household;
    private readonly DateTimeOffset start;
    private readonly double[] ratioBefore;
    private readonly SurfaceTurn surfaces;
    private readonly double from = BuildingDraft.Opened.At.TotalSeconds, limitC;

    private RecoveryPlay(Drafted drafted, DesignDays days, DesignPlay played, int room)
    {
        (this.drafted, this.days, this.played, house, this.room) = (drafted, days, played, drafted.Files.House, room);
        building = new BuildingModel(drafted.Building.Plan, StepS);
        household = new HouseholdPlay(drafted.Household(days), building);
        Prepared.Surround(building, drafted.Building, days.Summer);
        start = DesignDays.Midnight(days.SummerDate, drafted.Files.Site.TimeZone);
        limitC = drafted.Wish.Rooms[room].From.CoolAboveC;
        (ratioBefore, surfaces) = (new double[house.Rooms.Length], new SurfaceTurn(drafted, played, building, room));
    }

    /// <summary>Opens an opening and shuts it again.</summary>
    /// <param name="drafted">The house.</param>
    /// <param name="days">Its weather.</param>
    /// <param name="played">The design day up to the opening.</param>
    /// <param name="room">Index of the room.</param>
    /// <param name="opening">Index of the opening in the building's plan.</param>
    public static RecoveryEstimate Of(Drafted drafted, DesignDays days, DesignPlay played, int room, int opening)
    {
        var play = new RecoveryPlay(drafted, days, played, room);
        play.Open(opening);
        var (airC, dewC, shut) = (play.building.AirC[room], play.building.DewPointC[room], play.building.Save());
        days.Summer.At(play.start.AddSeconds(play.from + BuildingDraft.Opened.ForS), out var weather);
        var moments = ColdPlay.Moments(drafted, played.WantedAtOpeningC, played.DrawnAtOpening(room), weather.AirC, StepS);
        var sorted = moments.Select(cold => (Minutes: play.Back(shut, cold.Copy(drafted.Plant), Sensors.Right), Cold: cold)).OrderBy(one => one.Minutes).ToArray();
        var middle = (sorted[(sorted.Length - 1) / 2].Minutes + sorted[sorted.Length / 2].Minutes) / 2;
        var quickest = Math.Min(sorted[0].Minutes, play.Back(shut, sorted[0].Cold, Sensors.Of(drafted, room, -1)));
        var slowest = Math.Max(sorted[^1].Minutes, play.Back(shut, sorted[^1].Cold, Sensors.Of(drafted, room, 1)));
        static double Told(double value) => double.IsFinite(value) ? value : double.NaN;
        return new RecoveryEstimate(airC, dewC, Told(middle), Told(quickest), Told(slowest));
    }

    private void Open(int opening)
    {
        building.Restore(played.AtOpening);
        building.HumidityRatio.CopyTo(ratioBefore, 0);
        for (var s = 0.0; s < BuildingDraft.Opened.ForS; s += StepS)
        {
            Surround(s);
            building.OpeningOpen[opening] = 1;
            Serve();
            Step(s);
        }
    }

    // Minutes from a state at the shutting on; infinite: not within four hours.
    private double Back(double[] shut, ColdPlay cold, in Sensors sensors)
    {
        building.Restore(shut);
        var (coils, within) = (new CoilsComing(this, cold), 0.0);
        seenC = limitC + sensors.CoolerK;
        surfaces.Begin(StepS, sensors);
        for (var s = 0.0; s < LongestS; s += StepS)
        {
            Surround(BuildingDraft.Opened.ForS + s);
            var surfaceW = surfaces.Give(s, from + BuildingDraft.Opened.ForS + s);
            coils.Give(s, surfaceW);
            Step(BuildingDraft.Opened.ForS + s);
            within = building.AirC[room] <= limitC + PullDownWatch.BackK ? within + StepS : 0;
            if (within >= HoldsS)
                return (s - within + 2 * StepS) / 60;
        }
        return double.PositiveInfinity;
    }

    // Everything round the room as it was: the other rooms held by their coils and as dry as they were, and pipes that run on, for the others draw their water through them.
    private void Surround(double s)
    {
        household.Set(from + s);
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            building.ConvectiveW[i] -= played.PipesAtOpeningW[i];
            var isHeld = i != room && LoadRun.IsCooled(house, i) && house.Rooms[i].Coils.Length > 0;
            building.IdealCoolC[i] = isHeld ? drafted.Wish.Rooms[i].From.CoolAboveC : double.NaN;
            if (isHeld)
                building.VapourKgPerS[i] -= Math.Max(building.DryAirKg[i] * (building.HumidityRatio[i] - ratioBefore[i]) / DriesS, 0);
        }
    }

    private void Step(double s)
    {
        days.Summer.At(start.AddSeconds(from + s + StepS), out var weather);
        outdoorC = weather.AirC;
        building.Step(weather);
    }

    private double outdoorC = 30, seenC;

    private CoilAt At(int coil, double percent, double waterC)
    {
        var rooms = house.Coils[coil].Rooms;
        var (air, ratio) = (rooms.Average(one => building.AirC[one]), rooms.Average(one => building.HumidityRatio[one]));
        return CoilGives.At(drafted.Plant.FanCoils[coil], percent, air, ratio, drafted.Building.Plan.PressurePa, Math.Min(waterC, air - 1));
    }

    // While the room stands open, a coil that it shares goes on for the others: with what they need, or at its slowest where they have surfaces of their own. The room gets the same.
    private void Serve()
    {
        foreach (var c in house.Rooms[room].Coils)
        {
            var coil = house.Coils[c];
            var cap = CoilGives.CapPercent(drafted, coil);
            if (coil.Rooms.Length < 2 || cap <= 0)
                continue;
            var others = coil.Rooms.Where(one => one != room).ToArray();
            var percent = others.Any(one => house.Rooms[one].Circuits.Any(circuit => house.Loops[house.Circuits[circuit].Loop].Cools)) ? coil.StartSpeedPercent : cap;
            var at = At(c, percent, double.IsNaN(played.CoilWaterAtOpeningC) ? DesignPlay.HoldingC : played.CoilWaterAtOpeningC);
            var watts = Math.Min(others.Max(one => Math.Max(-building.IdealW[one], 0)), at.SensibleW / coil.Rooms.Length);
            if (watts <= 1)
                continue;
            building.ConvectiveW[room] -= watts;
            building.VapourKgPerS[room] -= at.LatentW / Math.Max(at.SensibleW, 1) * watts / 2_501_000;
            CoilGives.Mix(building, drafted.Plant.FanCoils[c], coil.Rooms, percent);
        }
    }

    // The coils of a room from the moment the door shuts: valve, pump and pipe first, then a lag; water of the buffer as the source makes it.
    private sealed class CoilsComing(RecoveryPlay play, ColdPlay cold)
    {
        private readonly Drawn others = play.played.DrawnAtOpening(play.room);
        private readonly double coldestC = play.house.Rooms[play.room].Coils.Min(coil => play.house.Loops[play.house.Coils[coil].Loop].ColdestC);
        private double given, vapour;

        public void Give(double sinceS, double surfaceW)
        {
            var (sensible, latent, flow) = (0.0, 0.0, 0.0);
            var (building, drafted, room) = (play.building, play.drafted, play.room);
            var share = Math.Clamp(1 + (building.AirC[room] - play.seenC) / BandK, 0, 1);
            foreach (var c in play.house.Rooms[room].Coils)
            {
                var (coil, cap) = (play.house.Coils[c], CoilGives.CapPercent(drafted, play.house.Coils[c]));
                // Where others draw water already, only this coil's own branch has to fill.
                var dead = Stroke(coil) * coil.OpeningTimeS + (double.IsNaN(play.played.CoilWaterAtOpeningC) ? play.house.Loops[coil.Loop].Settings.LagS : BranchS);
                if (sinceS < dead || cap <= 0)
                    continue;
                var at = play.At(c, cap, cold.WaterC);
                (sensible, latent) = (sensible + share * at.SensibleW / coil.Rooms.Length, latent + share * at.LatentW / coil.Rooms.Length);
                flow += drafted.Plant.FanCoils[c].Coil.Coil.WaterKgPerS;
                CoilGives.Mix(building, drafted.Plant.FanCoils[c], coil.Rooms, cap);
                foreach (var other in coil.Rooms.Where(one => one != room))
                    building.ConvectiveW[other] -= given;
            }
            var approach = 1 - Math.Exp(-StepS / CoilLagS);
            (given, vapour) = (given + (sensible - given) * approach, vapour + (latent - vapour) * approach);
            building.ConvectiveW[room] -= given;
            building.VapourKgPerS[room] -= vapour / 2_501_000;
            cold.Step(coldestC, true, new Drawn(others.Watts + sensible + latent, others.KgPerS + flow, others.SurfaceW + surfaceW), play.outdoorC);
        }

        // Share of its stroke after which a valve lets nearly all through: a fifth of a modulating one gives 70 % of the output (the sequence's curve).
        private static double Stroke(Coil coil) => coil.Actuator.Kind == OutputKind.OnOff ? 1 : 0.2;
    }
}

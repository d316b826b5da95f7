// How long a room takes after its door has stood open for forty minutes on the design day: the building in steps of ten seconds, the coil at its cap once its water is there, machine and buffer as large as they are,
// once for each moment at which the door may open, the source each time at another moment of its cycle. Must never be quicker than valve, pipe and coil let it be.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Desk.Rehearsal.Measures;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>A recovery as estimated.</summary>
/// <param name="OpenedC">Air when the door shuts, °C, mean of all moments.</param>
/// <param name="OpenedDewC">Its dew point then, °C.</param>
/// <param name="Minutes">Until within 0.3 K for a quarter of an hour, as a rehearsal counts it: the middle of all moments; NaN: not within four hours.</param>
internal readonly record struct RecoveryEstimate(double OpenedC, double OpenedDewC, double Minutes);

internal sealed class RecoveryPlay
{
    private const double StepS = 10, CoilLagS = 30, BranchS = 16;

    private readonly Drafted drafted;
    private readonly DesignDays days;
    private readonly OpeningMoment opened;
    private readonly House house;
    private readonly int room;
    private readonly BuildingModel building;
    private readonly HouseholdPlay household;
    private readonly DateTimeOffset start;
    private double outdoorC;

    private RecoveryPlay(Drafted drafted, DesignDays days, OpeningMoment opened, int room)
    {
        (this.drafted, this.days, this.opened, house, this.room) = (drafted, days, opened, drafted.Files.House, room);
        building = new BuildingModel(drafted.Building.Plan, StepS);
        household = new HouseholdPlay(drafted.Household(days), building);
        Prepared.Surround(building, drafted.Building, days.Summer);
        start = DesignDays.Midnight(days.SummerDate, drafted.Files.Site.TimeZone);
    }

    /// <summary>Opens an opening and shuts it again.</summary>
    /// <param name="drafted">The house.</param>
    /// <param name="days">Its weather.</param>
    /// <param name="played">The design day up to the opening.</param>
    /// <param name="room">Index of the room.</param>
    /// <param name="opening">Index of the opening in the building's plan.</param>
    /// <param name="warmerK">So much warmer than the source makes it is the coil's water, K; under 0 colder.</param>
    public static RecoveryEstimate Of(Drafted drafted, DesignDays days, DesignPlay played, int room, int opening, double warmerK = 0)
    {
        List<double> minutes = [];
        var (airC, dewC) = (0.0, 0.0);
        for (var i = 0; i < played.Openings.Count; i++)
        {
            var opened = played.Openings[i];
            var play = new RecoveryPlay(drafted, days, opened, room);
            play.Open(opening);
            (airC, dewC) = (airC + play.building.AirC[room] / played.Openings.Count, dewC + play.building.DewPointC[room] / played.Openings.Count);
            var cold = ColdPlay.Shutting(drafted, i, opened.WantedC, opened.Others(drafted, room), play.outdoorC, StepS);
            minutes.Add(play.Back(cold, warmerK));
        }
        minutes.Sort();
        var middle = (minutes[(minutes.Count - 1) / 2] + minutes[minutes.Count / 2]) / 2;
        return new RecoveryEstimate(airC, dewC, double.IsFinite(middle) ? middle : double.NaN);
    }

    private void Open(int opening)
    {
        building.Restore(opened.Building);
        for (var s = 0.0; s < BuildingDraft.Opened.ForS; s += StepS)
        {
            Surround(s);
            building.OpeningOpen[opening] = 1;
            Serve();
            Step(s);
        }
    }

    // Minutes from the shutting on; infinite: not within four hours.
    private double Back(ColdPlay cold, double warmerK)
    {
        var (coils, surfaces) = (new CoilsComing(this, cold, warmerK), new SurfacesHelping(drafted, building, room));
        var within = 0.0;
        for (var s = 0.0; s < PullDownWatch.LongestS; s += StepS)
        {
            Surround(BuildingDraft.Opened.ForS + s);
            coils.Give(s, surfaces.Give(s));
            Step(BuildingDraft.Opened.ForS + s);
            // As a rehearsal counts it: within for a quarter of an hour. At its limit the room is held there by whatever brought it there.
            var over = building.AirC[room] - drafted.Wish.Rooms[room].From.CoolAboveC;
            within = over <= PullDownWatch.BackK ? within + StepS : 0;
            if (within >= PullDownWatch.HoldsS || over <= 0)
                return (s - within + 2 * StepS) / 60;
        }
        return double.PositiveInfinity;
    }

    // Everything round the room as it was: the other rooms held by their coils, and pipes that run on, for the others draw their water through them.
    private void Surround(double s)
    {
        household.Set(opened.WallS + s);
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            building.IdealCoolC[i] = i != room && LoadRun.IsCooled(house, i) && house.Rooms[i].Coils.Length > 0 ? drafted.Wish.Rooms[i].From.CoolAboveC : double.NaN;
            building.ConvectiveW[i] -= opened.PipesW[i];
        }
    }

    private void Step(double s)
    {
        days.Summer.At(start.AddSeconds(opened.WallS + s + StepS), out var weather);
        outdoorC = weather.AirC;
        building.Step(weather);
    }

    private CoilAt At(int coil, double percent, double waterC, double waterKgPerS = double.NaN)
    {
        var rooms = house.Coils[coil].Rooms;
        var (air, ratio) = (rooms.Average(one => building.AirC[one]), rooms.Average(one => building.HumidityRatio[one]));
        return CoilGives.At(drafted.Plant.FanCoils[coil], percent, air, ratio, drafted.Building.Plan.PressurePa, Math.Min(waterC, air - 1), waterKgPerS);
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
            var most = others.Any(one => house.Rooms[one].Circuits.Any(circuit => house.Loops[house.Circuits[circuit].Loop].Cools)) ? coil.StartSpeedPercent : cap;
            var at = At(c, most, double.IsNaN(opened.CoilWaterC) ? DesignPlay.HoldingC : opened.CoilWaterC);
            var (needed, full) = (others.Max(one => Math.Max(-building.IdealW[one], 0)), at.SensibleW / coil.Rooms.Length);
            var watts = Math.Min(needed, full);
            if (watts <= 1)
                continue;
            building.ConvectiveW[room] -= watts;
            // Moisture is taken from all of them alike; the others' cold is what they need, and counted there.
            foreach (var one in coil.Rooms)
                building.VapourKgPerS[one] -= at.LatentW / Math.Max(at.SensibleW, 1) * watts / 2_501_000;
            // Its fan turns as fast as that takes, and carries so much air from one to the other.
            CoilGives.Mix(building, drafted.Plant.FanCoils[c], coil.Rooms, Math.Max(most * CoilGives.SpeedShare(watts / full), Math.Min(coil.StartSpeedPercent, most)));
        }
    }

    // Surfaces help a pull-down that the coil does not win (sequence, rule 2): after ten minutes, when at its rate the room would take twenty more. Water as cold as the dew point allows by then.
    private sealed class SurfacesHelping(Drafted drafted, BuildingModel building, int room)
    {
        private const double AloneS = 600, HorizonS = 1200, SlopeS = 120;

        private readonly CircuitPlace[] all = CircuitPlace.Of(drafted);
        private readonly Queue<double> before = [];
        private double helpsFromS = double.PositiveInfinity;

        // Gives what they took in the step before, W.
        public double Give(double sinceS)
        {
            var taken = 0.0;
            before.Enqueue(building.AirC[room]);
            var then = before.Count > SlopeS / StepS ? before.Dequeue() : double.NaN;
            var error = building.AirC[room] - drafted.Wish.Rooms[room].From.CoolAboveC;
            if (sinceS > AloneS && double.IsPositiveInfinity(helpsFromS) && (then - building.AirC[room]) / SlopeS * HorizonS < error)
                helpsFromS = sinceS;
            foreach (var place in all)
            {
                if (place.Room != room)
                    continue;
                var safe = SurfaceGives.LowestSafeC(building.AirC[room], building.DewPointC[room]);
                var supply = Math.Max(safe, CircuitPlace.SupplyC(all, place.Loop, building, drafted));
                var flows = sinceS > helpsFromS + drafted.Files.House.Circuits[place.Circuit].Actuator.OpeningTimeS && safe <= SurfaceGives.WarmestC;
                taken += flows ? Math.Max(-building.WaterW[place.Surface], 0) : 0;
                building.WaterInC[place.Surface] = supply;
                building.WaterKgPerS[place.Surface] = flows ? place.RatedKgPerS : 0;
            }
            return taken;
        }
    }

    // The coils of a room from the moment the door shuts: valve, pump and pipe first, then a lag; water of the buffer as the source makes it.
    private sealed class CoilsComing(RecoveryPlay play, ColdPlay cold, double warmerK)
    {
        private readonly Drawn others = play.opened.Others(play.drafted, play.room);

        private readonly double[] caps = [.. play.house.Rooms[play.room].Coils.Select(coil => CoilGives.CapPercent(play.drafted, play.house.Coils[coil]))];

        // Its valves quite open, the others' as they stood: a pump that serves one coil gives it more than its rated water.
        private readonly double[] waterKgPerS = [.. play.house.Rooms[play.room].Coils.Select(coil => CoilGives.WaterKgPerS(play.drafted, coil, one => play.house.Rooms[play.room].Coils.Contains(one) ? 1 : play.opened.Strokes[one]))];

        private double given, vapour;

        public void Give(double sinceS, double surfaceW)
        {
            var (sensible, latent, flow, n) = (0.0, 0.0, 0.0, -1);
            var (building, drafted, room) = (play.building, play.drafted, play.room);
            foreach (var c in play.house.Rooms[room].Coils)
            {
                n++;
                var coil = play.house.Coils[c];
                // Where others draw water already, only this coil's own branch has to fill.
                var dead = Stroke(coil) * coil.OpeningTimeS + (double.IsNaN(play.opened.CoilWaterC) ? play.house.Loops[coil.Loop].Settings.LagS : BranchS);
                if (sinceS < dead || caps[n] <= 0)
                    continue;
                var at = play.At(c, caps[n], cold.WaterC + warmerK, waterKgPerS[n]);
                (sensible, latent, flow) = (sensible + at.SensibleW / coil.Rooms.Length, latent + at.LatentW / coil.Rooms.Length, flow + waterKgPerS[n]);
                CoilGives.Mix(building, drafted.Plant.FanCoils[c], coil.Rooms, caps[n]);
                foreach (var other in coil.Rooms.Where(one => one != room))
                    (building.ConvectiveW[other], building.VapourKgPerS[other]) = (building.ConvectiveW[other] - given, building.VapourKgPerS[other] - vapour / 2_501_000);
            }
            var approach = 1 - Math.Exp(-StepS / CoilLagS);
            (given, vapour) = (given + (sensible - given) * approach, vapour + (latent - vapour) * approach);
            building.ConvectiveW[room] -= given;
            building.VapourKgPerS[room] -= vapour / 2_501_000;
            cold.Step(CoilGives.ColdC, Hurry.PulledDown, new Drawn(others.Watts + sensible + latent, others.KgPerS + flow, others.SurfaceW + surfaceW), play.outdoorC);
        }

        // Share of its stroke after which a valve lets nearly all through: a fifth of a modulating one gives 70 % of the output (the sequence's curve).
        private static double Stroke(Coil coil) => coil.Actuator.Kind == OutputKind.OnOff ? 1 : 0.2;
    }
}

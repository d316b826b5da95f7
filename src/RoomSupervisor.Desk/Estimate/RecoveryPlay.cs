// How long a room takes after its door has stood open for forty minutes on the design day: the building in steps of ten seconds, the coil at its cap once its water is there,
// the source and its buffer as large as they are. Must never be quicker than valve, pipe and coil let it be.
using RoomSupervisor.Desk.Rehearsal;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>A recovery as estimated.</summary>
/// <param name="OpenedC">Air when the door shuts, °C.</param>
/// <param name="OpenedDewC">Its dew point then, °C.</param>
/// <param name="Minutes">Until within 0.3 K; NaN: not within four hours.</param>
internal readonly record struct RecoveryEstimate(double OpenedC, double OpenedDewC, double Minutes);

internal static class RecoveryPlay
{
    private const double StepS = 10, BackK = 0.3, LongestS = 4 * 3600, CoilLagS = 30, WaterJPerLK = 4180, RampS = 300, RestingStoreC = 10, WarmC = 18, BranchS = 16;

    /// <summary>Opens an opening and shuts it again.</summary>
    /// <param name="drafted">The house.</param>
    /// <param name="days">Its weather.</param>
    /// <param name="played">The design day up to the opening.</param>
    /// <param name="room">Index of the room.</param>
    /// <param name="opening">Index of the opening in the building's plan.</param>
    /// <param name="coldestC">To how cold the source pulls the buffer down meanwhile, °C.</param>
    public static RecoveryEstimate Of(Drafted drafted, DesignDays days, DesignPlay played, int room, int opening, double coldestC = CoilGives.ColdC)
    {
        var house = drafted.Files.House;
        var building = new BuildingModel(drafted.Building.Plan, StepS);
        building.Restore(played.AtOpening);
        var household = new HouseholdPlay(drafted.Household(days), building);
        Prepared.Surround(building, drafted.Building, days.Summer);
        var start = DesignDays.Midnight(days.SummerDate, drafted.Files.Site.TimeZone);
        var from = BuildingDraft.Opened.At.TotalSeconds;
        var coil = new CoilComing(drafted, house, room, played, coldestC);
        var surfaces = new SurfacesHelping(drafted, room);
        RecoveryEstimate seen = default;
        for (var s = 0.0; s < BuildingDraft.Opened.ForS + LongestS; s += StepS)
        {
            var isOpen = s < BuildingDraft.Opened.ForS;
            household.Set(from + s);
            for (var i = 0; i < house.Rooms.Length; i++)
                building.IdealCoolC[i] = i != room && LoadRun.IsCooled(house, i) && house.Rooms[i].Coils.Length > 0 ? drafted.Wish.Rooms[i].From.CoolAboveC : double.NaN;
            // Pipes run on: the other rooms draw their water through them.
            for (var i = 0; i < house.Rooms.Length; i++)
                building.ConvectiveW[i] -= played.PipesAtOpeningW[i];
            if (isOpen)
            {
                building.OpeningOpen[opening] = 1;
                coil.Serve(building);
            }
            else
            {
                coil.Give(building, s - BuildingDraft.Opened.ForS);
                surfaces.Give(building, s - BuildingDraft.Opened.ForS);
            }
            days.Summer.At(start.AddSeconds(from + s + StepS), out var weather);
            building.Step(weather);
            if (isOpen)
                seen = new RecoveryEstimate(building.AirC[room], building.DewPointC[room], double.NaN);
            else if (building.AirC[room] <= drafted.Wish.Rooms[room].From.CoolAboveC + BackK)
                return seen with { Minutes = (s - BuildingDraft.Opened.ForS + StepS) / 60 };
        }
        return seen;
    }

    // Surfaces help a pull-down that the coil does not win (sequence, rule 2): after ten minutes, when at its rate the room would take twenty more. Water as cold as the dew point allows by then.
    private sealed class SurfacesHelping(Drafted drafted, int room)
    {
        private const double AloneS = 600, HorizonS = 1200, SlopeS = 120;

        private readonly CircuitPlace[] all = CircuitPlace.Of(drafted);
        private readonly Queue<double> before = [];
        private double helpsFromS = double.PositiveInfinity;

        public void Give(BuildingModel building, double sinceS)
        {
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
                building.WaterInC[place.Surface] = supply;
                building.WaterKgPerS[place.Surface] = flows ? place.RatedKgPerS : 0;
            }
        }
    }

    // The coils of a room from the moment the door shuts: valve, pump and pipe first, then a lag; water of the buffer, which the source pulls down while it is drawn.
    private sealed class CoilComing(Drafted drafted, House house, int room, DesignPlay played, double coldestC)
    {
        private readonly double[] caps = [.. house.Rooms[room].Coils.Select(coil => CoilGives.CapPercent(drafted, house.Coils[coil]))];

        private double storeC = double.IsNaN(played.CoilWaterAtOpeningC) ? RestingStoreC : played.CoilWaterAtOpeningC, given, vapour;

        // While the room stands open, a coil that it shares goes on for the others: with what they need, or at its slowest where they have surfaces of their own. The room gets the same.
        public void Serve(BuildingModel building)
        {
            foreach (var c in house.Rooms[room].Coils)
            {
                var coil = house.Coils[c];
                var cap = CoilGives.CapPercent(drafted, coil);
                if (coil.Rooms.Length < 2 || cap <= 0)
                    continue;
                var (air, ratio) = (coil.Rooms.Average(r => building.AirC[r]), coil.Rooms.Average(r => building.HumidityRatio[r]));
                CoilAt At(double percent) => CoilGives.At(drafted.Plant.FanCoils[c], percent, air, ratio, drafted.Building.Plan.PressurePa, Math.Min(storeC, air - 1));
                var others = coil.Rooms.Where(one => one != room).ToArray();
                var percent = others.Any(one => drafted.Files.House.Rooms[one].Circuits.Any(circuit => house.Loops[house.Circuits[circuit].Loop].Cools)) ? coil.StartSpeedPercent : cap;
                var at = At(percent);
                var watts = Math.Min(others.Max(one => Math.Max(-building.IdealW[one], 0)), at.SensibleW / coil.Rooms.Length);
                if (watts <= 1)
                    continue;
                building.ConvectiveW[room] -= watts;
                building.VapourKgPerS[room] -= at.LatentW / Math.Max(at.SensibleW, 1) * watts / 2_501_000;
                CoilGives.Mix(building, drafted.Plant.FanCoils[c], coil.Rooms, percent);
            }
        }

        public void Give(BuildingModel building, double sinceS)
        {
            var (sensible, latent, n) = (0.0, 0.0, 0);
            foreach (var c in house.Rooms[room].Coils)
            {
                var coil = house.Coils[c];
                // Where others draw water already, only this coil's own branch has to fill.
                var dead = Stroke(coil) * coil.OpeningTimeS + (double.IsNaN(played.CoilWaterAtOpeningC) ? house.Loops[coil.Loop].Settings.LagS : BranchS);
                if (sinceS >= dead && caps[n] > 0)
                {
                    var (air, ratio) = (coil.Rooms.Average(r => building.AirC[r]), coil.Rooms.Average(r => building.HumidityRatio[r]));
                    var at = CoilGives.At(drafted.Plant.FanCoils[c], caps[n], air, ratio, drafted.Building.Plan.PressurePa, Math.Min(storeC, air - 1));
                    (sensible, latent) = (sensible + at.SensibleW / coil.Rooms.Length, latent + at.LatentW / coil.Rooms.Length);
                    CoilGives.Mix(building, drafted.Plant.FanCoils[c], coil.Rooms, caps[n]);
                    foreach (var other in coil.Rooms.Where(one => one != room))
                        building.ConvectiveW[other] -= given;
                }
                n++;
            }
            var approach = 1 - Math.Exp(-StepS / CoilLagS);
            (given, vapour) = (given + (sensible - given) * approach, vapour + (latent - vapour) * approach);
            building.ConvectiveW[room] -= given;
            building.VapourKgPerS[room] -= vapour / 2_501_000;
            Store(sinceS, sensible + latent);
        }

        // Share of its stroke after which a valve lets nearly all through: a fifth of a modulating one gives 70 % of the output (the sequence's curve).
        private static double Stroke(Coil coil) => coil.Actuator.Kind == OutputKind.OnOff ? 1 : 0.2;

        private void Store(double sinceS, double drawnW)
        {
            var others = Math.Max(played.WaterAtOpeningW - played.TakenAtOpeningW[room], 0);
            var made = storeC > coldestC ? drafted.Plant.Machine.CoolingW * Math.Min(1, 0.3 + sinceS / RampS) : 0;
            storeC = Math.Clamp(storeC + (drawnW + others - made) * StepS / (drafted.Plant.Store.VolumeL * WaterJPerLK), coldestC, WarmC);
        }
    }
}

// When surfaces help a room back: rules 2 and 5.4 of the sequence in their plainest form. They help a pull-down that the coil does not win; a room that alone asks for warmer water than the rest of its loop waits until it is dry.
// Must never let water under what the guard allows into the room.
using RoomSupervisor.Physics;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>How far a room's sensors are off.</summary>
/// <param name="CoolerK">The air reads so much cooler than it is, K.</param>
/// <param name="DamperK">Its dew point reads so much higher than it is, K.</param>
/// <param name="MayBeAlone">Others on its loop may ask for colder water than it bears.</param>
internal readonly record struct Sensors(double CoolerK, double DamperK, bool MayBeAlone)
{
    // Of a usual room sensor (wall-sensor of the starting site).
    private const double AirK = 0.3, AirPercent = 2;

    /// <summary>They show what is.</summary>
    public static Sensors Right { get; } = new(0, 0, true);

    /// <summary>Off by what building.yaml's sensor_error makes of their accuracy, all to one side.</summary>
    /// <param name="drafted">The house.</param>
    /// <param name="room">Index of the room.</param>
    /// <param name="side">1: to the slow side, -1: to the quick side, where the rest of the loop asks for nothing besides.</param>
    public static Sensors Of(Drafted drafted, int room, int side)
    {
        var share = drafted.Shell.SensorErrorPercent / 100;
        var air = drafted.Wish.Rooms[room].From.CoolAboveC;
        if (!MoistAir.TryRelativeHumidity(air, LoadRun.DryC, out var humidity, out _) || !MoistAir.TryDewPointError(air, humidity, AirK * share, AirPercent * share, out var dew, out _))
            dew = 0;
        return new Sensors(side * AirK * share, side * dew, side > 0);
    }
}

/// <summary>Surfaces of a room that comes back.</summary>
/// <param name="drafted">The house.</param>
/// <param name="played">Its design day: what the other rooms ask of their surfaces.</param>
/// <param name="building">The building that is played.</param>
/// <param name="room">Index of the room.</param>
internal sealed class SurfaceTurn(Drafted drafted, DesignPlay played, BuildingModel building, int room)
{
    private const double SlopeS = 120, AsksW = 20;

    private readonly CircuitPlace[] all = CircuitPlace.Of(drafted);
    private readonly Queue<double> before = [];
    private double stepS, helpsFromS;
    private bool isAlone;
    private Sensors sensors;

    /// <summary>The door has shut: the room's air is the house's dampest.</summary>
    /// <param name="stepS">Step, s.</param>
    /// <param name="sensors">How far the room's sensors are off.</param>
    public void Begin(double stepS, in Sensors sensors)
    {
        before.Clear();
        (this.stepS, this.sensors, helpsFromS, isAlone) = (stepS, sensors, double.PositiveInfinity, sensors.MayBeAlone);
    }

    /// <summary>Sets the water of the room's surfaces; cold they took in the step before, W.</summary>
    /// <param name="sinceS">Since the door shut, s.</param>
    /// <param name="wallS">Time of day, s.</param>
    public double Give(double sinceS, double wallS)
    {
        var settings = drafted.Files.House.Settings;
        before.Enqueue(building.AirC[room]);
        var then = before.Count > SlopeS / stepS ? before.Dequeue() : double.NaN;
        var error = building.AirC[room] - drafted.Wish.Rooms[room].From.CoolAboveC - sensors.CoolerK;
        if (sinceS > settings.PullDownAloneS && double.IsPositiveInfinity(helpsFromS) && (then - building.AirC[room]) / SlopeS * settings.PullDownHorizonS < error)
            helpsFromS = sinceS;
        var taken = 0.0;
        foreach (var place in all)
        {
            if (place.Room != room)
                continue;
            var (safe, wants) = (SurfaceGives.LowestSafeC(building.AirC[room], building.DewPointC[room] + sensors.DamperK), !double.IsPositiveInfinity(helpsFromS));
            var enough = EnoughForOthersC(place, (int)(wallS / 3600) % 24);
            isAlone = sensors.MayBeAlone && safe > enough + settings.IsolateAboveK - (isAlone ? settings.IsolateBackK : 0);
            // The actuator moves from when it may.
            if (wants && (isAlone || safe > SurfaceGives.WarmestC))
                helpsFromS = sinceS;
            var flows = wants && sinceS > helpsFromS + drafted.Files.House.Circuits[place.Circuit].Actuator.OpeningTimeS;
            taken += flows ? Math.Max(-building.WaterW[place.Surface], 0) : 0;
            building.WaterInC[place.Surface] = Math.Max(safe, CircuitPlace.SupplyC(all, place.Loop, building, drafted));
            building.WaterKgPerS[place.Surface] = flows ? place.RatedKgPerS : 0;
        }
        return taken;
    }

    // Water that the others on the loop need and want: no colder than their air allows, no colder than gives what they ask in this hour; endless where none of them asks.
    private double EnoughForOthersC(CircuitPlace place, int hour)
    {
        var house = drafted.Files.House;
        double needed = double.NegativeInfinity, wanted = SurfaceGives.WarmestC;
        var open = false;
        foreach (var other in all)
        {
            if (other.Loop != place.Loop || other.Room == room || played.Rooms[other.Room].SurfaceW[hour] < AsksW)
                continue;
            open = true;
            needed = Math.Max(needed, SurfaceGives.LowestSafeC(building.AirC[other.Room], building.DewPointC[other.Room]));
            var area = all.Where(one => one.Room == other.Room).Sum(one => one.AreaM2);
            wanted = Math.Min(wanted, SurfaceGives.SupplyFor(other.RatedWPerM2, house.Circuits[other.Circuit].Kind.Exponent, other.RatedKgPerS / other.AreaM2, played.Rooms[other.Room].SurfaceW[hour] / area, building.AirC[other.Room], heats: false));
        }
        var manifold = house.Loops[place.Loop].ManifoldRoom;
        if (manifold >= 0 && manifold != room)
            needed = Math.Max(needed, SurfaceGives.LowestSafeC(building.AirC[manifold], building.DewPointC[manifold]));
        return open ? Math.Max(needed, Math.Max(SurfaceGives.ColdestC, wanted)) : double.PositiveInfinity;
    }
}

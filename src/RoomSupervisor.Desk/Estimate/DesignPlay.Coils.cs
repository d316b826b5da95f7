// Coils and pipes of the played design day: what coils can give in the air as it is, what they mix, dry and sound like, and what running pipes take up on the way.
// Must never let a coil give more than its model: figures come from CoilGives.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Estimate;

internal sealed partial class DesignPlay
{
    // What coils can give in the air as it is now, and how cold surfaces' water may be.
    private void Look()
    {
        looked = 0;
        Array.Clear(capacityW);
        Array.Clear(slowestW);
        Array.Clear(latentAtCapW);
        Array.Clear(latentAtSlowestW);
        Array.Clear(dryW);
        Array.Clear(throttledW);
        Array.Clear(latentThrottledW);
        for (var c = 0; c < house.Coils.Length && house.Sources[0].Cools; c++)
        {
            var coil = house.Coils[c];
            var (air, ratio) = (coil.Rooms.Average(room => building.AirC[room]), coil.Rooms.Average(room => building.HumidityRatio[room]));
            if (capPercent[c] <= 0)
                continue;
            var atCap = CoilGives.At(drafted.Plant.FanCoils[c], capPercent[c], air, ratio, drafted.Building.Plan.PressurePa, PlayedColdC);
            var slowest = CoilGives.At(drafted.Plant.FanCoils[c], coil.StartSpeedPercent, air, ratio, drafted.Building.Plan.PressurePa, PlayedColdC);
            var dries = CoilGives.At(drafted.Plant.FanCoils[c], Math.Min(capPercent[c], Math.Max(DryingPlay.Shipped.DrySpeedPercent, coil.StartSpeedPercent)), air, ratio, drafted.Building.Plan.PressurePa, PlayedColdC);
            var throttled = coil.Actuator.Kind == OutputKind.OnOff ? slowest : CoilGives.At(drafted.Plant.FanCoils[c], coil.StartSpeedPercent, air, ratio, drafted.Building.Plan.PressurePa, PlayedColdC, throttledKgPerS[c]);
            foreach (var room in coil.Rooms)
            {
                var n = coil.Rooms.Length;
                // One coil of a room dries it: its first.
                if (house.Rooms[room].Coils[0] == c)
                {
                    (dryW[room], leadSlowestW[room], leadThrottledW[room]) = (dries.SensibleW / n, slowest.SensibleW / n, throttled.SensibleW / n);
                    (latentDryW[room], latentLeadSlowestW[room], latentLeadThrottledW[room]) = (dries.LatentW / n, slowest.LatentW / n, throttled.LatentW / n);
                }
                (capacityW[room], slowestW[room]) = (capacityW[room] + atCap.SensibleW / n, slowestW[room] + slowest.SensibleW / n);
                (throttledW[room], latentThrottledW[room]) = (throttledW[room] + throttled.SensibleW / n, latentThrottledW[room] + throttled.LatentW / n);
                (latentAtCapW[room], latentAtSlowestW[room]) = (latentAtCapW[room] + atCap.LatentW / n, latentAtSlowestW[room] + slowest.LatentW / n);
            }
        }
    }

    // Coils of several rooms that run mix their air.
    private void Mix()
    {
        for (var c = 0; c < house.Coils.Length; c++)
        {
            var rooms = house.Coils[c].Rooms;
            if (rooms.Length < 2 || capPercent[c] <= 0 || !rooms.Any(room => takenCoilW[room] > 1))
                continue;
            CoilGives.Mix(building, drafted.Plant.FanCoils[c], rooms, rooms.Max(room => SpeedPercent(c, room, takenCoilW[room])));
        }
    }

    // Speed of a coil that gives so much: its slowest while the valve throttles.
    private double SpeedPercent(int coil, int room, double sensibleW)
    {
        var share = capacityW[room] <= slowestW[room] + 1 ? 0 : Math.Clamp((sensibleW - slowestW[room]) / (capacityW[room] - slowestW[room]), 0, 1);
        return house.Coils[coil].StartSpeedPercent + share * (capPercent[coil] - house.Coils[coil].StartSpeedPercent);
    }

    // Pipes of a loop that runs cool the room they lie in; the source pays for it.
    private void Pipes()
    {
        pipesW = 0;
        Array.Clear(pipesIn);
        foreach (var loop in pipes)
        {
            var running = loop.RunningWPerK(surface => building.WaterKgPerS[surface] > 0.02 * RatedOf(surface), coil => house.Coils[coil].Rooms.Any(room => takenCoilW[room] > 1));
            if (running <= 0)
                continue;
            var water = !loop.ServesCoils ? SupplyOf(loop.Loop) : isCold ? PlayedColdC : HoldingC;
            var gain = running * Math.Max(building.AirC[loop.Room] - water, 0);
            building.ConvectiveW[loop.Room] -= gain;
            pipesIn[loop.Room] += gain;
            pipesW += gain;
        }
    }

    private double RatedOf(int surface)
    {
        foreach (var place in circuits)
        {
            if (place.Surface == surface)
                return place.RatedKgPerS;
        }
        return double.PositiveInfinity;
    }

    // A coil that gives less than at its slowest is throttled there: the less water it has the warmer it is, and its moisture falls faster than its heat. Of a room's coils one alone dries it, and is the first to run: two at their slowest would
    // throttle, and take hardly any, where that one runs quite open.
    private double LatentW(int room, double sensibleW)
    {
        if (sensibleW <= 0 || capacityW[room] <= 0)
            return 0;
        return sensibleW <= dryW[room]
            ? Latent(sensibleW, (leadThrottledW[room], latentLeadThrottledW[room]), (leadSlowestW[room], latentLeadSlowestW[room]), (dryW[room], latentDryW[room]))
            : Latent(sensibleW, (throttledW[room], latentThrottledW[room]), (slowestW[room], latentAtSlowestW[room]), (capacityW[room], latentAtCapW[room]));
    }

    // Straight between three points: throttled, at its slowest, at its fastest.
    private static double Latent(double sensibleW, (double SensibleW, double LatentW) throttled, (double SensibleW, double LatentW) slowest, (double SensibleW, double LatentW) most)
    {
        if (sensibleW < throttled.SensibleW)
            return throttled.LatentW * sensibleW / throttled.SensibleW;
        if (sensibleW <= slowest.SensibleW || most.SensibleW <= slowest.SensibleW + 1)
            return throttled.LatentW + Math.Clamp((sensibleW - throttled.SensibleW) / Math.Max(slowest.SensibleW - throttled.SensibleW, 1), 0, 1) * (slowest.LatentW - throttled.LatentW);
        var share = Math.Min((sensibleW - slowest.SensibleW) / (most.SensibleW - slowest.SensibleW), 1);
        return slowest.LatentW + share * (most.LatentW - slowest.LatentW);
    }

    // All coils of a room at one share of their range; sounds add.
    private double LevelDb(int room, double sensibleW)
    {
        var power = 0.0;
        foreach (var coil in house.Rooms[room].Coils)
        {
            if (capPercent[coil] > 0)
                power += Math.Pow(10, CoilGives.Level(drafted.Plant.FanCoils[coil].Fan, SpeedPercent(coil, room, sensibleW)) / 10);
        }
        return power > 0 ? 10 * Math.Log10(power) : double.NegativeInfinity;
    }
}

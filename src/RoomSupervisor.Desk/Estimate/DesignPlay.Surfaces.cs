// Surfaces of the played design day: what each is asked for, how far its valve opens for that, and when it gives way to a coil that is to dry.
// Must never ask a surface for more than its water gives at the moment.
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

internal sealed partial class DesignPlay
{
    // Of the sequence, no setting there.
    private const double SmallestShare = 0.1, JoinsShare = 0.2;

    // A coil beside a surface is the base: it gives at least what it gives throttled, at most its slowest, or rests where next to nothing is left for it. More it gives as the room asks for it.
    private double BesideW(int room, double leftW)
        => surfaceMostW[room] <= 0 || help.IsAlone(room) || leftW < JoinsShare * leadSlowestW[room] ? 0 : Math.Clamp(leftW, Math.Min(leadThrottledW[room], leadSlowestW[room]), leadSlowestW[room]);

    // What its surfaces leave to the coil: what that dries with or is about to, and its least beside them.
    private double LeavesW(int room)
        => Math.Max(Math.Max(forcedW[room], drying.GivesWayW(room)), surfaceMostW[room] > 0 && !help.IsAlone(room) ? DryingPlay.Shipped.CoilSharePercent / 100 * leadSlowestW[room] : 0);

    // What the room asks of all its emitters, its error apart: what its surfaces have come to, or the coil that dries in their place, and what coils take beside.
    private double AskedW(int room) => Math.Max(HeldW(room), Math.Min(forcedW[room], takenCoilW[room])) + Math.Max(takenCoilW[room] - forcedW[room], 0);

    private double HeldW(int room)
    {
        var sum = 0.0;
        foreach (var place in circuits)
            sum += place.Room == room ? heldW[place.Circuit] : 0;
        return sum;
    }

    // Gain and integral time of the sequence, as shipped: surfaces by their kind; a room without one by its air.
    private double GainOf(CircuitPlace place) => (house.Circuits[place.Circuit].Kind.IsSlab ? DryingPlay.Shipped.SlabGainWPerKM2 : DryingPlay.Shipped.SurfaceGainWPerKM2) * place.AreaM2;

    private double IntegralOf(CircuitPlace place) => house.Circuits[place.Circuit].Kind.IsSlab ? DryingPlay.Shipped.SlabIntegralS : DryingPlay.Shipped.SurfaceIntegralS;

    private double GainWPerK(int room)
    {
        var surfaces = circuits.Where(place => place.Room == room).Sum(GainOf);
        return surfaces > 0 ? surfaces : house.Rooms[room].Settings.AirCapacityKJPerK * 1000 / DryingPlay.Shipped.DemandTimeS;
    }

    // The surface follows what is left for the coil, and the air where there is no coil; it is given up while the coil dries.
    private void Trim(int room)
    {
        var (area, leaves) = (0.0, LeavesW(room));
        (surfaceW[room], surfaceMostW[room]) = (0, 0);
        foreach (var place in circuits)
            area += place.Room == room ? place.AreaM2 : 0;
        foreach (var place in circuits)
        {
            if (place.Room != room)
                continue;
            var (supply, share, n) = (SupplyOf(place.Loop), place.AreaM2 / area, house.Circuits[place.Circuit].Kind.Exponent);
            // A room for which the water of its loop is too cold is shut, as the sequence shuts it.
            var isSafe = supply >= SurfaceGives.LowestSafeC(building.AirC[room], building.DewPointC[room]) - 0.01;
            var (may, flow) = (isSafe && supply <= SurfaceGives.WarmestC, place.RatedKgPerS / place.AreaM2);
            var most = building.AirC[room] > supply + 0.5 ? place.AreaM2 * SurfaceGives.At(place.RatedWPerM2, n, flow, supply, building.AirC[room], 10).WPerM2 : 0;
            var pull = GainOf(place) * (building.AirC[room] - SetC(room) + UnderK);
            surfaceMostW[room] += may ? most : 0;
            var givesWay = share * leaves;
            heldW[place.Circuit] = Math.Clamp(heldW[place.Circuit] + (may ? (share * Math.Max(takenCoilW[room] - forcedW[room], 0) + pull) * StepS / IntegralOf(place) : -most * StepS / ShutsS), 0, most + givesWay);
            var asked = Math.Clamp(heldW[place.Circuit] + pull - givesWay, 0, most);
            // As the sequence has its valve: by the share of what it would give quite open, and shut where that is too little to be worth an opening.
            var opens = most <= 0 ? 0 : asked / most;
            opens = opens < SmallestShare * (open[place.Circuit] > 0 ? 0.5 : 1) ? 0 : opens;
            open[place.Circuit] = may ? opens : Math.Min(open[place.Circuit], opens);
            // What it is believed to give the room: with its response, as the sequence reckons it.
            givenW[place.Circuit] += (open[place.Circuit] * most - givenW[place.Circuit]) * (1 - Math.Exp(-StepS / house.Circuits[place.Circuit].Kind.ResponseS));
            surfaceW[room] += givenW[place.Circuit];
            // Warmer water than may be is in a circuit that is shutting: it cools nothing any more.
            if (building.WaterInC[place.Surface] <= SurfaceGives.WarmestC && open[place.Circuit] > 0.02)
                (LoopLowC[place.Loop], SupplyLowC, SupplyHighC) = (Math.Min(LoopLowC[place.Loop], building.WaterInC[place.Surface]), Math.Min(SupplyLowC, building.WaterInC[place.Surface]), Math.Max(SupplyHighC, building.WaterInC[place.Surface]));
        }
    }
}

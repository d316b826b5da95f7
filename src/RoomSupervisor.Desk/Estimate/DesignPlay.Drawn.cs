// What the played design day draws from the source in the hour before a door opens: the rest of the house goes on with it while one room comes back.
// Must never count the room that comes back: what it draws then is the recovery's own business.
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Estimate;

internal sealed partial class DesignPlay
{
    // A valve that throttles lets exp(5.3·(q − 1)) of its water through for a share q of the slowest output, and no less than this (the sequence's curve and floor).
    private const double Steepness = 5.3;

    private readonly double[] meanCoilW, meanSurfaceW, meanKgPerS;
    private double[] drawnCoilW = [], drawnSurfaceW = [], drawnKgPerS = [];
    private double meanPipesW, meanSurfaceSumW, meanCold, drawnPipesW;

    /// <summary>What the rest of the house draws when a room's door opens.</summary>
    /// <param name="but">Index of the room; what its own coils and surfaces draw is left out.</param>
    public Drawn DrawnAtOpening(int but)
    {
        double watts = drawnPipesW, surface = 0, flow = 0;
        for (var i = 0; i < drawnCoilW.Length; i++)
        {
            if (i != but)
                (watts, surface) = (watts + drawnCoilW[i], surface + drawnSurfaceW[i]);
        }
        for (var c = 0; c < drawnKgPerS.Length; c++)
            flow += house.Coils[c].Rooms.Contains(but) ? 0 : drawnKgPerS[c];
        return new Drawn(watts, flow, surface);
    }

    // Means of about an hour of what coils took with their moisture, what surfaces took, the water through coils and the cold that pipes took up.
    private void FollowDrawn()
    {
        const double share = StepS / DrawnOverS;
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            meanCoilW[i] += (takenCoilW[i] + LatentW(i, takenCoilW[i]) - meanCoilW[i]) * share;
            meanSurfaceW[i] += (takenW[i] - takenCoilW[i] - meanSurfaceW[i]) * share;
        }
        for (var c = 0; c < house.Coils.Length; c++)
            meanKgPerS[c] += (FlowNow(c) - meanKgPerS[c]) * share;
        meanPipesW += (pipesW - meanPipesW) * share;
        meanCold += ((isCold ? 1 : 0) - meanCold) * share;
        meanSurfaceSumW = meanSurfaceW.Sum();
    }

    private double FlowNow(int coil)
    {
        var most = 0.0;
        foreach (var room in house.Coils[coil].Rooms)
        {
            if (takenCoilW[room] > 1 && slowestW[room] > 0)
                most = Math.Max(most, Math.Clamp(Math.Exp(Steepness * (takenCoilW[room] / slowestW[room] - 1)), house.Settings.ValveFloorPercent / 100, 1));
        }
        return capPercent[coil] > 0 ? most * drafted.Plant.FanCoils[coil].Coil.Coil.WaterKgPerS : 0;
    }

    // The most demanding loop's: a drying or pulling coil's coldest, a holding one's, a cooled surface's; NaN: nobody asks.
    private double WantedC()
        => !double.IsNaN(coilWaterC) ? (meanCold >= 0.5 ? CoilGives.ColdC : HoldingC) : meanSurfaceSumW > 20 ? SurfaceGives.ColdestC : double.NaN;
}

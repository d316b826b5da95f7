// What the played design day draws from the source when a door opens, and the house as it stands then: the rest of the house goes on with it while one room comes back.
// Must never count the room that comes back: what it draws then is the recovery's own business.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>The house when a door may open.</summary>
/// <param name="WallS">Second of the day.</param>
/// <param name="Building">State of the building.</param>
/// <param name="PipesW">Cold that running pipes take up in each room, W.</param>
/// <param name="CoilWaterC">Water of the coils in the hour before, mean while any coil had some, °C; NaN: none had.</param>
/// <param name="WantedC">Water that is asked of the source, °C; NaN: nobody asks.</param>
/// <param name="Strokes">Where the valve of each coil stands, share of its stroke.</param>
/// <param name="CoilW">What coils take from each room, moisture counted, mean of about an hour, W.</param>
/// <param name="SurfaceW">What its surfaces take, W.</param>
/// <param name="AllPipesW">What all running pipes take up, W.</param>
internal sealed record OpeningMoment(double WallS, double[] Building, double[] PipesW, double CoilWaterC, double WantedC, double[] Strokes, double[] CoilW, double[] SurfaceW, double AllPipesW)
{
    /// <summary>What the rest of the house draws then.</summary>
    /// <param name="drafted">The house.</param>
    /// <param name="but">Index of the room; what its own coils and surfaces draw is left out.</param>
    public Drawn Others(Drafted drafted, int but)
    {
        double watts = AllPipesW, surface = 0, flow = 0;
        for (var i = 0; i < CoilW.Length; i++)
        {
            if (i != but)
                (watts, surface) = (watts + CoilW[i], surface + SurfaceW[i]);
        }
        for (var c = 0; c < Strokes.Length; c++)
            flow += drafted.Files.House.Coils[c].Rooms.Contains(but) ? 0 : CoilGives.WaterKgPerS(drafted, c, one => Strokes[one]);
        return new Drawn(watts, flow, surface);
    }
}

internal sealed partial class DesignPlay
{
    // The mean of about an hour: drying comes and goes within it. The curve is the sequence's.
    private const double DrawnOverS = 3600, ThrottleSteepness = 5.3;

    private readonly double[] meanCoilW, meanSurfaceW;
    private readonly List<OpeningMoment> openings = [];
    private double meanPipesW, meanCold;

    /// <summary>The house at the moments of the design day at which a door may open: whether a room is being dried just then is chance.</summary>
    public IReadOnlyList<OpeningMoment> Openings => openings;

    // Water is the most demanding loop's: a drying or pulling coil's coldest, a holding one's, a cooled surface's.
    private void Keep(double wallS)
    {
        var wanted = !double.IsNaN(coilWaterC) ? meanCold >= 0.5 ? CoilGives.ColdC : HoldingC : meanSurfaceW.Sum() > 20 ? SurfaceGives.ColdestC : double.NaN;
        openings.Add(new OpeningMoment(wallS, building.Save(), [.. pipesIn], coilWaterC, wanted, [.. house.Coils.Select((_, coil) => Stroke(coil))], [.. meanCoilW], [.. meanSurfaceW], meanPipesW));
    }

    private void FollowDrawn()
    {
        const double share = StepS / DrawnOverS;
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            meanCoilW[i] += (takenCoilW[i] + LatentW(i, takenCoilW[i]) - meanCoilW[i]) * share;
            meanSurfaceW[i] += (takenW[i] - takenCoilW[i] - meanSurfaceW[i]) * share;
        }
        meanPipesW += (pipesW - meanPipesW) * share;
        meanCold += ((isCold ? 1 : 0) - meanCold) * share;
    }

    // Under its slowest the valve throttles.
    private double Stroke(int coil)
    {
        var most = 0.0;
        foreach (var room in house.Coils[coil].Rooms)
        {
            if (takenCoilW[room] > 1 && slowestW[room] > 0)
                most = Math.Max(most, Math.Clamp(Math.Exp(ThrottleSteepness * (takenCoilW[room] / slowestW[room] - 1)), drying.Dries(room) ? DryingPlay.LeastStroke : 0, 1));
        }
        return house.Coils[coil].Actuator.Kind == OutputKind.OnOff && most > 0 ? 1 : most;
    }
}

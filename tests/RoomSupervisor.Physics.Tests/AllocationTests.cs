// Nothing in Physics allocates: it runs on the control loop's tick.
// Must never count the test's own allocations: everything is warmed up and made before the count.
using Xunit;
using static RoomSupervisor.Physics.Tests.Reference;

namespace RoomSupervisor.Physics.Tests;

public class AllocationTests
{
    private static double Round(AirState air, CoilRating[] ratings, CoilModel start)
    {
        double sum = 0;
        for (int i = 0; i < 200; i++)
        {
            double t = 20 + i * 0.05;
            if (MoistAir.TryDewPoint(t, 50, out double dew, out _)) sum += dew;
            if (!MoistAir.TryDewPoint(t, 150, out _, out Impossible why)) sum += why.Highest;
            if (AirState.TryFromRelativeHumidity(t, 50, 101325, out AirState state, out _)) sum += state.WetBulbC;
            if (Coil.TrySolve(new CoilInput(air, 0.1, 7 + i * 0.04, 0.1, 4.19), new CoilConductances(300, 600), out CoilResult r, out _)) sum += r.TotalW;
            if (Glycol.TryProperties(GlycolKind.Propylene, 30, t, out LiquidProperties p, out _)) sum += p.ViscosityPaS;
            if (EmbeddedPipes.TryFloorHeatingFactor(new PipeLayout(0.15, 0.016, 0.002, 0.35, 0.045, 1.2, 0.05), out double k, out _)) sum += k;
            if (Physics.Comfort.TryPredictedMeanVote(t, t, 0.1, 50, 1.2, 0.7, out double vote, out _)) sum += vote;
            if (Sun.TryPosition(9000 + i, 50, 10, out SunPosition sun, out _)) sum += sun.ElevationDegrees;
            if (i == 0 && CoilFit.TryFit(ratings, start, out CoilModel m, out _, out _)) sum += m.AirExponent;
        }

        return sum;
    }

    [Fact]
    public void A_thousand_calls_allocate_nothing()
    {
        AirState air = Air(27, 50);
        CoilRating[] ratings = [new(new CoilInput(air, 0.1, 7, 0.1, 4.19), 2000, 1500), new(new CoilInput(air, 0.05, 7, 0.1, 4.19), 1200, 850)];
        CoilModel start = new(new CoilConductances(300, 600), 0.1, 0.1, 0.5, 0.8);
        double sum = Round(air, ratings, start);
        long before = GC.GetAllocatedBytesForCurrentThread();
        sum += Round(air, ratings, start);
        long allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        Assert.True(double.IsFinite(sum));
        Assert.Equal(0, allocated);
    }
}

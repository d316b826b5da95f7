// Rival (c): a coil and a surface, each with a PI loop of its own on the same room temperature, that know nothing of each other.
// Must never let one look at what the other does: that is what it is compared for.
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Desk.Compare;

/// <summary>Gains of the two loops.</summary>
/// <param name="CoilPerK">Share of the coil's range a kelvin, 0.05…5.</param>
/// <param name="CoilIntegralS">Its integral time, s.</param>
/// <param name="SurfacePerK">Share of the surface's valve a kelvin.</param>
/// <param name="SurfaceIntegralS">Its integral time, s.</param>
internal readonly record struct LoopGains(double CoilPerK, double CoilIntegralS, double SurfacePerK, double SurfaceIntegralS);

/// <summary>Two PI loops a room.</summary>
/// <param name="house">The house.</param>
/// <param name="gains">Their gains.</param>
internal sealed class SeparateLoops(House house, LoopGains gains) : IRoomControl
{
    /// <summary>A fan asked for less than this share rests, and starts at twice as much (a start and stop band as any PI fan has it: common practice, no published source).</summary>
    internal const double RestsUnder = 0.03;

    /// <summary>Openings are kept apart by this much, so that a valve does not hum, share.</summary>
    private const double ValveStep = 0.02;

    private readonly double[] coils = new double[house.Coils.Length], surfaces = new double[house.Circuits.Length], opening = new double[house.Circuits.Length];
    private readonly bool[] runs = new bool[house.Coils.Length];

    public void Step(in RoomsNow now)
    {
        Emitting.Rooms(now);
        for (var i = 0; i < coils.Length; i++)
        {
            var wish = Pi.Step(ref coils[i], Emitting.TooWarmOf(now, i), gains.CoilPerK, gains.CoilIntegralS, new PiLimits(0, 1, 0, 1), now.Dt);
            runs[i] = wish > (runs[i] ? RestsUnder : 2 * RestsUnder);
            Emitting.Coil(now, i, runs[i] ? wish : 0);
        }
        for (var i = 0; i < surfaces.Length; i++)
        {
            var error = now.House.Loops[now.House.Circuits[i].Loop].Cools ? Emitting.TooWarmK(now, now.House.Circuits[i].Room) : double.NaN;
            var wish = double.IsNaN(error) ? 0 : Pi.Step(ref surfaces[i], error, gains.SurfacePerK, gains.SurfaceIntegralS, new PiLimits(0, 1, 0, 1), now.Dt);
            if (Math.Abs(wish - opening[i]) >= ValveStep || wish <= 0 || wish >= 1)
                opening[i] = wish;
            Emitting.Surface(now, i, opening[i]);
        }
    }
}

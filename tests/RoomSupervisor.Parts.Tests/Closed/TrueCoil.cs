// The true coil of the closed test room: its fan's lag, its valve, its metal, the water it holds. Never takes what it is not given: without water
// or air it does nothing.
using RoomSupervisor.Physics;

namespace RoomSupervisor.Parts.Tests.Closed;

/// <summary>
/// Counterflow coil, dry, wet or part wet (Physics' <see cref="Coil"/>), its conductances fitted once to a rating of 2.4 kW sensible and 3.2 kW total
/// at 27 °C, 50 %, 7/12 °C water (EN 1397's cooling conditions, from memory) and scaled by size and the true factor. Air flow follows fan speed (affinity
/// laws). Fan speed lags 6 s, the metal 15 s. Valve: 90 s stroke; flow by the installed characteristic of a linear valve at an authority of 0.5, x/√(a + (1−a)·x²)
/// (handbook of control valves, from memory). Held water: Henderson and Rengarajan 1996, through Physics' <see cref="CoilWater"/>.
/// </summary>
internal sealed class TrueCoil(double size)
{
    private const double DesignAirKgPerS = 0.165, DesignWaterKgPerS = 0.15, LatentJPerKg = 2.45e6;

    private static readonly CoilModel Fitted = Fit();

    private double speed, valve, heldKg, sensibleW, latentKgPerS;

    /// <summary>True speed, share of full speed.</summary>
    public double Speed => speed;

    /// <summary>Sensible heat taken from the air, W; the heat of a fan of 45 W already taken off.</summary>
    public double SensibleW { get; private set; }

    /// <summary>Vapour given to the air, kg/s; negative while it dries.</summary>
    public double VapourKgPerS { get; private set; }

    /// <summary>Heat given to the water, W.</summary>
    public double WaterW { get; private set; }

    public double LeavingWaterC { get; private set; } = 20;

    public double DrainedKg { get; private set; }

    public double WaterKgPerS => DesignWaterKgPerS * size * Flow(valve);

    public TrueCoil Copy() => (TrueCoil)MemberwiseClone();

    /// <summary>One second.</summary>
    public void Step(ITrueAir room, double fanPercent, double valvePercent, bool pump, double waterC)
    {
        speed += (fanPercent / 100 - speed) / 6;
        valve += Math.Clamp(valvePercent / 100 - valve, -1 / 90.0, 1 / 90.0);
        var waterKgPerS = pump ? WaterKgPerS : 0;
        var blows = speed > 0.03;
        var result = CoilResult.Unknown;
        var works = blows && waterKgPerS > 1e-4 && TrySolve(room.State(), speed, waterC, waterKgPerS, size, out result);
        sensibleW += ((works ? result.SensibleW : 0) - sensibleW) / 15;
        latentKgPerS += ((works ? result.CondensateKgPerH / 3600 : 0) - latentKgPerS) / 15;
        WaterW = works ? result.TotalW : 0;
        LeavingWaterC = works ? result.LeavingWaterC : room.AirC;
        var evaporated = Hold(room, blows && !works);
        SensibleW = sensibleW + evaporated * LatentJPerKg - 45 * speed * speed * speed;
        VapourKgPerS = evaporated - latentKgPerS;
    }

    /// <summary>Sensible output at a speed with water of 7 °C and a valve fully open, in air of this state, W.</summary>
    public static double OutputW(double size, double share, in AirState air)
        => TrySolve(air, share, 7, DesignWaterKgPerS * size, size, out var result) ? result.SensibleW : double.NaN;

    private static bool TrySolve(in AirState air, double speed, double waterC, double waterKgPerS, double size, out CoilResult result)
    {
        result = CoilResult.Unknown;
        var airKgPerS = DesignAirKgPerS * size * speed;
        if (!Fitted.TryAt(airKgPerS / size, waterKgPerS / size, out var at, out _))
            return false;
        var scaled = new CoilConductances(at.AirWPerK * size, at.WaterWPerK * size);
        return Coil.TrySolve(new CoilInput(air, airKgPerS, Math.Max(waterC, 0.6), waterKgPerS, 4.19), scaled, out result, out _);
    }

    /// <summary>Fills, drips or gives back; kg/s given back.</summary>
    private double Hold(ITrueAir room, bool givesBack)
    {
        var capacity = 0.3 * size;   // 1,000 s of the latent output of a humid summer's day
        if (CoilWater.TryCondense(heldKg, capacity, latentKgPerS * 3600, 1, out var filled, out _))
            (heldKg, DrainedKg) = (filled.HeldKg, DrainedKg + filled.DrainedKg);
        if (!givesBack || heldKg <= 1e-6)
            return 0;
        var air = DesignAirKgPerS * size * speed;
        var conductance = Fitted.Reference.AirWPerK * size * Math.Pow(speed, 0.6);
        if (!CoilWater.TryEvaporate(heldKg, capacity, room.State(), air, conductance, 1, out var dried, out _))
            return 0;
        heldKg = dried.HeldKg;
        return dried.EvaporatedKg;
    }

    /// <summary>Flow share of a linear valve at an authority of 0.5.</summary>
    public static double Flow(double opening) => opening <= 0 ? 0 : opening / Math.Sqrt(0.5 + 0.5 * opening * opening);

    private static CoilModel Fit()
    {
        if (!AirState.TryFromRelativeHumidity(27, 50, TruthOfRoom.PressurePa, out var air, out _))
            throw new InvalidOperationException("no rating air");
        var rating = new CoilRating(new CoilInput(air, DesignAirKgPerS, 7, DesignWaterKgPerS, 4.19), 3200, TruthOfRoom.RatedCoilW);
        var start = new CoilModel(new CoilConductances(300, 500), DesignAirKgPerS, DesignWaterKgPerS, 0.6, 0.8);
        return CoilFit.TryFit([rating], start, out var fitted, out var off, out _) && off < 0.1 ? fitted : throw new InvalidOperationException($"the rating does not fit: {off:0.00}");
    }
}

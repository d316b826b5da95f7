// The true air of the closed test room with its vapour, furniture and walls. Never sees a command: it gets watts and kilograms.
using RoomSupervisor.Physics;

namespace RoomSupervisor.Parts.Tests.Closed;

/// <summary>
/// Well-mixed moist air (ASHRAE Handbook Fundamentals, heat balance of a zone, from memory), furniture as a fast node, plaster as a skin before a slow
/// masonry core (lumped, 3 W/m²K convective: ISO 6946 and ISO 13786, from memory). Vapour as a mass balance with a moisture buffer of four times the
/// air's own content within an hour (effective capacitance, ASHRAE and Rode's moisture buffering, from memory). People: 70 W sensible, 55 g/h each,
/// seated (ASHRAE Fundamentals table of metabolic heat, from memory). Infiltration 0.4 air changes an hour. A door: buoyant exchange
/// Cd·A/3·√(g·H·ΔT/T), Cd 0.5, 0.9 m by 2.1 m (Brown and Solvason 1962, from memory), at least the wind's.
/// </summary>
internal sealed class TrueAir : ITrueAir
{
    private const double Heat = 1006, VapourHeat = 1860, Skin = 75 * 3.0;

    private TruthOfRoom truth;
    private readonly double outdoorRatio;
    private readonly double massKg;
    private double buffered;

    public TrueAir(TruthOfRoom truth)
    {
        this.truth = truth;
        outdoorRatio = Ratio(truth.OutdoorDewPointC);
        massKg = TruthOfRoom.VolumeM3 * 1.18;
        AirC = truth.CoreStartC;
        FurnitureC = SkinC = CoreC = truth.CoreStartC;
        HumidityRatio = buffered = Ratio(13);
    }

    public double AirC { get; private set; }

    public double FurnitureC { get; private set; }

    public double SkinC { get; private set; }

    public double CoreC { get; private set; }

    /// <summary>kg/kg.</summary>
    public double HumidityRatio { get; private set; }

    public double VapourPa => TruthOfRoom.PressurePa * HumidityRatio / (0.621945 + HumidityRatio);

    public TrueAir Copy() => (TrueAir)MemberwiseClone();

    /// <summary>The same room from now on with other furniture.</summary>
    public void Become(TruthOfRoom other) => truth = other;

    /// <summary>One second.</summary>
    /// <param name="timeS">Time of the run, s: the sun comes and goes slowly.</param>
    /// <param name="doorOpen">True while the door stands open.</param>
    /// <param name="coolingW">Sensible heat taken from the air by coil and surface (convective), W.</param>
    /// <param name="radiantW">Heat taken from skin and furniture by the surface (radiant), W.</param>
    /// <param name="vapourKgPerS">Given to the air (from a wet coil, a film), negative where taken.</param>
    public void Step(double timeS, bool doorOpen, double coolingW, double radiantW, double vapourKgPerS)
    {
        var flow = TruthOfRoom.VolumeM3 * 0.4 / 3600 + (doorOpen ? DoorM3PerS() : 0);
        var airKgPerS = 1.18 * flow;
        var gains = truth.GainW + 60 * Math.Sin(2 * Math.PI * timeS / 9000 + truth.GainPhase) + 70 * truth.People;
        var capacity = massKg * (Heat + VapourHeat * HumidityRatio);
        var toFurniture = truth.FurnitureWPerK * (AirC - FurnitureC);
        var toSkin = Skin * (AirC - SkinC);
        var toCore = truth.CoreWPerK * (SkinC - CoreC);
        // Half of the gains are radiant and reach the surfaces first (ASHRAE radiant time series, from memory).
        AirC += (0.5 * gains + (airKgPerS * Heat + truth.FacadeWPerK) * (truth.OutdoorC - AirC) - toFurniture - toSkin - coolingW) / capacity;
        FurnitureC += (toFurniture + 0.15 * gains - 0.2 * radiantW) / truth.FurnitureJPerK;
        SkinC += (toSkin + 0.35 * gains - toCore - 0.8 * radiantW) / truth.SkinJPerK;
        CoreC += toCore / truth.CoreJPerK;
        var intoBuffer = 4 * massKg * (HumidityRatio - buffered) / 3600;
        HumidityRatio += (airKgPerS * (outdoorRatio - HumidityRatio) + truth.People * 0.055 / 3600 + vapourKgPerS - intoBuffer) / massKg;
        buffered += intoBuffer / (4 * massKg);
    }

    /// <summary>Air state for the coil.</summary>
    public AirState State() => AirState.TryFromHumidityRatio(AirC, HumidityRatio, TruthOfRoom.PressurePa, out var state, out var why)
        ? state : throw new InvalidOperationException($"no such air: {AirC} °C, {HumidityRatio} kg/kg, {why}");

    /// <summary>Saturated humidity ratio over water, kg/kg.</summary>
    public static double Ratio(double celsius)
    {
        if (!MoistAir.TrySaturationPressure(celsius, out var pascals, out var why))
            throw new InvalidOperationException($"no saturation at {celsius} °C: {why}");
        return 0.621945 * pascals / (TruthOfRoom.PressurePa - pascals);
    }

    private double DoorM3PerS()
    {
        var buoyant = 0.5 * 0.9 * 2.1 / 3 * Math.Sqrt(9.81 * 2.1 * Math.Abs(truth.OutdoorC - AirC) / 300);
        return Math.Max(buoyant, truth.WindM3PerS);
    }
}

// Plays one case: three hours to settle, a door open for forty minutes on a humid afternoon, four hours after. The real sequence steps once a second. Beside
// it, from the moment the door shuts, the same room with the coil held at its cap. Never tells the sequence anything its sensors do not say.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Closed;

/// <summary>What was true in one second of a run.</summary>
internal readonly record struct Moment(
    double AirC, double DewPointC, double FanPercent, double FilmGPerM2, double CondensingGPerM2H, Stage Stage, GuardLevel Guard, double CoilW, double SurfaceW,
    double DemandW, double SupplyC, double CoilWaterC, double ValvePercent, double SurfaceValvePercent, double WallC, double MixingPercent);

internal sealed class ClosedRun
{
    public const int OpensAtS = 3 * 3600, ShutsAtS = OpensAtS + 2400, EndsAtS = ShutsAtS + 4 * 3600;

    private readonly House house;
    private readonly Memory memory;
    private readonly OutputImage image;
    private readonly Sample[] samples;
    private readonly ClosedCase one;
    private readonly TruthOfRoom truth;
    private readonly TrueSensors sensors;
    private TrueAir air;
    private TrueCoil coil;
    private TrueSurface surface;
    private TruePlant plant = new();
    private readonly ClosedPoints at;

    private ClosedRun(ClosedCase one)
    {
        this.one = one;
        truth = new TruthOfRoom(one.Seed);
        house = ClosedHouse.Of(one);
        memory = new Memory(house);
        image = house.NewOutputImage();
        samples = new Sample[house.InputTable.Count];
        air = new TrueAir(truth);
        coil = new TrueCoil(one.CoilSize * truth.CoilFactor);
        surface = new TrueSurface(one.Floor, truth.SurfaceFactor, air.AirC - 2);
        sensors = new TrueSensors(air, one.LagS, one.Hash);
        at = new ClosedPoints(house, one.Floor);
        if (!RoomSupervisor.Physics.AirState.TryFromDewPoint(ClosedHouse.WantedC, 14, TruthOfRoom.PressurePa, out var usual, out _))
            throw new InvalidOperationException("no usual air");
        MinimumOverLoad = TrueCoil.OutputW(one.CoilSize * truth.CoilFactor, 0.2, usual) / truth.UsualLoadW;
    }

    /// <summary>One moment a second, from 0 to <see cref="EndsAtS"/>.</summary>
    public List<Moment> Moments { get; } = new(EndsAtS);

    /// <summary>True air from the shutting on with the coil at its cap, down to the set point or for four hours.</summary>
    public List<double> AtCap { get; } = [];

    /// <summary>True output of the coil at its slowest in air of 24 °C with a dew point of 14 °C, over the usual load; it stands before the first scan, so that no rule moves a case from one group to another.</summary>
    public double MinimumOverLoad { get; }

    public static ClosedRun Play(ClosedCase one)
    {
        var run = new ClosedRun(one);
        for (var second = 0; second < EndsAtS; second++)
        {
            if (second == ShutsAtS)
                run.HoldAtCap();
            run.Second(second);
        }
        return run;
    }

    private double Value(int output) => image.Commands[output].Value;

    private void Second(int second)
    {
        var open = second is >= OpensAtS and < ShutsAtS;
        at.Sense(samples, second, open, sensors, plant.SourceC, truth);
        var wall = new DateTime(2026, 7, 14, 12, 0, 0, DateTimeKind.Unspecified).AddSeconds(second);
        Supervisor.Step(new ScanTime(second, second == 0 ? 0 : 1, wall, wall), house, samples, memory, image);
        Move(second, open, Value(at.Fan), Value(at.Valve), Value(at.CoilPump) > 0.5, Value(at.Circuit), Value(at.Pump) > 0.5, Value(at.Mixing), Value(at.Call) > 0.5);
        sensors.Step(air, plant, surface);
        var state = image.Rooms[0];
        Moments.Add(new Moment(
            air.AirC, air.State().DewPointC, Value(at.Fan), surface.FilmGPerM2, surface.CondensingGPerM2H, state.Stage, state.Guard, coil.SensibleW,
            surface.ConvectiveW + surface.RadiantW, state.DemandW, plant.SurfaceWaterC, plant.CoilWaterC, Value(at.Valve), Value(at.Circuit), state.AirTemperatureC, Value(at.Mixing)));
    }

    private void Move(double second, bool open, double fanPercent, double valvePercent, bool coilRuns, double circuitPercent, bool surfaceRuns, double mixingPercent, bool called)
    {
        coil.Step(air, fanPercent, valvePercent, coilRuns, plant.CoilWaterC);
        surface.Step(air, circuitPercent, surfaceRuns, plant.SurfaceWaterC);
        plant.Step(called, mixingPercent, coilRuns, coil, surfaceRuns, surface);
        air.Step(second, open, coil.SensibleW + surface.ConvectiveW, surface.RadiantW, coil.VapourKgPerS + surface.VapourKgPerS);
    }

    /// <summary>The shortest possible: the room, coil, surface and plant as they are, valve open, fan at the cap, source called, surface shut.</summary>
    private void HoldAtCap()
    {
        var kept = (air, coil, surface, plant);
        (air, coil, surface, plant) = (air.Copy(), coil.Copy(), surface.Copy(), plant.Copy());
        for (var second = ShutsAtS; second < EndsAtS && air.AirC > ClosedHouse.WantedC; second++)
        {
            Move(second, false, one.CapPercent, 100, coilRuns: true, 0, surfaceRuns: false, 0, called: true);
            AtCap.Add(air.AirC);
        }
        (air, coil, surface, plant) = kept;
    }
}

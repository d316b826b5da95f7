// The closed test room without an opening contact: true air, coil, surface and plant of the closed tests, with doors, sun, people and showers as a test
// wishes. What the sequence is told stands in one place. Never judges anything itself.
using RoomSupervisor.Parts.Tests.Closed;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

internal sealed class AirRun
{
    private readonly TruthOfRoom truth;
    private readonly TrueCoil coil;
    private readonly TrueSurface surface;
    private readonly TruePlant plant = new();
    private readonly TrueSensors sensors;
    private readonly double lagReturnS;
    private double returnC;

    public AirRun(int seed, int lagS, double capPercent = 60, bool hasOutdoors = true, bool hasReturnAir = false, double lagReturnS = 40)
    {
        truth = new TruthOfRoom(seed);
        HasOutdoors = hasOutdoors;
        HasReturnAir = hasReturnAir;
        this.lagReturnS = lagReturnS;
        var wall = TestHouse.Fill(new SensorKind(), SensorKind.Parameters, ("lag", lagS));
        var back = TestHouse.Fill(new SensorKind(), SensorKind.Parameters, ("lag", lagReturnS));
        var room = BenchHouse.Room(
            "room", [BenchHouse.Coil()], [BenchHouse.Surface("ceiling", "ceiling-loop")], TruthOfRoom.FloorAreaM2, [("fan_at_most", capPercent), ("cool_above", 24)]);
        var house = new HouseBuilder(id => id == "room.air.temperature" ? wall.Settings : id == "room.coil.return_air_temperature" ? back.Settings : new SensorSettings(), _ => false).Build(
            new HouseParts("Air", 12, UnitSystem.Metric, new SequenceSettings(), [room], [BenchHouse.Surfaces("ceiling-loop"), BenchHouse.Coils()]));
        Air = new TrueAir(truth);
        coil = new TrueCoil(truth.CoilFactor);
        surface = new TrueSurface(false, truth.SurfaceFactor, Air.AirC - 2);
        sensors = new TrueSensors(Air, lagS, (uint)(seed * 1000 + lagS));
        returnC = Air.AirC;
        Rig = new Rig(house) { EachScan = Sense };
        Rig.Silence("room.opening.open");
    }

    public Rig Rig { get; }

    public TrueAir Air { get; }

    public bool HasOutdoors { get; }

    public bool HasReturnAir { get; }

    /// <summary>True where the door has a contact.</summary>
    public bool HasContact { get; set; }

    /// <summary>True while the door stands open, by the second of the run.</summary>
    public Func<double, bool> Door { get; set; } = _ => false;

    /// <summary>Further heat to the air, W, and moisture, kg/s.</summary>
    public Func<double, (double Watts, double KgPerS)> Gains { get; set; } = _ => (0, 0);

    public void Run(double seconds) => Rig.Run(seconds);

    public IEnumerable<Happening> Told(EventDefinition what) => Rig.Happened.Where(h => h.EventId == what.Id);

    private void Sense(Rig rig)
    {
        var open = Door(rig.NowS);
        var (watts, moisture) = Gains(rig.NowS);
        coil.Step(Air, rig.Fan.Value, rig.CoilValve.Value, rig.Output("coil-loop.pump.run").Value > 0.5, plant.CoilWaterC);
        surface.Step(Air, rig.Ceiling.Value, rig.CeilingPump, plant.SurfaceWaterC);
        plant.Step(rig.Output("source.call.enable").Value > 0.5, rig.Mixing.Value, rig.Output("coil-loop.pump.run").Value > 0.5, coil, rig.CeilingPump, surface);
        Air.Step(rig.NowS, open, coil.SensibleW + surface.ConvectiveW - watts, surface.RadiantW, coil.VapourKgPerS + surface.VapourKgPerS + moisture);
        sensors.Step(Air, plant, surface);
        // A fan draws the room's air past its sensor; without it the sensor takes the temperature of a cold cabinet (invented: 18 °C, ten minutes).
        returnC += rig.Fan.Value > 0 ? (Air.AirC - returnC) / lagReturnS : (18 - returnC) / 600;
        rig.Air(sensors.WallC, sensors.HumidityPercent);
        rig.Set("ceiling-loop.supply.temperature", sensors.SupplyC);
        rig.Set("ceiling-loop.return.temperature", sensors.ReturnC);
        rig.Set("coil-loop.supply.temperature", sensors.CoilC);
        rig.Set("source.supply.temperature", plant.SourceC + sensors.Noise(0.03));
        if (HasContact)
            rig.Set("room.opening.open", open ? 1 : 0);
        if (HasReturnAir)
            rig.Set("room.coil.return_air_temperature", returnC + sensors.Noise(0.03));
        if (!HasOutdoors)
            return;
        rig.Set("outdoor.air.temperature", truth.OutdoorC + sensors.Noise(0.03));
        rig.Set("outdoor.air.humidity", OutdoorHumidity + sensors.Noise(0.3));
    }

    private double OutdoorHumidity => RoomSupervisor.Physics.MoistAir.TryRelativeHumidity(truth.OutdoorC, truth.OutdoorDewPointC, out var percent, out _)
        ? percent : throw new InvalidOperationException("no such weather");
}

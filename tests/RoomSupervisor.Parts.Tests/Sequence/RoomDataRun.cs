// A closed test room lived in for several doors, so that its data can be measured: the true room of Closed/ with the real sequence, and what is true of it by other means. Never tells the sequence anything but sensors.
using RoomSupervisor.Parts.Tests.Closed;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Sequence;

internal sealed class RoomDataRun
{
    /// <summary>Between two doors, and how long one stands open, s.</summary>
    public const int EveryS = 3 * 3600, OpenS = 2400;

    private readonly double size;
    private readonly OutputImage image;
    private readonly Sample[] samples;
    private readonly TrueSurface surface;
    private readonly TruePlant plant = new();
    private readonly ClosedPoints at;
    private TrueSensors sensors;
    private TrueCoil coil;
    private double believedSum, trueSum;
    private int second;

    /// <param name="one">Size, lag, cap and seed.</param>
    /// <param name="lagTold">What the controller is told of the lag, as a factor.</param>
    public RoomDataRun(ClosedCase one, double lagTold = 1)
    {
        Truth = new TruthOfRoom(one.Seed);
        (LagS, size) = (one.LagS, one.CoilSize);
        House = ClosedHouse.Of(one, Math.Round(one.LagS * lagTold));
        Memory = new Memory(House);
        image = House.NewOutputImage();
        samples = new Sample[House.InputTable.Count];
        Air = new TrueAir(Truth);
        coil = new TrueCoil(size * Truth.CoilFactor);
        surface = new TrueSurface(one.Floor, Truth.SurfaceFactor, Air.AirC - 2);
        sensors = new TrueSensors(Air, one.LagS, one.Hash);
        at = new ClosedPoints(House, one.Floor);
    }

    /// <summary>True lag of the wall sensor at the beginning, s.</summary>
    public int LagS { get; }

    public House House { get; }

    public Memory Memory { get; }

    public TruthOfRoom Truth { get; private set; }

    public TrueAir Air { get; }

    public ref RoomDataMemory Data => ref Memory.RoomData[0];

    /// <summary>Events of room data so far: id, second, their two numbers.</summary>
    public List<(int Id, int Second, double A, double B)> Told { get; } = [];

    /// <summary>Told each second with the true air and the stage.</summary>
    public Action<int, double, Stage>? Each { get; set; }

    /// <summary>Adds to what the wall sensor says, K.</summary>
    public double SensorOffK { get; set; }

    /// <summary>The wall sensor does not answer.</summary>
    public bool SensorSilent { get; set; }

    /// <summary>True output of the coil over the typed-in one at its speed and water (power law 0.7, in proportion to room over water), mean over the pull-downs since asked last.</summary>
    public double TrueCoilShare()
    {
        var share = trueSum / believedSum;
        (trueSum, believedSum) = (0, 0);
        return share;
    }

    /// <summary>Dust on the coil, furniture out, another place of the sensor.</summary>
    public void Become(TruthOfRoom other, int? sensorLagS = null)
    {
        if (other.CoilFactor != Truth.CoilFactor)
            coil = new TrueCoil(size * other.CoilFactor);
        Truth = other;
        Air.Become(other);
        if (sensorLagS is { } lag)
            sensors = new TrueSensors(Air, lag, 77);
    }

    /// <summary>So many seconds, with no door before its time.</summary>
    public void Seconds(int count)
    {
        for (var end = second + count; second < end; second++)
            Second(false);
    }

    /// <summary>So many doors, one every three hours.</summary>
    public void Doors(int count)
    {
        for (var end = second + count * EveryS; second < end; second++)
            Second(second % EveryS is >= EveryS - OpenS - 7200 and < EveryS - 7200);
    }

    /// <summary>
    /// Capacity and walls that a measurement without noise would find: the true room is stepped with and without 1,000 W taken from its air for a quarter of an hour; the difference obeys
    /// 1000 = C·dT/dt + K·(T − S), S its first-order mean of 25 min, and C and K are its ordinary least squares.
    /// </summary>
    public (double CapacityJPerK, double WallsWPerK) TrueCapacity()
    {
        var (with, without) = (Air.Copy(), Air.Copy());
        double rr = 0, rk = 0, kk = 0, r1 = 0, k1 = 0, before = 0, stored = 0;
        for (var s = 1; s <= 900; s++)
        {
            with.Step(second + s, false, 1000, 0, 0);
            without.Step(second + s, false, 0, 0, 0);
            var fell = without.AirC - with.AirC;
            stored += (fell - stored) / 1500;
            var (rate, walls) = (fell - before, fell - stored);
            before = fell;
            (rr, rk, kk, r1, k1) = (rr + rate * rate, rk + rate * walls, kk + walls * walls, r1 + rate * 1000, k1 + walls * 1000);
        }
        var determinant = rr * kk - rk * rk;
        return ((r1 * kk - k1 * rk) / determinant, (k1 * rr - r1 * rk) / determinant);
    }

    private double Value(int output) => image.Commands[output].Value;

    private void Second(bool open)
    {
        at.Sense(samples, second, open, sensors, plant.SourceC, Truth, SensorOffK);
        if (SensorSilent)
            samples[House.Rooms[0].AirTemperature] = new Sample(double.NaN, second, Fault.NoAcknowledge);
        var wall = new DateTime(2026, 7, 14, 12, 0, 0, DateTimeKind.Unspecified).AddSeconds(second);
        Supervisor.Step(new ScanTime(second, second == 0 ? 0 : 1, wall, wall), House, samples, Memory, image);
        foreach (var one in image.Happenings.Items)
        {
            if (one.EventId is 134 or 135 or 136 or 137)
                Told.Add((one.EventId, second, one.Reason.A, one.Reason.B));
        }
        coil.Step(Air, Value(at.Fan), Value(at.Valve), Value(at.CoilPump) > 0.5, plant.CoilWaterC);
        surface.Step(Air, Value(at.Circuit), Value(at.Pump) > 0.5, plant.SurfaceWaterC);
        plant.Step(Value(at.Call) > 0.5, Value(at.Mixing), Value(at.CoilPump) > 0.5, coil, Value(at.Pump) > 0.5, surface);
        Air.Step(second, open, coil.SensibleW + surface.ConvectiveW, surface.RadiantW, coil.VapourKgPerS + surface.VapourKgPerS);
        sensors.Step(Air, plant, surface);
        if (image.Rooms[0].Stage == Stage.PullDown && coil.Speed > 0.1 && plant.CoilWaterC < 14)
        {
            believedSum += TruthOfRoom.RatedCoilW * size * (Air.AirC - plant.CoilWaterC) / 20 * Math.Pow(coil.Speed, 0.7);
            trueSum += coil.SensibleW;
        }
        Each?.Invoke(second, Air.AirC, image.Rooms[0].Stage);
    }
}

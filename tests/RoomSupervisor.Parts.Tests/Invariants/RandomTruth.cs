// Rooms and plant that answer to commands: air with moisture and walls, coils, surfaces, water with delay, mixing valves, sources. Small and wrong in
// detail on purpose: it has to bring the sequence into every stage and never tells it anything. Its numbers are common practice, no published source.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Invariants;

internal sealed class RandomTruth
{
    private readonly House house;
    private readonly RandomWeather weather;
    private readonly double[] wallC, gainShare, coilOpen, circuitOpen, pipeC, calledForS;
    private readonly double coilFactor, hottestC;

    public RandomTruth(DrawnHouse drawn, House house, RandomWeather weather, Random random)
    {
        hottestC = drawn.Plant.HottestC;
        this.house = house;
        this.weather = weather;
        (OutdoorC, OutdoorPa) = (weather.TemperatureC(0), weather.VapourPa(0));
        var start = Math.Clamp(weather.TemperatureC(0), 17, 27) + random.NextDouble() * 2 - 1;
        AirC = Fill(house.Rooms.Length, start);
        wallC = Fill(house.Rooms.Length, start);
        VapourPa = Fill(house.Rooms.Length, Math.Clamp(weather.VapourPa(0), 700, 1900));
        gainShare = [.. house.Rooms.Select(_ => random.NextDouble() * 2)];
        IsOpen = new bool[house.Rooms.Length];
        Burst = new double[house.Rooms.Length];
        SurfaceC = Fill(house.Circuits.Length, start);
        circuitOpen = new double[house.Circuits.Length];
        coilOpen = new double[house.Coils.Length];
        SupplyC = Fill(house.Loops.Length, 22);
        ReturnC = Fill(house.Loops.Length, 22);
        pipeC = Fill(house.Loops.Length, 22);
        MixedOpen = new double[house.Loops.Length];
        SourceC = Fill(house.Sources.Length, 22);
        calledForS = new double[house.Sources.Length];
        (Runs, Cycles, Stands, MakesHotWater) = (new bool[house.Sources.Length], new bool[house.Sources.Length], new bool[house.Sources.Length], new bool[house.Sources.Length]);
        coilFactor = 0.7 + 0.4 * random.NextDouble();
    }

    public double[] AirC { get; }

    public double[] VapourPa { get; }

    public double[] SurfaceC { get; }

    public double[] SupplyC { get; }

    public double[] ReturnC { get; }

    public double[] SourceC { get; }

    public double[] MixedOpen { get; }

    /// <summary>Whether a machine runs.</summary>
    public bool[] Runs { get; }

    /// <summary>True while a machine that is called switches itself off and on.</summary>
    public bool[] Cycles { get; }

    /// <summary>True while a machine stands whatever it is told: a fault, the utility.</summary>
    public bool[] Stands { get; }

    /// <summary>True while a machine makes hot water by itself.</summary>
    public bool[] MakesHotWater { get; }

    public double BufferC { get; private set; } = 22;

    public double TankC { get; set; } = 46;

    public bool[] IsOpen { get; }

    /// <summary>Watts a square metre on top: people, cooking.</summary>
    public double[] Burst { get; }

    public double OutdoorC { get; private set; }

    public double OutdoorPa { get; private set; }

    /// <summary>Time passes under these commands.</summary>
    public void Step(double s, double dt, OutputImage image, Memory memory)
    {
        OutdoorC = weather.TemperatureC(s);
        OutdoorPa = weather.VapourPa(s);
        for (var left = dt; left > 0; left -= 5)
            Once(Math.Min(left, 5), image, memory);
    }

    private void Once(double dt, OutputImage image, Memory memory)
    {
        for (var i = 0; i < house.Sources.Length; i++)
            StepSource(i, dt, image);
        for (var i = 0; i < house.Loops.Length; i++)
            StepLoop(i, dt, image);
        for (var i = 0; i < house.Rooms.Length; i++)
            StepRoom(i, dt, image, memory);
    }

    private void StepSource(int i, double dt, OutputImage image)
    {
        var call = image.Commands[house.Sources[i].Call].Value > 0.5;
        calledForS[i] = call ? calledForS[i] + dt : 0;
        Runs[i] = MakesHotWater[i] || (calledForS[i] > 20 && !Stands[i] && !(Cycles[i] && calledForS[i] % 480 > 240));
        var charges = house.HotWater is { Charge: >= 0 } tank && tank.Source == i && image.Commands[tank.Charge].Value > 0.5;
        var hot = Math.Min(hottestC, house.Sources[i].SetPoint >= 0 && charges ? image.Commands[house.Sources[i].SetPoint].Value : 66);
        var wanted = !Runs[i] ? 22 : MakesHotWater[i] || charges ? hot : image.Sources[i].Mode == SourceMode.Heating ? Math.Min(hottestC, 47) : 6.5;
        SourceC[i] += (wanted - SourceC[i]) * dt / (Runs[i] ? 400 : 5400);
        if (charges)
            TankC += (SourceC[i] - TankC) * dt / 900;
        else if (house.HotWater?.Source == i)
            TankC += (20 - TankC) * dt / 200_000;
        if (i == 0 && house.Buffer is { } buffer)
            BufferC += Runs[i] && !charges && !MakesHotWater[i] ? (SourceC[i] - BufferC) * dt / Math.Max(dt, buffer.Settings.VolumeL * 6) : (22 - BufferC) * dt / 40_000;
    }

    /// <summary>Water of a source as its loops get it: with a buffer from there.</summary>
    private double FromSource(Loop loop, double dt)
    {
        if (loop.Source != 0 || house.Buffer is not { } buffer)
            return SourceC[loop.Source];
        BufferC += (23 - BufferC) * dt / (buffer.Settings.VolumeL * 40);
        return BufferC;
    }

    private void StepLoop(int i, double dt, OutputImage image)
    {
        var loop = house.Loops[i];
        var runs = image.Commands[loop.Pump].Value > 0.5;
        var stroke = dt / Math.Max(loop.StrokeS, dt);
        if (loop.Mixing >= 0)
            MixedOpen[i] += Math.Clamp(image.Commands[loop.Mixing].Value / 100 - MixedOpen[i], -stroke, stroke);
        if (!runs)
        {
            pipeC[i] += (24 - pipeC[i]) * dt / 3600;
            SupplyC[i] += (24 - SupplyC[i]) * dt / 1800;
            ReturnC[i] += (24 - ReturnC[i]) * dt / 1800;
            return;
        }
        var source = FromSource(loop, dt);
        var into = loop.Type == LoopType.Mixed ? MixedOpen[i] * source + (1 - MixedOpen[i]) * ReturnC[i] : source;
        var half = Math.Max(loop.Settings.LagS / 2, dt);
        pipeC[i] += (into - pipeC[i]) * dt / half;
        SupplyC[i] += (pipeC[i] - SupplyC[i]) * dt / half;
        var takes = loop.Serves == LoopServes.Coils ? SupplyC[i] + 0.3 * (23 - SupplyC[i]) : SupplyC[i] + 0.3 * (Back(i) - SupplyC[i]);
        ReturnC[i] += (takes - ReturnC[i]) * dt / 60;
    }

    /// <summary>What the open surfaces of a loop are like, °C.</summary>
    private double Back(int loop)
    {
        double sum = 0, open = 0;
        for (var i = 0; i < house.Circuits.Length; i++)
        {
            if (house.Circuits[i].Loop != loop)
                continue;
            sum += circuitOpen[i] * SurfaceC[i];
            open += circuitOpen[i];
        }
        return open > 0.01 ? sum / open : SupplyC[loop];
    }

    private void StepRoom(int i, double dt, OutputImage image, Memory memory)
    {
        var room = house.Rooms[i];
        var area = room.Settings.FloorAreaM2;
        var watts = area * (gainShare[i] * 8 + Burst[i] + weather.Sun * 0.5 + 1.2 * (OutdoorC - AirC[i]) + 14 * (wallC[i] - AirC[i]));
        if (IsOpen[i])
            watts += area * 6 * (OutdoorC - AirC[i]);
        foreach (var circuit in room.Circuits)
            watts += SurfaceW(circuit, dt, image, AirC[i]);
        foreach (var coil in room.Coils)
            watts += CoilW(coil, i, dt, image, memory) / house.Coils[coil].Rooms.Length;
        wallC[i] += (AirC[i] - wallC[i]) * 14 * dt / 160_000;
        AirC[i] = Math.Clamp(AirC[i] + watts * dt / (15_000 * area), 2, 45);
        VapourPa[i] += (OutdoorPa - VapourPa[i]) * dt / (IsOpen[i] ? 500 : 9000) + dt * 0.012 * gainShare[i];
        VapourPa[i] = Math.Clamp(VapourPa[i], 300, Vapour.SaturationPa(AirC[i]) * 0.97);
    }

    private double SurfaceW(int i, double dt, OutputImage image, double airC)
    {
        var circuit = house.Circuits[i];
        var stroke = dt / Math.Max(circuit.Actuator.OpeningTimeS, dt);
        circuitOpen[i] += Math.Clamp(image.Commands[circuit.Valve].Value / 100 - circuitOpen[i], -stroke, stroke);
        var flows = image.Commands[house.Loops[circuit.Loop].Pump].Value > 0.5;
        var lag = Math.Max(circuit.Kind.ResponseS, 60);
        SurfaceC[i] += (airC - SurfaceC[i]) * dt / (2 * lag);
        if (flows)
            SurfaceC[i] += (SupplyC[circuit.Loop] - SurfaceC[i]) * circuitOpen[i] * dt / lag * 2;
        return 8 * circuit.Settings.AreaM2 * (SurfaceC[i] - airC);
    }

    private double CoilW(int i, int room, double dt, OutputImage image, Memory memory)
    {
        var coil = house.Coils[i];
        var warm = coil.HeatingValve >= 0 ? image.Commands[coil.HeatingValve].Value : 0;
        var loop = warm > 0 ? coil.HeatingLoop : coil.Loop;
        var open = Math.Max(warm, image.Commands[coil.Valve].Value) / 100;
        var stroke = dt / Math.Max(coil.OpeningTimeS, dt);
        coilOpen[i] += Math.Clamp(open - coilOpen[i], -stroke, stroke);
        var flow = image.Commands[house.Loops[loop].Pump].Value > 0.5 ? coilOpen[i] : 0;
        var fan = Math.Pow(image.Commands[coil.Fan].Value / 100, 0.7);
        if (flow <= 0 || fan <= 0)
            return 0;
        var water = SupplyC[loop];
        var wet = Vapour.SaturationPa(water + 3);
        if (VapourPa[room] > wet)
            VapourPa[room] += (wet - VapourPa[room]) * flow * fan * dt / 1800;
        return coilFactor * coil.Kind.OutputW * fan * flow * (water - AirC[room]) / 20;
    }

    private static double[] Fill(int count, double value)
    {
        var filled = new double[count];
        Array.Fill(filled, value);
        return filled;
    }
}

// Loops, coils, surfaces and sources of the closed two-day runs, as a house lists them: pipes with their delay, valves with their strokes, mixing, buffer and tank. Never gives water before
// it could have come.
using RoomSupervisor.Parts.Tests.Closed;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Parts.Tests.Days;

internal sealed class DayPlant
{
    private readonly House house;
    private readonly DayRoom[] rooms;
    private readonly TruePipe[] pipes;
    private readonly double[] mixing, flow, returned, draws, back;
    private readonly TrueCoil[] warmCoils;
    private readonly double[] cooledW, radiantW, vapour;

    public DayPlant(House house, DayRoom[] rooms, int seed)
    {
        (this.house, this.rooms) = (house, rooms);
        var draw = new Random(104_729 * seed + 3);
        double Between(double low, double high) => low + (high - low) * draw.NextDouble();
        pipes = [.. house.Loops.Select(loop => new TruePipe(loop.Serves == LoopServes.Coils ? 20 : 45, rooms[0].AirC))];
        (mixing, flow, returned) = (new double[pipes.Length], new double[pipes.Length], [.. pipes.Select(_ => rooms[0].AirC)]);
        Surfaces = [.. house.Circuits.Select(circuit => new TrueSurface(circuit.Kind.IsSlab, Between(0.85, 1.1), rooms[circuit.Room].AirC)
            { AreaM2 = circuit.Settings.AreaM2, BehindC = rooms[circuit.Room].AirC, Heats = true })];
        Coils = [.. house.Coils.Select(coil => new TrueCoil(coil.Kind.OutputW / TruthOfRoom.RatedCoilW * Between(0.8, 1.05)))];
        warmCoils = [.. house.Coils.Select(coil => new TrueCoil(coil.Kind.OutputW / TruthOfRoom.RatedCoilW * Between(0.8, 1.05)))];
        Machines = [.. house.Sources.Select(source => source.Type == SourceType.Boiler ? new DayMachine(source.Type, 2000, 12_000) : new DayMachine(source.Type, 3000, 9000))];
        Buffers = [.. house.Sources.Select((_, i) => new DayBuffer(i == 0 && house.Buffer is { } buffer ? buffer.Settings.VolumeL : 20, rooms[0].AirC))];
        (draws, back) = (new double[Machines.Length], new double[Machines.Length]);
        (cooledW, radiantW, vapour) = (new double[rooms.Length], new double[rooms.Length], new double[rooms.Length]);
    }

    public TrueSurface[] Surfaces { get; }

    public TrueCoil[] Coils { get; }

    public DayMachine[] Machines { get; }

    /// <summary>Of the first source the buffer, of one without a buffer the 20 l between machine and loops.</summary>
    public DayBuffer[] Buffers { get; }

    public DayTank Tank { get; } = new();

    public double SupplyC(int loop) => pipes[loop].EndC;

    public double ReturnC(int loop) => returned[loop];

    /// <summary>What flows through a loop, kg/s.</summary>
    public double FlowKgPerS(int loop) => flow[loop];

    /// <summary>Where the loop's mixing valve really stands, 0–1.</summary>
    public double MixingShare(int loop) => mixing[loop];

    /// <summary>One second: emitters, loops, sources, air of all rooms.</summary>
    /// <param name="second">Seconds since the first midnight.</param>
    /// <param name="outdoors">The weather then.</param>
    /// <param name="of">Value of an output by its index.</param>
    public void Step(double second, in Outdoors outdoors, Func<int, double> of)
    {
        Array.Clear(cooledW);
        Array.Clear(radiantW);
        Array.Clear(vapour);
        Array.Clear(draws);
        Array.Clear(back);
        for (var i = 0; i < pipes.Length; i++)
            StepLoop(i, house.Loops[i], of);
        for (var i = 0; i < Machines.Length; i++)
            StepSource(i, second, house.Sources[i], of);
        for (var i = 0; i < rooms.Length; i++)
            rooms[i].Step(second, outdoors, cooledW[i], radiantW[i], vapour[i]);
    }

    private bool IsCold(int source, Func<int, double> of) => house.Sources[source] is var s && (s.ChangeOver >= 0 ? of(s.ChangeOver) > 0.5 : s.Type != SourceType.Boiler);

    private void StepLoop(int index, Loop loop, Func<int, double> of)
    {
        var pump = of(loop.Pump) > 0.5;
        var supply = pipes[index].EndC;
        var (kg, heat) = (0.0, 0.0);
        foreach (var i in loop.Circuits)
        {
            var (room, surface) = (house.Circuits[i].Room, Surfaces[i]);
            surface.Step(rooms[room], of(house.Circuits[i].Valve), pump, supply);
            cooledW[room] += surface.ConvectiveW;
            radiantW[room] += surface.RadiantW;
            vapour[room] += surface.VapourKgPerS;
            (kg, heat) = (kg + surface.WaterKgPerS, heat + surface.WaterKgPerS * surface.ReturnC);
        }
        foreach (var i in loop.Coils)
        {
            var warm = house.Coils[i].HeatingLoop == index;
            var (room, coil) = (house.Coils[i].Room, warm ? warmCoils[i] : Coils[i]);
            coil.Step(rooms[room], of(house.Coils[i].Fan), of(warm ? house.Coils[i].HeatingValve : house.Coils[i].Valve), pump, supply);
            cooledW[room] += coil.SensibleW;
            vapour[room] += coil.VapourKgPerS;
            var water = pump ? coil.WaterKgPerS : 0;
            (kg, heat) = (kg + water, heat + water * supply + coil.WaterW / 4187);
        }
        flow[index] = kg;
        if (kg > 1e-4)
            returned[index] = heat / kg;
        var share = 1.0;
        if (loop.Mixing >= 0)
        {
            mixing[index] += Math.Clamp(of(loop.Mixing) / 100 - mixing[index], -1 / loop.StrokeS, 1 / loop.StrokeS);
            share = mixing[index] / (mixing[index] + (1 - mixing[index]) * 0.7);
        }
        var buffer = Buffers[loop.Source];
        var source = IsCold(loop.Source, of) ? buffer.BottomC : buffer.TopC;
        pipes[index].Step(kg > 1e-4, share * source + (1 - share) * returned[index], 24);
        draws[loop.Source] += share * kg;
        back[loop.Source] += share * kg * returned[index];
    }

    private void StepSource(int index, double second, Source source, Func<int, double> of)
    {
        var (machine, buffer, cold) = (Machines[index], Buffers[index], IsCold(index, of));
        var hasTank = house.HotWater is { } tank && tank.Source == index;
        var charges = hasTank && of(house.HotWater!.Charge) > 0.5;
        var warm = charges || (source.CallCooling >= 0 ? of(source.CallCooling) < 0.5 : source.Type == SourceType.Boiler);
        var toTank = machine.Step(of(source.Call) > 0.5, warm, of(source.SetPoint), cold ? buffer.TopC : buffer.BottomC, charges ? Tank.WaterC : double.NaN);
        if (hasTank)
            Tank.Step(second, toTank);
        (double, double) made = (machine.KgPerS, machine.WaterC), returns = (draws[index], draws[index] > 0 ? back[index] / draws[index] : 21);
        if (cold)
            buffer.Step(returns, made, machine.KgPerS);
        else
            buffer.Step(made, returns, draws[index]);
    }
}

// A model of an example's house: rooms, loops and sources that follow the commands the controller answered. It looks at what the house is
// made of (areas, kinds, which loop), never at what the controller thinks.
using RoomSupervisor.Sequence;

namespace RoomSupervisor.House.Tests.Examples;

internal sealed class ModelHouse
{
    private readonly Sequence.House house;
    private readonly double[] surfaceW, coilW, supplyC;
    private double sourceC;
    private bool runs;
    private Moment now;

    public ModelHouse(Sequence.House house, double roomC, double roomPercent, Moment now)
    {
        this.house = house;
        this.now = now;
        Rooms = [.. house.Rooms.Select(room => new ModelRoom(room, roomC, roomPercent))];
        surfaceW = new double[house.Circuits.Length];
        coilW = new double[house.Coils.Length];
        supplyC = [.. house.Loops.Select(_ => roomC)];
        sourceC = roomC;
    }

    public IReadOnlyList<ModelRoom> Rooms { get; }

    public double SupplyC(int loop) => supplyC[loop];

    /// <summary>What a sensor says. Contacts are at rest but for the doors.</summary>
    public double Value(string id) => id switch
    {
        "outdoor.air.temperature" => now.OutdoorC,
        "outdoor.air.humidity" => now.OutdoorPercent,
        _ when id.EndsWith(".air.temperature", StringComparison.Ordinal) => Room(id).AirC,
        _ when id.EndsWith(".air.humidity", StringComparison.Ordinal) => Room(id).Percent,
        _ when id.EndsWith(".opening.open", StringComparison.Ordinal) => now.IsOpen.Contains(Room(id).Id) ? 1 : 0,
        _ when id.EndsWith(".floor.temperature", StringComparison.Ordinal) => Room(id).AirC + FloorW(Room(id).Id) / 10,   // 10 W/(K·m²) at the floor, EN 1264-2
        _ when id.EndsWith(".return.temperature", StringComparison.Ordinal) => Return(LoopOf(id)),
        "source.supply.temperature" or "buffer.top.temperature" or "buffer.bottom.temperature" => sourceC,
        "hot-water.tank.temperature" => 50,
        "source.state.running" => runs ? 1 : 0,
        _ when id.EndsWith(".supply.temperature", StringComparison.Ordinal) => supplyC[LoopOf(id)],
        _ when id.EndsWith(".water.pressure", StringComparison.Ordinal) => 150,
        _ => 0,
    };

    /// <summary>Passes time with the commands that were answered.</summary>
    public void Pass(double dt, Moment moment, IReadOnlyDictionary<string, double> commands, bool calling, bool makesHeat)
    {
        now = moment;
        runs = calling;
        var madeC = makesHeat ? (house.Sources[0].Type == SourceType.Boiler ? 55 : 40) : 7;
        sourceC += calling ? (madeC - sourceC) * Share(dt, 180) : (22 - sourceC) * Share(dt, 7200);
        for (var loop = 0; loop < house.Loops.Length; loop++)
            Loop(loop, dt, commands);
        var watts = new double[Rooms.Count];
        var dried = new double[Rooms.Count];
        for (var i = 0; i < house.Circuits.Length; i++)
            watts[house.Circuits[i].Room] += Surface(i, dt, commands);
        for (var i = 0; i < house.Coils.Length; i++)
            Coil(i, commands, watts, dried);
        for (var i = 0; i < Rooms.Count; i++)
            Rooms[i].Pass(dt, moment, watts[i], dried[i]);
    }

    /// <summary>What a room is given now by each of its emitters whose water flows, W; cooling negative. A slab's stored heat does not count.</summary>
    public IEnumerable<double> Giving(int room, IReadOnlyDictionary<string, double> commands)
    {
        foreach (var circuit in house.Rooms[room].Circuits)
        {
            if (Flows(house.Circuits[circuit].Loop, house.Circuits[circuit].Id, commands))
                yield return Steady(circuit, commands);
        }
        foreach (var coil in house.Rooms[room].Coils)
            yield return coilW[coil];
    }

    private static double Share(double dt, double timeS) => 1 - Math.Exp(-dt / timeS);

    private ModelRoom Room(string id) => Rooms.First(room => id.StartsWith(room.Id + ".", StringComparison.Ordinal));

    private int LoopOf(string id) => Enumerable.Range(0, house.Loops.Length).First(i => id.StartsWith(house.Loops[i].Id + ".", StringComparison.Ordinal));

    private double RoomsC => Rooms.Average(room => room.AirC);

    private double Return(int loop) => supplyC[loop] + 0.3 * (RoomsC - supplyC[loop]);

    private double FloorW(string room)
    {
        var index = Enumerable.Range(0, house.Circuits.Length).First(i => house.Circuits[i].Id == room + ".floor");
        return surfaceW[index] / house.Circuits[index].Settings.AreaM2;
    }

    private void Loop(int loop, double dt, IReadOnlyDictionary<string, double> commands)
    {
        var part = house.Loops[loop];
        var open = part.Type == LoopType.Direct ? 100 : commands[part.Id + ".mixing.valve"];
        var flows = commands[part.Id + ".pump.run"] > 0;
        var target = flows ? Return(loop) + open / 100 * (sourceC - Return(loop)) : RoomsC;
        supplyC[loop] += (target - supplyC[loop]) * Share(dt, flows ? 30 : 1800);
    }

    private bool Flows(int loop, string part, IReadOnlyDictionary<string, double> commands)
        => commands[house.Loops[loop].Id + ".pump.run"] > 0 && commands[part + ".valve"] > 0;

    private double Steady(int circuit, IReadOnlyDictionary<string, double> commands)
    {
        var part = house.Circuits[circuit];
        var over = supplyC[part.Loop] + 0.15 * (RoomsC - supplyC[part.Loop]) - Rooms[part.Room].AirC;
        var rated = over > 0 && !double.IsNaN(part.Kind.HeatingOutputWPerM2) ? part.Kind.HeatingOutputWPerM2 : part.Kind.OutputWPerM2;
        return rated * part.Settings.AreaM2 * over / 8 * commands[part.Id + ".valve"] / 100;
    }

    private double Surface(int circuit, double dt, IReadOnlyDictionary<string, double> commands)
    {
        var part = house.Circuits[circuit];
        var steady = Flows(part.Loop, part.Id, commands) ? Steady(circuit, commands) : 0;
        surfaceW[circuit] += (steady - surfaceW[circuit]) * Share(dt, part.Kind.ResponseS);
        return surfaceW[circuit];
    }

    /// <summary>A coil gives by its fan and valve, to several rooms by floor area; wet, it takes out a quarter as much again as moisture (2450 J/g).</summary>
    private void Coil(int coil, IReadOnlyDictionary<string, double> commands, double[] watts, double[] dried)
    {
        var part = house.Coils[coil];
        var floor = part.Rooms.Sum(room => house.Rooms[room].Settings.FloorAreaM2);
        coilW[coil] = 0;
        if (!Flows(part.Loop, part.Id, commands))
            return;
        foreach (var room in part.Rooms)
        {
            var share = house.Rooms[room].Settings.FloorAreaM2 / floor;
            var given = share * WattsPerK(part.Kind, supplyC[part.Loop] > Rooms[room].AirC) * (supplyC[part.Loop] - Rooms[room].AirC)
                * Math.Pow(commands[part.Id + ".fan"] / 100, 0.7) * commands[part.Id + ".valve"] / 100;
            coilW[coil] += given;
            watts[room] += given;
            dried[room] += supplyC[part.Loop] < Rooms[room].DewPointC - 1 ? -0.25 * given / 2450 : 0;
        }
    }

    private static double WattsPerK(CoilKind kind, bool heats) => heats && !double.IsNaN(kind.HeatingOutputW)
        ? kind.HeatingOutputW / (kind.RatedHeatingWaterC - 20) : kind.OutputW / (kind.RatedRoomC - kind.RatedWaterC);
}

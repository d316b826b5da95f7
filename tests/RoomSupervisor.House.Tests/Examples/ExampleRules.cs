// What must hold on every line of an example's run, judged from the answer and from the model's true air and water. Shares no formula with
// the controller but the published fan law.
using System.Globalization;
using System.Text.Json;
using RoomSupervisor.Sequence;

namespace RoomSupervisor.House.Tests.Examples;

internal sealed class ExampleRules(Sequence.House house, ModelHouse model)
{
    private readonly double[] coldForS = new double[house.Circuits.Length];
    private DateTime at;

    public List<string> Broken { get; } = [];

    public void Line(DateTime local, double stepS, JsonElement answer, IReadOnlyDictionary<string, double> commands)
    {
        at = local;
        foreach (var (id, value) in commands)
        {
            if (value is < 0 or > 100 || double.IsNaN(value))
                Fail($"{id} = {value}");
        }
        foreach (var coil in house.Coils)
            Fan(coil, commands[coil.Id + ".fan"]);
        for (var i = 0; i < house.Circuits.Length; i++)
            Cooled(i, stepS, answer, commands);
        for (var i = 0; i < house.Loops.Length; i++)
            Pump(i, commands);
        for (var i = 0; i < house.Rooms.Length; i++)
            OneWay(i, commands);
        Heated(answer, commands);
    }

    /// <summary>Never under its slowest speed, never over what any of its rooms wants: household, quiet hours, noise (50·log10), draught.</summary>
    private void Fan(Coil coil, double fan)
    {
        if (fan > 0 && fan < coil.Kind.StartSpeedPercent - 1e-9)
            Fail($"{coil.Id}.fan {fan} % runs under its slowest speed {coil.Kind.StartSpeedPercent} %");
        var cap = coil.Settings.DraughtAtMostPercent;
        foreach (var wants in coil.Rooms.Select(room => house.Rooms[room].Household))
        {
            cap = Math.Min(cap, wants.FanAtMostPercent);
            cap = Math.Min(cap, wants.IsQuiet(at) ? wants.QuietFanAtMostPercent : 100);
            if (!double.IsNaN(wants.NoiseAtMostDb))
                cap = Math.Min(cap, 100 * Math.Pow(10, (wants.NoiseAtMostDb - coil.Kind.SoundLevelDb) / 50));
        }
        if (fan > cap + 1e-9)
            Fail($"{coil.Id}.fan {fan} % is over a cap of {cap} %");
    }

    /// <summary>
    /// A surface with water colder than its room is never commanded open on the line on which the water is more than 0.2 K under the worst-case dew point of
    /// its room or of the manifold's, nor longer than 20 s within 0.3 K of it; nor ever with flowing water under the true dew point. Warming through excepted.
    /// </summary>
    private void Cooled(int index, double stepS, JsonElement answer, IReadOnlyDictionary<string, double> commands)
    {
        var circuit = house.Circuits[index];
        var loop = house.Loops[circuit.Loop];
        var room = house.Rooms[circuit.Room];
        var water = model.SupplyC(circuit.Loop);
        var reason = answer.GetProperty("rooms").GetProperty(room.Id).GetProperty("reasons").GetProperty(circuit.Id[(room.Id.Length + 1)..] + ".valve").GetString();
        if (!loop.Cools && water < model.Rooms[circuit.Room].AirC - 1 && commands[circuit.Id + ".valve"] > 0 && commands[loop.Id + ".pump.run"] > 0 && commands[loop.Id + ".mixing.valve"] > 0)
            Fail($"{circuit.Id} is only ever heated and gets water of {water:0.0} °C");
        if (!loop.Cools || water > model.Rooms[circuit.Room].AirC)
            return;
        int[] places = loop.ManifoldRoom >= 0 ? [circuit.Room, loop.ManifoldRoom] : [circuit.Room];
        var worst = places.Max(place => answer.GetProperty("rooms").GetProperty(house.Rooms[place].Id).GetProperty("dew_point_worst_c").GetDouble());
        var open = commands[circuit.Id + ".valve"] > 0 && !(reason == "warm-through" && commands[loop.Id + ".mixing.valve"] == 0);
        coldForS[index] = water < worst + 0.3 ? coldForS[index] + stepS : 0;
        if (open && (water < worst - 0.2 || coldForS[index] > 20))
            Fail($"{circuit.Id} is open with water of {water:0.00} °C, worst-case dew point {worst:0.00} °C, for {coldForS[index]} s");
        if (open && commands[loop.Id + ".pump.run"] > 0 && water < places.Max(place => model.Rooms[place].DewPointC))
            Fail($"{circuit.Id} has flowing water of {water:0.00} °C under the true dew point");
    }

    private void Pump(int index, IReadOnlyDictionary<string, double> commands)
    {
        var loop = house.Loops[index];
        var open = house.Circuits.Where(circuit => circuit.Loop == index).Select(circuit => circuit.Id)
            .Concat(house.Coils.Where(coil => coil.Loop == index).Select(coil => coil.Id)).Any(part => commands[part + ".valve"] > 0);
        if (commands[loop.Id + ".pump.run"] > 0 && !open)
            Fail($"{loop.Id}: the pump pushes against shut valves");
    }

    /// <summary>Never cooling and heating in one room at once.</summary>
    private void OneWay(int index, IReadOnlyDictionary<string, double> commands)
    {
        var giving = model.Giving(index, commands).ToList();
        if (giving.Any(watts => watts > 20) && giving.Any(watts => watts < -20))
            Fail($"{house.Rooms[index].Id} is cooled and heated at once: {string.Join(" and ", giving.Select(watts => $"{watts:0} W"))}");
    }

    /// <summary>Heated surfaces get water from 24 °C to 45 °C (sequence of operation, 6.1), and never above what the site says.</summary>
    private void Heated(JsonElement answer, IReadOnlyDictionary<string, double> commands)
    {
        foreach (var loop in house.Loops.Where(loop => loop.Serves == LoopServes.Surfaces && !loop.Cools && commands[loop.Id + ".pump.run"] > 0))
        {
            var wanted = answer.GetProperty("loops").GetProperty(loop.Id).GetProperty("set_point_c").GetDouble();
            if (wanted < 24 || wanted > Math.Min(45, loop.Settings.HeatingWarmestC(loop.Serves)))
                Fail($"{loop.Id} wants {wanted:0.0} °C");
        }
    }

    private void Fail(FormattableString what)
    {
        if (Broken.Count < 20)
            Broken.Add($"{at.ToString("u", CultureInfo.InvariantCulture)} {what.ToString(CultureInfo.InvariantCulture)}");
    }
}

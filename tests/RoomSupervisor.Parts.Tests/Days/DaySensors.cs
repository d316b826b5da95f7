// What the sensors of the closed two-day runs say: late and noisy, the noise seeded. Never exact.
using RoomSupervisor.Parts.Tests.Closed;
using RoomSupervisor.Physics;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Parts.Tests.Days;

/// <summary>Wall sensors lag by a time that the controller is told wrong by up to a quarter, their vapour by a third of it; water sensors by 8 s. Even noise of ±0.03 K and ±0.3 %.</summary>
internal sealed class DaySensors
{
    private readonly House house;
    private readonly DayRoom[] rooms;
    private readonly DayPlant plant;
    private readonly Random noise;
    private readonly double[] lagS, wallC, vapourPa, water;
    private readonly (int Input, Func<double> True)[] waters;

    public DaySensors(House house, DayRoom[] rooms, DayPlant plant, int seed)
    {
        (this.house, this.rooms, this.plant) = (house, rooms, plant);
        noise = new Random(15_485_863 + seed);
        lagS = [.. house.Rooms.Select(room => house.Inputs[room.AirTemperature].Sensor.LagS * (0.8 + 0.45 * noise.NextDouble()))];
        wallC = [.. rooms.Select(room => room.AirC)];
        vapourPa = [.. rooms.Select(room => room.VapourPa)];
        waters = [.. Waters().Where(one => one.Input >= 0 && house.Inputs[one.Input].Wired)];
        water = [.. waters.Select(one => one.True())];
        Samples = new Sample[house.InputTable.Count];
    }

    public Sample[] Samples { get; }

    /// <summary>One second passes.</summary>
    public void Step()
    {
        for (var i = 0; i < rooms.Length; i++)
        {
            wallC[i] += (rooms[i].AirC - wallC[i]) / lagS[i];
            vapourPa[i] += (rooms[i].VapourPa - vapourPa[i]) / (lagS[i] / 3);
        }
        for (var i = 0; i < water.Length; i++)
            water[i] += (waters[i].True() - water[i]) / 8;
    }

    /// <summary>Everything that is wired says what it says.</summary>
    public void Speak(double second, double nowS, in Outdoors outdoors)
    {
        Array.Fill(Samples, new Sample(double.NaN, nowS, Fault.NotRead));
        for (var i = 0; i < rooms.Length; i++)
        {
            Say(house.Rooms[i].AirTemperature, wallC[i] + Noise(0.03), nowS);
            Say(house.Rooms[i].AirHumidity, Math.Min(100, 100 * vapourPa[i] / SaturationPa(wallC[i])) + Noise(0.3), nowS);
            Say(house.Rooms[i].OpeningContact, rooms[i].Life.IsOpen(second) ? 1 : 0, nowS);
        }
        for (var i = 0; i < water.Length; i++)
            Say(waters[i].Input, water[i] + Noise(0.03), nowS);
        foreach (var coil in house.Coils)
            Say(coil.DripTray, 0, nowS);
        for (var i = 0; i < house.Sources.Length; i++)
            Say(house.Sources[i].Running, plant.Machines[i].Runs ? 1 : 0, nowS);
        Say(house.Points.OutdoorTemperature, outdoors.AirC + Noise(0.03), nowS);
        Say(house.Points.OutdoorHumidity, Math.Min(100, 100 * SaturationPa(outdoors.DewPointC) / SaturationPa(outdoors.AirC)) + Noise(0.3), nowS);
    }

    private IEnumerable<(int Input, Func<double> True)> Waters()
    {
        for (var i = 0; i < house.Loops.Length; i++)
        {
            var loop = i;
            yield return (house.Loops[i].Supply, () => plant.SupplyC(loop));
            yield return (house.Loops[i].Return, () => plant.ReturnC(loop));
        }
        for (var i = 0; i < house.Sources.Length; i++)
        {
            var source = i;
            yield return (house.Sources[i].Supply, () => plant.Machines[source].WaterC);
        }
        yield return (house.Buffer?.Top ?? -1, () => plant.Buffers[0].TopC);
        yield return (house.Buffer?.Bottom ?? -1, () => plant.Buffers[0].BottomC);
        yield return (house.HotWater?.Tank ?? -1, () => plant.Tank.WaterC);
    }

    private void Say(int input, double value, double nowS)
    {
        if (input >= 0 && house.Inputs[input].Wired)
            Samples[input] = new Sample(value, nowS, Fault.None);
    }

    private double Noise(double half) => half * (2 * noise.NextDouble() - 1);

    private static double SaturationPa(double celsius)
        => MoistAir.TrySaturationPressure(celsius, out var pascals, out _) ? pascals : throw new InvalidOperationException($"no saturation at {celsius} °C");
}

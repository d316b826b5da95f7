// How a coil's cold and dryness fall to the rooms it is joined to: drawn from all alike, mixed, blown back alike.
// Must never give the rooms together more or less than the coil took.
namespace RoomSupervisor.VirtualHouse;

/// <summary>The rooms of one coil. With several, its fan also carries air from room to room: the mixed air is blown into each.</summary>
public sealed class Ducts
{
    internal Ducts(int[] rooms) => (Rooms, HeatW, VapourKgPerS, SensibleW, LatentW) = (rooms, new double[rooms.Length], new double[rooms.Length], new double[rooms.Length], new double[rooms.Length]);

    /// <summary>Indices of its rooms.</summary>
    public int[] Rooms { get; }

    /// <summary>Heat to each room's air in the last step, fan's included, W.</summary>
    public double[] HeatW { get; }

    /// <summary>Vapour to each, kg/s.</summary>
    public double[] VapourKgPerS { get; }

    /// <summary>Sensible heat of the coil that falls to each (negative cools), without the fan's and without what air from other rooms brings, W.</summary>
    public double[] SensibleW { get; }

    /// <summary>Latent heat taken from each, W; negative while a wet coil gives back.</summary>
    public double[] LatentW { get; }

    internal double Mean(double[] byRoom)
    {
        if (Rooms.Length == 1) return byRoom[Rooms[0]];
        double sum = 0;
        foreach (int room in Rooms) sum += byRoom[room];
        return sum / Rooms.Length;
    }

    internal void Share(CoilUnit coil, Fan fan, in Physics.AirState air, BuildingModel building)
    {
        double part = 1.0 / Rooms.Length, dry = fan.AirM3PerH / 3600 / air.SpecificVolumeM3PerKg * part;
        for (int i = 0; i < Rooms.Length; i++)
        {
            SensibleW[i] = -part * coil.SensibleW;
            LatentW[i] = part * coil.VapourKgPerS * Matter.HeatOfVapourJPerKg;
            HeatW[i] = SensibleW[i] + part * fan.PowerW;
            VapourKgPerS[i] = -part * coil.VapourKgPerS;
            if (Rooms.Length == 1) continue;
            // Sums to nothing over the rooms: the mixed state is their mean. The books take moist air at one specific heat.
            HeatW[i] += dry * BuildingModel.MoistJPerKgK * (air.DryBulbC - building.AirC[Rooms[i]]);
            VapourKgPerS[i] += dry * (air.HumidityRatio - building.HumidityRatio[Rooms[i]]);
        }
    }
}

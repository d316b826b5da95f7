// Section 2, rule 7: what a room loses to outdoors, from nights in which it was heated and held: by day sun and people stand between watts and weather. Never learns while it cools, by day, or beside an open door.
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.RoomData;

/// <summary>watts = loss × (air − outdoors) − gains, an equation an hour, recursive least squares of two parameters with forgetting.</summary>
internal static class Losing
{
    /// <summary>Prior of the loss a square metre of floor and its deviation, W/K (0.5 to 3: common practice, no published source); of gains, W.</summary>
    private const double LossPerM2 = 1.5, LossOffPerM2 = 1, GainsPerM2 = 3, GainsOffPerM2 = 4;

    /// <summary>An hour's mean is off by so much a square metre, W: what walls store (project choice).</summary>
    private const double OffPerM2 = 4;

    /// <summary>λ of an hour: after six nights a third is left.</summary>
    private const double Keeps = 0.98;

    private const double HourS = 3600, SteadyK = 0.4;

    /// <summary>Outdoors must be so much colder, K.</summary>
    private const double ColderK = 5;

    public static void Begin(Room room, ref RoomDataMemory d)
    {
        var floor = room.Settings.FloorAreaM2;
        d.Loss = new LossMemory { LossWPerK = LossPerM2 * floor, GainsW = GainsPerM2 * floor, PLL = LossOffPerM2 * LossOffPerM2 * floor * floor, PGG = GainsOffPerM2 * GainsOffPerM2 * floor * floor };
    }

    public static void Sample(in Scan scan, Room room, int index, ref RoomDataMemory d, double since)
    {
        ref readonly var m = ref scan.Memory.Rooms[index];
        ref var l = ref d.Loss;
        var air = scan.Reading(room.AirTemperature);
        var outdoors = scan.Reading(scan.House.Points.OutdoorTemperature);
        var night = scan.Local.Hour is >= 23 or < 6;
        var held = m.Heats && m.Stage is Stage.RadiantHold or Stage.CoilHelps or Stage.CoilHold && m.OpenForS <= 0;
        if (!night || !held || air.Quality != Quality.Good || outdoors.Quality != Quality.Good || air.Value - outdoors.Value < ColderK || RoomWatch.ByHand(scan, room))
        {
            l.ForS = 0;
            return;
        }
        if (l.ForS <= 0)
            (l.SumW, l.SumK, l.FirstC) = (0, 0, air.Value);
        l.ForS += since;
        l.SumW += since * (m.SurfaceOutputW + d.Coil.Factor * d.MetalW * -1);
        l.SumK += since * (air.Value - outdoors.Value);
        if (l.ForS < HourS)
            return;
        if (Math.Abs(air.Value - l.FirstC) < SteadyK)
            Equation(room, ref l);
        l.ForS = 0;
    }

    private static void Equation(Room room, ref LossMemory l)
    {
        var floor = room.Settings.FloorAreaM2;
        var (x, y) = (l.SumK / l.ForS, l.SumW / l.ForS);
        var (pl, pg) = (l.PLL * x - l.PLG, l.PLG * x - l.PGG);
        var spread = pl * x - pg + Keeps * OffPerM2 * OffPerM2 * floor * floor;
        var off = y - (l.LossWPerK * x - l.GainsW);
        l.LossWPerK = Math.Clamp(l.LossWPerK + pl / spread * off, 0.2 * floor, 6 * floor);
        l.GainsW = Math.Clamp(l.GainsW + pg / spread * off, 0, 20 * floor);
        l.PLL = Math.Min((l.PLL - pl * pl / spread) / Keeps, LossOffPerM2 * LossOffPerM2 * floor * floor);
        l.PLG = (l.PLG - pl * pg / spread) / Keeps;
        l.PGG = Math.Min((l.PGG - pg * pg / spread) / Keeps, GainsOffPerM2 * GainsOffPerM2 * floor * floor);
        // Kept positive definite where a bound has cut.
        var most = 0.99 * Math.Sqrt(l.PLL * l.PGG);
        l.PLG = Math.Clamp(l.PLG, -most, most);
        l.Hours++;
    }
}

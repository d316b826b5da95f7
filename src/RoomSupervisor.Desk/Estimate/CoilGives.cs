// What a fan coil gives at a speed in a room's air: sensible, moisture, sound. The coil is the virtual house's own, fitted to its rating.
// Must never be asked under the slowest speed: there the valve throttles, and the caller shares out what the slowest speed gives.
using RoomSupervisor.Physics;
using RoomSupervisor.VirtualHouse;
using HouseCoil = RoomSupervisor.Sequence.Coil;
using PhysicalCoil = RoomSupervisor.Physics.Coil;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>A coil at one speed.</summary>
/// <param name="SpeedPercent">% of full.</param>
/// <param name="SensibleW">W.</param>
/// <param name="LatentW">W.</param>
/// <param name="CondensateKgPerH">kg/h.</param>
/// <param name="LevelDb">At the ear, dB(A).</param>
public readonly record struct CoilAt(double SpeedPercent, double SensibleW, double LatentW, double CondensateKgPerH, double LevelDb);

/// <summary>Coils of a drafted site.</summary>
internal static class CoilGives
{
    /// <summary>Water of a coil that is to dry or to pull down, °C: what the sequence calls for.</summary>
    public const double ColdC = 7;

    // Air in rooms, about 24 °C at sea level: kg/m³, and J/(kg·K) with its moisture.
    private const double AirKgPerM3 = 1.17, AirJPerKgK = 1023;

    /// <summary>A coil of several rooms draws from all and blows into all: its fan carries air and moisture from one to the other.</summary>
    /// <param name="building">The rooms.</param>
    /// <param name="plan">The coil and its fan.</param>
    /// <param name="rooms">Those it serves.</param>
    /// <param name="percent">Speed, % of full.</param>
    public static void Mix(BuildingModel building, FanCoilPlan plan, IReadOnlyList<int> rooms, double percent)
    {
        var dry = plan.Fan.FullAirM3PerH * percent / 100 / 3600 * AirKgPerM3 / rooms.Count;
        var (air, ratio) = (rooms.Average(room => building.AirC[room]), rooms.Average(room => building.HumidityRatio[room]));
        foreach (var room in rooms)
        {
            building.ConvectiveW[room] += dry * AirJPerKgK * (air - building.AirC[room]);
            building.VapourKgPerS[room] += dry * (ratio - building.HumidityRatio[room]);
        }
    }

    /// <summary>A coil with water.</summary>
    /// <param name="plan">The coil and its fan.</param>
    /// <param name="percent">Speed, % of full, over 0.</param>
    /// <param name="airC">Air drawn in, °C.</param>
    /// <param name="ratio">Its humidity ratio, kg/kg.</param>
    /// <param name="pressurePa">Pa.</param>
    /// <param name="waterC">Entering water, °C.</param>
    /// <param name="waterKgPerS">Its flow, kg/s; NaN: rated.</param>
    public static CoilAt At(FanCoilPlan plan, double percent, double airC, double ratio, double pressurePa, double waterC, double waterKgPerS = double.NaN)
    {
        if (!(percent > 0) || !AirState.TryFromHumidityRatio(airC, ratio, pressurePa, out var air, out _))
            return new CoilAt(0, 0, 0, 0, double.NegativeInfinity);
        var model = plan.Coil.Coil;
        var dry = plan.Fan.FullAirM3PerH * percent / 100 / 3600 / air.SpecificVolumeM3PerKg;
        var water = double.IsNaN(waterKgPerS) ? model.WaterKgPerS : waterKgPerS;
        if (!model.TryAt(dry, water, out var conductances, out var why) || !PhysicalCoil.TrySolve(new CoilInput(air, dry, waterC, water, 4.19), conductances, out var result, out why))
            throw new InvalidOperationException($"estimate: coil {plan.Name} left the range of its model ({why}): please report this file");
        return new CoilAt(percent, Math.Max(result.SensibleW, 0), Math.Max(result.LatentW, 0), result.CondensateKgPerH, Level(plan.Fan, percent));
    }

    /// <summary>Water of one coil, kg/s: its pump's at full speed through the valves of its loop as they stand, as the plant of a rehearsal shares it out.</summary>
    /// <param name="drafted">The house.</param>
    /// <param name="coil">Its index.</param>
    /// <param name="stroke">Where the valve of each coil of the house stands, 0…1.</param>
    public static double WaterKgPerS(Drafted drafted, int coil, Func<int, double> stroke)
    {
        var loop = drafted.Plant.Loops[drafted.Files.House.Coils[coil].Loop];
        var open = loop.Circuits.Select(circuit =>
        {
            var valve = new Valve(circuit.Valve, 1);
            valve.State[1] = circuit.FanCoil < 0 ? 0 : stroke(circuit.FanCoil);
            return valve.Open;
        }).ToArray();
        var flows = new Circuits(loop.Pump, [.. loop.Circuits.Select(circuit => circuit.Flow)], 3600);
        flows.Step(1, open);
        return flows.FlowKgPerS[Array.FindIndex([.. loop.Circuits], circuit => circuit.FanCoil == coil)];
    }

    /// <summary>Share of its full output that a coil gives at a speed: (speed)^0.7, as the sequence has it (common practice, no published source).</summary>
    public static double Share(double percent) => percent <= 0 ? 0 : Math.Pow(percent / 100, OutputExponent);

    /// <summary>Its inverse: the speed, over full, at which it gives so large a share.</summary>
    public static double SpeedShare(double output) => Math.Pow(output, 1 / OutputExponent);

    private const double OutputExponent = 0.7;

    /// <summary>Sound at a speed, dB(A): 50·log10 of the speed ratio, on the floor that motor and bearings add at any speed.</summary>
    public static double Level(FanPlan fan, double percent) => 10 * Math.Log10(Math.Pow(10, (fan.FullLevelDb + 50 * Math.Log10(percent / 100)) / 10) + Math.Pow(10, fan.FloorLevelDb / 10));

    /// <summary>Fastest a coil may turn by household, noise and draught, % of full; 0 where that is under its slowest speed.</summary>
    public static double CapPercent(Drafted drafted, HouseCoil coil)
    {
        var cap = coil.Settings.DraughtAtMostPercent;
        foreach (var room in coil.Rooms)
        {
            var household = drafted.Files.House.Rooms[room].Household;
            cap = Math.Min(cap, household.FanAtMostPercent);
            if (double.IsFinite(household.NoiseAtMostDb) && double.IsFinite(coil.Kind.SoundLevelDb) && FanSound.TrySpeedForLevel(coil.Kind.SoundLevelDb, household.NoiseAtMostDb, out var speed, out _))
                cap = Math.Min(cap, speed);
        }
        if (cap < coil.StartSpeedPercent - 1e-6)
            return 0;
        return coil.Kind.StepsPercent.Count > 0 ? coil.Kind.StepsPercent.Where(step => step <= cap + 1e-6).DefaultIfEmpty(0).Max() : cap;
    }
}

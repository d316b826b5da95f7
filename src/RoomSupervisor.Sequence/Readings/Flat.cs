// Section 1, rule 2, flat: a sensor that has shown no step for hours although the plant did what must have moved it. Never counts against a sensor that
// had no reason to move.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Readings;

/// <summary>Sensors that stand still.</summary>
internal static class Flat
{
    /// <summary>
    /// What a room's air must have moved by: this many steps of the sensor, by 12 W a kelvin and square metre of floor (walls and furniture within an hour;
    /// project choices). A swing counts against the last hour's mean: slow changes of output follow the weather and keep the air where it is.
    /// </summary>
    private const double Steps = 3, WallsWPerKM2 = 12, SlowS = 3600;

    /// <summary>Humidity a kelvin: 3 % near 50 % (psychrometrics; the vapour pressure of saturated water grows by 6 % a kelvin).</summary>
    private const double PercentPerK = 3;

    /// <summary>Move of a mixing valve that its water must show, percent of stroke (project choice).</summary>
    private const double MixingPercent = 20;

    /// <summary>Notes for every sensor whether the plant has moved since it last did. Looks at what was decided in the scan before.</summary>
    public static void Plant(in Scan scan)
    {
        var share = Blocks.FilterShare(scan.Dt, SlowS);
        for (var i = 0; i < scan.House.Rooms.Length; i++)
        {
            var room = scan.House.Rooms[i];
            ref var m = ref scan.Memory.Rooms[i];
            var output = m.Heats ? -m.CoilLaggedW - m.SurfaceOutputW : m.CoilLaggedW + m.SurfaceOutputW;
            m.OutputSlowW += (output - m.OutputSlowW) * share;
            var kelvins = Math.Abs(output - m.OutputSlowW) / (WallsWPerKM2 * room.Settings.FloorAreaM2 * Steps);
            if (kelvins < LeastK)
                continue;
            Mark(scan, room.AirTemperature, room.AirHumidity, kelvins);
            foreach (var sensor in room.OtherAir)
                Mark(scan, sensor.Temperature, sensor.Humidity, kelvins);
        }
        for (var i = 0; i < scan.House.Loops.Length; i++)
            Water(scan, scan.House.Loops[i], ref scan.Memory.Loops[i]);
    }

    /// <summary>Less than this, as a third of what is expected, is no reason for any sensor to move, K: 0.2 K of air, 2.4 W a square metre (project choice).</summary>
    private const double LeastK = 0.2 / Steps;

    private static void Mark(in Scan scan, int temperature, int humidity, double kelvins)
    {
        scan.Memory.Inputs[temperature].PlantMoved |= kelvins >= scan.House.Inputs[temperature].Sensor.ResolutionK;
        if (humidity >= 0)
            scan.Memory.Inputs[humidity].PlantMoved |= kelvins * PercentPerK >= scan.House.Inputs[humidity].Sensor.ResolutionPercent;
    }

    /// <summary>Water that begins or ceases to flow, or is mixed anew, changes what its sensors feel.</summary>
    private static void Water(in Scan scan, Loop loop, ref LoopMemory m)
    {
        if (m.PumpOn == m.SeenPumpOn && Math.Abs(m.MixingPercent - m.SeenMixingPercent) < MixingPercent)
            return;
        m.SeenPumpOn = m.PumpOn;
        m.SeenMixingPercent = m.MixingPercent;
        scan.Memory.Inputs[loop.Supply].PlantMoved = true;
        scan.Memory.Inputs[loop.Return].PlantMoved = true;
    }

    /// <summary>Whether a sample that nothing else speaks against is one too many of the same; a movement of one step begins anew.</summary>
    public static bool Is(InputRules rules, double value, bool wasSilent, double afterS, ref InputMemory m)
    {
        // 0.999: a step of the sensor is not always a step of its number.
        if (!m.Has || wasSilent || Math.Abs(value - m.FlatBase) >= 0.999 * rules.StepOfSensor)
        {
            m.FlatBase = value;
            m.FlatForS = 0;
            m.PlantMoved = false;
            return false;
        }
        return m.PlantMoved && m.FlatForS >= afterS;
    }
}

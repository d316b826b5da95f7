// Section 1, rules 9 and 10: the temperature that counts for control: which sensor, how far ahead of it, and what surfaces add where the site asks for the
// operative temperature. A change of sensor never steps the error. Never used for dew points.
using RoomSupervisor.Sequence.RoomData;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>Temperature for control.</summary>
internal static class ControlAir
{
    /// <summary>
    /// Changes slower than 0.03 K/min get no lead, for noise would be multiplied by the lag; from 0.1 K/min on they get all of it (project choice). A
    /// slow rate merely subtracted would leave a sensor of five minutes' lag half a kelvin behind, and the room that much overshot.
    /// </summary>
    private const double SlowPerS = 0.03 / 60, FastPerS = 0.1 / 60;

    /// <summary>What is left behind takes its own lag and more to come up: a lead taken away as the rate falls would show a room of five minutes' lag a quarter of a kelvin warmer than it is (project choice).</summary>
    private const double KeptForLags = 1.5;

    /// <summary>Height of a room taken for the area of its walls, m.</summary>
    private const double HeightM = 2.6;

    /// <summary>Where the mask of surfaces stands behind the number of the input.</summary>
    private const int SurfaceBit = 24;

    public static void All(in Scan scan)
    {
        for (var i = 0; i < scan.House.Rooms.Length; i++)
            Step(scan, scan.House.Rooms[i], ref scan.Memory.Rooms[i]);
    }

    /// <summary>The air sensor whose slope and lag count for the room now.</summary>
    public static int Input(Room room, in RoomMemory m) => m.ControlFrom == 0 ? room.AirTemperature : (m.ControlFrom & ((1 << SurfaceBit) - 1)) - 1;

    private static void Step(in Scan scan, Room room, ref RoomMemory m)
    {
        if (!scan.Reading(room.AirTemperature).Exists)
        {
            (m.ControlC, m.ControlFrom) = (double.NaN, 0);
            return;
        }
        var input = Choose(scan, room, m);
        var value = Ahead(scan, room, input, ref m);
        var from = input + 1;
        if (room.Settings.IsOperative)
            value = Operative(scan, room, value, ref from);
        m.BlendForS += scan.Dt;
        if (from != m.ControlFrom)
        {
            (m.BlendK, m.BlendForS) = (m.ControlFrom == 0 ? 0 : m.ControlC - value, 0);
            m.ControlFrom = from;
        }
        var rest = scan.Settings.BlendS > 0 ? Math.Max(0, 1 - m.BlendForS / scan.Settings.BlendS) : 0;
        m.ControlC = value + m.BlendK * rest;
    }

    /// <summary>
    /// The room's own sensor, which the household's wishes were felt with; another of the room's when it is outvoted; in a pull-down the return air of a
    /// coil whose fan has turned for a while, where the room's own is slow and its coil's quicker.
    /// </summary>
    private static int Choose(in Scan scan, Room room, in RoomMemory m)
    {
        if (IsBehind(scan, room, m))
        {
            foreach (var index in room.Coils)
            {
                var coil = scan.House.Coils[index];
                if (coil.Rooms.Length == 1 && scan.Memory.Coils[index].FanOnForS >= scan.Settings.ReturnAirAfterS && IsSound(scan, coil.ReturnAirTemperature)
                    && scan.House.Inputs[coil.ReturnAirTemperature].Sensor.LagS < scan.House.Inputs[room.AirTemperature].Sensor.LagS)
                    return coil.ReturnAirTemperature;
            }
        }
        if (!scan.Memory.Inputs[room.AirTemperature].Odd || room.OtherAir.Length < 2)
            return room.AirTemperature;
        foreach (var sensor in room.OtherAir)
        {
            if (IsSound(scan, sensor.Temperature))
                return sensor.Temperature;
        }
        return room.AirTemperature;
    }

    /// <summary>
    /// True while a slow sensor is left behind: in a pull-down. Keeping to the return air until the sensor has come up was tried and changed nothing: its lead
    /// is right again by then.
    /// </summary>
    private static bool IsBehind(in Scan scan, Room room, in RoomMemory m)
        => m.Stage is Stage.PullDown or Stage.WarmUp or Stage.EasingOff && scan.House.Inputs[room.AirTemperature].Sensor.LagS > scan.Settings.ReturnAirOverLagS;

    private static bool IsSound(in Scan scan, int input) => scan.Reading(input).Quality == Quality.Good && !scan.Memory.Inputs[input].Odd;

    /// <summary>Ahead of the sensor by lag × slope while the air changes fast, and after that while a coil follows it and the sensor comes up, °C.</summary>
    private static double Ahead(in Scan scan, Room room, int input, ref RoomMemory m)
    {
        var lag = RoomDataUse.LagS(scan, room, m, input);
        var slope = scan.Memory.Inputs[input].SlopePerS;
        var kept = m.Stage is Stage.PullDown or Stage.WarmUp or Stage.EasingOff or Stage.CoilHelps or Stage.CoilHold ? m.LeadShare * (1 - scan.Dt / (scan.Dt + KeptForLags * lag)) : 0;
        m.LeadShare = Math.Max(kept, Math.Clamp((Math.Abs(slope) - SlowPerS) / (FastPerS - SlowPerS), 0, 1));
        var most = Math.Min(scan.Settings.LeadAtMostK, lag * scan.Settings.LeadRateKPerMin / 60);
        return scan.Reading(input).Value + Math.Clamp(lag * m.LeadShare * slope, -most, most);
    }

    /// <summary>
    /// Operative temperature at low air speed: the mean of air and mean radiant temperature (ISO 7730 and EN 16798-1, from memory; under 0.2 m/s). The mean
    /// radiant one is that of the surfaces with a sensor, by their share of the room's inside area, all the rest at air temperature: a cold window or a sunlit
    /// wall is not in it, nor that people under a ceiling see more of it than its share. Inside area: twice the floor and the walls of a square room of 2.6 m.
    /// </summary>
    private static double Operative(in Scan scan, Room room, double airC, ref int from)
    {
        var floor = room.Settings.FloorAreaM2;
        var inside = 2 * floor + 4 * Math.Sqrt(floor) * HeightM;
        var radiant = 0.0;
        for (var i = 0; i < room.Circuits.Length; i++)
        {
            var circuit = scan.House.Circuits[room.Circuits[i]];
            var surface = scan.Reading(circuit.SurfaceTemperature);
            if (!surface.Exists)
                continue;
            radiant += circuit.Settings.AreaM2 / inside * (surface.Value - airC);
            from |= 1 << (SurfaceBit + Math.Min(i, 6));
        }
        return airC + radiant / 2;
    }
}

// Section 1, rules 5 and 7: the dew point of each room, plain and worst case, how fast it rises, and what stands in for a missing
// humidity. Only the filtered temperature and humidity of the same place enter, never a lead-corrected one.
using RoomSupervisor.Physics;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>The rooms' air of this scan.</summary>
internal static class Air
{
    public static void All(in Scan scan)
    {
        scan.Memory.OutdoorDewPointC = Outdoors(scan);
        for (var i = 0; i < scan.House.Rooms.Length; i++)
            Measure(scan, scan.House.Rooms[i], ref scan.Memory.Rooms[i]);
        for (var i = 0; i < scan.House.Rooms.Length; i++)
        {
            ref var m = ref scan.Memory.Rooms[i];
            Blocks.Hold(ref m.UnknownForS, !m.HumidityKnown, scan.Dt);
            if (m.HumidityKnown)
                (m.WasKnown, m.LastWorstC) = (true, m.DewPointWorstC);
            else if (m.WasKnown && m.UnknownForS <= scan.Settings.KeepLastGoodS)
                Age(scan, ref m);
            else
                StandIn(scan, ref m);
        }
    }

    /// <summary>Air temperature for control: filtered, and ahead by lag × slope while the air changes fast; NaN when missing.</summary>
    public static double ControlTemperature(in Scan scan, Room room)
    {
        var reading = scan.Reading(room.AirTemperature);
        if (!reading.Exists)
            return double.NaN;
        var sensor = scan.House.Inputs[room.AirTemperature].Sensor;
        var slope = scan.Memory.Inputs[room.AirTemperature].SlopePerS;
        var fast = slope * Math.Clamp((Math.Abs(slope) - SlowPerS) / (FastPerS - SlowPerS), 0, 1);
        var most = Math.Min(scan.Settings.LeadAtMostK, sensor.LagS * scan.Settings.LeadRateKPerMin / 60);
        return reading.Value + Math.Clamp(sensor.LagS * fast, -most, most);
    }

    /// <summary>
    /// Changes slower than 0.03 K/min get no lead, for noise would be multiplied by the lag; from 0.1 K/min on they get all of it (project choice). A
    /// slow rate merely subtracted would leave a sensor of five minutes' lag half a kelvin behind, and the room that much overshot.
    /// </summary>
    private const double SlowPerS = 0.03 / 60, FastPerS = 0.1 / 60;

    private static void Measure(in Scan scan, Room room, ref RoomMemory m)
    {
        var temperature = scan.Reading(room.AirTemperature);
        var humidity = scan.Reading(room.AirHumidity);
        var known = temperature.Exists && humidity.Exists
            && MoistAir.TryDewPoint(temperature.Value, humidity.Value, out var dewPoint, out _)
            && TryWorst(scan, room, temperature, humidity, dewPoint, out var worst)
            && Remember(scan, room, ref m, dewPoint, worst);
        if (!known)
        {
            m.HumidityKnown = false;
            m.DewPointRateKPerS = 0;
        }
    }

    /// <summary>The rate is taken from one humidity sample to the next: a sensor with a slow interval of its own does not jump, it reports seldom.</summary>
    private static bool Remember(in Scan scan, Room room, ref RoomMemory m, double dewPoint, double worst)
    {
        m.SinceRateS += scan.Dt;
        if (!m.HumidityKnown)
            (m.RateBaseC, m.SinceRateS) = (dewPoint, 0);
        else if (scan.Memory.Inputs[room.AirHumidity].SinceAcceptedS <= 0 && m.SinceRateS > 0)
        {
            var rate = (dewPoint - m.RateBaseC) / m.SinceRateS;
            m.DewPointRateKPerS += (rate - m.DewPointRateKPerS) * Blocks.FilterShare(m.SinceRateS, scan.Settings.SlopeFilterS);
            (m.RateBaseC, m.SinceRateS) = (dewPoint, 0);
        }
        m.DewPointC = dewPoint;
        m.DewPointWorstC = worst;
        m.HumidityKnown = true;
        return true;
    }

    /// <summary>Plain dew point plus the root-sum-square of the sensors' accuracies, supply sensor included, plus what ageing adds.</summary>
    private static bool TryWorst(in Scan scan, Room room, in Reading temperature, in Reading humidity, double dewPoint, out double worst)
    {
        var inputs = scan.House.Inputs;
        var temperatureSensor = inputs[room.AirTemperature].Sensor;
        var humiditySensor = inputs[room.AirHumidity].Sensor;
        worst = double.NaN;
        if (!MoistAir.TryDewPointError(
            temperature.Value, humidity.Value, temperatureSensor.AccuracyK, humiditySensor.AccuracyPercent, out var error, out _))
            return false;
        var supplyError = 0.0;
        foreach (var circuit in room.Circuits)
            supplyError = Math.Max(supplyError, inputs[scan.House.Loops[scan.House.Circuits[circuit].Loop].Supply].Sensor.AccuracyK);
        var beyond = Math.Max(0, Math.Max(temperature.AgeS - temperatureSensor.IntervalS, humidity.AgeS - humiditySensor.IntervalS));
        worst = dewPoint + Math.Sqrt(error * error + supplyError * supplyError) + beyond * scan.Settings.AgeingAddsKPerMin / 60;
        return true;
    }

    /// <summary>Dew point outdoors, °C; NaN: not known.</summary>
    private static double Outdoors(in Scan scan)
    {
        var temperature = scan.Reading(scan.House.Points.OutdoorTemperature);
        var humidity = scan.Reading(scan.House.Points.OutdoorHumidity);
        return temperature.Exists && humidity.Exists && MoistAir.TryDewPoint(temperature.Value, humidity.Value, out var dewPoint, out _) ? dewPoint : double.NaN;
    }

    /// <summary>Just lost: one bad sample does not change the air. The last worst case holds for a while and grows as old readings do.</summary>
    private static void Age(in Scan scan, ref RoomMemory m)
    {
        m.DewPointC = double.NaN;
        m.DewPointWorstC = m.LastWorstC + m.UnknownForS * scan.Settings.AgeingAddsKPerMin / 60;
    }

    /// <summary>Humidity missing: the larger of the house's other rooms and outdoors, plus 2 K; with none of them, the warmest room's air at 65 %.</summary>
    private static void StandIn(in Scan scan, ref RoomMemory m)
    {
        var highest = double.NegativeInfinity;
        var warmest = double.NegativeInfinity;
        for (var i = 0; i < scan.House.Rooms.Length; i++)
        {
            if (scan.Memory.Rooms[i].HumidityKnown)
                highest = Math.Max(highest, scan.Memory.Rooms[i].DewPointC);
            var air = scan.Reading(scan.House.Rooms[i].AirTemperature);
            if (air.Exists)
                warmest = Math.Max(warmest, air.Value);
        }
        if (!double.IsNaN(scan.Memory.OutdoorDewPointC))
            highest = Math.Max(highest, scan.Memory.OutdoorDewPointC);
        m.DewPointC = double.NaN;
        if (double.IsFinite(highest))
            m.DewPointWorstC = highest + scan.Settings.MissingHumidityAddsK;
        else if (!MoistAir.TryDewPoint(warmest, scan.Settings.MissingHumidityAssumesPercent, out m.DewPointWorstC, out _))
            m.DewPointWorstC = double.NaN;
    }
}

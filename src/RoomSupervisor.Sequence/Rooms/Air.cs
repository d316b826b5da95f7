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
        Inferred.All(scan);
        ControlAir.All(scan);
    }

    /// <summary>Dew point outdoors, °C; NaN: not known.</summary>
    private static double Outdoors(in Scan scan)
    {
        var temperature = scan.Reading(scan.House.Points.OutdoorTemperature);
        var humidity = scan.Reading(scan.House.Points.OutdoorHumidity);
        return temperature.Exists && humidity.Exists && MoistAir.TryDewPoint(temperature.Value, humidity.Value, out var dewPoint, out _) ? dewPoint : double.NaN;
    }

    private static void Measure(in Scan scan, Room room, ref RoomMemory m)
    {
        bool known;
        if (room.OtherAir.Length > 0)
        {
            known = Chips.TryMeasure(scan, room, ref m, out var dewPoint, out var worst, out var humidity, out var heard)
                && Remember(scan, humidity, heard, ref m, dewPoint, worst);
        }
        else
        {
            known = TryDewPoints(scan, room, room.AirTemperature, room.AirHumidity, out var dewPoint, out var worst)
                && Remember(scan, room.AirHumidity, 1, ref m, dewPoint, worst);
        }
        if (!known)
        {
            m.HumidityKnown = false;
            m.DewPointRateKPerS = 0;
        }
    }

    /// <summary>The rate is taken from one humidity sample to the next: a sensor with a slow interval of its own does not jump, it reports seldom.</summary>
    private static bool Remember(in Scan scan, int humidity, int heard, ref RoomMemory m, double dewPoint, double worst)
    {
        m.SinceRateS += scan.Dt;
        // A chip that has gone or come back changes which one counts: that is no change of the air.
        if (!m.HumidityKnown || heard != m.ChipsHeard)
            (m.RateBaseC, m.SinceRateS, m.ChipsHeard) = (dewPoint, 0, heard);
        else if (scan.Memory.Inputs[humidity].SinceAcceptedS <= 0 && m.SinceRateS > 0)
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

    /// <summary>
    /// Dew point of one chip, °C, and its worst case: plus the root-sum-square of the sensors' accuracies, supply sensor included, plus what ageing adds.
    /// False, and NaN, where either is missing.
    /// </summary>
    public static bool TryDewPoints(in Scan scan, Room room, int temperatureInput, int humidityInput, out double dewPoint, out double worst)
    {
        dewPoint = worst = double.NaN;
        if (humidityInput < 0)
            return false;
        ref readonly var temperature = ref scan.Outputs.Readings[temperatureInput];
        ref readonly var humidity = ref scan.Outputs.Readings[humidityInput];
        var inputs = scan.House.Inputs;
        var temperatureSensor = inputs[temperatureInput].Sensor;
        var humiditySensor = inputs[humidityInput].Sensor;
        if (!temperature.Exists || !humidity.Exists || !MoistAir.TryDewPointAndError(
            temperature.Value, humidity.Value, temperatureSensor.AccuracyK, humiditySensor.AccuracyPercent, out dewPoint, out var error, out _))
            return false;
        var supplyError = room.SupplyAccuracyK;
        var beyond = Math.Max(0, Math.Max(temperature.AgeS - temperatureSensor.IntervalS, humidity.AgeS - humiditySensor.IntervalS));
        worst = dewPoint + Math.Sqrt(error * error + supplyError * supplyError) + beyond * scan.Settings.AgeingAddsKPerMin / 60;
        return true;
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
        StillTrue(scan.Settings, ref m);
    }

    /// <summary>
    /// What a room was last known to be may still be true: the stand-in is never under it but as fast as 0.4 air changes an hour would bring the room to the
    /// stand-in (a tight house; common practice, no published source).
    /// </summary>
    private static void StillTrue(SequenceSettings s, ref RoomMemory m)
    {
        var last = m.LastWorstC + s.KeepLastGoodS * s.AgeingAddsKPerMin / 60;
        if (m.WasKnown && m.DewPointWorstC < last)
            m.DewPointWorstC += (last - m.DewPointWorstC) * Math.Exp(-(m.UnknownForS - s.KeepLastGoodS) / AirChangeS);
    }

    private const double AirChangeS = 9000;
}

// Section 1, rule 6: the dew points of a room's humidity sensors, each from its own chip: standing offsets learned while the room rests, the one the guard
// takes, a spread that stays. Never mixes the temperature of one place with the humidity of another.
using RoomSupervisor.Physics;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Rooms;

/// <summary>Humidity sensors of one room.</summary>
internal static class Chips
{
    /// <summary>Time constant with which offsets are learned, s; and how long a spread must stay, s (project choices).</summary>
    private const double LearnsS = 1800, StaysS = 7200;

    /// <summary>A spread has gone when it is this share of what is told (project choice).</summary>
    private const double GoneAt = 0.7;

    /// <summary>
    /// Dew point and worst case of the chip that counts, °C, its humidity input, and how many were heard: the highest of one or two, the second highest
    /// of three or more, by worst case. False when none is heard.
    /// </summary>
    public static bool TryMeasure(in Scan scan, Room room, ref RoomMemory m, out double dewPoint, out double worst, out int humidity, out int heard)
    {
        dewPoint = worst = double.NaN;
        (humidity, heard) = (-1, 0);
        var (second, secondWorst, secondInput) = (double.NaN, double.NegativeInfinity, -1);
        var (highest, lowest) = (double.NegativeInfinity, double.PositiveInfinity);
        for (var i = 0; i <= room.OtherAir.Length; i++)
        {
            if (!TryOne(scan, room, i, out var own, out var ownWorst))
                continue;
            heard++;
            highest = Math.Max(highest, own);
            lowest = Math.Min(lowest, own);
            if (heard == 1 || ownWorst > worst)
            {
                (second, secondWorst, secondInput) = (dewPoint, heard == 1 ? double.NegativeInfinity : worst, humidity);
                (dewPoint, worst, humidity) = (own, ownWorst, room.HumidityOf(i));
            }
            else if (ownWorst > secondWorst)
            {
                (second, secondWorst, secondInput) = (own, ownWorst, room.HumidityOf(i));
            }
        }
        Rest(scan, room, ref m, heard, highest, lowest);
        if (heard >= 3)
            (dewPoint, worst, humidity) = (second, secondWorst, secondInput);
        return heard > 0;
    }

    private static bool TryOne(in Scan scan, Room room, int sensor, out double dewPoint, out double worst)
    {
        var humidity = room.HumidityOf(sensor);
        if (!Air.TryDewPoints(scan, room, room.TemperatureOf(sensor), humidity, out dewPoint, out worst))
            return false;
        dewPoint += scan.Memory.Inputs[humidity].LearnedK;
        worst += scan.Memory.Inputs[humidity].LearnedK;
        return true;
    }

    private static bool TryRaw(in Scan scan, Room room, int sensor, out double dewPoint)
    {
        var temperature = scan.Reading(room.TemperatureOf(sensor));
        var percent = scan.Reading(room.HumidityOf(sensor));
        dewPoint = double.NaN;
        return temperature.Exists && percent.Exists && MoistAir.TryDewPoint(temperature.Value, percent.Value, out dewPoint, out _);
    }

    /// <summary>While coils and openings have rested long enough for the air to be one, what still differs is the sensors: learned up to the limit, told beyond it.</summary>
    private static void Rest(in Scan scan, Room room, ref RoomMemory m, int heard, double highest, double lowest)
    {
        var s = scan.Settings;
        Blocks.Hold(ref m.RestedForS, Rests(scan, room, m), scan.Dt);
        if (heard < 2 || m.RestedForS < s.LearnAfterS)
        {
            m.SpreadForS = m.RestedForS < s.LearnAfterS ? 0 : m.SpreadForS;
            return;
        }
        Learn(scan, room);
        var spread = highest - lowest;
        Blocks.Hold(ref m.SpreadForS, spread > s.SpreadAboveK, scan.Dt);
        if (m.ToldSpread && spread < GoneAt * s.SpreadAboveK)
        {
            m.ToldSpread = false;
            scan.Happened(SequenceEvents.SensorsAgree, Owner.Input, room.AirHumidity, Reason.Of(Cause.DewPointsSpread, spread, highest));
        }
        else if (!m.ToldSpread && m.SpreadForS >= StaysS)
        {
            m.ToldSpread = true;
            scan.Happened(SequenceEvents.HumiditySpread, Owner.Input, room.AirHumidity, Reason.Of(Cause.DewPointsSpread, spread, highest));
        }
    }

    private static bool Rests(in Scan scan, Room room, in RoomMemory m)
    {
        if (scan.IsMade(room.OpeningContact) || m.ProbablyOpen || m.ShowerRestS > 0)
            return false;
        foreach (var coil in room.Coils)
        {
            if (scan.Memory.Coils[coil].FanPercent > 0 || scan.Memory.Coils[coil].ValvePercent > 0)
                return false;
        }
        return true;
    }

    /// <summary>Each towards the mean of those that do not disagree; one that does must not be averaged into the others.</summary>
    private static void Learn(in Scan scan, Room room)
    {
        var (sum, count) = (0.0, 0);
        for (var i = 0; i <= room.OtherAir.Length; i++)
        {
            if (!IsOdd(scan, room, i) && TryRaw(scan, room, i, out var raw))
                (sum, count) = (sum + raw, count + 1);
        }
        if (count < 2)
            return;
        var share = Blocks.FilterShare(scan.Dt, LearnsS);
        var most = scan.Settings.LearnAtMostK;
        for (var i = 0; i <= room.OtherAir.Length; i++)
        {
            if (IsOdd(scan, room, i) || !TryRaw(scan, room, i, out var raw))
                continue;
            ref var m = ref scan.Memory.Inputs[room.HumidityOf(i)];
            m.LearnedK += (Math.Clamp(sum / count - raw, -most, most) - m.LearnedK) * share;
        }
    }

    private static bool IsOdd(in Scan scan, Room room, int sensor)
        => room.HumidityOf(sensor) >= 0 && (scan.Memory.Inputs[room.HumidityOf(sensor)].Odd || scan.Memory.Inputs[room.TemperatureOf(sensor)].Odd);
}

// Section 1, rule 2, disagreement: sensors of one quantity in one room against each other, and a coil's return air against its room. Of two nobody knows
// which one lies: it is told, the guard takes the worse. Of three or more the one that stands apart is outvoted.
using RoomSupervisor.Physics;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Readings;

/// <summary>Pairs of sensors.</summary>
internal static class Pairs
{
    /// <summary>Most air sensors a room may have.</summary>
    public const int Most = 8;

    /// <summary>Return air and room are compared while neither runs ahead of its sensor by more than this, K (project choice).</summary>
    private const double QuietLeadK = 0.3;

    public static void All(in Scan scan)
    {
        for (var i = 0; i < scan.House.Rooms.Length; i++)
        {
            var room = scan.House.Rooms[i];
            if (room.OtherAir.Length > 0)
            {
                Temperatures(scan, room);
                Humidities(scan, room);
            }
        }
        for (var i = 0; i < scan.House.Coils.Length; i++)
        {
            var coil = scan.House.Coils[i];
            ref var m = ref scan.Memory.Coils[i];
            Blocks.Hold(ref m.FanOnForS, m.FanPercent > 0, scan.Dt);
            if (coil.ReturnAirTemperature >= 0 && scan.Memory.Inputs[coil.ReturnAirTemperature].Has && coil.Rooms.Length == 1)
                ReturnAir(scan, coil, m.FanOnForS);
        }
    }

    private static void Temperatures(in Scan scan, Room room)
    {
        Span<double> values = stackalloc double[Most];
        var count = 0;
        for (var i = 0; i <= room.OtherAir.Length; i++)
            count = Add(values, count, Doubt.Says(scan, room.TemperatureOf(i)));
        if (count < 2)
            return;
        var middle = count == 2 ? First(scan, room) : Median(values[..count]);
        for (var i = 0; i <= room.OtherAir.Length; i++)
        {
            var input = room.TemperatureOf(i);
            var value = Doubt.Says(scan, input);
            // The first one stays in use even when outvoted: control turns to the others by itself, and the room does not stop.
            Compare(scan, input, Math.Abs(value - middle), scan.Settings.TemperaturesDifferK, count > 2 && i > 0, Reason.Of(Cause.TemperaturesDiffer, value, middle));
        }
    }

    /// <summary>Relative humidities are compared at the temperature of the first chip: warm and cool places of one room share their vapour, not their percentage.</summary>
    private static void Humidities(in Scan scan, Room room)
    {
        Span<double> values = stackalloc double[Most];
        var count = 0;
        var at = double.NaN;
        for (var i = 0; i <= room.OtherAir.Length; i++)
            count = Add(values, count, PercentAt(scan, room, i, ref at));
        if (count < 2)
            return;
        var first = values[0];
        var middle = count == 2 ? first : Median(values[..count]);
        for (var i = 0; i <= room.OtherAir.Length; i++)
        {
            var value = PercentAt(scan, room, i, ref at);
            if (room.HumidityOf(i) >= 0)
                Compare(scan, room.HumidityOf(i), Math.Abs(value - middle), scan.Settings.HumiditiesDifferPercent, count > 2, Reason.Of(Cause.HumiditiesDiffer, value, middle));
        }
    }

    private static double PercentAt(in Scan scan, Room room, int sensor, ref double at)
    {
        var temperature = Doubt.Says(scan, room.TemperatureOf(sensor));
        var percent = Doubt.Says(scan, room.HumidityOf(sensor));
        if (double.IsNaN(temperature) || double.IsNaN(percent))
            return double.NaN;
        if (double.IsNaN(at))
            at = temperature;
        return MoistAir.TrySaturationPressure(temperature, out var here, out _) && MoistAir.TrySaturationPressure(at, out var there, out _) ? percent * here / there : double.NaN;
    }

    /// <summary>A fan that has turned for a while draws the room's air past its sensor: in steady air both must say the same.</summary>
    private static void ReturnAir(in Scan scan, Coil coil, double fanOnForS)
    {
        var room = scan.House.Rooms[coil.Room];
        var value = Doubt.Says(scan, coil.ReturnAirTemperature);
        var air = Doubt.Says(scan, room.AirTemperature);
        if (fanOnForS < scan.Settings.ReturnAirAfterS || Lead(scan, coil.ReturnAirTemperature) > QuietLeadK || Lead(scan, room.AirTemperature) > QuietLeadK)
            return;
        Compare(scan, coil.ReturnAirTemperature, Math.Abs(value - air), scan.Settings.TemperaturesDifferK, false, Reason.Of(Cause.TemperaturesDiffer, value, air));
    }

    private static double Lead(in Scan scan, int input) => Math.Abs(scan.Memory.Inputs[input].SlopePerS) * scan.House.Inputs[input].Sensor.LagS;

    private static void Compare(in Scan scan, int input, double difference, double limit, bool isOutvoted, in Reason why)
    {
        ref var m = ref scan.Memory.Inputs[input];
        if (Doubt.Changes(ref m, difference, limit, scan.Settings.DifferForS, scan.Dt))
        {
            m.OddWhy = why;
            scan.Happened(m.Odd ? SequenceEvents.SensorsDisagree : SequenceEvents.SensorsAgree, Owner.Input, input, why);
        }
        m.IsOut = m.Odd && isOutvoted;
    }

    private static double First(in Scan scan, Room room)
    {
        for (var i = 0; i <= room.OtherAir.Length; i++)
        {
            var value = Doubt.Says(scan, room.TemperatureOf(i));
            if (!double.IsNaN(value))
                return value;
        }
        return double.NaN;
    }

    /// <summary>Adds a value that exists, keeping the order of the sensors.</summary>
    private static int Add(Span<double> values, int count, double value)
    {
        if (double.IsNaN(value))
            return count;
        values[count] = value;
        return count + 1;
    }

    private static double Median(Span<double> values)
    {
        values.Sort();
        var half = values.Length / 2;
        return values.Length % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2;
    }
}

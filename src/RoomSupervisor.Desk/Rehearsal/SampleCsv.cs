// Samples of a run by the minute as a table for spreadsheets. Must never hold more than the record does.
using System.Globalization;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>Writes a record as comma-separated values.</summary>
public static class SampleCsv
{
    /// <summary>A line a sample: time, weather, every room, every loop.</summary>
    public static void Write(TextWriter to, RunRecord record)
    {
        to.Write("time,outdoor_c,outdoor_dew_c,sun_w_m2");
        foreach (var room in record.Rooms)
        {
            foreach (var column in new[] { "air_c", "cool_above_c", "heat_below_c", "dew_c", "worst_dew_c", "stage", "open", "drying", "fan_percent", "surface_w", "coil_w" })
                to.Write($",{room.Name}.{column}");
        }
        foreach (var loop in record.Loops)
            to.Write($",{loop.Name}.supply_c,{loop.Name}.set_point_c,{loop.Name}.lowest_safe_c,{loop.Name}.flows");
        to.WriteLine();
        for (var i = 0; i < record.Outdoor.AirC.Length; i++)
            Line(to, record, i);
    }

    private static void Line(TextWriter to, RunRecord record, int i)
    {
        var local = TimeZoneInfo.ConvertTime(record.StartUtc.AddSeconds(i * record.EveryS), record.Zone);
        to.Write(local.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture));
        void Put(float value) => to.Write("," + (float.IsFinite(value) ? value.ToString("0.###", CultureInfo.InvariantCulture) : ""));
        Put(record.Outdoor.AirC[i]);
        Put(record.Outdoor.DewC[i]);
        Put(record.Outdoor.SunWPerM2[i]);
        foreach (var room in record.Rooms)
        {
            Put(room.TrueAirC[i]);
            Put(room.CoolAboveC[i]);
            Put(room.HeatBelowC[i]);
            Put(room.TrueDewC[i]);
            Put(room.WorstDewC[i]);
            to.Write($",{Names.Of(room.Stages[i])},{(room.Open[i] ? 1 : 0)},{(room.Drying[i] ? 1 : 0)}");
            Put(room.FanPercent[i]);
            Put(room.SurfaceW[i]);
            Put(room.CoilW[i]);
        }
        foreach (var loop in record.Loops)
        {
            Put(loop.SupplyC[i]);
            Put(loop.SetPointC[i]);
            Put(loop.LowestSafeC[i]);
            to.Write(loop.Flows[i] ? ",1" : ",0");
        }
        to.WriteLine();
    }
}

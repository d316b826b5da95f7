// An estimate as JSON. Names are stable; what does not exist is null. Must never round a value to make it look better.
using System.Text.Json;

namespace RoomSupervisor.Desk.Estimate;

/// <summary>Writes it.</summary>
public static class EstimateJson
{
    /// <summary>One object: days, ways (the wish first), advice, quantities, defaults.</summary>
    public static void Write(Stream stream, EstimateResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        using var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true });
        json.WriteStartObject();
        json.WriteString("name", result.File.Name);
        json.WriteString("caution", EstimateResult.Caution);
        json.WriteStartObject("days");
        Number(json, "winter_outdoor_c", result.Days.WinterC);
        json.WriteString("winter_how", result.Days.WinterHow);
        json.WriteString("summer_date", result.Days.SummerDate.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture));
        json.WriteString("summer_how", result.Days.SummerHow);
        Number(json, "mean_outdoor_c", result.Days.MeanC);
        Number(json, "altitude_m", result.Days.AltitudeM);
        json.WriteEndObject();
        json.WriteStartArray("ways");
        foreach (var way in (WayEstimate[])[result.Wish, .. result.Variants])
            Way(json, way);
        json.WriteEndArray();
        Texts(json, "ways_left_out", result.LeftOut);
        Texts(json, "advice", result.Advice);
        json.WriteStartArray("quantities");
        foreach (var line in QuantityList.Of(result.Wish))
        {
            json.WriteStartObject();
            json.WriteString("where", line.Where);
            json.WriteString("what", line.What);
            Number(json, "count", line.Count);
            json.WriteString("unit", line.Unit);
            json.WriteString("note", line.Note);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteStartObject("defaults");
        foreach (var value in result.File.Effective.Where(value => value.IsDefault))
            json.WriteString(value.Path, value.Shown);
        json.WriteEndObject();
        json.WriteEndObject();
    }

    private static void Way(Utf8JsonWriter json, WayEstimate way)
    {
        json.WriteStartObject();
        json.WriteString("name", way.Name);
        Number(json, "loudest_dba", way.MeanDb);
        Number(json, "supply_coldest_c", way.SupplyLowC);
        Number(json, "supply_warmest_c", way.SupplyHighC);
        Number(json, "surface_share", way.SurfaceShare);
        Number(json, "hours_outside", way.OutsideH);
        Number(json, "recovery_minutes", way.RecoveryMin);
        json.WriteStartObject("source");
        Number(json, "cooling_peak_w", way.Source.CoolingPeakW);
        Number(json, "heating_peak_w", way.Source.HeatingPeakW);
        Number(json, "cooling_output_w", way.Source.Size.CoolingW);
        Number(json, "heating_output_w", way.Source.Size.HeatingW);
        Number(json, "least_output_w", way.Source.Size.LeastW);
        Number(json, "buffer_l", way.Source.Size.BufferL);
        Number(json, "cooling_performance", way.Source.CoolingPerformance);
        Number(json, "heating_performance", way.Source.HeatingPerformance);
        Number(json, "winter_output_w", way.Source.WinterOutputW);
        Number(json, "warm_buffer_l", way.Source.Size.WarmBufferL > 0 ? way.Source.Size.WarmBufferL : double.NaN);
        var water = way.Source.HotWater;
        Number(json, "hot_water_kwh_a_day", water?.DayJ / 3.6e6 ?? double.NaN);
        Number(json, "hot_water_mean_w", water?.MeanW ?? double.NaN);
        Number(json, "hot_water_tank_l", water?.TankL ?? double.NaN);
        Number(json, "hot_water_hours_a_day", water?.AwayH(way.Source.WinterOutputW) ?? double.NaN);
        Number(json, "hot_water_charge_minutes", water?.ChargeMin(way.Source.WinterOutputW) ?? double.NaN);
        Number(json, "hot_water_performance", way.Source.HotWaterPerformance);
        json.WriteEndObject();
        json.WriteStartObject("rooms");
        foreach (var room in way.Rooms)
            Room(json, room);
        json.WriteEndObject();
        json.WriteStartObject("loops");
        foreach (var loop in way.Loops)
            Loop(json, loop);
        json.WriteEndObject();
        json.WriteEndObject();
    }

    private static void Room(Utf8JsonWriter json, RoomEstimate room)
    {
        json.WriteStartObject(room.Name);
        foreach (var (name, value) in ((string, double)[])
            [("floor_m2", room.FloorM2), ("heating_w", room.Heat.RoomW), ("heating_in_house_w", room.Heat.InHouseW), ("heating_outside_w", room.Heat.OutsideW), ("heating_ground_w", room.Heat.GroundW), ("heating_neighbour_w", room.Heat.NeighbourW),
             ("heating_air_w", room.Heat.AirW), ("cooling_sensible_w", room.PeakSensibleW), ("cooling_latent_w", room.PeakLatentW), ("cooling_peak_hour", room.PeakHour), ("cooling_given_w", room.PeakGivenW), ("usual_w", room.UsualW),
             ("dew_point_undried_c", room.HumidDewC), ("hours_outside", room.OutsideH), ("outside_kh", room.OutsideKh), ("reserve", room.Reserve), ("opened_c", room.OpenedC), ("recovery_minutes", room.RecoveryMin), ("recovery_quickest_minutes", room.QuickestMin), ("recovery_slowest_minutes", room.SlowestMin), ("fan_mean_dba", room.MeanDb), ("fan_loudest_dba", room.LoudestDb),
             ("fan_hours", room.FanH), ("condensate_kg_a_day", room.CondensateKg)])
            Number(json, name, value);
        Hours(json, "cooling_asked_w", room.Day.SensibleW);
        Hours(json, "moisture_w", room.Day.LatentW);
        Hours(json, "cooling_given_by_hour_w", room.GivenW);
        json.WriteStartObject("surfaces");
        foreach (var one in room.Surfaces)
            Named(json, one.Key, ("area_m2", one.AreaM2), ("undried_supply_c", one.Humid.SupplyC), ("undried_w", one.HumidW), ("dried_supply_c", one.Dry.SupplyC), ("dried_w", one.DryW), ("dried_surface_c", one.Dry.SurfaceC), ("heating_most_w", one.HeatingW), ("heating_supply_c", one.HeatingSupplyC));
        json.WriteEndObject();
        json.WriteStartObject("coils");
        foreach (var one in room.Coils)
            Named(json, one.Key, ("output_w", one.OutputW), ("cap_percent", one.CapPercent), ("cap_dba", one.AtCap.LevelDb), ("cap_sensible_w", one.AtCap.SensibleW), ("cap_latent_w", one.AtCap.LatentW), ("cap_condensate_kg_per_h", one.AtCap.CondensateKgPerH), ("slowest_w", one.AtSlowest.SensibleW), ("slowest_over_usual", one.Ratio), ("heating_w", one.HeatingW));
        json.WriteEndObject();
        json.WriteEndObject();
    }

    private static void Loop(Utf8JsonWriter json, LoopEstimate loop)
    {
        json.WriteStartObject(loop.Id);
        json.WriteString("trunk", loop.Trunk.Name);
        foreach (var (name, value) in ((string, double)[])
            [("flow_m3_per_h", loop.FlowM3PerH), ("trunk_m_per_s", loop.Trunk.VelocityMPerS), ("trunk_pa_per_m", loop.Trunk.PaPerM), ("head_kpa", loop.HeadPa / 1000), ("pump_w", loop.PumpW), ("mixing_kv", loop.MixingKv), ("cooling_supply_c", loop.CoolingSupplyC), ("heating_supply_c", loop.HeatingSupplyC)])
            Number(json, name, value);
        json.WriteStartObject("circuits");
        foreach (var one in loop.Circuits)
            Named(json, one.Id, ("flow_m3_per_h", one.FlowM3PerH), ("pipe_m", one.PipeM), ("ways", one.Ports), ("loss_kpa", one.LossPa / 1000));
        json.WriteEndObject();
        json.WriteEndObject();
    }

    private static void Named(Utf8JsonWriter json, string name, params ReadOnlySpan<(string Name, double Value)> values)
    {
        json.WriteStartObject(name);
        foreach (var (key, value) in values)
            Number(json, key, value);
        json.WriteEndObject();
    }

    private static void Hours(Utf8JsonWriter json, string name, double[] values)
    {
        json.WriteStartArray(name);
        foreach (var value in values)
            json.WriteNumberValue(Math.Round(value, 1));
        json.WriteEndArray();
    }

    private static void Texts(Utf8JsonWriter json, string name, IReadOnlyList<string> lines)
    {
        json.WriteStartArray(name);
        foreach (var line in lines)
            json.WriteStringValue(line);
        json.WriteEndArray();
    }

    private static void Number(Utf8JsonWriter json, string name, double value)
    {
        if (double.IsFinite(value))
            json.WriteNumber(name, Math.Round(value, 4));
        else
            json.WriteNull(name);
    }
}

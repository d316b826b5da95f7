// A run's measures as JSON. Names are stable; what does not exist is null. Must never round a value to make it look met.
using System.Text.Json;
using RoomSupervisor.Desk.Rehearsal.Measures;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>Writes a run.</summary>
public static class RehearsalJson
{
    /// <summary>One object: site, scenario, rooms, house, goals, defaults, budget.</summary>
    public static void Write(Stream stream, RehearsalPlan plan, Rehearsal run)
    {
        using var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true });
        json.WriteStartObject();
        json.WriteString("site", plan.Files.House.Name);
        json.WriteString("scenario", plan.ScenarioName);
        json.WriteString("from", run.Run.Start.ToString("O", System.Globalization.CultureInfo.InvariantCulture));
        Number(json, "days", run.Recorder.CoveredS / 86_400);
        json.WriteNumber("seed", plan.Seed);
        json.WriteStartObject("rooms");
        for (var i = 0; i < run.House.Rooms.Length; i++)
            Room(json, run, i);
        json.WriteEndObject();
        json.WriteStartObject("house");
        foreach (var measure in MeasureList.Of(run.Recorder))
            Number(json, measure.Name, measure.Value);
        Events(json, run.Recorder.Events);
        Number(json, "sim_seconds_per_wall_second", run.Recorder.CoveredS / run.Budget.WholeS);
        json.WriteEndObject();
        Budget(json, run);
        json.WriteStartArray("goals");
        foreach (var goal in Goals.Of(plan, run))
        {
            json.WriteStartObject();
            json.WriteString("what", goal.What);
            json.WriteString("where", goal.Where);
            Number(json, "value", goal.Value);
            Number(json, "limit", goal.Limit);
            json.WriteBoolean("met", goal.IsMet);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteStartArray("asked_for_somebody");
        foreach (var call in run.Recorder.Alarms)
        {
            json.WriteStartObject();
            json.WriteString("at", call.Utc.ToString("O", System.Globalization.CultureInfo.InvariantCulture));
            json.WriteString("event", call.Name);
            json.WriteStartArray("where");
            foreach (var where in call.Where)
                json.WriteStringValue(where);
            json.WriteEndArray();
            json.WriteBoolean("switch_before_wet", call.IsSwitchBeforeWet);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteStartArray("faster_than_possible");
        foreach (var line in run.Recorder.FasterThanPossible)
            json.WriteStringValue(line);
        json.WriteEndArray();
        json.WriteStartObject("defaults_used");
        foreach (var value in plan.Defaults)
            json.WriteString(value.Path, value.Shown);
        json.WriteEndObject();
        json.WriteEndObject();
    }

    private static void Room(Utf8JsonWriter json, Rehearsal run, int index)
    {
        var room = run.Recorder.Rooms[index];
        json.WriteStartObject(run.House.Rooms[index].Id);
        foreach (var measure in MeasureList.Of(room))
            Number(json, measure.Name, measure.Value);
        Number(json, "temperature_sensor_off_k", run.SensorBiasK[index]);
        json.WriteStartArray("recoveries");
        foreach (var one in room.PullDowns.All)
        {
            json.WriteStartObject();
            Number(json, "shut_at_s", one.ShutAtS);
            Number(json, "pull_down_minutes", one.PullDownMin);
            json.WriteBoolean("reached", one.IsReached);
            Number(json, "first_touch_minutes", one.FirstTouchMin);
            Number(json, "pull_down_bound_minutes", one.BoundMin);
            Number(json, "overshoot_k", one.OvershootK);
            Number(json, "bounce_k", one.BounceK);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        Events(json, room.Events);
        json.WriteEndObject();
    }

    private static void Budget(Utf8JsonWriter json, Rehearsal run)
    {
        // One scan of a hundred is timed; on a busy machine the sum of the parts is off, so they are told as shares of the whole.
        var (budget, seconds) = (run.Budget, run.Recorder.CoveredS);
        var scale = 1e6 / seconds * budget.WholeS / Math.Max(budget.BuildingS + budget.BusesS + budget.StepS + budget.RecordingS, 1e-9);
        json.WriteStartObject("microseconds_per_simulated_second");
        Number(json, "step", scale * budget.StepS);
        Number(json, "buses", scale * budget.BusesS);
        Number(json, "building", scale * budget.BuildingS);
        Number(json, "recording", scale * budget.RecordingS);
        Number(json, "whole", 1e6 * budget.WholeS / seconds);
        json.WriteEndObject();
    }

    private static void Events(Utf8JsonWriter json, SortedDictionary<string, int> events)
    {
        json.WriteStartObject("events");
        foreach (var (name, count) in events)
            json.WriteNumber(name, count);
        json.WriteEndObject();
    }

    private static void Number(Utf8JsonWriter json, string name, double value)
    {
        if (double.IsFinite(value))
            json.WriteNumber(name, Math.Round(value, 4));
        else
            json.WriteNull(name);
    }
}

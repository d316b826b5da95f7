// A screed's programme as bytes and back, for the state folder and for who asks: plan, day, what was found. Whatever is wrong in it counts as not there. Writing it to disk safely is the state folder's task.
using System.Globalization;
using System.Text.Json;
using RoomSupervisor.Runtime.Control;

namespace RoomSupervisor.Runtime.Screed;

/// <summary>Programmes as JSON.</summary>
public static class ScreedFile
{
    private const int Format = 1;

    /// <summary>Names of states, in files and answers.</summary>
    public static string Name(ScreedState state) => state switch
    {
        ScreedState.Running => "running",
        ScreedState.Done => "done",
        ScreedState.Ordered => "ended-by-order",
        _ => "given-up",
    };

    /// <summary>The bytes.</summary>
    public static byte[] Save(ScreedRun run)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream))
        {
            json.WriteStartObject();
            Write(run, json);
            json.WriteEndObject();
        }
        return stream.ToArray();
    }

    /// <summary>Writes it as members of an object.</summary>
    public static void Write(ScreedRun run, Utf8JsonWriter json)
    {
        var plan = run.Plan;
        json.WriteNumber("format", Format);
        json.WriteString("loop", run.Loop);
        json.WriteString("state", Name(run.State));
        json.WriteString("sheet", plan.Sheet);
        json.WriteString("screed", plan.Kind == ScreedKind.Cement ? "cement" : "anhydrite");
        json.WriteString("laid", plan.Laid.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        json.WriteStartArray("steps");
        foreach (var step in plan.Steps)
        {
            json.WriteStartObject();
            json.WriteNumber("days", step.Days);
            json.WriteNumber("supply_c", step.SupplyC);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteString("begun", run.BegunUtc);
        json.WriteString("begun_by", run.BegunBy);
        json.WriteString("last", run.LastUtc);
        json.WriteString("ended_by", run.EndedBy);
        json.WriteNumber("day", run.Day);
        json.WriteNumber("stands_for_s", run.StandsForS);
        json.WriteBoolean("told_standing", run.ToldStanding);
        json.Number("wanted_c", run.WantedC);
        json.WriteStartArray("days");
        foreach (ref readonly var day in run.Days)
        {
            if (day.BegunTicks != 0)
                Write(day, json);
        }
        json.WriteEndArray();
    }

    /// <summary>Reads bytes; null: they are no whole programme of this format.</summary>
    public static ScreedRun? Load(ReadOnlySpan<byte> bytes)
    {
        try
        {
            using var json = JsonDocument.Parse(bytes.ToArray());
            return Load(json.RootElement);
        }
        catch (Exception e) when (e is JsonException or KeyNotFoundException or InvalidOperationException or FormatException or ArgumentException)
        {
            return null;
        }
    }

    /// <summary>The same of an answer that holds its members.</summary>
    /// <exception cref="KeyNotFoundException">A member is missing.</exception>
    public static ScreedRun? Load(JsonElement root)
    {
        if (root.GetProperty("format").GetInt32() != Format)
            return null;
        List<ScreedStep> steps = [.. root.GetProperty("steps").EnumerateArray().Select(step => new ScreedStep(step.GetProperty("days").GetInt32(), step.GetProperty("supply_c").GetDouble()))];
        if (steps.Count == 0 || steps.Any(step => step.Days is < 1 or > 60 || !(step.SupplyC is >= 0 and <= 60)))
            return null;
        var plan = new ScreedPlan(steps, root.GetProperty("screed").GetString() == "cement" ? ScreedKind.Cement : ScreedKind.Anhydrite,
            DateOnly.ParseExact(root.GetProperty("laid").GetString()!, "yyyy-MM-dd", CultureInfo.InvariantCulture), root.GetProperty("sheet").GetString()!);
        var run = new ScreedRun(root.GetProperty("loop").GetString()!, plan)
        {
            BegunUtc = root.GetProperty("begun").GetDateTime(),
            BegunBy = root.GetProperty("begun_by").GetString()!,
            LastUtc = root.GetProperty("last").GetDateTime(),
            EndedBy = root.GetProperty("ended_by").GetString()!,
            Day = root.GetProperty("day").GetInt32(),
            StandsForS = root.GetProperty("stands_for_s").GetDouble(),
            ToldStanding = root.GetProperty("told_standing").GetBoolean(),
        };
        var name = root.GetProperty("state").GetString();
        run.State = Enum.GetValues<ScreedState>().First(state => Name(state) == name);
        var at = 0;
        foreach (var day in root.GetProperty("days").EnumerateArray())
            run.Days[at++] = Day(day);
        return run.Day >= 0 && run.Day <= plan.Days && (run.Day < plan.Days || run.State != ScreedState.Running) ? run : null;
    }

    private static void Write(in ScreedDay day, Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.WriteNumber("begun_ticks", day.BegunTicks);
        json.WriteNumber("last_ticks", day.LastTicks);
        json.WriteNumber("set_c", day.SetC);
        json.WriteNumber("held_s", day.HeldS);
        json.WriteNumber("waited_s", day.WaitedS);
        json.WriteNumber("off_s", day.OffS);
        json.WriteNumber("limited_s", day.LimitedS);
        json.Number("lowest_c", day.LowestC);
        json.Number("highest_c", day.HighestC);
        json.WriteNumber("sum_cs", day.SumCS);
        json.WriteNumber("sum_s", day.SumS);
        json.WriteNumber("return_sum_cs", day.ReturnSumCS);
        json.WriteNumber("return_s", day.ReturnS);
        json.WriteNumber("interruptions", day.Interruptions);
        json.WriteEndObject();
    }

    private static ScreedDay Day(JsonElement day) => new()
    {
        BegunTicks = day.GetProperty("begun_ticks").GetInt64(),
        LastTicks = day.GetProperty("last_ticks").GetInt64(),
        SetC = Number(day, "set_c"),
        HeldS = Number(day, "held_s"),
        WaitedS = Number(day, "waited_s"),
        OffS = Number(day, "off_s"),
        LimitedS = Number(day, "limited_s"),
        LowestC = Number(day, "lowest_c"),
        HighestC = Number(day, "highest_c"),
        SumCS = Number(day, "sum_cs"),
        SumS = Number(day, "sum_s"),
        ReturnSumCS = Number(day, "return_sum_cs"),
        ReturnS = Number(day, "return_s"),
        Interruptions = day.GetProperty("interruptions").GetInt32(),
    };

    private static double Number(JsonElement day, string name) => day.GetProperty(name) is { ValueKind: JsonValueKind.Number } number ? number.GetDouble() : double.NaN;
}

// The answers to "why" as one JSON object: what the socket carries and what --json prints. Keys are ours and stay.
using System.Text.Json;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Explain;

/// <summary>Writing answers.</summary>
public static class WhyJson
{
    /// <summary>Members of the object.</summary>
    public static void Write(Moment moment, IReadOnlyList<WhyAnswer> answers, Utf8JsonWriter json)
    {
        json.WriteString("site", moment.House.Name);
        json.WriteString("from", moment.From);
        json.WriteString("local", moment.Local(moment.Scan.Utc));
        if (!moment.HasMemory)
            json.WriteString("unknown", "the guard's own figures are not recorded: for those ask while the controller runs, or replay the trace of that day");
        json.WriteStartArray("answers");
        foreach (var answer in answers)
        {
            json.WriteStartObject();
            answer.Write(json);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    /// <summary>Members of a status, for whoever has no run to ask.</summary>
    public static void Write(StatusFacts facts, Utf8JsonWriter json) => facts.Write(json);
}

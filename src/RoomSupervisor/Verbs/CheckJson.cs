// check --json: problems and what was understood as one JSON object, for programs. Keys are ours and stay; new ones may be added.
using System.Text.Json;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Site;

namespace RoomSupervisor.Verbs;

internal static class CheckJson
{
    public static void Write(Stream into, string directory, SiteFiles? files, IReadOnlyList<Problem> problems)
    {
        using (var json = new Utf8JsonWriter(into, new JsonWriterOptions { Indented = true, Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            json.WriteStartObject();
            json.WriteString("directory", directory);
            json.WriteNumber("errors", problems.Count(problem => problem.Severity == Severity.Error));
            json.WriteNumber("warnings", problems.Count(problem => problem.Severity == Severity.Warning));
            Problems(json, problems);
            if (files is not null)
                Understood(json, files);
            json.WriteEndObject();
        }
        into.Write("\n"u8);
    }

    private static void Problems(Utf8JsonWriter json, IReadOnlyList<Problem> problems)
    {
        json.WriteStartArray("problems");
        foreach (var problem in problems)
        {
            json.WriteStartObject();
            json.WriteString("severity", problem.Severity == Severity.Error ? "error" : "warning");
            json.WriteString("file", problem.Mark.File);
            json.WriteNumber("line", problem.Mark.Line);
            json.WriteNumber("column", problem.Mark.Column);
            json.WriteString("key", problem.KeyPath);
            json.WriteString("value", problem.Value);
            json.WriteString("message", problem.Message);
            json.WriteString("allowed", problem.Allowed);
            json.WriteString("advice", problem.WhatToDo);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static void Understood(Utf8JsonWriter json, SiteFiles files)
    {
        var house = files.House;
        json.WriteString("name", files.Site.Name);
        json.WriteStartArray("rooms");
        foreach (var room in house.Rooms)
        {
            json.WriteStartObject();
            json.WriteString("name", room.Id);
            json.WriteNumber("number", room.Settings.Number);
            json.Texts("coils", room.Coils.Select(coil => house.Coils[coil].Id));
            json.Texts("surfaces", room.Circuits.Select(circuit => house.Circuits[circuit].Id));
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.Texts("loops", house.Loops.Select(loop => loop.Id));
        json.Texts("sources", house.Sources.Select(source => source.Id));
        json.WriteStartArray("points");
        foreach (var wire in files.Wiring)
        {
            json.WriteStartObject();
            json.WriteString("point", wire.PointId);
            json.WriteBoolean("output", wire.IsOutput);
            json.WriteString("device", wire.Device);
            json.WriteString("channel", wire.Channel);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteStartArray("values");
        foreach (var value in files.Effective)
        {
            json.WriteStartObject();
            json.WriteString("key", value.Path);
            json.WriteString("value", value.Shown);
            json.WriteBoolean("default", value.IsDefault);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }
}

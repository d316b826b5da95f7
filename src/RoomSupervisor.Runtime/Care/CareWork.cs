// "care" and "care done": what was counted, what is due, and saying that it was done, the same for a running controller and for what one left on disk. Every word of work done is kept with
// who said it and when; nothing is counted anew that was not named.
using System.Text.Json;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.State;

namespace RoomSupervisor.Runtime.Care;

/// <summary>What both do.</summary>
public static class CareWork
{
    /// <summary>The parts somebody means.</summary>
    /// <param name="parts">Parts of the house.</param>
    /// <param name="what">Kind as typed.</param>
    /// <param name="place">Room, coil, loop, source or output as typed.</param>
    /// <exception cref="ControlException">There is none; says what there is.</exception>
    public static IReadOnlyList<CarePart> Meant(IReadOnlyList<CarePart> parts, string what, string place)
    {
        var kind = CarePart.Words.ToList().IndexOf(what);
        if (kind < 0)
            throw new ControlException($"\"{what}\" is nothing that is counted; known: {string.Join(", ", CarePart.Words)}");
        var ofKind = parts.Where(part => part.Kind == (CareKind)kind).ToList();
        var meant = ofKind.Where(part => part.IsMeantBy(place)).ToList();
        if (meant.Count == 0)
            throw new ControlException(ofKind.Count == 0 ? $"this house has no {what}" : $"no {what} is called \"{place}\"; there are {string.Join(", ", ofKind.Select(part => part.Id))}");
        return meant;
    }

    /// <summary>What was counted, what is due and what was done, as members of an object.</summary>
    public static void Write(IReadOnlyList<CarePart> parts, CareRecord record, CareLimits limits, TimeZoneInfo zone, Utf8JsonWriter json)
    {
        json.WriteStartArray("parts");
        foreach (var part in parts)
        {
            var figures = record.Figures.GetValueOrDefault((part.Kind, part.Id));
            json.WriteStartObject();
            json.WriteString("what", CarePart.Word(part.Kind));
            json.WriteString("part", part.Id);
            json.WriteNumber("run_s", Math.Round(figures.RunS));
            json.WriteNumber("starts", figures.Starts);
            json.WriteNumber("strokes", Math.Round(figures.Strokes, 1));
            json.WriteString("due", limits.Reminder(part.Kind, part.Id, figures));
            json.WriteString("done", record.LastDone(part.Kind, part.Id) is { } last ? $"{Local(last.Utc, zone)} by {last.Who}" : "");
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteStartArray("done");
        foreach (var done in record.Done.TakeLast(CareRecord.MostDone).Reverse())
        {
            json.WriteStartObject();
            json.WriteString("local", Local(done.Utc, zone));
            json.WriteString("what", CarePart.Word(done.Kind));
            json.WriteString("part", done.Id);
            json.WriteNumber("run_s", done.RunS);
            json.WriteString("who", done.Who);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    /// <summary>What is due, a line each.</summary>
    public static IReadOnlyList<string> Due(IReadOnlyList<CarePart> parts, CareRecord record, CareLimits limits)
        => [.. parts.Select(part => limits.Reminder(part.Kind, part.Id, record.Figures.GetValueOrDefault((part.Kind, part.Id)))).Where(line => line.Length > 0)];

    /// <summary>Says of parts that they were seen to, on disk, while no controller runs.</summary>
    /// <exception cref="IOException">The disk cannot be written.</exception>
    public static IReadOnlyList<CareDone> Do(StateFolder state, IReadOnlyList<CarePart> meant, string who, DateTime utc)
    {
        var record = CareRecord.Parse(state.LoadCare());
        var done = Done(meant, record, who, utc);
        record.Done.AddRange(done);
        foreach (var part in meant)
            record.Figures[(part.Kind, part.Id)] = default;
        state.SaveCare(record.ToBytes());
        return done;
    }

    internal static IReadOnlyList<CareDone> Done(IReadOnlyList<CarePart> meant, CareRecord record, string who, DateTime utc)
        => [.. meant.Select(part => new CareDone(utc, part.Kind, part.Id, record.Figures.GetValueOrDefault((part.Kind, part.Id)).RunS, who))];

    private static string Local(DateTime utc, TimeZoneInfo zone) => TimeZoneInfo.ConvertTimeFromUtc(utc, zone).ToString("d MMM yyyy HH:mm", System.Globalization.CultureInfo.InvariantCulture);
}

/// <summary>The request "care". Keys: none to look; <c>what</c> and <c>part</c> to say that it was done, <c>by</c> for whom.</summary>
public sealed class CareRequest(ControlParts parts, CareBook book, Action wrote, ControlSay say) : IControlRequest
{
    public string Name => "care";

    public IReadOnlyList<string> Keys { get; } = ["what", "part", "by"];

    public void Answer(JsonElement request, PeerUser user, Utf8JsonWriter answer)
    {
        var (what, part) = (ControlRequests.Text(request, "what"), ControlRequests.Text(request, "part"));
        var all = CarePart.Of(parts.Files.House);
        IReadOnlyList<CareDone> done = [];
        if (what is not null || part is not null)
        {
            var meant = CareWork.Meant(all, what ?? throw new ControlException("\"what\" is missing: filter, coil, fan, pump, source or valve?"), part ?? throw new ControlException("\"part\" is missing: of which room?"));
            var by = CareRecord.Clean(ControlRequests.Text(request, "by") ?? "");
            done = CareWork.Done(meant, book.Now(), by.Length > 0 ? $"{by}, said by {user.Name}" : user.Name, parts.Clock.Utc);
            book.Do(done);
            wrote();
            foreach (var one in done)
                say.Done($"care: {one.Id}: {CarePart.Word(one.Kind)} seen to after {CareLimits.Hours(one.RunS)}, says {user}{(by.Length > 0 ? $" for {by}" : "")}");
        }
        answer.WriteBoolean("ok", true);
        answer.WriteNumber("seen_to", done.Count);
        CareWork.Write(all, book.Now(), book.Limits, parts.Files.Site.TimeZone, answer);
    }
}

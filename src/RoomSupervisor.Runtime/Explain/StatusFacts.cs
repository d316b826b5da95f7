// What somebody wants to know first: what needs a hand, since when, what is in hand and until when, how each room is, what changed last, what is written a day.
// The same from a running controller and from what it left on disk. Text and numbers only; must never say that all is well where it does not know.
using System.Globalization;
using System.Text.Json;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Explain;

/// <summary>A hand value with its end.</summary>
public readonly record struct HandFact(string Point, string Value, double LeftS)
{
    /// <summary>The hand values that stand. They end with time, whether somebody runs or not.</summary>
    /// <param name="house">The house.</param>
    /// <param name="hands">Its hand values, one an output.</param>
    /// <param name="passedS">Time since those were so, s.</param>
    internal static List<HandFact> Of(House house, ReadOnlySpan<HandValue> hands, double passedS)
    {
        List<HandFact> facts = [];
        for (var i = 0; i < hands.Length; i++)
        {
            var (hand, point) = (hands[i], house.OutputTable[i]);
            if (hand.Active && hand.RemainingS > passedS)
                facts.Add(new HandFact(point.Id, ControlJson.Shown(hand.Value, point.Quantity, house.Units), hand.RemainingS - passedS));
        }
        return facts;
    }
}

/// <summary>Everything <c>status</c> tells.</summary>
/// <param name="Moment">The house; null: nothing is known of it.</param>
/// <param name="Zone">Time zone of the site.</param>
/// <param name="Utc">When this was asked.</param>
/// <param name="Site">Name of the site.</param>
/// <param name="From">Where it comes from and how old it is.</param>
public sealed record StatusFacts(Moment? Moment, TimeZoneInfo Zone, DateTime Utc, string Site, string From)
{
    /// <summary>True when a controller answered.</summary>
    public bool IsLive { get; init; }

    /// <summary>What the run does beside controlling: observing, by hand; "" for a plain run.</summary>
    public string Mode { get; init; } = "";

    /// <summary>How long it has run, s; NaN: it does not.</summary>
    public double UpS { get; init; } = double.NaN;

    /// <summary>What stands or went unseen, worst first, with the name of its place.</summary>
    public IReadOnlyList<(BookEntry Entry, string Where)> Open { get; init; } = [];

    /// <summary>How many are set aside.</summary>
    public int Shelved { get; init; }

    public IReadOnlyList<HandFact> Hands { get; init; } = [];

    /// <summary>The latest accepted settings; null: none are kept.</summary>
    public HistoryVersion? Changed { get; init; }

    /// <summary>Bytes written to the disk within 24 h; −1: not known.</summary>
    public long BytesLastDay { get; init; } = -1;

    /// <summary>Lines on counters and care that is due; "" for none.</summary>
    public IReadOnlyList<string> Care { get; init; } = [];

    /// <summary>Writes it as members of an object.</summary>
    internal void Write(Utf8JsonWriter json)
    {
        json.WriteString("site", Site);
        json.WriteString("program", SiteRun.Version);
        json.WriteString("from", From);
        json.WriteBoolean("live", IsLive);
        json.WriteString("mode", Mode);
        json.WriteString("local", Local(Utc));
        json.Number("up_s", UpS);
        json.WriteStartArray("open");
        foreach (var (entry, where) in Open)
            Write(entry, where, json);
        json.WriteEndArray();
        json.WriteNumber("shelved", Shelved);
        json.WriteStartArray("hands");
        foreach (var hand in Hands)
        {
            json.WriteStartObject();
            json.WriteString("point", hand.Point);
            json.WriteString("value", hand.Value);
            json.WriteNumber("left_s", hand.LeftS);
            json.WriteString("until", Local(Utc.AddSeconds(hand.LeftS)));
            json.WriteEndObject();
        }
        json.WriteEndArray();
        Rooms(json);
        Last(json);
        json.Number("bytes_last_day", BytesLastDay < 0 ? double.NaN : BytesLastDay);
        json.Texts("care", Care);
    }

    private void Write(BookEntry entry, string where, Utf8JsonWriter json)
    {
        var definition = EventCatalogue.All.GetValueOrDefault(entry.Key.EventId);
        json.WriteStartObject();
        json.WriteString("priority", Names.Of(entry.Priority));
        json.WriteString("since", Local(entry.SinceUtc));
        json.WriteNumber("for_s", Math.Max(0, (Utc - entry.SinceUtc).TotalSeconds));
        json.WriteString("where", where);
        json.WriteString("text", entry.Text);
        json.WriteBoolean("stands", entry.Stands);
        json.WriteNumber("times", entry.Times);
        json.WriteString("seen_by", entry.AcknowledgedBy);
        json.WriteString("check", definition?.Check ?? "");
        json.WriteString("household", definition?.Household ?? "");
        json.WriteEndObject();
    }

    private void Rooms(Utf8JsonWriter json)
    {
        json.WriteStartArray("rooms");
        for (var i = 0; i < (Moment?.House.Rooms.Length ?? 0); i++)
        {
            var (status, (kind, text)) = (Moment!.Scan.Rooms[i], Why.Room(Moment, i));
            json.WriteStartObject();
            json.WriteString("room", Moment.House.Rooms[i].Id);
            json.WriteString("stage", Names.Of(status.Stage));
            json.WriteString("air", Moment.Show(status.AirTemperatureC, Quantity.Temperature));
            json.WriteString("wanted", Moment.Show(status.WantedC, Quantity.Temperature));
            json.WriteString("humidity", Moment.Show(status.HumidityPercent, Quantity.Percent));
            json.WriteString("dew_point", Moment.Show(status.DewPointC, Quantity.Temperature));
            json.WriteString("guard", Names.Of(status.Guard));
            json.WriteString("fan", status.FanOutput < 0 ? "-" : Moment.Show(Moment.Scan.Commands[status.FanOutput].Value, Quantity.Percent));
            json.WriteString("verdict", Verdicts.Name(kind));
            json.WriteString("text", text);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private void Last(Utf8JsonWriter json)
    {
        if (Changed is not { } version)
        {
            json.WriteNull("changed");
            return;
        }
        json.WriteStartObject("changed");
        json.WriteString("when", Local(version.Utc));
        json.WriteNumber("version", version.Number);
        json.Texts("what", version.Changes);
        json.WriteEndObject();
    }

    /// <summary>The site's clock, with the date where it is another day.</summary>
    private string Local(DateTime utc)
    {
        var (local, now) = (TimeZoneInfo.ConvertTimeFromUtc(utc, Zone), TimeZoneInfo.ConvertTimeFromUtc(Utc, Zone));
        return local.ToString(local.Date == now.Date ? "HH:mm" : local.Year == now.Year ? "d MMM HH:mm" : "d MMM yyyy HH:mm", CultureInfo.InvariantCulture);
    }
}

// The requests "status", "why" and "spill": what the run knows of itself, in words; and having its log on the disk for somebody who is going to read it. Look only.
using System.Text.Json;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime.Explain;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Control;

/// <summary>What such a request may look at beside <see cref="ControlParts"/>.</summary>
/// <param name="Log">Log and book of events.</param>
/// <param name="State">The run's state folder.</param>
/// <param name="Logs">Directory of log and trends.</param>
/// <param name="NameOf">Name of an event's place.</param>
public sealed record ExplainParts(SiteLog Log, StateFolder State, string Logs, Func<Owner, int, string> NameOf)
{
    /// <summary>Care that is due, a line each.</summary>
    public Func<IReadOnlyList<string>> Care { get; init; } = () => [];

    /// <summary>Further requests of the run: care.</summary>
    public IReadOnlyList<IControlRequest> More { get; init; } = [];

    /// <summary>All requests that explain.</summary>
    public IReadOnlyList<IControlRequest> Requests(ControlParts parts) => [new StatusRequest(parts, this), new WhyRequest(parts), new SpillRequest(this), .. More];
}

/// <summary>How the site is.</summary>
public sealed class StatusRequest(ControlParts parts, ExplainParts explain) : IControlRequest
{
    public string Name => "status";

    public IReadOnlyList<string> Keys { get; } = [];

    public void Answer(JsonElement request, PeerUser user, Utf8JsonWriter answer)
    {
        var (scan, nowS, utc) = (parts.Latest(), parts.Clock.ElapsedS, parts.Clock.Utc);
        var zone = parts.Files.Site.TimeZone;
        var facts = new StatusFacts(new Moment(scan, zone, "the controller, now"), zone, utc, parts.Files.Site.Name, Said(nowS - scan.ElapsedS))
        {
            IsLive = true,
            Mode = parts.IsObserving ? "observing: nothing is written" : parts.IsByHand ? "only by hand: every output that nobody sets is safe" : "",
            UpS = nowS,
            Open = [.. explain.Log.Open.Select(entry => (entry, explain.NameOf(entry.Key.Owner, entry.Key.Index)))],
            Shelved = explain.Log.Booked(book => book.Shelved(nowS).Count),
            Hands = HandFact.Of(scan.House, scan.Hands, 0),
            Changed = explain.State.History.Newest(),
            BytesLastDay = explain.Log.BytesLastDay,
            Care = explain.Care(),
        };
        answer.WriteBoolean("ok", true);
        facts.Write(answer);
    }

    /// <summary>A loop that stands still is said: its last scan is no news.</summary>
    private static string Said(double scanAgeS)
        => scanAgeS < 30 ? "the controller, now" : $"the controller, whose last scan is {Quantities.Show(scanAgeS, Quantity.Duration, UnitSystem.Metric)} old: its loop stands still";
}

/// <summary>Why something is as it is. Key: <c>place</c>, a room, a loop or a source; without it every room.</summary>
public sealed class WhyRequest(ControlParts parts) : IControlRequest
{
    public string Name => "why";

    public IReadOnlyList<string> Keys { get; } = ["place"];

    public void Answer(JsonElement request, PeerUser user, Utf8JsonWriter answer)
    {
        var moment = new Moment(parts.Latest(), parts.Files.Site.TimeZone, "the controller, now");
        var answers = Why.Of(moment, ControlRequests.Text(request, "place"));
        answer.WriteBoolean("ok", true);
        WhyJson.Write(moment, answers, answer);
    }
}

/// <summary>Has what waits in memory written to the log's files. Answers when that is done, or after two seconds.</summary>
public sealed class SpillRequest(ExplainParts explain) : IControlRequest
{
    private const int Beats = 20;

    private static readonly TimeSpan Beat = TimeSpan.FromMilliseconds(100);

    public string Name => "spill";

    public IReadOnlyList<string> Keys { get; } = [];

    public void Answer(JsonElement request, PeerUser user, Utf8JsonWriter answer)
    {
        var before = explain.Log.Spills;
        explain.Log.AskToSpill();
        using var pause = new ManualResetEventSlim();
        for (var i = 0; i < Beats && explain.Log.Spills == before; i++)
            pause.Wait(Beat);
        answer.WriteBoolean("ok", true);
        answer.WriteBoolean("written", explain.Log.Spills != before);
        answer.WriteString("log", Path.GetFullPath(explain.Logs));
        answer.WriteString("state", Path.GetFullPath(explain.State.Path));
    }
}

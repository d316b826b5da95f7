// Which events stand, who has seen them, which are shelved and which chatter. Works on the Records thread; must never hold up the loop, nor keep an urgent
// event from being told. States in the sense of IEC 62682 (alarm systems management): standing or cleared, acknowledged or not, shelved; a chattering
// event is one that comes three times or more within a minute (the same standard's usual figure; ISA-18.2 has it too).
using RoomSupervisor.Terms;

namespace RoomSupervisor.Records;

/// <summary>One kind of event at one place.</summary>
/// <param name="EventId">Id of its definition.</param>
/// <param name="Owner">Kind of owner.</param>
/// <param name="Index">Index within its kind.</param>
public readonly record struct EventKey(int EventId, Owner Owner, int Index);

/// <summary>An event of priority warning or more that somebody may have to do something about.</summary>
/// <param name="Key">Which and where.</param>
/// <param name="Priority">Response it asks for.</param>
/// <param name="SinceUtc">When it came.</param>
/// <param name="Text">Its sentence, as told.</param>
public sealed record BookEntry(EventKey Key, Priority Priority, DateTime SinceUtc, string Text)
{
    /// <summary>Its latest coming, monotonic seconds.</summary>
    public double LatestS { get; init; }

    /// <summary>How often it has come since <see cref="SinceUtc"/>.</summary>
    public int Times { get; init; } = 1;

    /// <summary>When it went; null while it stands.</summary>
    public DateTime? ClearedUtc { get; init; }

    /// <summary>Who has seen it, "" for nobody, and when.</summary>
    public string AcknowledgedBy { get; init; } = "";

    public DateTime? AcknowledgedUtc { get; init; }

    public bool Stands => ClearedUtc is null;
}

/// <summary>What the log does with a happening.</summary>
public enum Telling : byte
{
    /// <summary>Tell it.</summary>
    Tell,

    /// <summary>Tell it, and that from here on it is only counted: it chatters.</summary>
    TellLast,

    /// <summary>The same for what keeps coming more slowly.</summary>
    TellLastOfMany,

    /// <summary>Count it.</summary>
    Count,
}

/// <summary>Something that ended by time: to be told.</summary>
public readonly record struct BookNotice(EventDefinition What, EventKey Key, string Text);

/// <summary>The book. Not safe for several threads: <see cref="SiteLog"/> guards it.</summary>
public sealed class AlarmBook(IReadOnlyDictionary<int, EventDefinition> events)
{
    /// <summary>So many within <see cref="MinuteS"/> are chattering.</summary>
    public const int ChatteringTimes = 3;

    /// <summary>Also what it must be quiet for, s.</summary>
    public const double MinuteS = 60;

    /// <summary>
    /// What asks for nobody today and comes so often within <see cref="RemindS"/> keeps coming: it is told with its number once an hour, until it has been quiet for <see cref="QuietAgainS"/>. Project choice, from reading
    /// rehearsed days as a tech would: four lines of five said that the guard was raised and let go again.
    /// </summary>
    public const int KeepsComingTimes = 5;

    /// <inheritdoc cref="KeepsComingTimes"/>
    public const double QuietAgainS = 1800;

    /// <summary>Longest shelf, s: a week; then somebody must look again.</summary>
    public const double LongestShelfS = 7 * 86400;

    /// <summary>What nothing clears stands so long after its last coming, s.</summary>
    public const double StandsForS = 86400;

    /// <summary>What chatters for long is told again after this, s.</summary>
    public const double RemindS = 3600;

    private const int MostKept = 500;

    private readonly Dictionary<EventKey, BookEntry> entries = [];
    private readonly Dictionary<Happening, Chatter> chatters = [];
    private readonly Dictionary<EventKey, Shelf> shelves = [];
    private readonly Dictionary<EventKey, double> goneS = [];   // when what chatters last went
    private readonly HashSet<int> clearable = [.. events.Values.SelectMany(definition => definition.Clears)];

    /// <summary>Everything that stands, or went and was not acknowledged; worst first, then oldest.</summary>
    public IReadOnlyList<BookEntry> Open => [.. entries.Values.Where(entry => !shelves.ContainsKey(entry.Key)).OrderByDescending(entry => entry.Priority).ThenBy(entry => entry.SinceUtc)];

    /// <summary>All of it, shelved ones too: what is kept for the next start.</summary>
    public IReadOnlyList<BookEntry> Kept => [.. entries.Values];

    /// <summary>What is shelved: which, by whom, and seconds left.</summary>
    public IReadOnlyList<(EventKey Key, string Who, double LeftS)> Shelved(double nowS) => [.. shelves.Select(shelf => (shelf.Key, shelf.Value.Who, shelf.Value.UntilS - nowS))];

    /// <summary>Takes a happening in and says whether it is told.</summary>
    /// <param name="happening">What happened.</param>
    /// <param name="utc">Wall time.</param>
    /// <param name="nowS">Monotonic seconds.</param>
    /// <param name="text">Its sentence; asked for only where the book keeps it.</param>
    public Telling Take(in Happening happening, DateTime utc, double nowS, Func<string> text)
    {
        var definition = events[happening.EventId];
        var key = new EventKey(happening.EventId, happening.Owner, happening.Index);
        var telling = Chattering(happening, nowS, definition.Priority < Priority.Alarm);
        if (definition.Priority >= Priority.Warning)
            Raise(key, definition, utc, nowS, text);
        if (definition.ClearsWhen(happening))
        {
            foreach (var id in definition.Clears)
            {
                var cleared = key with { EventId = id };
                // What chatters stands until it is quiet; its going is no more news than its coming.
                if (IsChattering(cleared))
                    (telling, goneS[cleared]) = (Telling.Count, nowS);
                else
                    Clear(cleared, utc);
            }
        }
        return shelves.ContainsKey(key) ? Telling.Count : telling;
    }

    /// <summary>What ended by time since the last call.</summary>
    public IReadOnlyList<BookNotice> Turn(DateTime utc, double nowS)
    {
        List<BookNotice>? notices = null;
        foreach (var (what, chatter) in chatters)
        {
            if (nowS - chatter.LatestS > (!chatter.Counts ? RemindS : chatter.IsSlow ? QuietAgainS : MinuteS))
                EndOfChatter(what, chatter, utc, ref notices);
            else if (chatter.Counted > 0 && nowS - chatter.ToldS >= RemindS)
            {
                (notices ??= []).Add(new BookNotice(RecordsEvents.Chatters, KeyOf(what), $"{(chatter.IsSlow ? "keeps coming" : "still chatters")}: came {chatter.Counted} times in {Minutes(nowS - chatter.ToldS)}, not told"));
                (chatter.ToldS, chatter.Counted) = (nowS, 0);
            }
        }
        foreach (var (key, shelf) in shelves)
        {
            if (nowS < shelf.UntilS)
                continue;
            shelves.Remove(key);
            var stands = entries.TryGetValue(key, out var entry) && entry.Stands;
            (notices ??= []).Add(new BookNotice(RecordsEvents.ShelfEnded, key, $"is no longer shelved by {shelf.Who}; it {(stands ? "still stands" : "does not stand")}"));
        }
        foreach (var entry in entries.Values)
        {
            if (entry.Stands && !clearable.Contains(entry.Key.EventId) && !events[entry.Key.EventId].EndsWithRun && nowS - entry.LatestS > StandsForS)
                Clear(entry.Key, utc);
        }
        return notices ?? (IReadOnlyList<BookNotice>)[];
    }

    /// <summary>Somebody has seen an event. False when it is not in the book.</summary>
    public bool Acknowledge(EventKey key, string who, DateTime utc)
    {
        if (!entries.TryGetValue(key, out var entry))
            return false;
        if (entry.Stands)
            entries[key] = entry with { AcknowledgedBy = who, AcknowledgedUtc = utc };
        else
            entries.Remove(key);
        return true;
    }

    /// <summary>Sets an event aside until then. False with the reason: urgent ones are never shelved, and no shelf is longer than a week or nobody's.</summary>
    public bool TryShelve(EventKey key, string who, double forS, double nowS, out string why)
    {
        why = !events.TryGetValue(key.EventId, out var definition) ? $"there is no event {key.EventId}"
            : definition.Priority == Priority.Urgent ? $"{definition.Name} is urgent: it asks for somebody now and cannot be shelved"
            : !(forS > 0 && forS <= LongestShelfS) ? "a shelf has an end: more than 0 and at most 7 days"
            : string.IsNullOrWhiteSpace(who) ? "who shelves it? name somebody who can be asked" : "";
        if (why.Length > 0)
            return false;
        shelves[key] = new Shelf(who, nowS + forS);
        return true;
    }

    /// <summary>Ends a shelf early. False when there is none.</summary>
    public bool Unshelve(EventKey key) => shelves.Remove(key);

    /// <summary>Takes up what a run before this one had left standing; what a start ends is left out.</summary>
    public void TakeUp(IEnumerable<BookEntry> kept)
    {
        foreach (var entry in kept)
        {
            if (events.TryGetValue(entry.Key.EventId, out var definition) && !definition.EndsWithRun)
                entries.TryAdd(entry.Key, entry with { LatestS = 0 });
        }
    }

    private static string Minutes(double seconds) => Quantities.Show(seconds, Quantity.Duration, UnitSystem.Metric);

    private static EventKey KeyOf(in Happening what) => new(what.EventId, what.Owner, what.Index);

    private bool IsChattering(EventKey key) => chatters.TryGetValue(new Happening(key.EventId, key.Owner, key.Index, default), out var chatter) && chatter.Counts;

    private void Raise(EventKey key, EventDefinition definition, DateTime utc, double nowS, Func<string> text)
    {
        if (entries.TryGetValue(key, out var entry) && entry.Stands)
            entries[key] = entry with { LatestS = nowS, Times = entry.Times + 1 };
        else
            entries[key] = new BookEntry(key, definition.Priority, utc, text()) { LatestS = nowS, Times = (entry?.Times ?? 0) + 1 };
        if (entries.Count > MostKept)
            entries.Remove(entries.Values.OrderBy(old => old.Stands).ThenBy(old => old.Priority).ThenBy(old => old.SinceUtc).First().Key);
    }

    /// <summary>Gone: kept until it is acknowledged, unless that was done or it asked for nobody soon.</summary>
    private void Clear(EventKey key, DateTime utc)
    {
        if (!entries.TryGetValue(key, out var entry) || !entry.Stands)
            return;
        if (entry.AcknowledgedBy.Length > 0 || entry.Priority < Priority.Alarm)
            entries.Remove(key);
        else
            entries[key] = entry with { ClearedUtc = utc };
    }

    /// <summary>Another state is another event; the same with other numbers is not.</summary>
    private Telling Chattering(in Happening happening, double nowS, bool isCounted)
    {
        var what = happening with { Reason = default };
        if (!chatters.TryGetValue(what, out var chatter))
            chatters[what] = chatter = new Chatter { ToldS = nowS };
        (chatter.BeforeS, chatter.LatestS, var third) = (chatter.LatestS, nowS, chatter.BeforeS);
        if (chatter.Counts)
        {
            chatter.Counted++;
            chatter.InAll++;
            return Telling.Count;
        }
        chatter.IsSlow = nowS - third > MinuteS;
        if (chatter.IsSlow && !(isCounted && chatter.ComesOften(nowS)))
            return Telling.Tell;
        chatter.Counts = true;
        chatter.ToldS = nowS;
        chatter.SinceS = nowS;
        return chatter.IsSlow ? Telling.TellLastOfMany : Telling.TellLast;
    }

    private void EndOfChatter(in Happening what, Chatter chatter, DateTime utc, ref List<BookNotice>? notices)
    {
        chatters.Remove(what);
        if (!chatter.Counts)
            return;
        var key = KeyOf(what);
        if (clearable.Contains(key.EventId))
            Settle(key, utc);
        if (chatter.InAll == 0)
            return;   // nothing was kept back, so there is nothing to tell
        var stands = entries.TryGetValue(key, out var entry) && entry.Stands;
        var state = events[key.EventId].Priority < Priority.Warning ? "" : stands ? "; it stands" : "; it has gone";
        (notices ??= []).Add(new BookNotice(RecordsEvents.ChatteringEnded, key, $"has stopped {(chatter.IsSlow ? "coming again and again" : "chattering")}: came {chatter.InAll} times more in {Minutes(chatter.LatestS - chatter.SinceS)}, not told{state}"));
    }

    /// <summary>After chattering the last of coming and going counts.</summary>
    private void Settle(EventKey key, DateTime utc)
    {
        if (entries.TryGetValue(key, out var entry) && goneS.TryGetValue(key, out var atS) && atS >= entry.LatestS)
            Clear(key, utc);
        goneS.Remove(key);
    }

    private sealed class Chatter
    {
        public double BeforeS = double.NegativeInfinity, LatestS = double.NegativeInfinity, ToldS, SinceS;
        private readonly double[] came = new double[KeepsComingTimes - 1];
        private int at;
        public bool Counts, IsSlow;
        public int Counted, InAll;

        /// <summary>Takes a coming; true for the last of so many within an hour.</summary>
        public bool ComesOften(double nowS)
        {
            var first = came[at];
            came[at] = nowS;
            at = (at + 1) % came.Length;
            return first > double.NegativeInfinity && nowS - first <= RemindS;
        }

        public Chatter() => Array.Fill(came, double.NegativeInfinity);
    }

    private sealed record Shelf(string Who, double UntilS);
}

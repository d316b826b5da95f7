// What a hand-over report is made of: the site, the book of checkout, measured room data, trends. Gathered from disk only. Must never hold a fact that nobody measured or wrote.
using RoomSupervisor.Desk.Checkout;
using RoomSupervisor.Desk.RoomData;
using RoomSupervisor.Desk.Trend;
using RoomSupervisor.Records;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;

namespace RoomSupervisor.Desk.HandOver;

/// <summary>A picture that stands alone.</summary>
/// <param name="Title">What it shows.</param>
/// <param name="Svg">Its text.</param>
public sealed record HandOverPicture(string Title, string Svg);

/// <summary>Facts of a report.</summary>
/// <param name="Files">The site.</param>
/// <param name="Plan">Steps of its checkout.</param>
/// <param name="Book">Results.</param>
/// <param name="Utc">When the report is made.</param>
/// <param name="IsVirtual">True where the book is that of the virtual house: then the report says so on every page.</param>
public sealed record HandOverFacts(SiteFiles Files, IReadOnlyList<CheckStep> Plan, CheckoutBook Book, DateTime Utc, bool IsVirtual)
{
    /// <summary>site.yaml as it stands, to see which proposals are in it.</summary>
    public string SiteText { get; init; } = "";

    /// <summary>Warnings of the reader: they are open points.</summary>
    public IReadOnlyList<string> Warnings { get; init; } = [];

    /// <summary>Trends, a picture a room and loop.</summary>
    public IReadOnlyList<HandOverPicture> Trends { get; init; } = [];

    /// <summary>Why there are no trends; "" where there are.</summary>
    public string NoTrends { get; init; } = "";

    /// <summary>Lines of measured room data, by room.</summary>
    public IReadOnlyDictionary<string, IReadOnlyList<string>> RoomData { get; init; } = new Dictionary<string, IReadOnlyList<string>>();

    /// <summary>The last pull-down of rooms that had one.</summary>
    public IReadOnlyList<HandOverPicture> PullDowns { get; init; } = [];

    /// <summary>Results that count now.</summary>
    public IReadOnlyList<CheckEntry> Current { get; } = Book.Current();

    /// <summary>Steps without a result.</summary>
    public IReadOnlyList<CheckStep> ToDo { get; } = [.. Plan.Where(step => Book.Latest(step.Id) is null)];

    /// <summary>Gathers what lies on disk.</summary>
    /// <param name="files">The site.</param>
    /// <param name="book">The book.</param>
    /// <param name="state">State folder of the controller.</param>
    /// <param name="logs">Folder of its trends.</param>
    /// <param name="utc">Now.</param>
    /// <param name="span">How far back trends go.</param>
    /// <param name="isVirtual">True for the book of the virtual house.</param>
    public static HandOverFacts Of(SiteFiles files, CheckoutBook book, StateFolder state, string logs, DateTime utc, TimeSpan span, bool isVirtual)
    {
        ArgumentNullException.ThrowIfNull(files);
        var facts = new HandOverFacts(files, CheckPlan.Of(files), book, utc, isVirtual);
        using var reader = TrendReader.Open(Path.Combine(logs, TrendRecorder.FileName), out var why);
        facts = reader?.Newest is { } newest ? facts with { Trends = [.. Pictures(files, reader, newest, span)] } : facts with { NoTrends = why.Length > 0 ? why : "nothing is recorded yet" };
        return WithRoomData(facts, files.House, state);
    }

    private static IEnumerable<HandOverPicture> Pictures(SiteFiles files, TrendReader reader, DateTime newest, TimeSpan span)
    {
        foreach (var place in files.House.Rooms.Select(room => room.Id).Concat(files.House.Loops.Select(loop => loop.Id)))
        {
            if (TrendView.SeriesOf(reader, place).Count == 0)
                continue;
            var view = TrendView.Of(reader, new TrendWish(place, newest - span, newest, files.Site.TimeZone, files.House.Units), TrendPicture.Columns);
            if (!view.IsEmpty)
                yield return new HandOverPicture(place, TrendPicture.Draw(view));
        }
    }

    private static HandOverFacts WithRoomData(HandOverFacts facts, House house, StateFolder state)
    {
        if (MemoryKeeper.Kept(state) is not { } kept || MemoryFile.RoomData(kept.Bytes) is not { } saved)
            return facts;
        Dictionary<string, IReadOnlyList<string>> lines = new(StringComparer.Ordinal);
        List<HandOverPicture> pictures = [];
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            var at = saved.Rooms.ToList().IndexOf(house.Rooms[i].Id);
            if (at < 0 || saved.Data[at].PullDowns == 0)
                continue;
            lines[house.Rooms[i].Id] = [.. RoomDataLines.Of(house, i, saved.Data[at]), RoomDataLines.Use(house, i, saved.Data[at])];
            if (RoomDataPicture.Draw(house, i, saved.Data[at]) is { } picture)
                pictures.Add(new HandOverPicture(house.Rooms[i].Id, picture));
        }
        return facts with { RoomData = lines, PullDowns = pictures };
    }
}

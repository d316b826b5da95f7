// Explaining without a controller: from the memory it kept, its trends and its history. Reads only; says where from and how old, and what it could not read.
using RoomSupervisor.Records;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Explain;

/// <summary>What a controller left behind.</summary>
/// <param name="files">The site.</param>
/// <param name="state">Its state folder.</param>
/// <param name="logs">Its log directory.</param>
/// <param name="utc">Now.</param>
public sealed class LeftOnDisk(SiteFiles files, StateFolder state, string logs, DateTime utc)
{
    /// <summary>Path of the trends.</summary>
    public string Trends { get; } = Path.Combine(logs, TrendRecorder.FileName);

    /// <summary>Status from files.</summary>
    public StatusFacts Status()
    {
        using var reader = TrendReader.Open(Trends, out var why);
        var moment = reader is null ? null : At(reader, null, out why);
        var (memory, ageS, problem) = Memory();
        var hands = memory is null || !(ageS >= 0) ? [] : HandFact.Of(files.House, memory.Hands, ageS);
        var parts = new List<string> { moment is null ? $"trends: {why}" : moment.From, memory is null ? problem : $"memory of {Age(ageS)} ago" };
        return new StatusFacts(moment, files.Site.TimeZone, utc, files.Site.Name, $"no controller answers; {string.Join("; ", parts.Where(part => part.Length > 0))}")
        {
            Open = reader is null ? [] : [.. reader.Book().Select(entry => (entry, Place(reader, entry)))],
            Hands = hands,
            Changed = state.History.Newest(),
            Care = Care.CareWork.Due(Care.CarePart.Of(files.House), Care.CareRecord.Parse(state.LoadCare()), CareLimits),
        };
    }

    /// <summary>A moment out of the trends; null with the reason.</summary>
    /// <param name="reader">The trends.</param>
    /// <param name="at">When, universal time; null: the newest.</param>
    /// <param name="why">Why there is none.</param>
    public Moment? At(TrendReader reader, DateTime? at, out string why)
    {
        why = "";
        if (reader.Newest is not { } newest)
        {
            why = "nothing is recorded yet";
            return null;
        }
        var wanted = at ?? newest;
        var moment = TrendMoment.At(files.House, reader, wanted, files.Site.TimeZone, at is null ? $"trends, newest sample {Age((utc - newest).TotalSeconds)} ago" : "trends of that time");
        if (moment is null)
            why = $"nothing was recorded within a quarter of an hour before then; the newest sample is {Age((utc - newest).TotalSeconds)} old";
        return moment;
    }

    /// <summary>When care of this site's parts is due.</summary>
    public Care.CareLimits CareLimits => new(files.Site.FilterAfterS, files.Site.CoilCleaningAfterS);

    private static string Age(double seconds) => Quantities.Show(Math.Max(0, seconds), Quantity.Duration, UnitSystem.Metric);

    /// <summary>The memory as it was kept, and its age, s; null with the reason.</summary>
    public (Memory? Memory, double AgeS, string Why) Memory()
    {
        if (MemoryKeeper.Kept(state) is not { } kept)
            return (null, double.NaN, "no memory was kept");
        return MemoryFile.TryLoad(kept.Bytes, files.House, out var memory, out var why) ? (memory, (utc - kept.Utc).TotalSeconds, "") : (null, double.NaN, why);
    }

    /// <summary>Name of an event's place; of a device as it was told then, for numbers of devices are those of that run.</summary>
    private string Place(TrendReader reader, BookEntry entry)
    {
        var house = files.House;
        var (owner, index) = (entry.Key.Owner, entry.Key.Index);
        var count = owner switch
        {
            Owner.Room => house.Rooms.Length,
            Owner.Loop => house.Loops.Length,
            Owner.Source => house.Sources.Length,
            Owner.Input => house.InputTable.Count,
            Owner.Output => house.OutputTable.Count,
            _ => 0,
        };
        if (index >= 0 && index < count)
            return house.NameOf(owner, index);
        var told = reader.Events(entry.SinceUtc.AddSeconds(-1), entry.SinceUtc.AddSeconds(1)).LastOrDefault(one => one.Id == entry.Key.EventId && one.Text == entry.Text);
        return told.Place ?? (entry.Key.Owner == Owner.Site ? files.House.Name : FormattableString.Invariant($"{entry.Key.Owner} {entry.Key.Index}"));
    }
}

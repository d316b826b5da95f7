// Keeps the counters over restarts: read at a start, written by the Records thread once an hour, after work was said to be done, and at the end. What a crash costs is the last hour. Must
// never hold up loop or log; a disk that cannot be written is the log's to tell.
using RoomSupervisor.Records;
using RoomSupervisor.Runtime.State;

namespace RoomSupervisor.Runtime.Care;

/// <summary>Counters on disk.</summary>
/// <param name="tap">The loop's side.</param>
public sealed class CareBook(CareTap tap) : IRecordsGuest
{
    /// <summary>Between two writings, s.</summary>
    public const double EveryS = 3600;

    private readonly Lock gate = new();
    private CareRecord record = new();
    private StateFolder? state;
    private double savedAtS;
    private bool isAsked;

    public long Written { get; private set; }

    /// <summary>When care is due.</summary>
    public CareLimits Limits => tap.Limits;

    /// <summary>Goes on from what is kept there, and keeps there from now on. Before the first scan.</summary>
    public void Keep(StateFolder folder)
    {
        lock (gate)
        {
            record = CareRecord.Parse(folder.LoadCare());
            for (var i = 0; i < tap.Parts.Count; i++)
            {
                if (record.Figures.TryGetValue((tap.Parts[i].Kind, tap.Parts[i].Id), out var kept))
                    tap.GoOn(i, kept);
            }
            state = folder;
        }
    }

    /// <summary>Everything as it is; any thread.</summary>
    public CareRecord Now()
    {
        lock (gate)
        {
            Take();
            return CareRecord.Parse(record.ToBytes());
        }
    }

    /// <summary>Work was done: counted anew from the next scan on, written with the next batch. Any thread.</summary>
    public void Do(IReadOnlyList<CareDone> done)
    {
        lock (gate)
        {
            record.Done.AddRange(done);
            for (var i = 0; i < tap.Parts.Count; i++)
            {
                if (done.Any(one => one.Kind == tap.Parts[i].Kind && one.Id == tap.Parts[i].Id))
                    tap.Reset(i);
            }
            isAsked = true;
        }
    }

    public void Drain()
    {
    }

    /// <inheritdoc/>
    public void Spill()
    {
        lock (gate)
        {
            if (state is null || (!isAsked && tap.CountedS - savedAtS < EveryS))
                return;
            Save(state);
        }
    }

    /// <summary>The end of the run: what was counted since is kept.</summary>
    public void Dispose()
    {
        lock (gate)
        {
            if (state is not null && tap.CountedS > savedAtS)
                Save(state);
            state = null;
        }
    }

    private void Save(StateFolder folder)
    {
        Take();
        Written += folder.SaveCare(record.ToBytes());
        (savedAtS, isAsked) = (tap.CountedS, false);
    }

    private void Take()
    {
        for (var i = 0; i < tap.Parts.Count; i++)
            record.Figures[(tap.Parts[i].Kind, tap.Parts[i].Id)] = tap.Of(i);
        // Parts that left the site long ago are let go of when there are far too many.
        var strangers = record.Figures.Keys.Where(key => !tap.Parts.Any(part => part.Kind == key.Kind && part.Id == key.Id)).ToList();
        foreach (var key in strangers.Take(Math.Max(0, strangers.Count - CareRecord.MostStrangers)))
            record.Figures.Remove(key);
    }
}

// The texts of the two files behind each house that a run has had, for the heads of its trace. The loop changes houses; whoever makes them tells here first.
using RoomSupervisor.Runtime.Start;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;

namespace RoomSupervisor.Runtime.Recording;

/// <summary>Texts by house. Safe for several threads.</summary>
/// <param name="first">The house a run starts with.</param>
/// <param name="site">Its site.yaml.</param>
public sealed class TraceTexts(House first, byte[] site)
{
    private const int Kept = 8;

    private readonly Lock guard = new();
    private readonly List<(House House, byte[] Site)> known = [(first, site)];

    /// <summary>A house that the loop is about to be given.</summary>
    public void Know(House house, byte[] siteText)
    {
        lock (guard)
        {
            known.Add((house, siteText));
            if (known.Count > Kept)
                known.RemoveAt(0);
        }
    }

    /// <summary>Its texts; of a house nobody told of, its household with the newest site.</summary>
    public SiteTexts Of(House house)
    {
        lock (guard)
        {
            var at = known.FindLastIndex(one => ReferenceEquals(one.House, house));
            return new SiteTexts(known[at < 0 ? known.Count - 1 : at].Site, SiteStart.BytesOf(HouseholdInForce.Of(house)));
        }
    }
}

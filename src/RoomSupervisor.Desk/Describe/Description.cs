// The description of a site: its own sequence of operation in prose, with its own numbers, for a consultant to check and sign. Made from the house as read, the declared
// parameters, the table of stages and the list of protections, so that it cannot differ from what the controller does. Describes nothing that the site has not.
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;

namespace RoomSupervisor.Desk.Describe;

/// <summary>Describes sites.</summary>
public static class Description
{
    /// <summary>The description.</summary>
    /// <param name="files">The site as read.</param>
    public static Paper Of(SiteFiles files)
    {
        ArgumentNullException.ThrowIfNull(files);
        return Make(new SiteView(files));
    }

    /// <summary>Keys of <c>sequence:</c> whose numbers stand in the description of a site.</summary>
    internal static IReadOnlyCollection<string> KeysOf(SiteFiles files)
    {
        var view = new SiteView(files);
        Make(view);
        return view.Named;
    }

    private static Paper Make(SiteView view)
    {
        List<Section> sections =
        [
            DescribeHouse.About(view),
            DescribeHouse.Rooms(view),
            DescribeHouse.Emitters(view),
            DescribeStages.Of(view),
            .. DescribeAir.Fans(view),
            .. DescribeAir.Drying(view),
            .. DescribeGuard.Of(view),
            DescribeLoops.Of(view),
            DescribeSource.Of(view),
            .. DescribeSource.HotWater(view),
            DescribeFaults.Frost(view),
            DescribeFaults.Protections(view),
            DescribeFaults.Faults(view),
            DescribeFaults.StartAndStop(view),
            DescribeEnd.Points(view),
        ];
        sections.Add(DescribeEnd.Numbers(view));   // last of what names numbers: it lists them
        sections.Add(DescribeEnd.Signing());
        return new Paper("sequence of operation", view.House.Name, "What the controller of this site does, with this site's numbers.", sections);
    }
}

// Points: every value that goes in or out of the controller has one id, the same in logs, lockstep, traces and wiring lists.
// Ids are strings at the edge and indices inside.
namespace RoomSupervisor.Terms;

/// <summary>A point of the house.</summary>
/// <param name="Id">&lt;owner&gt;.&lt;part&gt;.&lt;point&gt;, e.g. <c>weaving-room.air.temperature</c>.</param>
/// <param name="Quantity">Its quantity; <see cref="Quantity.Switch"/> for true or false.</param>
public sealed record Point(string Id, Quantity Quantity)
{
    public bool IsSwitch => Quantity == Quantity.Switch;
}

/// <summary>The inputs or the outputs of a house: ids to indices and back. Immutable.</summary>
public sealed class PointTable
{
    private readonly Point[] points;
    private readonly Dictionary<string, int> byId;

    /// <exception cref="ArgumentException">Two points share an id.</exception>
    public PointTable(IEnumerable<Point> all)
    {
        points = [.. all];
        byId = new Dictionary<string, int>(points.Length, StringComparer.Ordinal);
        for (var i = 0; i < points.Length; i++)
        {
            if (!byId.TryAdd(points[i].Id, i))
                throw new ArgumentException($"two points are called {points[i].Id}", nameof(all));
        }
    }

    public int Count => points.Length;

    public Point this[int index] => points[index];

    /// <summary>The point's index, or −1.</summary>
    public int IndexOf(string id) => byId.TryGetValue(id, out var index) ? index : -1;

    /// <summary>The point's index, or −1, without making a string.</summary>
    public int IndexOf(ReadOnlySpan<char> id) => byId.GetAlternateLookup<ReadOnlySpan<char>>().TryGetValue(id, out var index) ? index : -1;

    public IReadOnlyList<Point> All => points;
}

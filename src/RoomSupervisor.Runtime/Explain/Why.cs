// The way in to "why": finds what was asked about by name and answers from one moment of the house. Throws only for a name that does not exist.
using RoomSupervisor.Runtime.Control;
using RoomSupervisor.Site;

namespace RoomSupervisor.Runtime.Explain;

/// <summary>Answers to "why".</summary>
public static class Why
{
    /// <summary>Explains a room, a loop or a source; of the whole site every room, the one that is shortest first.</summary>
    /// <param name="moment">When.</param>
    /// <param name="place">What; null: every room.</param>
    /// <exception cref="ControlException">There is no such place; says what was probably meant.</exception>
    public static IReadOnlyList<WhyAnswer> Of(Moment moment, string? place)
    {
        var house = moment.House;
        if (place is null)
            return [.. Enumerable.Range(0, house.Rooms.Length).OrderByDescending(room => Rank(moment, room)).Select(room => RoomWhy.Of(moment, room))];
        for (var i = 0; i < house.Rooms.Length; i++)
        {
            if (house.Rooms[i].Id == place)
                return [RoomWhy.Of(moment, i)];
        }
        for (var i = 0; i < house.Loops.Length; i++)
        {
            if (house.Loops[i].Id == place)
                return [PlantWhy.OfLoop(moment, i)];
        }
        for (var i = 0; i < house.Sources.Length; i++)
        {
            if (house.Sources[i].Id == place)
                return [PlantWhy.OfSource(moment, i)];
        }
        var names = house.Rooms.Select(room => room.Id).Concat(house.Loops.Select(loop => loop.Id)).Concat(house.Sources.Select(source => source.Id)).ToList();
        var near = Nearest.To(place, names);
        throw new ControlException($"there is no room, loop or source \"{place}\"{(near is null ? $"; there is: {string.Join(", ", names)}" : $": did you mean {near}?")}");
    }

    /// <summary>One sentence on a room, and its kind.</summary>
    public static (VerdictKind Kind, string Text) Room(Moment moment, int room) => RoomWhy.Verdict(moment, room);

    /// <summary>A room nobody can measure comes first, then the one that is shortest.</summary>
    private static double Rank(Moment moment, int room) => RoomWhy.ShortK(moment, room) is var k && double.IsNaN(k) ? double.MaxValue : k;
}

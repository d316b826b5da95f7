// The ways from stage to stage that the rooms of one house can go, in the order in which the controller looks at them, with that house's numbers.
// Made from the rows the controller itself walks; never called in a step. Leaves out what no room there can do.
using System.Collections.Immutable;
using RoomSupervisor.Sequence.Rooms;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Sequence.Telling;

/// <summary>A way from one stage to another at one site.</summary>
/// <param name="From">Name of the stage it leads out of.</param>
/// <param name="To">Name of the stage it leads to.</param>
/// <param name="When">Its condition with the site's numbers.</param>
/// <param name="Rooms">Indices of the rooms that can go it.</param>
public sealed record StageLine(string From, string To, string When, ImmutableArray<int> Rooms)
{
    /// <summary>Keys of <c>sequence:</c> whose numbers stand in its condition.</summary>
    public IReadOnlyList<string> Keys { get; init; } = [];
}

/// <summary>Stages of one house in words.</summary>
public static class StageLines
{
    /// <summary>Every way that a room of the house can go, the first that holds wins.</summary>
    public static IReadOnlyList<StageLine> Of(House house)
    {
        ArgumentNullException.ThrowIfNull(house);
        var lines = new List<StageLine>();
        foreach (var way in StageTable.All)
        {
            ImmutableArray<int> rooms = [.. Enumerable.Range(0, house.Rooms.Length).Where(room => CanGo(house, house.Rooms[room], way))];
            if (rooms.Length == 0)
                continue;
            var words = way.Words + (rooms.Any(room => house.Rooms[room].Circuits.Length > 0) ? way.WithSurface : "") + (rooms.Any(room => HasHeatedSlab(house, house.Rooms[room])) ? way.WithSlab : "");
            lines.Add(new StageLine(
                way.From is { } from ? NameOf(house, from) : "any stage", NameOf(house, way.To), SettingWords.Fill(words, house.Settings, house.Units), rooms)
            { Keys = [.. SettingWords.KeysOf(words)] });
        }
        return lines;
    }

    /// <summary>Names of the stages that a room of the house can be in.</summary>
    public static IReadOnlyList<string> OfRoom(House house, Room room)
    {
        ArgumentNullException.ThrowIfNull(house);
        ArgumentNullException.ThrowIfNull(room);
        return [.. Enum.GetValues<Stage>().Where(stage => CanBeIn(house, room, stage)).Select(Names.Of)];
    }

    /// <summary>True when a coil of the room may work in a direction.</summary>
    public static bool HasCoil(House house, Room room, bool heats)
    {
        ArgumentNullException.ThrowIfNull(house);
        ArgumentNullException.ThrowIfNull(room);
        return room.Coils.Any(coil => Works(house.Loops[RoomCoils.LoopOf(house.Coils[coil], heats)], heats));
    }

    /// <summary>True when a surface of the room may work in a direction.</summary>
    public static bool HasSurface(House house, Room room, bool heats)
    {
        ArgumentNullException.ThrowIfNull(house);
        ArgumentNullException.ThrowIfNull(room);
        return room.Circuits.Any(circuit => Works(house.Loops[house.Circuits[circuit].Loop], heats));
    }

    /// <summary>True where openings can be read off the air: dew points indoors and outdoors are measured.</summary>
    public static bool CanInferOpenings(House house, Room room)
    {
        ArgumentNullException.ThrowIfNull(house);
        ArgumentNullException.ThrowIfNull(room);
        return IsWired(house, room.AirHumidity) && IsWired(house, house.Points.OutdoorTemperature) && IsWired(house, house.Points.OutdoorHumidity);
    }

    private static bool Works(Loop loop, bool heats) => heats ? loop.Heats : loop.Cools;

    private static bool IsWired(House house, int input) => input >= 0 && house.Inputs[input].Wired;

    private static bool HasHeatedSlab(House house, Room room)
        => room.Circuits.Any(circuit => house.Circuits[circuit].Kind.IsSlab && house.Loops[house.Circuits[circuit].Loop].Heats);

    private static bool HasBothSeasons(House house, Room room)
        => room.Circuits.Select(circuit => house.Circuits[circuit].Loop).Concat(room.Coils.Select(coil => house.Coils[coil].Loop)).Any(loop => house.Loops[loop].Seasons == Seasons.Both);

    private static bool CanGo(House house, Room room, StageWay way)
    {
        if (way.From is null && way.To == Towards.Opening && !(ReferenceEquals(way, FirstOpening) ? IsWired(house, room.OpeningContact) : CanInferOpenings(house, room)))
            return false;
        if (way.ByTheOtherSeason && !HasBothSeasons(house, room))
            return false;
        return (way.From is not { } from || CanBeIn(house, room, from)) && CanBeIn(house, room, way.To);
    }

    /// <summary>The way by a contact stands before the one by the air.</summary>
    private static StageWay FirstOpening { get; } = StageTable.All.First(way => way.From is null && way.To == Towards.Opening);

    private static bool CanBeIn(House house, Room room, Towards towards)
        => towards == Towards.Resume || Enum.GetValues<Stage>().Any(stage => StageTable.Of(stage) == towards && CanBeIn(house, room, stage));

    private static bool CanBeIn(House house, Room room, Stage stage) => stage switch
    {
        Stage.PullDown => HasCoil(house, room, heats: false),
        Stage.WarmUp => HasCoil(house, room, heats: true),
        Stage.EasingOff => HasCoil(house, room, heats: false) || HasCoil(house, room, heats: true),
        Stage.CoilHelps => InEither(heats => HasCoil(house, room, heats) && HasSurface(house, room, heats)),
        Stage.RadiantHold => InEither(heats => HasSurface(house, room, heats)),
        Stage.CoilHold => InEither(heats => HasCoil(house, room, heats) && !HasSurface(house, room, heats)),
        Stage.Opening => IsWired(house, room.OpeningContact) || CanInferOpenings(house, room),
        _ => true,
    };

    private static bool InEither(Func<bool, bool> holds) => holds(false) || holds(true);

    private static string NameOf(House house, Towards towards) => towards == Towards.Resume ? "the stage before"
        : string.Join(" / ", Enum.GetValues<Stage>().Where(stage => StageTable.Of(stage) == towards && house.Rooms.Any(room => CanBeIn(house, room, stage))).Select(Names.Of));
}

// What stands on a schematic: columns (rooms, and coils of several rooms), loops, sources, each with its points. Every wired point has one place. Pure data, made from the house.
using RoomSupervisor.Desk.Describe;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Drawing;

/// <summary>A point on the drawing.</summary>
/// <param name="Id">Its whole id.</param>
/// <param name="Label">What of it stands there: the rest is the heading above it.</param>
/// <param name="Letters">Letters of its instrument.</param>
internal sealed record DrawnPoint(string Id, string Label, string Letters);

/// <summary>A coil or surface on one loop.</summary>
/// <param name="Name">Its part.</param>
/// <param name="IsCoil">Coil or surface.</param>
/// <param name="Points">Its points, that of its valve first.</param>
internal sealed record DrawnEmitter(string Name, bool IsCoil, IReadOnlyList<DrawnPoint> Points);

/// <summary>A room, or a coil of several rooms.</summary>
/// <param name="Title">Its heading.</param>
/// <param name="Under">What stands under the heading.</param>
/// <param name="Points">Points of its own.</param>
/// <param name="Emitters">What hangs in it, by loop.</param>
internal sealed record DrawnColumn(string Title, string Under, IReadOnlyList<DrawnPoint> Points, ILookup<int, DrawnEmitter> Emitters);

/// <summary>A loop.</summary>
internal sealed record DrawnLoop(int Index, int Source, string Title, bool IsMixed, bool HasStandby, IReadOnlyList<DrawnPoint> Mixing, IReadOnlyList<DrawnPoint> Pump, IReadOnlyList<DrawnPoint> Sensors, IReadOnlyList<DrawnPoint> Return);

/// <summary>A source, with the buffer behind it and the tank it charges where it has them.</summary>
internal sealed record DrawnSource(string Name, string Type, IReadOnlyList<DrawnPoint> Points, IReadOnlyList<DrawnPoint>? Buffer, IReadOnlyList<DrawnPoint>? Tank);

/// <summary>Everything on the drawing.</summary>
internal sealed record SchematicParts(string Site, IReadOnlyList<DrawnColumn> Columns, IReadOnlyList<DrawnLoop> Loops, IReadOnlyList<DrawnSource> Sources, IReadOnlyList<DrawnPoint> Others)
{
    /// <summary>The parts of a site.</summary>
    public static SchematicParts Of(SiteFiles files)
    {
        var house = files.House;
        var wired = files.Wiring.Select(wire => wire.PointId).Distinct().ToList();
        IReadOnlyList<DrawnPoint> Points(Func<PointId, bool> which, Func<PointId, string> label)
            => [.. wired.Where(id => which(PointId.Of(id))).Select(id => new DrawnPoint(id, label(PointId.Of(id)), PointWords.Of(id).Letters))];
        var maker = new Maker(house, Points);
        return new SchematicParts(
            house.Name, [.. house.Rooms.Select(maker.Room), .. maker.Shared()], [.. house.Loops.Select(maker.Loop)], [.. house.Sources.Select(maker.Source)],
            Points(name => name.Owner is "outdoor" or "site", name => $"{name.Owner}.{name.Part}.{name.Point}"));
    }

    private sealed class Maker(House house, Func<Func<PointId, bool>, Func<PointId, string>, IReadOnlyList<DrawnPoint>> points)
    {
        private static string Short(PointId name) => $"{name.Part}.{name.Point}";

        public DrawnColumn Room(Room room)
        {
            var own = points(name => name.Owner == room.Id && PointWords.FamilyOf(name.Part) is not ("coil" or "surface"), Short);
            var emitters = house.Circuits.Where(circuit => house.Rooms[circuit.Room] == room).Select(circuit => (circuit.Loop, Emitter(circuit.Id, false, _ => true)))
                .Concat(house.Coils.Where(coil => PointId.OwnerOf(coil.Id) == room.Id).SelectMany(OfCoil));
            var number = room.Settings.Number.ToString(System.Globalization.CultureInfo.InvariantCulture);
            return new DrawnColumn($"{number} {room.Id}", Quantities.Show(room.Settings.FloorAreaM2, Quantity.Area, house.Units), own, emitters.ToLookup(pair => pair.Item1, pair => pair.Item2));
        }

        public IEnumerable<DrawnColumn> Shared()
            => house.Coils.Where(coil => !house.Rooms.Any(room => room.Id == PointId.OwnerOf(coil.Id)))
                .Select(coil => new DrawnColumn(PointId.OwnerOf(coil.Id), $"for {string.Join(", ", coil.Rooms.Select(room => house.Rooms[room].Settings.Number))}", [], OfCoil(coil).ToLookup(pair => pair.Loop, pair => pair.Emitter)));

        /// <summary>A coil on its loop; in a four-pipe house its heating valve on the other.</summary>
        private IEnumerable<(int Loop, DrawnEmitter Emitter)> OfCoil(Coil coil)
        {
            var isFourPipe = coil.HeatingLoop >= 0;
            yield return (coil.Loop, Emitter(coil.Id, true, name => !isFourPipe || name.Point != "heating_valve"));
            if (!isFourPipe)
                yield break;
            var warm = Emitter(coil.Id, true, name => name.Point == "heating_valve");
            yield return (coil.HeatingLoop, warm with { Name = $"{warm.Name}, its warm side" });   // one coil, drawn on both its loops
        }

        private DrawnEmitter Emitter(string id, bool isCoil, Func<PointId, bool> which)
            => new(id[(id.IndexOf('.', StringComparison.Ordinal) + 1)..], isCoil,
                [.. points(name => $"{name.Owner}.{name.Part}" == id && which(name), name => name.Point).OrderByDescending(point => point.Letters == "TV")]);

        public DrawnLoop Loop(Loop loop, int index)
        {
            IReadOnlyList<DrawnPoint> Of(params string[] parts) => points(name => name.Owner == loop.Id && parts.Contains(name.Part), Short);
            var season = loop.Seasons switch { Seasons.Cooling => "cooling", Seasons.Heating => "heating", _ => "cooling and heating" };
            return new DrawnLoop(index, loop.Source, $"{loop.Id}: {(loop.Type == LoopType.Mixed ? "mixed" : "direct")}, {season}", loop.Type == LoopType.Mixed, loop.StandbyPump >= 0,
                Of("mixing"), Of("pump", "standby_pump"), Of("supply", "flow", "high_limit", "water", "manifold"), Of("return"));
        }

        public DrawnSource Source(Source source, int index)
        {
            var type = source.Type switch { SourceType.HeatPump => "heat pump", SourceType.Boiler => "boiler", _ => "chiller" };
            var own = points(name => name.Owner == source.Id, Short);
            return new DrawnSource(source.Id, type, own, index == 0 && house.Buffer is not null ? points(name => name.Owner == "buffer", Short) : null,
                house.HotWater is { } tank && tank.Source == index ? points(name => name.Owner == "hot-water", Short) : null);
        }
    }
}

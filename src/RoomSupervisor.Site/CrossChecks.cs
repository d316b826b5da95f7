// What only several keys together can show to be wrong: points that a part cannot do without, a tray that would not stop its coil,
// a heated floor without a high limit. Errors where somebody could be hurt or something damaged, warnings with the consequence elsewhere.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Site;

internal sealed class CrossChecks(Problems problems, PointReader points, KindReader kinds, RoomReader rooms, LoopReader loops)
{
    /// <summary>Points that parts cannot do without. Only sound parts are looked at: the others are told already.</summary>
    public void Wiring()
    {
        foreach (var room in rooms.Rooms)
            Room(room);
        foreach (var shared in rooms.SharedCoils)
        {
            Required(shared.Part.Name, "coil.fan", shared.Mark, "");
            Tray(shared.Part.Name, "coil", shared.Part.Coil, shared.Mark, $"coils.{shared.Part.Name}");
        }
        foreach (var loop in loops.Loops)
            Loop(loop, loops.Marks[loop.Name]);
    }

    /// <summary>Parts against each other, wired or not.</summary>
    public void Parts(PlantReader plant)
    {
        // A room may seem empty only because the coil that serves it was refused.
        foreach (var room in rooms.Rooms.Where(room => problems.Errors == 0 && room.Coils.Count == 0 && room.Surfaces.Count == 0 && !SharedIn(room.Name).Any()))
            problems.Error(room.Mark, $"rooms.{room.Name}", "", "has neither a coil nor a surface: there is nothing to control", "coil, ceiling, floor or wall", "add what heats or cools it");
        foreach (var loop in loops.Loops)
            new LoopChecks(problems, points, kinds, rooms, loops).Check(loop);
        if (problems.Errors > 0)
            return;
        new PlantChecks(problems, points, plant).Check();
    }

    private IEnumerable<ReadSharedCoil> SharedIn(string room) => rooms.SharedCoils.Where(shared => shared.Part.Rooms.Contains(room));

    private void Room(ReadRoom room)
    {
        Required(room.Name, "air.temperature", room.Mark, "");
        if (room.Surfaces.Any(surface => loops.Loops.Exists(loop => loop.Name == surface.Loop && loop.Seasons != Seasons.Heating)))
            Required(room.Name, "air.humidity", room.Mark, ": without humidity nobody knows when its cooled surface gets wet");
        if (room.Settings.IsOperative && !room.Surfaces.Any(surface => points.Written.Contains($"{room.Name}.{surface.Name}.temperature")))
            problems.Warn(room.Group.MarkOf("control_by"), $"rooms.{room.Name}.control_by", "operative", "no surface of the room has a temperature sensor: the air counts alone", "wire the temperature of its surface, or write control_by: air");
        foreach (var surface in room.Surfaces)
        {
            Required(room.Name, $"{surface.Name}.valve", room.Mark, "");
            if (surface.Settings.IsBath && surface.Settings.IsEdge)
                problems.Warn(room.Mark, $"rooms.{room.Name}.{surface.Name}.edge", "", problems.Words("and bath are both said: the edge zone's 35 °C hold, and bare feet feel them"), "say one of them");
            if (surface.Place != SurfacePlace.Wall && surface.Settings.AreaM2 > room.Settings.FloorAreaM2)
                problems.Warn(room.Mark, $"rooms.{room.Name}.{surface.Name}.area", "", "is larger than the floor: the surface would be counted on for more than it can give", "look at both areas");
        }
        foreach (var coil in room.Coils)
        {
            Required(room.Name, $"{coil.Name}.fan", room.Mark, "");
            Tray(room.Name, coil.Name, coil, room.Mark, $"rooms.{room.Name}.{coil.Name}");
        }
        if (IsMissing(room.Name, "opening.open") && (room.Coils.Count > 0 || room.Surfaces.Any(surface => surface.Place != SurfacePlace.Floor)))
            problems.Warn(room.Mark, $"rooms.{room.Name}", "", "has no opening contact: the room goes on cooling with a door open until the dew point betrays it", "wire opening.open");
    }

    private void Tray(string owner, string coil, CoilPart part, Mark mark, string path)
    {
        if (!part.Kind.DripTraySwitch)
            problems.Warn(mark, path, "", "has no drip tray switch: a blocked drain floods the room unnoticed", "fit one, and say drip_tray_switch: true in its kind");
        else if (IsMissing(owner, $"{coil}.drip_tray_full"))
            problems.Error(mark, path, "", "its kind has a drip tray switch that is not wired: a full tray would not stop the coil", $"{coil}.drip_tray_full", "wire it under points");
    }

    private void Loop(LoopPart loop, Mark mark)
    {
        Required(loop.Name, "pump.run", mark, "");
        var cooled = loop.Serves == LoopServes.Surfaces && loop.Seasons != Seasons.Heating;
        if (loop.Type == LoopType.Mixed)
            Required(loop.Name, "mixing.valve", mark, "");
        if (loop.Type == LoopType.Mixed || cooled)
            Required(loop.Name, "supply.temperature", mark, cooled ? ": nothing would keep its surfaces above the dew point" : "");
    }

    private void Required(string owner, string point, Mark mark, string why)
    {
        if (IsMissing(owner, point))
            problems.Error(mark, $"{owner}.{point}", "", $"is not wired, and cannot be done without{why}", "", "add it under points: {device: …, channel: …}");
    }

    private bool IsMissing(string owner, string point) => !points.Written.Contains($"{owner}.{point}") && !points.Damaged.Contains(owner);
}

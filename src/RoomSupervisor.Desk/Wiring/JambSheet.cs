// The sheet for the lid of the panel: what it is, what hangs on it, how to stop it by hand, whom to call. One page. Must never hold a secret: whoever opens the lid reads it.
using System.Globalization;
using RoomSupervisor.Desk.Describe;
using RoomSupervisor.Sequence;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Wiring;

/// <summary>The sheet for the lid.</summary>
internal static class JambSheet
{
    public static Section Of(WirePlan plan, SiteFiles files, PaperFacts facts)
    {
        var house = files.House;
        return new Section("For the lid of the panel",
        [
            new Words($"{plan.Site}. Room supervisory controller for heating and cooling: {Rooms(house)}. Not a safety device."),
            new Bullets([.. Lines(plan, house)]),
            new Table(["pumps and machine", "device and terminal", "cable", "if the board dies"], [.. Machines(plan)]),
            new Table(["device", "address", "in"], [.. plan.Devices.Where(device => !device.IsSensor).Select(device => (IReadOnlyList<string>)[device.Name, device.Address, device.Panel])]),
            new Blanks(["supply of the panel is switched off at", "mains of pumps and fans is switched off at", "main valve of the water", "hand–off–auto switches are at", "installer, telephone", "protections proved on"]),
            new Words(facts.Line),
        ])
        { OnNewSheet = true, IsFramed = true, IsUpright = true };
    }

    private static string Rooms(House house)
        => string.Join(", ", house.Rooms.OrderBy(room => room.Settings.Number).Select(room => string.Create(CultureInfo.InvariantCulture, $"{room.Settings.Number} {room.Id}")));

    private static IEnumerable<string> Lines(WirePlan plan, House house)
    {
        yield return "Stop: hand–off–auto switches to off. The controller goes on reading and says that nothing moves.";
        if (house.Circuits.Any(circuit => house.Loops[circuit.Loop].Cools))
            yield return "In hand a cooled surface has no dew-point control: only its condensation switch keeps it dry. Never run it in hand on a humid day.";
        if (house.Circuits.Any(circuit => house.Loops[circuit.Loop].Heats))
            yield return "In hand a heated surface has no limit but its thermostat.";
        yield return "What it does and why: room-supervisor status, room-supervisor why ROOM.";
        if (house.Points.Health >= 0)
        {
            var health = plan.Rows.First(row => row.Id == SiteWires.HealthPoint);
            yield return $"Health relay: {health.Device.Name} {health.Terminals[0].Place}; {(health.IsInverted ? "falls off" : "drawn")} while all is well.";
        }
        yield return "Work on mains only by a licensed electrician, on water and refrigerant by licensed people; local codes come first.";
    }

    private static IEnumerable<IReadOnlyList<string>> Machines(WirePlan plan)
        => plan.Rows.Where(row => row.IsOutput && row.Kind.Letters == "XY" && row.Kind.MayBeMains)
            .Select(row => (IReadOnlyList<string>)[row.Id, $"{row.Device.Name} {row.Terminals[0].Place}", string.Join(", ", row.Cables), row.Dies]);
}

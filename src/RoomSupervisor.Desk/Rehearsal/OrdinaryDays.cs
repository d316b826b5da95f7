// A scenario for a site that has none: two hot days (cold ones where nothing can cool) with people in the evenings and at night, cooking, and one window open after lunch.
// Must never be taken for what a household does: it only keeps rooms from standing empty.
using System.Globalization;
using System.Text;
using RoomSupervisor.Sequence;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Desk.Rehearsal;

/// <summary>The scenario nobody wrote, as a file's text.</summary>
public static class OrdinaryDays
{
    /// <summary>Its text.</summary>
    /// <param name="house">The site's house.</param>
    /// <param name="building">Its building: people and devices where it names them, else one person for 20 m² and 3 W/m² (common practice, no published source).</param>
    /// <param name="days">Days somebody asked for; 0: two.</param>
    public static string Text(House house, BuildingFile building, int days = 0)
    {
        var text = new StringBuilder("weather: new-york\nfrom: ").Append(house.Loops.Any(loop => loop.Cools) ? "2026-07-08" : "2026-02-04").Append("\ndays: 2\nhappenings:\n");
        foreach (var room in house.Rooms)
        {
            var shell = building.Rooms[room.Id];
            var area = room.Settings.FloorAreaM2;
            var people = double.IsNaN(shell.People) ? Math.Max(1, Math.Floor(area / 20)) : shell.People;
            var devices = double.IsNaN(shell.DevicesW) ? Math.Round(3 * area) : shell.DevicesW;
            if (people > 0)
                text.Append(CultureInfo.InvariantCulture, $"  {room.Id}-people: {{what: people, where: {room.Id}, count: {people}, at: 18:00, for: 13 h}}\n");
            if (devices > 0)
                text.Append(CultureInfo.InvariantCulture, $"  {room.Id}-devices: {{what: devices, where: {room.Id}, count: {devices}, at: 00:00, for: 24 h}}\n");
        }
        var first = house.Rooms[0].Id;
        var opening = building.Openings.FirstOrDefault(o => o.Room == first)?.Name ?? first + "-window";
        text.Append(CultureInfo.InvariantCulture, $"  cooking: {{what: cooking, where: {first}, at: 18:30, for: 30 min}}\n");
        text.Append(CultureInfo.InvariantCulture, $"  airing: {{what: open, where: {opening}, day: {(days == 1 ? 1 : 2)}, at: 14:00, for: 30 min}}\n");
        return text.ToString();
    }
}

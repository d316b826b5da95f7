// How a room is brought to what is wanted: the stages it can be in, who works in them, and every way from one to another as the controller looks at them. Must never show a way no room can go.
using System.Globalization;
using RoomSupervisor.Sequence;
using RoomSupervisor.Sequence.Telling;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Describe;

/// <summary>The stages.</summary>
internal static class DescribeStages
{
    public static Section Of(SiteView view)
    {
        var house = view.House;
        var can = house.Rooms.SelectMany(room => StageLines.OfRoom(house, room)).ToHashSet(StringComparer.Ordinal);
        List<Block> blocks = [new Words(view.Say("A room works towards one set point at a time. Changes that raise the output are at least {dwell} apart.")), new Bullets([.. Meanings(view).Where(one => can.Contains(one.Stage)).Select(one => $"{one.Stage}: {view.Say(one.Words)}")])];
        blocks.Add(new Words("Which stage follows: of the rows of a stage the first that holds; those of any stage come before all others. Rooms by their numbers."));
        blocks.Add(new Table(["from", "to", "when", "rooms"], [.. view.Stages().Select(line => (IReadOnlyList<string>)[line.From, line.To, line.When, RoomsOf(house, line)])]));
        blocks.AddRange(Rules(view).Select(rule => new Words(rule)));
        return new Section("How a room is conditioned", blocks);
    }

    private static string RoomsOf(House house, StageLine line)
        => line.Rooms.Length == house.Rooms.Length ? "all" : string.Join(", ", line.Rooms.Select(room => house.Rooms[room].Settings.Number.ToString(CultureInfo.InvariantCulture)));

    /// <summary>What each stage does, in the words of this house; numbers by their keys.</summary>
    private static IEnumerable<(string Stage, string Words)> Meanings(SiteView view)
    {
        var both = view.House.Rooms.Any(room => StageLines.OfRoom(view.House, room).Contains(Names.Of(Stage.CoilHelps)));
        // A surface that only cools warms nobody up, and one that only heats helps no pull-down.
        bool Together(bool heats) => view.House.Rooms.Any(room => StageLines.HasCoil(view.House, room, heats) && StageLines.HasSurface(view.House, room, heats));
        yield return (Names.Of(Stage.Off), "nothing runs; protection goes on.");
        yield return (Names.Of(Stage.Satisfied), "nothing is asked for.");
        yield return (Names.Of(Stage.PullDown), "the coils cool with their fans at their limits and the coldest water the loop may have"
            + (Together(heats: false) ? "; the surface stays shut, and helps when the coil alone has worked for {pull_down_alone} and would take longer than another {pull_down_horizon}." : "."));
        yield return (Names.Of(Stage.WarmUp), $"the coils heat with their fans at their limits{(Together(heats: true) ? ", the surface with them" : "")}.");
        yield return (Names.Of(Stage.EasingOff), "before the set point is reached, at most {stop_distance_at_most} away, the fan fades to the speed that carries the load" + (both ? ", and the surface opens for all it may give." : "."));
        yield return (Names.Of(Stage.CoilHelps), "coil and surface work together. The coil hands over when demand is under {hand_over_share} of what the surface may give for {hand_over_wait}; then the surface gets {hand_over_extra} of the coil's least on top until it has proven itself.");
        yield return (Names.Of(Stage.RadiantHold), "the surface carries the demand alone, in silence.");
        yield return (Names.Of(Stage.CoilHold), view.House.Circuits.Length > 0 ? "where no surface works in the season the coil carries the demand." : "the coil carries the demand.");
        yield return (Names.Of(Stage.Opening), "a door or window is open: the room gets nothing.");
    }

    private static IEnumerable<string> Rules(SiteView view)
    {
        var house = view.House;
        if (house.Coils.Length > 0)
            yield return view.Say("Demand while a coil runs is proportional and integral on the error: gain by the air's capacity over {demand_time}, integral over {demand_integral}. "
                + (view.CooledCoils.Count > 0 ? "A coil whose flowing water is not {coil_cooler_by} colder than the room for {warm_water_wait} stops. " : "")
                + (house.Coils.Any(coil => house.Loops[coil.HeatingLoop >= 0 ? coil.HeatingLoop : coil.Loop].Heats) ? "In heating a fan waits for water {coil_warmer_by} warmer than the room: no cold blow." : "")).TrimEnd();
        if (house.Circuits.Any(circuit => !circuit.Kind.IsSlab))
            yield return view.Say("A thin surface alone is asked for {surface_gain} times its area and the error, integral over {surface_integral}.");
        if (house.Circuits.Any(circuit => circuit.Kind.IsSlab))
            yield return view.Say("A slab alone is asked for {slab_gain} times its area and the error, integral over {slab_integral}.");
        if (house.Coils.Any(coil => coil.Rooms.Length > 1))
            yield return "A coil of several rooms follows the room that wants most of it, within the limits of all of them; while one wants heat and another cold it works for one direction at a time.";
        if (house.Rooms.Any(room => view.IsWired(room.OpeningContact)))
            yield return Openings(view);
        if (view.Cools && view.Heats)
            yield return $"Cooling and heating set points of a room are at least {view.Show(HouseholdRoom.DeadBandK, Quantity.TemperatureDifference)} apart.";
    }

    private static string Openings(SiteView view)
    {
        var knowsOutdoors = view.IsWired(view.House.Points.OutdoorTemperature) && view.IsWired(view.House.Points.OutdoorHumidity);
        string[] sentences =
        [
            "Openings: a contact open for less than {opening_wait} changes nothing.",
            .. knowsOutdoors ? ["One open for longer than {contact_believed} is ignored, with a warning, while temperature and dew point are {contact_apart} and more from outdoors."] : Array.Empty<string>(),
            .. view.CooledCoils.Count > 0 ? ["A room that was open is pulled down at once when it is over {pull_down_after_opening} too warm."] : Array.Empty<string>(),
        ];
        return view.Say(string.Join(' ', sentences));
    }
}

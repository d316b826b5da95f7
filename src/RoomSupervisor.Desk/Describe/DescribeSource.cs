// What makes the water: when it is called, how long it runs and rests, change-over, buffer, hot water. Only what the site has. Must never say that a machine does what only its maker knows.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Describe;

/// <summary>Sources, buffer and hot water.</summary>
internal static class DescribeSource
{
    public static Section Of(SiteView view)
    {
        List<string> lines = [.. view.House.Sources.Select(source => Source(view, source))];
        lines.Add(view.Say($"A source is called when requests of its rooms have stood for {{source_wait}}" + (view.House.Coils.Length > 0 ? $", at once for a {Pulls(view)}." : ".")
            + " Shortest run {source_minimum_run}, shortest rest {source_minimum_off}, at most {source_starts} starts within any hour."));
        if (view.House.Rooms.Any(room => view.IsWired(room.OpeningContact)) && view.CooledCoils.Count > 0)
            lines.Add(view.Say("A room with an open door that will be pulled down when it shuts keeps the source ready for {opening_asks_for}" + ColdestWhileOpen(view)));
        if (view.House.Sources.Any(source => source.ChangesOver))
            lines.AddRange(ChangeOver(view));
        if (view.House.Sources.Any(source => view.IsWired(source.Defrosting) || view.IsWired(source.MakingHotWater)))
            lines.Add(view.Say("While it says that it defrosts or makes hot water its water is not for the rooms: pumps of direct loops stand" + (view.House.Loops.Any(loop => loop.Type == LoopType.Mixed) ? ", mixing valves recirculate" : "") + (view.House.Coils.Length > 0 ? ", fans stop." : ".") + " Its word is believed for {not_for_rooms_at_most}."));
        if (view.House.Buffer is { } buffer)
            lines.Add(Buffer(view, buffer));
        if (view.IsWired(view.House.Points.Surplus))
            lines.Add(view.Say("Surplus power" + (view.House.HotWater is null ? "" : " charges the tank {surplus_tank} warmer") + (view.House.Buffer is null ? "" : $"{(view.House.HotWater is null ? "" : " and")} charges a buffer that is charged anyway {{surplus_buffer}} further") + "; it cools or heats no room beforehand."));
        return new Section(view.House.Sources.Length > 1 ? "Sources" : "Source", [new Bullets(lines)]);
    }

    private static string Source(SiteView view, Source source)
    {
        var type = source.Type switch
        {
            SourceType.HeatPump => "heat pump",
            SourceType.Boiler => "boiler",
            _ => "chiller",
        };
        var least = double.IsNaN(source.Settings.MinimumOutputW) ? "" : $", least output {view.Show(source.Settings.MinimumOutputW, Quantity.Power)}";
        string[] told = [.. source.CallCooling >= 0 ? ["whether to cool"] : Array.Empty<string>(), .. source.SetPoint >= 0 ? ["its set point"] : Array.Empty<string>(), .. source.ChangeOver >= 0 ? ["the change-over valve"] : Array.Empty<string>()];
        string[] says =
        [
            .. view.IsWired(source.Running) ? ["that it runs"] : Array.Empty<string>(), .. view.IsWired(source.Defrosting) ? ["that it defrosts"] : Array.Empty<string>(), .. view.IsWired(source.MakingHotWater) ? ["that it makes hot water"] : Array.Empty<string>(),
            .. view.IsWired(source.LockedOut) ? ["that the utility has locked it"] : Array.Empty<string>(), .. view.IsWired(source.Fault) ? ["its faults"] : Array.Empty<string>(),
        ];
        var counted = view.IsWired(source.Running) ? " Run, rest and starts are counted by what it does." : " Run, rest and starts are counted by its call, for nothing tells what it does.";
        return $"{source.Id}: {type}{least}, for {SiteView.List(source.Loops.Select(loop => view.House.Loops[loop].Id))}. It is told when to run{(told.Length > 0 ? $", {SiteView.List(told)}" : "")}{(says.Length > 0 ? $", and says {SiteView.List(says)}" : "")}.{counted}";
    }

    /// <summary>Where the source is told its set point, or a buffer is filled, an open door asks for the water a pull-down takes. (Cooled surfaces always have a mixing valve: the site's reader refuses others.)</summary>
    private static string ColdestWhileOpen(SiteView view)
        => view.House.Sources.All(source => source.SetPoint < 0 || !source.Cools) && !IsRead(view) ? "." : ", and its water as cold as a pull-down takes it.";

    private static IEnumerable<string> ChangeOver(SiteView view)
    {
        yield return view.Say("Change-over between cooling and heating: when nobody has wanted what it makes for {change_over_wait} and somebody the opposite, or when more floor has wanted the opposite for as long; the smaller part gets a turn of at most {minority_turn} after {minority_every}. "
            + (view.IsWired(view.House.Points.OutdoorTemperature) ? "Never to cooling under {no_cooling_under} outdoors, never to heating over {no_heating_over}. " : "")
            + "Pumps stand and water waits to be between {neutral_from} and {neutral_to}, for at most {neutral_at_most}; the rooms wait {change_over_valve_time} more for the valve.");
        yield return view.Say("Between opposite uses " + (view.House.Circuits.Any(circuit => circuit.Kind.IsSlab) ? "slabs rest {slab_opposite_rest}, " : "") + $"{Quick(view)} {{coil_opposite_rest}}; a room {{too_cold}} too cold ends the rest.");
        if (view.House.Coils.Any(coil => view.House.Loops[coil.Loop].Seasons == Seasons.Both))
            yield return view.Say("A coil on a loop for both seasons cools only with water {two_pipe_cooler_by} and more under its room.");
    }

    private static string Pulls(SiteView view) => Pulls(view.Cools, view.Heats);

    private static string Pulls(Source source) => Pulls(source.Cools, source.Heats);

    private static string Pulls(bool cools, bool heats) => cools && heats ? "pull-down or warm-up" : cools ? "pull-down" : "warm-up";

    /// <summary>What stores little.</summary>
    private static string Quick(SiteView view)
        => SiteView.List([.. view.House.Coils.Length > 0 ? ["coils"] : Array.Empty<string>(), .. view.House.Circuits.Any(circuit => !circuit.Kind.IsSlab) ? ["thin panels"] : Array.Empty<string>()]);

    private static string Buffer(SiteView view, Sequence.Buffer buffer)
    {
        return $"Buffer of {view.Show(buffer.Settings.VolumeL, Quantity.Volume)}. " + (IsRead(view)
            ? view.Say("It calls the source while somebody asks and swings by {buffer_hysteresis} about what the most demanding loop wants" + WhilePulled(view) + ". One that seems to carry for {buffer_carries_at_most} is charged all the same.")
            : "No sensor of it is read: the source is called as if there were none.");
    }

    private static bool IsRead(SiteView view) => view.House.Buffer is { } buffer && (view.IsWired(buffer.Top) || view.IsWired(buffer.Bottom));

    /// <summary>What a pull-down changes in it; only where a coil may pull a room down or warm it up.</summary>
    private static string WhilePulled(SiteView view)
    {
        var source = view.House.Sources[0];   // the buffer's
        if (view.House.Coils.Length == 0)
            return "";
        var half = $", half of that in a {Pulls(source)}";
        // Past it goes only a machine that is told its set point and read.
        if (source.SetPoint < 0 || !view.IsWired(source.Running))
            return half;
        return half + $"; while one lasts{(source.Cools && view.House.Rooms.Any(room => view.IsWired(room.OpeningContact)) ? " or is to come when an open door shuts" : "")}, "
            + $"a machine that runs goes on past the full buffer until that is as {(source.Cools && source.Heats ? "cold or warm" : source.Cools ? "cold" : "warm")} as the water it is asked for or the machine stops by its own thermostat, and never beyond what a loop without a mixing valve may have";
    }

    public static IEnumerable<Section> HotWater(SiteView view)
    {
        if (view.House.HotWater is not { } tank)
            yield break;
        List<string> lines = [$"The tank is wanted at {view.Show(tank.Settings.WantedC, Quantity.Temperature)}."];
        if (tank.Charge < 0)
            lines.Add("The source makes it by its own control; the rooms notice by what it says or by hot supply water.");
        else
            lines.AddRange([
                view.Say("At {hot_water_under} under that it waits" + (view.House.Coils.Length > 0 ? $" for a {Pulls(view.House.Sources[tank.Source])} (at most {{hot_water_wait}}) and" : "") + " until the machine may start. Then the rooms' water is stopped and the tank charged with water {hot_water_above} over its goal, for at most {hot_water_at_most}; after a charge that was broken off the rooms have the source for {rooms_after_hot_water}."),
                view.Say("A room {too_cold} too cold takes the source from the tank once."),
            ]);
        if (tank.Charge >= 0 && view.House.Sources[tank.Source].Cools)
            lines.Add(view.Say("A source that cools serves its rooms again with water under {reopen_under}, or after {slug_at_most}."));
        if (tank.Settings.HygieneRun)
            lines.Add($"Every {view.Show(tank.Settings.HygieneEveryS, Quantity.Duration)} it is heated to {view.Show(tank.Settings.HygieneC, Quantity.Temperature)}; not reached within {view.Show(tank.Settings.HygieneWithinS, Quantity.Duration)} it is told.");
        lines.Add("Scald and hygiene are matters of local code; a licensed installer decides.");
        yield return new Section("Hot water", [new Bullets(lines)]);
    }
}

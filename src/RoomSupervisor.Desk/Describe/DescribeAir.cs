// Fans and moisture: how loud a fan may become and how fast, and how the air is dried. Must never speak of a coil where there is none.
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Describe;

/// <summary>Air that is moved and dried.</summary>
internal static class DescribeAir
{
    public static IEnumerable<Section> Fans(SiteView view)
    {
        var coils = view.House.Coils;
        if (coils.Length == 0)
            yield break;
        List<string> lines =
        [
            "Speeds are shares of full speed, not of the voltage. In this order: demand, least speed, slew, start kick, limits. The limits come last, so that a new one holds in the same scan.",
            "Limits, all met at once: the household's, quiet hours, the noise it asks for, draught. One under the slowest speed of the fan means that it stands." + (coils.Any(coil => coil.Rooms.Length > 1) ? " A coil of several rooms keeps to the limits of all of them." : ""),
            view.Say("A fan gets louder by at most {rise}, by {rise_after_opening} after an opening; quieter by {fall}, by {fall_easing_off} in easing-off. Protection, an open door and switching off stop it at once."),
        ];
        if (view.House.Rooms.Any(room => room.Coils.Length > 0 && !double.IsNaN(room.Household.QuietFromMinutes)))
            lines.Add(view.Say("Quiet hours are prepared: the limit falls beforehand by {fall}, so that it is reached at their minute."));
        if (coils.Any(coil => coil.Kind.FanSignal is CoilKind.Voltage or CoilKind.Pwm))
            lines.Add(view.Say("Start kick: {kick_speed} for {kick_for}, never over a limit, for fans that are told their speed by voltage or pulse width."));
        if (coils.Any(coil => coil.Kind.FanSignal == CoilKind.Steps))
            lines.Add(view.Say("Stepped fans take a step when the wish comes within {start_hysteresis} of it, at most one in {step_wait}, never one over a limit; a lower limit does not wait."));
        if (coils.Any(coil => coil.Kind.FanSignal == CoilKind.OnOff))
            lines.Add("Fans of one speed run only while every limit allows full speed; their relay is never switched by shares of time.");
        if (coils.Any(coil => coil.Actuator.Kind != OutputKind.OnOff))
            lines.Add(view.Say("Under the slowest speed of its fan a coil throttles by its valve, to {valve_floor} at least; runs last {coil_run_at_least}, rests {coil_rest_at_least} at least while it holds a room near its set point."));
        if (coils.Any(coil => coil.Actuator.Kind == OutputKind.OnOff))
            lines.Add(view.Say("A coil whose valve only opens or shuts runs or rests for {start_stop_wait} at least."));
        lines.Add(view.Say("A valve that is shut for {after_valve_shut} stops its fan."));
        var wet = view.CooledCoils.Where(coil => coil.Rooms.Any(room => view.IsWired(view.House.Rooms[room].AirHumidity))).ToList();
        if (wet.Count > 0)
            lines.Add(view.Say("A coil that has taken moisture out of the air stays wet for at most {coil_wet_for}: water that would give it back to the room stops the fan." + (wet.Any(coil => coil.Rooms.Length > 1) ? " Of several rooms the mean of their dew points counts." : "")));
        yield return new Section("Fans", [new Bullets(lines)]);
    }

    public static IEnumerable<Section> Drying(SiteView view)
    {
        var rooms = view.Dried;
        if (rooms.Count == 0)
            yield break;
        List<string> lines =
        [
            view.Say($"Dried {(rooms.Count > 1 ? "are" : "is")} {SiteView.List(rooms.Select(room => room.Id))}: cooled by a coil, with humidity read. Drying begins when for {{dry_wait}} the dew point is {{dry_band}} over {{dry_target}}, or the humidity over {{dry_over}}"
                + (rooms.Any(room => room.Circuits.Any(circuit => view.House.Loops[view.House.Circuits[circuit].Loop].Cools)) ? ", or the condensation guard has held a surface back for {dry_guard_wait} in a room over {dry_guard_above} too warm." : ".")),
            view.Say("It needs coil water {dry_colder_by} under the dew point, and a coil that then cools no more than {dry_spare} over what is asked, unless the room is over {dry_at_once_above} too warm."),
            view.Say("The leading coil turns at {dry_speed} with its valve open, within every limit. The room may be up to {dry_shift} cooler meanwhile."),
            view.Say("It ends {dry_band} under the target, not before {dry_at_least}; at once when the room has been {dry_stops_below} under its set point for {dry_stops_after}, when coil water is within {dry_lost} of the dew point, or when the drip tray is full. Then it rests for {dry_rest}."),
        ];
        if (view.House.Sources.Any(source => !double.IsNaN(source.Settings.MinimumOutputW)))
            lines.Add(view.Say("Drying alone starts the source when the rooms that wish it take {dry_batch_share} of its least output together; a lone wish is served after {dry_batch_at_most}."));
        yield return new Section("Moisture", [new Bullets(lines)]);
    }
}

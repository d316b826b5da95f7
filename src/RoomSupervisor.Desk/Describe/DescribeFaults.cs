// What protects the house and what happens when something fails: frost, the protective list of the controller's own rows, lost sensors, start and stop.
// Must never call software a protection that acts without it.
using RoomSupervisor.Hardware;
using RoomSupervisor.Sequence;
using RoomSupervisor.Sequence.Telling;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.Describe;

/// <summary>Protections and faults.</summary>
internal static class DescribeFaults
{
    public static Section Frost(SiteView view)
    {
        var heats = view.House.Sources.Any(source => source.Heats);
        var coldCoils = view.House.Loops.Any(loop => loop.Serves == LoopServes.Coils && loop.Cools);
        return new Section("Frost",
        [
            new Words(view.Say("Supply or return under {frost_water}" + (coldCoils ? " (loops of cold water for coils: {frost_cold_loop} and falling)" : "") + ", or room air under {frost_room}, switched off or open as it may be: valves open, pumps on, "
                + (heats ? "heat called, " : "") + "told as urgent. It stands above the guard and hands; leak, high limit and lost pressure come first.")),
            new Words("It needs a running board, power" + (heats ? " and a source that may heat" : "") + ": a frost thermostat of its own keeps watch when they fail."),
        ]);
    }

    public static Section Protections(SiteView view)
    {
        var lines = view.Protections();
        if (lines.Count == 0)
            return new Section("Protections", [new Words("Nothing is wired that the controller could protect by: no high limit, condensation switch, drip-tray switch, pressure or leak detector is read.")]);
        return new Section("Protections",
        [
            new Words("The strongest first within what it stops; each wins over comfort, schedules and hands."),
            new Table(["cause", "stops", "when", "what happens", "until"],
                [.. lines.Select(line => (IReadOnlyList<string>)[CauseWords.Name(line.Cause), string.Join(", ", line.Where) + (line.InCooling && view.Heats ? " (while it cools)" : ""), line.When, line.Action, line.Clears])]),
        ]);
    }

    public static Section Faults(SiteView view)
    {
        List<IReadOnlyList<string>> rows =
        [
            ["a reading is late", view.Say("the last good one counts for {keep_last_good} beyond its device's interval, then it is missing")],
            ["air temperature missing", view.Say("its room is off; back within {pause} it goes on where it was")],
            ["a reading jumps or runs away", view.Say("air by more than {temperature_jump} or {temperature_rate} for {rate_for}: the old value counts until readings agree for {accept_new_level_after}")],
            ["a sensor stands still", view.Say("no step for {flat_after} although the plant worked: it counts as missing until it moves")],
        ];
        rows.AddRange(OfWater(view));
        rows.Add(["a device does not answer", "its inputs are missing, its outputs are written their safe values first when it is back"]);
        rows.Add(["the controller stops or the board dies", WhenItStops(view)]);
        if (view.House.Points.Health >= 0)
            rows.Add(["anything of this", "site.health.ok falls off: a missing reading, a pump without its proof, frost, a leak; what is supplied over its relay stands then"]);
        return new Section("When something fails", [new Table(["what fails", "what the controller does"], rows)]);
    }

    private static IEnumerable<IReadOnlyList<string>> OfWater(SiteView view)
    {
        var loops = view.House.Loops;
        if (view.Cooled.Count > 0)
        {
            yield return ["humidity missing in a room with a cooled surface", "a stand-in that is never drier than what the room was last known to be: see Condensation guard"];
            yield return ["supply temperature of cooled surfaces missing", "their circuits are shut, the pump stands"];
        }
        if (loops.Any(loop => loop.Cools && view.IsWired(loop.Supply) && view.IsWired(loop.Return)))
            yield return ["a supply sensor says what cannot be", view.Say("{supply_above_return} over its return or {supply_off_mixing} off what the mixing valve makes, for {supply_doubted_after}: doubted, it counts as missing")];
        if (loops.Any(loop => view.IsWired(loop.PumpProof) || view.IsWired(loop.Flow)))
            yield return ["a pump runs without its proof", view.Say("told after {proof_wait}")];
        if (view.House.Sources.Any(source => view.IsWired(source.Fault)))
            yield return ["the source says a fault", "its call is taken back, an alarm stands"];
        if (view.House.Sources.Any(source => view.IsWired(source.LockedOut)))
            yield return ["the utility locks the source", "its call is taken back; no fault"];
        if (view.House.Rooms.Any(room => view.IsWired(room.OpeningContact) && StageLines.CanInferOpenings(view.House, room)))
            yield return ["an opening contact cannot be read", view.Say("openings are read off the air, at most {probably_open_at_most} at a time")];
    }

    private static string WhenItStops(SiteView view)
    {
        var safe = (view.House.Coils.Length > 0 ? "fans and pumps off, valves shut" : "pumps off, valves shut") + (view.House.Loops.Any(loop => loop.Type == LoopType.Mixed) ? ", mixing valves at full recirculation" : "");
        var frost = view.Heats ? "; on loops that heat valves and pump stay on instead with frost, under {frost_outdoors} outdoors or where that is not known, or with cold water" : "";
        return view.Say($"when it stops in order or is killed: {safe}{frost}. {WhenTheBoardDies(view)}");
    }

    /// <summary>What becomes of outputs that nobody writes any more: by device, for only some of them let go by themselves.</summary>
    private static string WhenTheBoardDies(SiteView view)
    {
        var carrying = view.Files.Devices.Where(device => view.Files.Wiring.Any(wire => wire.IsOutput && wire.Device == device.Name)).ToList();
        string? KeyOf(DeviceSettings device) => Drivers.All.First(driver => driver.Name == device.Driver).OwnTimeOutKey;
        var letGo = carrying.Where(device => KeyOf(device) is { } key && device.Settings.Has(key)).ToList();
        var stay = carrying.Except(letGo).Select(device => device.Name).ToList();
        string[] sentences =
        [
            .. letGo.Count > 0 ? [$"When the board dies {SiteView.List(letGo.Select(device => $"{device.Name} (after {view.Show(device.Settings.Number(KeyOf(device)!), Quantity.Duration)})"))} let{(letGo.Count > 1 ? "" : "s")} go of outputs by {(letGo.Count > 1 ? "themselves" : "itself")}"] : Array.Empty<string>(),
            .. stay.Count > 0 ? [$"Outputs of {SiteView.List(stay)} stay as they were when the board dies"] : Array.Empty<string>(),
        ];
        return string.Join(". ", sentences);
    }

    public static Section StartAndStop(SiteView view) => new("Start, stop, hand",
    [
        new Bullets([
            view.Say("At a start outputs are safe until a room's readings are there or declared missing ({declared_missing_after}); rooms begin {start_apart} apart, all within {all_started_within}."),
            "Safe values are written first at a start, last at a stop, and first when a lost device is back.",
            "Values by hand last at most 4 h and may exceed the household's limits, for a checkout needs full speed; they never defeat the protections above, a pump's need of an open way, or the machine's shortest run and rest.",
            .. view.IsWired(view.House.Points.InHand) ? ["While site.manual_switch.in_hand is made everything is computed on, and it is told that the plant is in hand."] : Array.Empty<string>(),
        ]),
    ]);
}

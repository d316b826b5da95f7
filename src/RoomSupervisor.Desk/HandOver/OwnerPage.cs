// The owner's page: how a limit is changed, what the words mean, what to do when something is wet, cold or loud. One sheet to hang up. Must never ask the owner to open, bridge or repair anything.
using RoomSupervisor.Desk.Report;
using RoomSupervisor.Desk.Report.Svg;
using RoomSupervisor.Sequence;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Desk.HandOver;

/// <summary>Writes the owner's page.</summary>
internal static class OwnerPage
{
    private static readonly (string Word, string Means)[] Words =
    [
        ("cool_above", "the room is cooled when it is warmer than this"), ("heat_below", "the room is heated when it is colder than this; at least 1 K under cool_above"), ("fan_at_most", "the fan never turns faster; 0 % means never"),
        ("noise_at_most", "the fan is never louder at your ear than this"), ("quiet", "hours in which the fan keeps to a lower limit"), ("week", "other temperatures at certain hours of certain days"), ("start_early_at_most", "so long ahead of such hours the room may begin, to be as wanted in time"), ("once", "a wish that ends by itself"),
        ("absence", "nobody is there: warmer and colder rooms are good enough until you come back"),
    ];

    public static void Write(TextWriter to, HandOverFacts facts)
    {
        var house = facts.Files.House;
        var room = house.Rooms.FirstOrDefault(one => one.Coils.Length > 0) ?? house.Rooms[0];
        to.Write($"<section class=\"owner sheet\">\n<h2>The owner's page</h2>\n<p>Hang this up. Whom to call: <span class=\"blank\">&#160;</span> Telephone: <span class=\"blank\">&#160;</span></p>\n");
        Change(to, house, room);
        Meaning(to, house);
        Trouble(to, house);
        to.Write("</section>\n");
    }

    private static void Change(TextWriter to, House house, Room room)
    {
        to.Write("<h3>How to change a limit</h3>\n<p>Your file is <code>household.yaml</code>. One key a line, units as you say them. Save it: within ten seconds the answer stands beside it in <code>household.answer.txt</code>: what was taken over, and what a quieter fan costs in minutes.</p>\n");
        var lines = new List<string> { "rooms:", $"  {room.Id}:", $"    cool_above: {Quantities.ShowExactly(room.Household.CoolAboveC, Quantity.Temperature, house.Units)}", $"    heat_below: {Quantities.ShowExactly(room.Household.HeatBelowC, Quantity.Temperature, house.Units)}" };
        if (room.Coils.Length > 0)
            lines.Add($"    fan_at_most: {Quantities.ShowExactly(room.Household.FanAtMostPercent, Quantity.Percent, house.Units)}");
        to.Write($"<pre>{string.Join('\n', lines.Select(XmlText.Escape))}</pre>\n");
        to.Write("<p>A mistake is never taken over: what held before goes on, and the answer says what was not understood. Back to the version before: <code>room-supervisor undo</code>. Protection from damp and frost goes on whatever you write.</p>\n");
    }

    private static void Meaning(TextWriter to, House house)
    {
        to.Write("<h3>What the words mean</h3>\n<dl class=\"meanings\">\n");
        var hasFan = house.Coils.Length > 0;
        foreach (var (word, means) in Words.Where(one => hasFan || one.Word is not ("fan_at_most" or "noise_at_most" or "quiet")))
            to.Write($"<dt>{word}</dt><dd>{Text(means, house)}</dd>\n");
        foreach (var stage in (ReadOnlySpan<Stage>)[Stage.Satisfied, Stage.PullDown, Stage.WarmUp, Stage.EasingOff, Stage.CoilHelps, Stage.RadiantHold, Stage.CoilHold, Stage.Opening, Stage.Off])
        {
            if (hasFan || stage is Stage.Satisfied or Stage.RadiantHold or Stage.Opening or Stage.Off)
                to.Write($"<dt>{Names.Of(stage)}</dt><dd>{Text(StageWords.Meaning(stage), house)}</dd>\n");
        }
        to.Write("</dl>\n");
    }

    private static void Trouble(TextWriter to, House house)
    {
        var cools = house.Circuits.Any(circuit => house.Loops[circuit.Loop].Cools);
        var coils = house.Coils.Length > 0;
        to.Write("<h3>Something is wet</h3>\n<ol>\n");
        if (cools)
            Item(to, house, "A cooled ceiling, floor or pipe: shut doors and windows, and set control: no for the room; its surface is then shut. Wipe it dry. It must be dry within an hour.");
        if (coils)
            Item(to, house, "Water under a fan coil: the tray is full. The coil stops by itself; switch the room off as above, put a bowl under it, and have drain and trap cleaned.");
        Item(to, house, "Water at a pipe, pump or manifold, or the loop loses pressure: that is a leak. Shut the water valve of the loop, switch the source off, call.");
        Item(to, house, "It comes back: call, and say what room-supervisor condensation tells.");
        to.Write("</ol>\n<h3>It is cold (or stays too warm)</h3>\n<ol>\n");
        Item(to, house, "Ask first: room-supervisor why, with the room's name. It says what holds the room: a limit of yours, an open window, the water, the machine, a sensor.");
        Item(to, house, "Is a window open, the absence still running, or quiet hours on? Then it is as you set it.");
        Item(to, house, "All rooms at once: does the heat pump, chiller or boiler show a fault of its own? Whoever looks after that machine is called then.");
        Item(to, house, $"In frost, no heat for hours, and no answer: turn the hand switches of pump and source to HAND, and call. Do not wait until rooms fall under 10 °C.");
        to.Write("</ol>\n<h3>It is loud</h3>\n<ol>\n");
        if (coils)
        {
            Item(to, house, "After an open door it may hurry for a while: that ends by itself. Too loud even so: lower fan_at_most, or quiet for the night, or set noise_at_most.");
            Item(to, house, "It hums or rattles at all speeds: a dirty filter or a loose part. Switch the room off and call.");
        }
        Item(to, house, "Water gurgles: air in the pipes. Call: the loop is vented.");
        to.Write("</ol>\n");
    }

    private static void Item(TextWriter to, House house, string line) => to.Write($"<li>{Text(line, house)}</li>\n");

    private static string Text(string line, House house) => XmlText.Escape(ReportUnits.Kept(UnitWords.In(line, house.Units)));
}

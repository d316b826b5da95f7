// explain: what a key of the two files means, with unit, default, limits, an example, and what holds at a site. Starts nothing and
// writes nothing.
using System.CommandLine;
using RoomSupervisor.Hardware;
using RoomSupervisor.Runtime.Start;
using RoomSupervisor.Site;
using RoomSupervisor.Site.Forms;
using RoomSupervisor.Terms;
using Command = System.CommandLine.Command;

namespace RoomSupervisor.Verbs;

internal static class ExplainVerb
{
    public static Command Create()
    {
        var key = new Argument<string>("KEY") { Description = "fan_at_most, quiet.from, rooms.<room>.cool_above, rooms.kitchen.cool_above, or a group: kinds, rooms, loops" };
        var site = new Option<string?>("--site") { Description = "show the values that hold at this site, in its units", HelpName = "DIR" };
        var units = new Option<string?>("--units") { Description = "metric or us; without it the site's, else metric", HelpName = "UNITS" };
        units.AcceptOnlyFromAmong("metric", "us");
        var command = new Command("explain", "Explain a key of site.yaml or household.yaml: help, unit, default, limits, who may change it, where it stands. "
            + "Exit code 0, 2 when there is no such key or the site cannot be read.") { key, site, units };
        command.SetAction(parsed => Explain(parsed.GetValue(key)!.Trim(), parsed.GetValue(site), parsed.GetValue(units)));
        return command;
    }

    private static int Explain(string key, string? directory, string? wanted)
    {
        var files = directory is null ? null : SiteStart.Read(directory, StartVerb.Check, Drivers.All, TimeProvider.System).Files;
        var units = wanted is null ? files?.Site.Units ?? UnitSystem.Metric : wanted == "us" ? UnitSystem.Us : UnitSystem.Metric;
        // Effective values are texts in the site's units: with --units of another system they stay as the site shows them.
        var isKnown = new Explainer(Drivers.All, units, files?.Effective ?? []).TryExplain(key, out var text);
        (isKnown ? Console.Out : Console.Error).Write(text);
        if (directory is null || files is not null)
            return isKnown ? 0 : 2;
        Console.Error.WriteLine($"{directory} has errors, so its values are not shown: room-supervisor check {directory} tells them");
        return 2;
    }
}

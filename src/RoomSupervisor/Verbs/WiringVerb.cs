// wiring: point schedule, cables, counts, panel power, hard-wired protections and the sheet for the panel's lid, on the terminal, as a table for a spreadsheet or as a page to tick. Reads the site's files only.
using System.CommandLine;
using RoomSupervisor.Desk.Describe;
using RoomSupervisor.Desk.Wiring;
using RoomSupervisor.Hardware;

namespace RoomSupervisor.Verbs;

internal static class WiringVerb
{
    public static Command Create()
    {
        var site = new SiteArgument();
        var csv = PaperFiles.Option("--csv", "write the point schedule as a table for a spreadsheet");
        var cables = PaperFiles.Option("--cables", "write the cables with their labels as a table, for a label printer");
        var html = PaperFiles.Option("--html", "write everything as a page with boxes to tick, to print");
        var command = new Command("wiring", "List how this site is wired: every point with device, terminal, signal, cable and safe state; cable labels, counts, panel power, protections to be wired in hardware, "
            + "and the sheet for the lid of the panel. Exit code 0, 1 when something of it must be changed or confirmed, 2 when the site cannot be read.") { csv, cables, html };
        site.AddTo(command);
        command.SetAction(parsed =>
        {
            if (site.Directory(parsed) is not { } directory || SiteArgument.Read(directory) is not { } files)
                return 2;
            var (plan, facts) = (SiteWires.Of(files, Drivers.All), PaperFiles.Facts(directory, files));
            var paper = WirePaper.Of(plan, files, facts);
            var (table, labels, page) = (parsed.GetValue(csv), parsed.GetValue(cables), parsed.GetValue(html));
            if (table is null && labels is null && page is null)
                PaperFiles.Print(paper, facts);
            else if (!PaperFiles.Write("wiring", directory, [("--csv", table, to => WireCsv.Write(to, plan)), ("--cables", labels, to => WireCsv.WriteCables(to, plan)), ("--html", page, to => PaperHtml.Write(to, paper, facts))]))
                return 2;
            else
            {
                foreach (var warning in plan.Warnings)
                    Console.Error.WriteLine($"warning: {warning}");
            }
            return plan.Warnings.Count > 0 ? 1 : 0;
        });
        return command;
    }
}

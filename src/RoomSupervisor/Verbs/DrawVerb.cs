// draw: the piping and control schematic of a site, as a picture that stands alone or as a page. Reads the site's files only.
using System.CommandLine;
using RoomSupervisor.Desk.Describe;
using RoomSupervisor.Desk.Drawing;

namespace RoomSupervisor.Verbs;

internal static class DrawVerb
{
    public static Command Create()
    {
        var site = new SiteArgument();
        var svg = PaperFiles.Option("--svg", "write a picture that stands alone");
        var html = PaperFiles.Option("--html", "write a page with picture, points and cautions, to print");
        var command = new Command("draw", "Draw the piping and control schematic of this site with standard symbols and point ids, laid out by itself. Without a file to write the picture goes to standard output. "
            + "Exit code 0, 2 when the site cannot be read.") { svg, html };
        site.AddTo(command);
        command.SetAction(parsed =>
        {
            if (site.Directory(parsed) is not { } directory || SiteArgument.Read(directory) is not { } files)
                return 2;
            var facts = PaperFiles.Facts(directory, files);
            var (picture, page) = (parsed.GetValue(svg), parsed.GetValue(html));
            if (picture is null && page is null)
            {
                Console.Out.Write(Schematic.Draw(files, facts));
                return 0;
            }
            return PaperFiles.Write("draw", directory,
                [("--svg", picture, to => to.Write(Schematic.Draw(files, facts))), ("--html", page, to => PaperHtml.Write(to, Schematic.Page(files, facts), facts))]) ? 0 : 2;
        });
        return command;
    }
}

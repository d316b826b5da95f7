// describe: this site's sequence of operation in prose with its numbers, rooms, points and protections, on the terminal or as a page to print and sign. Reads the site's files only.
using System.CommandLine;
using RoomSupervisor.Desk.Describe;

namespace RoomSupervisor.Verbs;

internal static class DescribeVerb
{
    public static Command Create()
    {
        var site = new SiteArgument();
        var html = PaperFiles.Option("--html", "write it as a page to print and sign");
        var command = new Command("describe", "Describe what the controller of this site does, with this site's numbers: rooms, stages, fans, condensation guard, loops, source, protections, faults, points. "
            + "Made from the site's files and the program's own tables. Exit code 0, 2 when the site cannot be read.") { html };
        site.AddTo(command);
        command.SetAction(parsed =>
        {
            if (site.Directory(parsed) is not { } directory || SiteArgument.Read(directory) is not { } files)
                return 2;
            var (paper, facts, path) = (Description.Of(files), PaperFiles.Facts(directory, files), parsed.GetValue(html));
            if (path is not null)
                return PaperFiles.Write("describe", directory, [("--html", path, to => PaperHtml.Write(to, paper, facts))]) ? 0 : 2;
            PaperFiles.Print(paper, facts);
            return 0;
        });
        return command;
    }
}

// The architecture table of DEVELOPERS.md against the project files: who may use whom, and which packages.
using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace RoomSupervisor.House.Tests.Repository;

public partial class ArchitectureTests
{
    private sealed record Row(string Project, string[] MayUse, string[] Packages);

    [Fact]
    public void Every_project_uses_exactly_what_the_table_in_DEVELOPERS_says()
    {
        var table = Table();
        Assert.Equal(Projects().Order(), table.Select(row => row.Project).Order());
        foreach (var row in table)
        {
            var file = XDocument.Load(Root.At("src", row.Project, row.Project + ".csproj"));
            Assert.Equal(Expand(row, table), Names(file, "ProjectReference"));
            Assert.Equal(row.Packages.Order(StringComparer.Ordinal), Names(file, "PackageReference"));
        }
    }

    [Fact]
    public void The_comparison_notices_a_wrong_arrow()
    {
        var table = Table();
        var terms = table.Single(row => row.Project == "RoomSupervisor.Terms") with { MayUse = ["Physics"] };
        var file = XDocument.Load(Root.At("src", terms.Project, terms.Project + ".csproj"));
        Assert.NotEqual(Expand(terms, table), Names(file, "ProjectReference"));
    }

    private static IEnumerable<string> Projects() => Directory.GetDirectories(Root.At("src")).Select(folder => Path.GetFileName(folder));

    private static List<Row> Table()
    {
        var rows = new List<Row>();
        foreach (var line in File.ReadAllLines(Root.At("DEVELOPERS.md")))
        {
            var cells = line.Split('|').Select(cell => cell.Trim()).ToArray();
            if (cells.Length != 6 || !cells[1].StartsWith('`'))
                continue;
            var name = ProjectName().Match(cells[1]).Groups[1].Value;
            rows.Add(new Row(name == "RoomSupervisor" ? name : "RoomSupervisor." + name, List(cells[3]), List(cells[4])));
        }
        return rows;
    }

    private static string[] List(string cell) => cell is "–" or "none" or "" ? [] : [.. cell.Split(',').Select(part => part.Trim())];

    private static IEnumerable<string> Expand(Row row, List<Row> table) =>
        (row.MayUse is ["all"] ? table.Where(other => other.Project != row.Project).Select(other => other.Project) : row.MayUse.Select(name => "RoomSupervisor." + name))
        .Order(StringComparer.Ordinal);

    private static IEnumerable<string> Names(XDocument file, string element) =>
        file.Descendants(element)
            .Select(reference => Path.GetFileNameWithoutExtension(reference.Attribute("Include")!.Value + (element == "ProjectReference" ? "" : ".x")))
            .Order(StringComparer.Ordinal);

    [GeneratedRegex("`([A-Za-z]+)`")]
    private static partial Regex ProjectName();
}

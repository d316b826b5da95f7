// estimate: what a house needs, from one small file: loads, emitters, water, ways side by side, a list of quantities and a starting site. Arguments and printing only.
using System.CommandLine;
using System.Text;
using RoomSupervisor.Desk.Estimate;
using RoomSupervisor.Site;
using RoomSupervisor.VirtualHouse;

namespace RoomSupervisor.Verbs;

internal static class EstimateVerb
{
    private sealed record Outputs(string? Json, string? Report, string? Quantities, string? Site);

    public static Command Create()
    {
        var file = new Argument<string?>("FILE") { Description = "the estimate's file; --example prints one; without it the house is asked for in questions", Arity = ArgumentArity.ZeroOrOne };
        var json = new Option<string?>("--json") { Description = "write all figures there", HelpName = "F" };
        var report = new Option<string?>("--html") { Description = "write a page with pictures there, one HTML file", HelpName = "F" };
        var quantities = new Option<string?>("--quantities") { Description = "write the list of quantities there, for spreadsheets", HelpName = "F" };
        var site = new Option<string?>("--site") { Description = "write a starting site there: site.yaml, household.yaml, building.yaml and scenarios to rehearse at once; nothing is overwritten", HelpName = "DIR" };
        var example = new Option<bool>("--example") { Description = "print a file with every key, its default and what it means" };
        var command = new Command("estimate", "Estimate what a house needs: heating and cooling loads, what surfaces and coils give, water, pipes, pumps, source, and ways of building it side by side. "
            + "An estimate, not a design. Exit code 0 all wished works, 1 something of it does not, 2 not understood, nothing written.") { file, json, report, quantities, site, example };
        command.SetAction(parsed =>
        {
            if (parsed.GetValue(example))
            {
                Console.Out.Write(EstimateExample.Text());
                return 0;
            }
            var outputs = new Outputs(parsed.GetValue(json), parsed.GetValue(report), parsed.GetValue(quantities), parsed.GetValue(site));
            return parsed.GetValue(file) is { } path ? Run(path, outputs) : Questions(outputs);
        });
        return command;
    }

    /// <summary>Without a file: questions, their answers written down as a file, and that file run.</summary>
    private static int Questions(Outputs outputs)
    {
        Console.Out.WriteLine("No file is named: a few questions. An empty line takes what stands in brackets; --example prints a file to fill in instead.");
        var path = "";
        if (!Asking.Ask(Console.In, Console.Out, "File to write the answers into", FreeName(), answer => path = answer, InTheWay))
            return Refusal.Say("estimate", "name a file, or --example for one to start from, or answer the questions: nothing is written");
        var folder = Path.GetDirectoryName(Path.GetFullPath(path))!;
        if (EstimateQuestions.Ask(Console.In, Console.Out, weather => DesignDays.WeatherFault(weather, folder) is { Length: > 0 } fault ? $"\"{weather}\" {fault}" : "") is not { } text)
            return Refusal.Say("estimate", "the answers end before the last question: nothing is written");
        try
        {
            using var file = new FileStream(path, FileMode.CreateNew, FileAccess.Write);
            file.Write(Encoding.UTF8.GetBytes(text));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Refusal.Say("estimate", $"{path}: {e.Message.TrimEnd('.')}; what was answered:\n{text}");
        }
        Console.Out.WriteLine($"\n{path} is written. Change it, and: room-supervisor estimate {path}\n");
        return Run(path, outputs);
    }

    private static string FreeName() => Enumerable.Range(1, 1000).Select(n => n == 1 ? "estimate.yaml" : $"estimate-{n}.yaml").First(name => !Path.Exists(name));

    private static string InTheWay(string path)
    {
        if (path.Length == 0 || path.Any(char.IsControl))
            return "a file's name is wanted";
        if (Path.Exists(path))
            return $"{path} is there already: nothing is overwritten. Name another";
        return Directory.Exists(Path.GetDirectoryName(Path.GetFullPath(path))) ? "" : $"{path}: there is no such directory. Name another, or make it";
    }

    private static int Run(string path, Outputs outputs)
    {
        if (!File.Exists(path))
            return Refusal.Say("estimate", $"{path}: {(Directory.Exists(path) ? "is a directory, not a file" : "there is no such file")}; --example prints one to start from");
        var folder = Path.GetDirectoryName(Path.GetFullPath(path))!;
        var read = EstimateFileReader.Read(Path.GetFileName(path), File.ReadAllBytes(path), weather => DesignDays.WeatherFault(weather, folder));
        foreach (var problem in read.Problems)
            Console.Error.WriteLine(problem);
        if (read.Estimate is not { } file)
            return 2;
        if (outputs.Site is { } site && StartingSite.InTheWay(site) is { } there)
            return Refusal.Say("estimate", $"--site {site}: {there} is there already: nothing is overwritten. Name another directory, or move it away");
        List<string> problems = Clashes(path, outputs);
        using var json = problems.Count == 0 ? RehearseVerb.Create("--json", outputs.Json, problems) : null;
        using var report = problems.Count == 0 ? RehearseVerb.Create("--html", outputs.Report, problems) : null;
        using var quantities = problems.Count == 0 ? RehearseVerb.Create("--quantities", outputs.Quantities, problems) : null;
        if (problems.Count > 0)
            return RehearseVerb.Refuse(problems);
        EstimateResult result;
        try
        {
            result = Estimator.Of(file, folder);
        }
        catch (Exception e) when (e is ArgumentException or NotSupportedException or WeatherFileException or IOException or UnauthorizedAccessException)
        {
            return Refusal.Say("estimate", e.Message);
        }
        EstimateTable.Write(Console.Out, result);
        if (json is not null)
            EstimateJson.Write(json, result);
        if (report is not null)
            Text(report, to => EstimateReport.Write(to, result));
        if (quantities is not null)
            Text(quantities, to => to.Write(QuantityList.Csv(result.Wish)), isTable: true);
        return Site(outputs.Site, result, folder) ? result.Advice.Count == 0 ? 0 : 1 : 2;
    }

    private static string Next(string directory, EstimateResult result)
        => result.File.Source.IsFourPipe
            ? "Four pipes cannot be rehearsed yet: leave heat-source, heating_loop and warm-coil-loop out for a rehearsal of the cooling season"
            : $"room-supervisor rehearse {directory} --scenario {(result.File.Source.Cools ? StartingSite.Door : StartingSite.Winter)}";

    private static bool Site(string? directory, EstimateResult result, string folder)
    {
        if (directory is null)
            return true;
        try
        {
            var names = StartingSite.Write(directory, result, folder);
            Console.Out.WriteLine($"\n{directory}: {string.Join(", ", names)} are written. Next: fill in what says \"fill in\", room-supervisor check {directory}. {Next(directory, result)}");
            return true;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            Refusal.Say("estimate", $"--site {directory}: {e.Message.TrimEnd('.')}; name a directory that is empty or not there and that you may write to");
            return false;
        }
    }

    // A spreadsheet takes a table without a byte order mark for another alphabet, and shows "mÂ²".
    private static void Text(FileStream file, Action<TextWriter> write, bool isTable = false)
    {
        using var to = new StreamWriter(file, new UTF8Encoding(isTable));
        write(to);
    }

    // Two options that write one file leave one of them; one that names the estimate leaves none.
    private static List<string> Clashes(string path, Outputs outputs)
    {
        List<string> clashes = [];
        Dictionary<string, string> taken = new(StringComparer.Ordinal) { [Path.GetFullPath(path)] = "" };
        foreach (var (option, file) in ((string, string?)[])[("--json", outputs.Json), ("--html", outputs.Report), ("--quantities", outputs.Quantities)])
        {
            if (file is not null && !taken.TryAdd(Path.GetFullPath(file), option))
                clashes.Add($"{option} {file}: error: {(taken[Path.GetFullPath(file)] is { Length: > 0 } other ? other + " names the same file; give each its own" : "is the estimate itself and would be written over; name another")}");
        }
        return clashes;
    }
}

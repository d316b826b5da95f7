// Files from a stick: a site for a new board, or the household's file with the answer written back beside it. It must never take over a file that
// the reader refuses, nor overwrite a site that is there: the installer decides that by moving it away.
using System.Text;
using RoomSupervisor.Runtime.Reload;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Site;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Board;

/// <summary>What came of it.</summary>
/// <param name="IsTaken">True when files were copied.</param>
/// <param name="Lines">For the person at the keyboard.</param>
public sealed record StickOutcome(bool IsTaken, IReadOnlyList<string> Lines);

/// <summary>Copies files of a stick.</summary>
public static class StickFiles
{
    /// <summary>Takes site.yaml and household.yaml into a directory that has no site yet.</summary>
    /// <param name="stick">Folder on the stick.</param>
    /// <param name="directory">The site's directory.</param>
    /// <param name="drivers">Drivers the program has.</param>
    public static StickOutcome TakeSite(string stick, string directory, IReadOnlyList<DriverDeclaration> drivers)
    {
        if (File.Exists(Path.Combine(directory, SiteReader.SiteFile)))
            return new StickOutcome(false, [$"{Path.Combine(directory, SiteReader.SiteFile)} is there already: nothing is overwritten; move it away first"]);
        var read = SiteReader.Read(stick, drivers);
        var said = read.Problems.Select(problem => problem.ToString()).ToList();
        if (read.Files is null)
            return new StickOutcome(false, [.. said, $"{stick} has errors: nothing was taken. Mend them there (room-supervisor check {stick}), then again"]);
        foreach (var name in new[] { SiteReader.HouseholdFile, SiteReader.SiteFile })   // the site last: with it the service may start
        {
            if (SafeFile.Read(Path.Combine(stick, name), out _) is { } bytes)
                SafeFile.Write(Path.Combine(directory, name), bytes);
        }
        // The household's file is edited by the members of the directory's group.
        if (!OperatingSystem.IsWindows() && File.Exists(Path.Combine(directory, SiteReader.HouseholdFile)))
            File.SetUnixFileMode(Path.Combine(directory, SiteReader.HouseholdFile), (UnixFileMode)0b110_110_100);
        return new StickOutcome(true, [.. said, $"{read.Files.Site.Name}: site and household files taken from {stick}"]);
    }

    /// <summary>Takes household.yaml; what was not understood of it the controller keeps as it was, as with any saved file. The answer goes back to the stick.</summary>
    /// <param name="stick">Folder on the stick.</param>
    /// <param name="directory">The site's directory.</param>
    /// <param name="wait">Waits for so many seconds; false: no more.</param>
    public static StickOutcome TakeHousehold(string stick, string directory, Func<double, bool> wait)
    {
        var (from, to) = (Path.Combine(stick, SiteReader.HouseholdFile), Path.Combine(directory, SiteReader.HouseholdFile));
        if (SafeFile.Read(from, out var why) is not { } bytes)
            return new StickOutcome(false, [why.Length == 0 ? $"there is no {from}" : $"{from} {why}"]);
        var answer = Path.Combine(directory, Keeping.AnswerFile);
        var before = SafeFile.Read(answer, out _);
        var isNew = SafeFile.Read(to, out _) is not { } old || !old.AsSpan().SequenceEqual(bytes);
        if (isNew)
            SafeFile.Write(to, bytes);
        var after = before;
        // A running controller answers within ten seconds.
        for (var waitedS = 0.0; isNew && waitedS < 15 && Same(before, after) && wait(0.5); waitedS += 0.5)
            after = SafeFile.Read(answer, out _);
        if (isNew && Same(before, after))
            after = Encoding.UTF8.GetBytes("household.yaml was taken from the stick, but no controller has answered within 15 seconds: see whether the service runs (systemctl status room-supervisor).\n");
        if (after is not null)
            SafeFile.Write(Path.Combine(stick, Keeping.AnswerFile), after);
        return new StickOutcome(isNew, [isNew ? $"household.yaml taken from {stick}" : "household.yaml on the stick is the one that holds already", $"the answer is on the stick: {Path.Combine(stick, Keeping.AnswerFile)}"]);
    }

    private static bool Same(byte[]? one, byte[]? other) => one is null ? other is null : other is not null && one.AsSpan().SequenceEqual(other);
}

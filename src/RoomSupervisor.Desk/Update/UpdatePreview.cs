// What another version of the program would have made of this house's own days: reads the site with it, plays the recorded traces with both, and shows the first thing that it decides otherwise with
// its reason. Unpacks the other version into a folder of its own and runs it there on copies; must never install anything, nor let it near the house.
using System.ComponentModel;
using System.Diagnostics;
using System.Globalization;
using RoomSupervisor.Desk.Replay;
using RoomSupervisor.Runtime;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Site;

namespace RoomSupervisor.Desk.Update;

/// <summary>A package that cannot be tried; the message is for the person who asked.</summary>
public sealed class PreviewException(string message) : Exception(message);

/// <summary>What was found.</summary>
/// <param name="Lines">For people.</param>
/// <param name="Refuses">True when the other version does not take this site.</param>
/// <param name="Differs">True when it decides something otherwise.</param>
public sealed record PreviewOutcome(IReadOnlyList<string> Lines, bool Refuses, bool Differs);

/// <summary>Trying a version.</summary>
public sealed class UpdatePreview : IDisposable
{
    /// <summary>Where the program lies in a package.</summary>
    private const string InPackage = "usr/lib/room-supervisor/room-supervisor";

    /// <summary>A day of six rooms takes some ten seconds on a PC, minutes on a small board.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(20);

    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("room-supervisor-preview-");
    private readonly string program;

    /// <param name="package">A .deb, or the program itself.</param>
    /// <exception cref="PreviewException">It is neither, or of another processor.</exception>
    public UpdatePreview(string package)
    {
        if (!File.Exists(package))
            throw new PreviewException($"there is no {package}");
        program = Path.GetFullPath(package);
        if (!package.EndsWith(".deb", StringComparison.Ordinal))
            return;
        var (code, said) = Run("dpkg-deb", ["-x", Path.GetFullPath(package), folder.FullName]);
        if (code != 0)
            throw new PreviewException($"{package} cannot be unpacked: {said.Trim()}");
        program = Path.Combine(folder.FullName, InPackage);
        if (!File.Exists(program))
            throw new PreviewException($"{package} holds no room-supervisor");
    }

    /// <summary>Plays.</summary>
    /// <param name="directory">The site's directory.</param>
    /// <param name="traces">Traces of its days, oldest first.</param>
    /// <param name="progress">Told what is being done.</param>
    public PreviewOutcome Of(string directory, IReadOnlyList<string> traces, Action<string> progress)
    {
        var (code, version) = Run(program, ["--version"]);
        if (code != 0)
            throw new PreviewException($"it does not run here: {Short(version)}");
        List<string> lines = [$"this is version {SiteRun.Version}, the other {version.Trim().Split('+')[0]}"];
        var refuses = Check(directory, lines);
        var differs = false;
        foreach (var trace in traces)
        {
            progress($"{Path.GetFileName(trace)} ...");
            differs |= Play(trace, lines);
        }
        if (traces.Count == 0)
            lines.Add("no day is recorded, so nothing can be played: run --record keeps the days (15 MB each for six rooms), then try again; rehearse plays made-up days with either version");
        else if (!differs)
            lines.Add(string.Create(CultureInfo.InvariantCulture, $"all {traces.Count} day(s) are decided as they were"));
        return new PreviewOutcome(lines, refuses, differs);
    }

    public void Dispose() => folder.Delete(true);

    private bool Check(string directory, List<string> lines)
    {
        var copy = Directory.CreateDirectory(Path.Combine(folder.FullName, "site")).FullName;
        foreach (var name in (string[])[SiteReader.SiteFile, SiteReader.HouseholdFile])
        {
            if (File.Exists(Path.Combine(directory, name)))
                File.Copy(Path.Combine(directory, name), Path.Combine(copy, name), overwrite: true);
        }
        var (code, said) = Run(program, ["check", copy]);
        lines.Add(code switch
        {
            0 => "it reads this site without a word",
            1 => $"it reads this site with warnings: {Short(said)}",
            _ => $"it REFUSES this site: {Short(said)}",
        });
        return code is not (0 or 1);
    }

    /// <summary>One day with both; true when the other decides otherwise.</summary>
    private bool Play(string trace, List<string> lines)
    {
        var name = Path.GetFileName(trace);
        try
        {
            var ours = TraceReplay.Play(trace, new ReplayPlan());
            if (ours.Checked == 0 || ours.Differing > 0)
                lines.Add($"{name}: this version does not decide it as recorded either ({ReplayReport.Check(ours).Last()}): what the other does otherwise may not be its doing");
        }
        catch (Exception e) when (e is TraceException or IOException or UnauthorizedAccessException)
        {
            lines.Add($"{name}: cannot be played: {e.Message}");
            return false;
        }
        var (code, said) = Run(program, ["replay", trace]);
        var told = said.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        if (code is not (0 or 1))
        {
            lines.Add($"{name}: the other version cannot play it: {Short(said)}");
            return true;
        }
        var differing = told.Where(line => line.StartsWith("NOT EQUAL", StringComparison.Ordinal) || line.StartsWith("otherwise:", StringComparison.Ordinal)).ToList();
        lines.Add($"{name}: {(differing.Count > 0 ? differing[0] : told.FirstOrDefault(line => line.StartsWith("equal:", StringComparison.Ordinal)) ?? Short(said))}");
        lines.AddRange(told.Where(line => line.StartsWith("first:", StringComparison.Ordinal) || line.Contains("begin anew", StringComparison.Ordinal)).Select(line => "    " + line));
        return differing.Count > 0;
    }

    private static string Short(string said) => string.Join(" / ", said.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Take(3));

    private static (int Code, string Said) Run(string file, IReadOnlyList<string> arguments)
    {
        var start = new ProcessStartInfo(file) { RedirectStandardOutput = true, RedirectStandardError = true, RedirectStandardInput = true, UseShellExecute = false };
        foreach (var argument in arguments)
            start.ArgumentList.Add(argument);
        // The other version must not find the service's folders or socket.
        foreach (var name in (string[])["ROOM_SUPERVISOR_SITE", "LOGS_DIRECTORY", "STATE_DIRECTORY", "RUNTIME_DIRECTORY", "NOTIFY_SOCKET"])
            start.Environment.Remove(name);
        try
        {
            using var process = Process.Start(start)!;
            process.StandardInput.Close();
            var error = process.StandardError.ReadToEndAsync();
            var text = process.StandardOutput.ReadToEndAsync();
            if (!process.WaitForExit(Patience))
            {
                process.Kill(entireProcessTree: true);
                return (-1, string.Create(CultureInfo.InvariantCulture, $"did not end within {Patience.TotalMinutes:0} minutes"));
            }
            return (process.ExitCode, text.Result + error.Result);
        }
        catch (Exception e) when (e is Win32Exception or InvalidOperationException)
        {
            return (-1, e.Message);
        }
    }
}

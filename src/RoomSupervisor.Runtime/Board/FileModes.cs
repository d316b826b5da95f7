// Who may read and change the files of a site. Looks at permissions only; must never change one, nor keep a run from starting.
namespace RoomSupervisor.Runtime.Board;

/// <summary>Looking at permissions.</summary>
public static class FileModes
{
    private const UnixFileMode Enter = UnixFileMode.OtherExecute, Read = UnixFileMode.OtherRead, Change = UnixFileMode.OtherWrite;

    /// <summary>What is open to anybody on this machine, in words; empty: nothing is.</summary>
    /// <param name="folders">Folders: the site's, state, log.</param>
    /// <param name="files">Files in them, and a command that is run.</param>
    /// <param name="isService">True for a run of its own user under a service manager: then nothing of it is anybody's to read. A run by hand is looked at for what others may change only.</param>
    public static IReadOnlyList<string> Open(IReadOnlyList<string> folders, IReadOnlyList<string> files, bool isService)
    {
        List<string> open = [];
        foreach (var folder in folders.Distinct(StringComparer.Ordinal))
        {
            var mode = Of(folder);
            if ((mode & Change) != 0 && (mode & Enter) != 0)
                open.Add($"{folder} may be changed by anybody");
            else if (isService && (mode & Enter) != 0)
                open.Add($"{folder} may be looked into by anybody");
        }
        foreach (var file in files.Distinct(StringComparer.Ordinal))
        {
            // What lies in a folder that others cannot enter is out of their reach.
            if ((Of(Path.GetDirectoryName(Path.GetFullPath(file))!) & Enter) == 0)
                continue;
            if ((Of(file) & Change) != 0)
                open.Add($"{file} may be changed by anybody");
            else if (isService && (Of(file) & Read) != 0)
                open.Add($"{file} may be read by anybody");
        }
        return open;
    }

    private static UnixFileMode Of(string path)
    {
        try
        {
            return OperatingSystem.IsWindows() || !(File.Exists(path) || Directory.Exists(path)) ? UnixFileMode.None : File.GetUnixFileMode(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return UnixFileMode.None;   // whoever may not even look at it has it from somebody who keeps it shut
        }
    }
}

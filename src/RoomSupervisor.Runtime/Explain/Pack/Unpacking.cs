// Opening a support pack: into a directory of its own, or onto a spare board. A pack is a stranger's file: no name in it may lead out of the directory, no piece may grow without end, and
// nothing that is there is written over without being kept.
using System.Globalization;
using System.IO.Compression;
using System.Text;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Site;

namespace RoomSupervisor.Runtime.Explain.Pack;

/// <summary>A pack that cannot be opened; the message is for the person who asked.</summary>
public sealed class PackException(string message) : Exception(message);

/// <summary>Reading packs.</summary>
public static class Unpacking
{
    /// <summary>Most bytes of one piece and of all, unpacked; most pieces. Trends of a limit's worth unpack to some tens of megabytes.</summary>
    private const long MostOfOne = 400_000_000, MostOfAll = 1_000_000_000;
    private const int MostPieces = 5000;

    /// <summary>Unpacks into a directory that is new or empty.</summary>
    /// <returns>What the pack says of itself.</returns>
    /// <exception cref="PackException">It is no pack, or holds a name that must not be.</exception>
    public static string Into(string pack, string directory)
    {
        if (Directory.Exists(directory) && Directory.EnumerateFileSystemEntries(directory).Any())
            throw new PackException($"{directory} is not empty: name a new directory");
        using var zip = Open(pack, out var about);
        var root = Path.GetFullPath(directory);
        var pieces = Checked(zip, root);
        foreach (var (entry, path) in pieces)
        {
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            using var file = new FileStream(path, FileMode.CreateNew, FileAccess.Write);
            Copy(entry, file);
        }
        return about;
    }

    /// <summary>The files of a pack that a spare board needs: both site files, last good, memory and history.</summary>
    /// <param name="pack">The pack.</param>
    /// <param name="directory">The site's directory on the board.</param>
    /// <param name="state">The board's state folder.</param>
    /// <returns>Name in the pack, and where it goes.</returns>
    /// <exception cref="PackException">It is no pack, or holds a name that must not be.</exception>
    public static IReadOnlyList<(string Name, string Path)> Needed(string pack, string directory, StateFolder state)
    {
        using var zip = Open(pack, out _);
        return [.. Checked(zip, Path.GetFullPath(directory)).Select(piece => (piece.Entry.FullName, Target(piece.Entry.FullName, directory, state))).Where(one => one.Item2 is not null)!];
    }

    /// <summary>Puts them there. What stood there is kept beside it, with the time in its name.</summary>
    /// <returns>What was done, a line each.</returns>
    /// <exception cref="PackException">It is no pack.</exception>
    /// <exception cref="IOException">The disk cannot be written; what was not reached stays as it was.</exception>
    public static IReadOnlyList<string> Restore(string pack, string directory, StateFolder state, DateTime utc)
    {
        var needed = Needed(pack, directory, state);
        if (!needed.Any(one => one.Name == SiteReader.SiteFile))
            throw new PackException("there is no site.yaml in it: a pack without names cannot be restored, nor one of a site that had none");
        using var zip = Open(pack, out _);
        List<string> done = [];
        foreach (var (name, path) in needed)
        {
            using var bytes = new MemoryStream();
            Copy(zip.GetEntry(name)!, bytes);
            Directory.CreateDirectory(Path.GetDirectoryName(Path.GetFullPath(path))!);
            if (SafeFile.Read(path, out var why) is { } before && !before.AsSpan().SequenceEqual(bytes.GetBuffer().AsSpan(0, (int)bytes.Length)))
            {
                var kept = path + utc.ToString("'.before-'yyyyMMdd-HHmmss", CultureInfo.InvariantCulture);
                SafeFile.Write(kept, before, overwrite: false);
                done.Add($"{path}: what stood there is kept as {Path.GetFileName(kept)}");
            }
            else if (why.Length > 0)
                throw new PackException($"{path} {why}: nothing is written over what cannot be kept");
            SafeFile.Write(path, bytes.GetBuffer().AsSpan(0, (int)bytes.Length));
            done.Add($"{path} is that of the pack");
        }
        return done;
    }

    private static string? Target(string name, string directory, StateFolder state)
    {
        if (name is SiteReader.SiteFile or SiteReader.HouseholdFile or "building.yaml" || name.StartsWith("scenarios/", StringComparison.Ordinal))
            return Path.Combine(directory, name);
        return name.StartsWith("state/", StringComparison.Ordinal) ? Path.Combine(state.Path, name["state/".Length..]) : null;
    }

    private static ZipArchive Open(string pack, out string about)
    {
        ZipArchive zip;
        try
        {
            zip = ZipFile.OpenRead(pack);
        }
        catch (InvalidDataException)
        {
            throw new PackException($"{pack} is no support pack: no zip, or its end is missing");
        }
        try
        {
            var entry = zip.GetEntry(SupportPack.AboutName) ?? throw new PackException($"{pack} is no support pack: {SupportPack.AboutName} is missing");
            using var text = new MemoryStream();
            Copy(entry, text);
            about = Encoding.UTF8.GetString(text.GetBuffer(), 0, (int)text.Length);
            if (!about.StartsWith(SupportPack.Mark, StringComparison.Ordinal))
                throw new PackException($"{pack} is no support pack that this version knows: its first line is not \"{SupportPack.Mark}\"");
            return zip;
        }
        catch
        {
            zip.Dispose();
            throw;
        }
    }

    /// <summary>Every piece with its path, all of them looked at before the first is written.</summary>
    private static List<(ZipArchiveEntry Entry, string Path)> Checked(ZipArchive zip, string root)
    {
        if (zip.Entries.Count > MostPieces)
            throw new PackException($"it holds {zip.Entries.Count} pieces: no pack has so many");
        List<(ZipArchiveEntry, string)> pieces = [];
        var seen = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        var sum = 0L;
        foreach (var entry in zip.Entries)
        {
            var name = entry.FullName;
            var isPlain = name.Length is > 0 and < 200 && !name.Contains('\\', StringComparison.Ordinal) && !name.Contains(':', StringComparison.Ordinal) && !name.Any(char.IsControl)
                && name.Split('/').All(part => part.Length > 0 && part is not ("." or ".."));
            var path = isPlain ? Path.GetFullPath(Path.Combine(root, name)) : "";
            // Links travel in the upper half of the attributes (a Unix mode); only plain files are taken.
            var kind = (entry.ExternalAttributes >> 16) & 0xF000;
            if (!isPlain || !path.StartsWith(root + Path.DirectorySeparatorChar, StringComparison.Ordinal) || kind is not (0 or 0x8000) || !seen.Add(name))
                throw new PackException($"it holds \"{new string([.. name.Take(100).Select(letter => char.IsControl(letter) ? '?' : letter)])}\", a name that leads elsewhere or stands twice: nothing was unpacked");
            sum += entry.Length;
            if (entry.Length > MostOfOne || sum > MostOfAll)
                throw new PackException($"{name} would unpack to {entry.Length / 1_000_000} MB: nothing was unpacked");
            pieces.Add((entry, path));
        }
        return pieces;
    }

    /// <summary>What a zip says of its sizes is not believed.</summary>
    private static void Copy(ZipArchiveEntry entry, Stream into)
    {
        try
        {
            using var from = entry.Open();
            var buffer = new byte[1 << 16];
            for (long sum = 0; from.Read(buffer) is > 0 and var read;)
            {
                sum += read;
                if (sum > Math.Min(MostOfOne, entry.Length))
                    throw new PackException($"{entry.FullName} is longer than it says: the pack is damaged or made to harm");
                into.Write(buffer, 0, read);
            }
        }
        catch (InvalidDataException e)
        {
            throw new PackException($"{entry.FullName} is damaged: {e.Message}");
        }
    }
}

// The controller's own folder: last good files and what was accepted before. Two generations of each last good file, each with its
// checksum. Never holds anything that a person must edit; whatever is wrong in it counts as not there.
using System.Text;

namespace RoomSupervisor.Runtime.State;

/// <summary>State of one site on disk.</summary>
public sealed class StateFolder(string path)
{
    private const string Mark = "# last good file of room-supervisor; sha256 ";

    /// <summary>The folder.</summary>
    public string Path { get; } = path;

    /// <summary>Versions of household.yaml.</summary>
    public History History { get; } = new(System.IO.Path.Combine(path, "history"));

    /// <summary>The folder somebody named, else the one of the service or of the site (<see cref="ServiceFolders.State"/>).</summary>
    public static StateFolder Of(string siteDirectory, string? named = null) => new(named ?? ServiceFolders.State(siteDirectory));

    /// <summary>The last good site.yaml, or null.</summary>
    public byte[]? LoadSite() => Load("site.last-good.yaml");

    /// <summary>The last good settings of the household as a household.yaml, or null.</summary>
    public byte[]? LoadHousehold() => Load("household.last-good.yaml");

    /// <summary>Keeps a site.yaml that runs.</summary>
    /// <exception cref="IOException">The disk is full or read-only.</exception>
    public void SaveSite(ReadOnlySpan<byte> text) => Save("site.last-good.yaml", text);

    /// <summary>Keeps the household's settings that hold, as <c>HouseholdWriter</c> wrote them.</summary>
    /// <exception cref="IOException">The disk is full or read-only.</exception>
    public void SaveHousehold(ReadOnlySpan<byte> text) => Save("household.last-good.yaml", text);

    /// <summary>The memory as <c>MemoryFile</c> wrote it, with its moment before it, or null.</summary>
    public byte[]? LoadMemory() => Load("memory");

    /// <summary>Keeps the memory.</summary>
    /// <exception cref="IOException">The disk is full or read-only.</exception>
    /// <returns>Bytes that went to the disk.</returns>
    public long SaveMemory(ReadOnlySpan<byte> bytes) => Save("memory", bytes);

    /// <summary>What was counted of the house's parts (<c>CareRecord</c>), or null.</summary>
    public byte[]? LoadCare() => Load("care");

    /// <summary>Keeps what was counted.</summary>
    /// <returns>Bytes that went to the disk.</returns>
    /// <exception cref="IOException">The disk is full or read-only.</exception>
    public long SaveCare(ReadOnlySpan<byte> bytes) => Save("care", bytes);

    /// <summary>The heat-up programme of a loop's screed (<c>ScreedFile</c>), or null.</summary>
    public byte[]? LoadScreed(string loop) => Load("screed." + loop);

    /// <summary>Keeps it.</summary>
    /// <exception cref="IOException">The disk is full or read-only.</exception>
    public void SaveScreed(string loop, ReadOnlySpan<byte> bytes) => Save("screed." + loop, bytes);

    /// <summary>What starts before came to (<c>StartBook</c>), or null.</summary>
    public byte[]? LoadStarts() => Load("starts");

    /// <summary>Keeps what starts came to.</summary>
    /// <exception cref="IOException">The disk is full or read-only.</exception>
    public void SaveStarts(ReadOnlySpan<byte> bytes) => Save("starts", bytes);

    /// <summary>Takes the kept memory out of the way of the next start; it stays beside, for who wants to know what was in it.</summary>
    /// <exception cref="IOException">The disk is read-only.</exception>
    public void SetMemoryAside()
    {
        foreach (var name in new[] { "memory", "memory.1" })
        {
            var file = System.IO.Path.Combine(Path, name);
            if (File.Exists(file))
                File.Move(file, file + ".aside", overwrite: true);
        }
    }

    private byte[]? Load(string name) => Sound(System.IO.Path.Combine(Path, name)) ?? Sound(System.IO.Path.Combine(Path, name + ".1"));

    private long Save(string name, ReadOnlySpan<byte> text)
    {
        var file = System.IO.Path.Combine(Path, name);
        var before = Sound(file);
        if (before is not null && text.SequenceEqual(before))
            return 0;
        Directory.CreateDirectory(Path);
        // Moved, not copied: the card takes half as many bytes. Whoever loses power between the two finds the one before.
        if (before is not null)
            File.Move(file, file + ".1", overwrite: true);
        var bytes = Sealed(text);
        SafeFile.Write(file, bytes);
        return bytes.Length;
    }

    private static byte[] Sealed(ReadOnlySpan<byte> text) => [.. Encoding.ASCII.GetBytes(Mark + Convert.ToHexStringLower(Sha256.Of(text)) + "\n"), .. text];

    private static byte[]? Sound(string file)
    {
        if (SafeFile.Read(file, out _) is not { } bytes)
            return null;
        var head = Mark.Length + 2 * Sha256.Bytes + 1;
        return bytes.Length >= head && bytes.AsSpan().SequenceEqual(Sealed(bytes.AsSpan(head))) ? bytes[head..] : null;
    }
}

// Where the repository lies, for tests that look at its files. Never writes there.
namespace RoomSupervisor.Parts.Tests;

internal static class Repository
{
    /// <summary>The folder with RoomSupervisor.sln, looked for upwards from where the tests run.</summary>
    public static string Root { get; } = Find();

    /// <summary>A file of the repository by its path from the root.</summary>
    public static string Text(string path) => File.ReadAllText(Path.Combine(Root, path));

    private static string Find()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "RoomSupervisor.sln")))
            folder = Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException("RoomSupervisor.sln is in no folder above the tests");
        return folder;
    }
}

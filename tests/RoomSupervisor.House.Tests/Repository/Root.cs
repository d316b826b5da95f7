// Where the repository lies, found by walking up from the test's own folder.
namespace RoomSupervisor.House.Tests.Repository;

internal static class Root
{
    public static string Path { get; } = Find();

    public static string At(params string[] parts) => System.IO.Path.Combine([Path, .. parts]);

    /// <summary>Files under src, tests and tools that people wrote, by ending.</summary>
    public static IEnumerable<string> Sources(string ending) =>
        new[] { "src", "tests", "tools" }
            .SelectMany(folder => Directory.EnumerateFiles(At(folder), "*" + ending, SearchOption.AllDirectories))
            .Where(file => !file.Split(System.IO.Path.DirectorySeparatorChar).Any(part => part is "bin" or "obj"));

    private static string Find()
    {
        var folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(System.IO.Path.Combine(folder, "RoomSupervisor.sln")))
            folder = System.IO.Path.GetDirectoryName(folder);
        return folder ?? throw new InvalidOperationException("RoomSupervisor.sln is not above " + AppContext.BaseDirectory);
    }
}

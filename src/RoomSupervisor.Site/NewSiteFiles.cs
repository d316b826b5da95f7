// Puts a new site's two files into a directory. Never overwrites: where either file exists, nothing is written.
namespace RoomSupervisor.Site;

/// <summary>Writes new files.</summary>
public static class NewSiteFiles
{
    private static readonly string[] Names = [SiteReader.SiteFile, SiteReader.HouseholdFile];

    /// <summary>The file that stands in the way, or null.</summary>
    public static string? InTheWay(string directory) => File.Exists(directory)
        ? directory
        : Names.Select(name => Path.Combine(directory, name)).FirstOrDefault(path => File.Exists(path) || Directory.Exists(path));

    /// <summary>Writes both; makes the directory.</summary>
    /// <exception cref="IOException">One exists, or cannot be written; neither is left behind half written.</exception>
    public static void Write(string directory, string site, string household)
    {
        Directory.CreateDirectory(directory);
        var made = new List<string>();
        try
        {
            foreach (var (name, text) in Names.Zip([site, household]))
            {
                var path = Path.Combine(directory, name);
                using var file = new FileStream(path, FileMode.CreateNew, FileAccess.Write);
                made.Add(path);
                file.Write(System.Text.Encoding.UTF8.GetBytes(text));
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            foreach (var path in made)
                File.Delete(path);
            throw;
        }
    }
}

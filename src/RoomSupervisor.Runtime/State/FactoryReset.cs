// Back to a board that knows no house: site files, state and logs go, after a pack of them was written where somebody said. Must never begin while a controller runs, nor take a file that is not ours.
using RoomSupervisor.Records;
using RoomSupervisor.Runtime.Recording;
using RoomSupervisor.Site;

namespace RoomSupervisor.Runtime.State;

/// <summary>Taking everything away that belongs to one house.</summary>
public static class FactoryReset
{
    /// <summary>What would go, files only; nothing else in those folders is touched.</summary>
    public static IReadOnlyList<string> Files(string directory, StateFolder state, string logs) =>
    [
        .. In(directory, SiteReader.SiteFile, SiteReader.HouseholdFile, Reload.Keeping.AnswerFile, "building.yaml", "*.before-*"),
        .. In(Path.Combine(directory, "scenarios"), "*.yaml"),
        .. In(Path.Combine(directory, "checkout"), "*.jsonl"),
        .. In(state.Path, "site.last-good.yaml*", "household.last-good.yaml*", "memory*", "care*", "starts*", "screed.*"),
        .. SafeFile.HalfWritten(directory), .. SafeFile.HalfWritten(state.Path), .. SafeFile.HalfWritten(Path.Combine(state.Path, "history")),
        .. In(Path.Combine(state.Path, "history"), "household.*.yaml"),
        .. In(logs, "room-supervisor.log*", "room-supervisor.jsonl*", TrendRecorder.FileName + "*"),
        .. In(Path.Combine(logs, TraceRecorder.FolderName), "*" + TraceRecorder.Ending),
    ];

    /// <summary>Deletes them. Site files go first: from then on no start controls anything with half of a house.</summary>
    /// <returns>What could not be deleted, with the reason.</returns>
    public static IReadOnlyList<string> Do(IReadOnlyList<string> files)
    {
        List<string> left = [];
        foreach (var file in files)
        {
            try
            {
                File.Delete(file);
            }
            catch (Exception e) when (SafeFile.IsTrouble(e))
            {
                left.Add($"{file}: {e.Message}");
            }
        }
        return left;
    }

    private static string[] In(string folder, params string[] patterns)
        => Directory.Exists(folder) ? [.. patterns.SelectMany(pattern => Directory.GetFiles(folder, pattern)).Distinct(StringComparer.Ordinal)] : [];
}

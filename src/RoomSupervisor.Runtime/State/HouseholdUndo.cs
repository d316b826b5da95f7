// Going back to an earlier household.yaml. Keeps the present one first; if that cannot be kept, nothing is changed.
namespace RoomSupervisor.Runtime.State;

/// <summary>Undoing.</summary>
public static class HouseholdUndo
{
    /// <summary>Puts a version back.</summary>
    /// <param name="path">household.yaml.</param>
    /// <param name="history">Its versions.</param>
    /// <param name="number">Which; null: the newest that differs from the present file.</param>
    /// <param name="time">Clock, for the kept version's stamp.</param>
    /// <param name="said">What was done, or why not.</param>
    public static bool Back(string path, History history, int? number, TimeProvider time, out string said)
    {
        var present = SafeFile.Read(path, out var why);
        if (why.Length > 0)
        {
            said = $"{path} {why}";
            return false;
        }
        var version = number is { } wanted ? history.Find(wanted)
            : history.All().LastOrDefault(candidate => present is null || !candidate.Text.AsSpan().SequenceEqual(present));
        if (version is null)
        {
            said = number is null ? "there is no earlier version" : $"there is no version {number}; history lists them";
            return false;
        }
        try
        {
            var kept = "";
            if (present is not null && history.All().All(candidate => !candidate.Text.AsSpan().SequenceEqual(present)))
                kept = $"; what stood there is kept as version {history.Add(time.GetUtcNow().UtcDateTime, ["kept before undo; never accepted as it stands"], present)}";
            SafeFile.Write(path, version.Text);
            said = $"household.yaml is version {version.Number} again{kept}";
            return true;
        }
        catch (Exception e) when (SafeFile.IsTrouble(e))
        {
            said = $"nothing was changed: {e.Message}";
            return false;
        }
    }
}

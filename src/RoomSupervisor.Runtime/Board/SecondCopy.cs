// A second copy of what a dead memory card would take along: site files, settings in force and their versions, memory, counters; a small pack on a stick, once a day and at a stop, two generations.
// Written by the Records thread. Must never write into the folder while no stick is mounted there (that would be the same card), nor hold up anything: a stick that is not there is told after three days.
using RoomSupervisor.Records;
using RoomSupervisor.Runtime.Explain.Pack;
using RoomSupervisor.Runtime.State;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Runtime.Board;

/// <summary>Copies of one run.</summary>
/// <param name="stick">Folder a stick is mounted at.</param>
/// <param name="clock">The two clocks.</param>
/// <param name="say">Takes a line for the log.</param>
public sealed class SecondCopy(string stick, Func<(DateTime Utc, double ElapsedS)> clock, Action<Priority, string> say) : IRecordsGuest
{
    /// <summary>Name of the copy; the one before ends with <c>.1</c>.</summary>
    public const string FileName = "room-supervisor-copy.pack.zip";

    /// <summary>Between two copies, and until a missing one is told, s.</summary>
    public const double EveryS = 86400, MissingAfterS = 3 * 86400;

    private const double FirstAfterS = 900, AgainAfterS = 3600;

    private volatile PackWish? wish;
    private double dueS = FirstAfterS, goodS;
    private bool isMissing;
    private string lastTrouble = "";

    public long Written => 0;   // another card's bytes

    /// <summary>Whether something is mounted at a folder; tests give their own.</summary>
    public Func<string, bool> IsMounted { get; init; } = Mounted;

    /// <summary>What is copied; until then nothing is.</summary>
    public void Begin(PackWish what) => wish = what;

    public void Drain()
    {
    }

    /// <inheritdoc/>
    public void Spill()
    {
        if (clock().ElapsedS >= dueS)
            Copy();
    }

    public void Dispose()
    {
        if (clock().ElapsedS >= FirstAfterS)
            Copy();
    }

    private void Copy()
    {
        if (wish is not { } what)
            return;
        var (utc, nowS) = clock();
        var trouble = Try(what, utc);
        dueS = nowS + (trouble.Length == 0 ? EveryS : AgainAfterS);
        if (trouble.Length > 0)
        {
            if (trouble != lastTrouble)
                say(Priority.Note, $"second copy: {trouble}; tried again every hour");
            if (!isMissing && nowS - goodS >= MissingAfterS)
                Tell(BoardEvents.CopyMissing, Quantities.Show(nowS - goodS, Quantity.Duration, UnitSystem.Metric));
            isMissing |= nowS - goodS >= MissingAfterS;
        }
        else
        {
            if (isMissing)
                Tell(BoardEvents.CopyWritten, "");
            (goodS, isMissing) = (nowS, false);
        }
        lastTrouble = trouble;
    }

    private void Tell(EventDefinition what, string figure)
        => say(what.Priority, what.Text.Replace("{A}", figure, StringComparison.Ordinal) + (what.Priority >= Priority.Warning ? $" | means: {what.Meaning} | check: {what.Check}" : ""));

    /// <summary>Writes it; what went wrong, or "".</summary>
    private string Try(PackWish what, DateTime utc)
    {
        if (!IsMounted(stick))
            return $"no stick is mounted at {stick}";
        var (path, beside) = (Path.Combine(stick, FileName), Path.Combine(stick, "." + FileName + ".new"));
        try
        {
            File.Delete(beside);
            var leftOut = SupportPack.Write(beside, what, utc);
            if (leftOut.Count > 0)
                return $"{leftOut.Count} files could not be copied: {leftOut[0]}";
            using (var file = new FileStream(beside, FileMode.Open, FileAccess.ReadWrite))
                file.Flush(flushToDisk: true);
            // Read back before the older one goes: a dying stick takes writes and gives nothing.
            _ = Unpacking.Needed(beside, what.Directory, what.State);
            if (File.Exists(path))
                File.Move(path, path + ".1", overwrite: true);
            File.Move(beside, path, overwrite: true);
            return "";
        }
        catch (Exception e) when (SafeFile.IsTrouble(e) || e is PackException or InvalidDataException)
        {
            return $"{stick}: {e.Message.TrimEnd('.')}";
        }
    }

    private static bool Mounted(string folder)
    {
        try
        {
            return HasAnother(folder, File.ReadLines("/proc/self/mountinfo"));
        }
        catch (Exception e) when (SafeFile.IsTrouble(e))
        {
            return false;
        }
    }

    /// <summary>
    /// Whether another disk is mounted at a folder than the one around it, as the kernel lists it (proc(5), mountinfo: the third field is the disk, the fifth the place, blanks as \040). That a place is listed
    /// is not enough: the service manager mounts a folder that the service may write onto itself, stick or no stick.
    /// </summary>
    internal static bool HasAnother(string folder, IEnumerable<string> mountinfo)
    {
        var wanted = Path.TrimEndingDirectorySeparator(Path.GetFullPath(folder));
        var (around, aroundAt, at) = ("", "", "");
        foreach (var fields in mountinfo.Select(line => line.Split(' ')).Where(fields => fields.Length > 4))
        {
            var place = fields[4].Replace("\\040", " ", StringComparison.Ordinal);
            if (place == wanted)
                at = fields[2];   // the last one lies on top
            else if (place.Length >= aroundAt.Length && (place == "/" || wanted.StartsWith(place + "/", StringComparison.Ordinal)))
                (around, aroundAt) = (fields[2], place);
        }
        return at.Length > 0 && at != around;
    }
}

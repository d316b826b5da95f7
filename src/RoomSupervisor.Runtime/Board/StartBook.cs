// Keeps the record of starts over restarts and reboots: in the state folder (two generations, checksum), and in the runtime directory too, so that a full or
// read-only disk does not make a program that falls over start without pauses. Whatever is wrong in it counts as not there. It must never keep a run from starting.
using System.Globalization;
using System.Text;
using RoomSupervisor.Runtime.State;

namespace RoomSupervisor.Runtime.Board;

/// <summary>The record on disk.</summary>
/// <param name="state">The controller's own folder.</param>
/// <param name="runtime">A folder that lives as long as the board is up; null: none.</param>
public sealed class StartBook(StateFolder state, string? runtime)
{
    /// <summary>A reboot is wished for by this file in the runtime directory.</summary>
    public const string WishFile = "reboot-wanted";

    private readonly StateFolder? fleeting = runtime is null ? null : new StateFolder(runtime);

    /// <summary>The record that knows of more bad ends; nothing where neither is whole.</summary>
    public StartRecord Load()
    {
        var (kept, other) = (Parse(state.LoadStarts()), Parse(fleeting?.LoadStarts()));
        return kept is null ? other ?? default : other is { } o && (o.BadEnds, o.Refusals).CompareTo((kept.Value.BadEnds, kept.Value.Refusals)) > 0 ? o : kept.Value;
    }

    /// <summary>Keeps it, wherever it can be kept; says why not where it cannot be kept for good.</summary>
    public string Save(StartRecord record)
    {
        var bytes = Encoding.ASCII.GetBytes(string.Create(CultureInfo.InvariantCulture,
            $"bad_ends {record.BadEnds}\nrefusals {record.Refusals}\nreboot_asked {Bit(record.RebootAsked)}\njust_rebooted {Bit(record.JustRebooted)}\nrunning {Bit(record.Running)}\n"));
        if (fleeting is not null)
            _ = Try(() => fleeting.SaveStarts(bytes));
        return Try(() => state.SaveStarts(bytes));
    }

    /// <summary>Asks root's own unit for a reboot; false with the reason when even that cannot be written.</summary>
    public bool Wish(out string why)
    {
        why = runtime is null ? "there is no runtime directory" : Try(() => SafeFile.Write(Path.Combine(runtime, WishFile), "the controller failed again and again\n"u8));
        return why.Length == 0;
    }

    /// <summary>Sets the kept memory aside; it can be looked at later.</summary>
    public string SetMemoryAside() => Try(state.SetMemoryAside);

    private static int Bit(bool value) => value ? 1 : 0;

    private static string Try(Action write)
    {
        try
        {
            write();
            return "";
        }
        catch (Exception e) when (SafeFile.IsTrouble(e))
        {
            return e.Message;
        }
    }

    private static StartRecord? Parse(byte[]? bytes)
    {
        if (bytes is null)
            return null;
        var values = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var line in Encoding.ASCII.GetString(bytes).Split('\n', StringSplitOptions.RemoveEmptyEntries))
        {
            var parts = line.Split(' ');
            if (parts.Length == 2 && int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var value))
                values[parts[0]] = value;
        }
        int Of(string key) => values.GetValueOrDefault(key);
        return new StartRecord(Math.Min(Of("bad_ends"), 1000), Math.Min(Of("refusals"), 1000), Of("reboot_asked") > 0, Of("just_rebooted") > 0, Of("running") > 0);
    }
}

// Sees when a file has changed and come to rest. Polls its content: watching a directory stops for ever when the directory is swapped,
// and stamps lie when a file is copied, restored or written twice within a tick. Editors write half files and rename over: a content
// counts when it is the same at two looks, an absence at three.
using RoomSupervisor.Runtime.State;

namespace RoomSupervisor.Runtime.Reload;

/// <summary>One watched file.</summary>
/// <param name="path">The file.</param>
/// <param name="seen">Its content as known at start; null: it was not there.</param>
public sealed class FileWatch(string path, byte[]? seen)
{
    private const int LooksWhenGone = 3;

    private byte[]? last = seen;
    private int looks = LooksWhenGone;

    /// <summary>The content that has come to rest; null: the file is not there, or cannot be read.</summary>
    public byte[]? Settled { get; private set; } = seen;

    /// <summary>Why it cannot be read; empty: it can, or it is not there.</summary>
    public string Unreadable { get; private set; } = "";

    /// <summary>Looks once. True when another content has come to rest since the last time this was true.</summary>
    public bool Look()
    {
        var now = SafeFile.Read(path, out var why);
        looks = Same(now, last) ? looks + 1 : 1;
        last = now;
        if (looks < (now is null ? LooksWhenGone : 2) || Same(now, Settled))
            return false;
        Settled = now;
        Unreadable = why;
        return true;
    }

    private static bool Same(byte[]? one, byte[]? other) => one is null ? other is null : other is not null && one.AsSpan().SequenceEqual(other);
}

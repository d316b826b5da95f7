// What a bus worker knows of a device on its bus. Devices/PolledDevice implements it once for all drivers.
// An implementation must never sleep, and never read a clock: time is a parameter.
namespace RoomSupervisor.Hardware;

/// <summary>A device as its bus worker sees it. Not safe for use by two threads, except for the snapshots.</summary>
public interface IBusDevice : IDisposable
{
    /// <summary>Name in the site file.</summary>
    string Name { get; }

    /// <summary>Monotonic seconds at which <see cref="Poll"/> has something to do; at or before the last poll when it has at once.</summary>
    double NextDueS { get; }

    /// <summary>Does what is due: writes before reads. Ends early when it has taken long, so that the others have their turn, and when told to stop.</summary>
    /// <returns>Seconds it took on the link's own clock.</returns>
    double Poll(double nowS, Func<bool> isStopped);

    /// <summary>Longest time one poll may take, s: what somebody who waits for it must allow.</summary>
    double LongestPollS { get; }

    /// <summary>
    /// Writes every output what holds without a living lease: each within its own time-out, all within three of them, and no more attempts once
    /// nobody answered twice in a row. Adds those that could not be written.
    /// </summary>
    /// <returns>How many were written.</returns>
    int WriteSafe(double nowS, List<Terms.PointWiring> notWritten);

    /// <summary>
    /// Its bus hangs: all its inputs count as missing from now on. Another thread may be stuck in <see cref="Poll"/> meanwhile.
    /// </summary>
    /// <param name="nowS">Monotonic seconds.</param>
    /// <param name="forGood">True: another takes its place, and it puts nothing any more, should its request ever end.</param>
    void Lose(double nowS, bool forGood);

    /// <summary>A snapshot; any thread.</summary>
    DeviceHealth Health { get; }

    /// <summary>How many wired channels it has.</summary>
    int ChannelCount { get; }

    /// <summary>A snapshot of one wired channel; any thread.</summary>
    ChannelHealth Channel(int index);
}

// Where the loop puts commands and bus workers take what holds now: the only place the two meet on the way out.
// A command holds for its life and no longer, so a loop that stands still cannot leave a valve open. It must never invent a value.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware;

/// <summary>What stands behind the value of a channel.</summary>
public enum LeaseState : byte
{
    /// <summary>No command was ever put: the wiring's safe value holds.</summary>
    Never,

    /// <summary>A command holds.</summary>
    Alive,

    /// <summary>The last command's life is over, or it does not count: its <see cref="Command.ThenValue"/> holds.</summary>
    Ended,
}

/// <summary>The value that holds for a channel at a moment.</summary>
/// <param name="Value">In the unit of the command; the safe value where no lease says better.</param>
/// <param name="State">What stands behind it.</param>
/// <param name="EndsAtS">Monotonic seconds at which a living lease ends; infinity otherwise.</param>
/// <param name="LifeS">Life the last command was given, s; 0 where there never was one.</param>
public readonly record struct LeasedValue(double Value, LeaseState State, double EndsAtS, double LifeS);

/// <summary>One lease a channel that carries an output, numbered by <see cref="Outputs.OutputChannels"/>. Safe to use from any thread; allocates nothing after construction.</summary>
public sealed class OutputLeases
{
    private struct Slot
    {
        public double Value, ThenValue, PutAtS, LifeS;
    }

    private readonly Lock gate = new();
    private readonly Slot[] slots;
    private readonly long[] returns, versions;

    /// <param name="channels">How many channels carry outputs.</param>
    public OutputLeases(int channels) => (slots, returns, versions) = (new Slot[channels], new long[channels], new long[channels]);

    public int Count => slots.Length;

    /// <summary>Gives a channel a command for a time. Replaces the one before.</summary>
    /// <param name="index">Index of the channel's lease.</param>
    /// <param name="command">Its value and the value that follows.</param>
    /// <param name="nowS">Monotonic seconds, the clock of <see cref="ScanTime.ElapsedS"/>.</param>
    /// <param name="lifeS">Seconds for which it holds from now.</param>
    /// <exception cref="IndexOutOfRangeException">There is no such channel.</exception>
    public void Put(int index, in Command command, double nowS, double lifeS)
    {
        lock (gate)
        {
            slots[index] = new Slot { Value = command.Value, ThenValue = command.ThenValue, PutAtS = nowS, LifeS = lifeS };
            Volatile.Write(ref versions[index], versions[index] + 1);
        }
    }

    /// <summary>The value that holds at a moment.</summary>
    /// <param name="index">Index of the channel's lease.</param>
    /// <param name="nowS">Monotonic seconds.</param>
    /// <param name="safeValue">The wiring's safe value: holds where there never was a lease, or where its numbers are no numbers.</param>
    /// <param name="afterVersion">Commands up to this <see cref="Version"/> do not count as living (they were put before the bus came back).</param>
    public LeasedValue At(int index, double nowS, double safeValue, long afterVersion = 0)
    {
        Slot slot;
        long version;
        lock (gate)
            (slot, version) = (slots[index], versions[index]);
        if (version == 0)
            return new LeasedValue(safeValue, LeaseState.Never, double.PositiveInfinity, 0);
        var then = double.IsFinite(slot.ThenValue) ? slot.ThenValue : safeValue;
        var alive = version > afterVersion && nowS < slot.PutAtS + slot.LifeS;
        return alive && double.IsFinite(slot.Value)
            ? new LeasedValue(slot.Value, LeaseState.Alive, slot.PutAtS + slot.LifeS, slot.LifeS)
            : new LeasedValue(then, LeaseState.Ended, double.PositiveInfinity, slot.LifeS);
    }

    /// <summary>The channel was written its safe value first: at the first contact with its device, and after an outage that outlasted its command.</summary>
    public void Returned(int index) => Interlocked.Increment(ref returns[index]);

    /// <summary>How often <see cref="Returned"/> was called: whoever counted on what the channel did since the last time must start anew.</summary>
    public long Returns(int index) => Interlocked.Read(ref returns[index]);

    /// <summary>A number that changes with every <see cref="Put"/>; 0 where there was none.</summary>
    public long Version(int index) => Volatile.Read(ref versions[index]);
}

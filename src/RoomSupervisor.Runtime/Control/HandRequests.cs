// Hand values on their way from whoever asks to the loop: a small queue that the loop empties at the start of a scan. The loop never waits for it and
// allocates nothing; a full queue refuses the asker. It must never judge: what is put here has been checked.
using RoomSupervisor.Sequence;

namespace RoomSupervisor.Runtime.Control;

/// <summary>A hand value to set, or to end; or a room whose measured data are to be forgotten.</summary>
/// <param name="Output">Index of the output; below zero it is no output but a room, −1 − its index.</param>
/// <param name="Value">In the unit of its command; NaN ends its hand value.</param>
/// <param name="ForS">Its life, s.</param>
public readonly record struct HandRequest(int Output, double Value, double ForS)
{
    /// <summary>Forgets what was measured of a room.</summary>
    public static HandRequest Forget(int room) => new(~room, double.NaN, 0);

    /// <summary>True for a room that is to be forgotten.</summary>
    public bool IsForget => Output < 0;

    /// <summary>Gives it to the memory, between two scans.</summary>
    public void ApplyTo(Memory memory)
    {
        if (IsForget)
        {
            RoomDataKeeping.Forget(memory, ~Output);
            return;
        }
        if (double.IsNaN(Value))
            HandValues.End(memory, Output);
        else
            HandValues.Set(memory, Output, Value, ForS);
    }
}

/// <summary>The queue: any number of threads put, the loop alone takes.</summary>
public sealed class HandRequests
{
    private const int Most = 64;

    private readonly Lock askers = new();
    private readonly HandRequest[] ring = new HandRequest[Most];
    private long put, taken;

    /// <summary>Puts a request that <see cref="HandValues.IsAllowed"/> has accepted; false when the loop has not come round to the others yet.</summary>
    public bool TryPut(in HandRequest request)
    {
        lock (askers)
        {
            var next = put;
            if (next - Volatile.Read(ref taken) >= Most)
                return false;
            ring[next % Most] = request;
            Volatile.Write(ref put, next + 1);
            return true;
        }
    }

    /// <summary>Gives all that waits to the memory. Only for the thread that scans.</summary>
    public void ApplyTo(Memory memory, Recording.TraceTap? trace = null)
    {
        for (var until = Volatile.Read(ref put); taken < until; Volatile.Write(ref taken, taken + 1))
        {
            ref readonly var request = ref ring[taken % Most];
            // A trace has no word for forgetting: it tells the memory anew.
            if (request.IsForget)
                trace?.AskForMemory();
            else
                trace?.Hand(request);
            request.ApplyTo(memory);
        }
    }
}

// One output on its channel, with what was last written there and the rule for coming back after an outage:
// what was written first is what holds without a lease, and only commands put after that count.
// One of an actuator's relays must never come on before the device has confirmed that the others are off.
using RoomSupervisor.Hardware.Outputs;
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Devices;

/// <summary>State of one output for the owner of its device.</summary>
internal sealed class WiredOutput(IOutputChannel channel, OutputChannel output, int health)
{
    private const int Unknown = -1;
    private readonly PointWiring wiring = output.Wiring;
    private readonly int lease = output.Lease;
    private readonly ushort off = channel.ToRaw(0, output.Wiring);
    private WiredOutput[] others = [];
    private int written = Unknown, asked = Unknown;
    private bool wantsOn;
    private long countsAfter;
    private bool safeOwed = true;
    private long seen = -1;
    private double leaseEndsAtS = double.PositiveInfinity, refreshAtS = double.NegativeInfinity, notBeforeS = double.NegativeInfinity;

    public IOutputChannel Channel => channel;

    public PointWiring Wiring => wiring;

    public int Health => health;

    private bool IsHeldBack
    {
        get
        {
            foreach (var other in others)
            {
                if (wantsOn && other.written != other.off)
                    return true;
            }
            return false;
        }
    }

    /// <summary>Names the relays that must be off before this one comes on: the others of the same actuator.</summary>
    public void Exclude(IEnumerable<WiredOutput> all)
        => others = wiring.Role == ChannelRole.Value ? [] : [.. all.Where(one => one != this && one.Wiring.PointId == wiring.PointId)];

    /// <summary>True when a raw value must be written now.</summary>
    public bool Due(OutputLeases leases, double nowS, out ushort raw)
    {
        // Most of the time nothing has changed since the last look.
        raw = 0;
        if (NextDueS(leases, nowS) > nowS)
            return false;
        seen = leases.Version(lease);
        var holds = leases.At(lease, nowS, wiring.SafeValue, safeOwed ? long.MaxValue : countsAfter);
        leaseEndsAtS = holds.EndsAtS;
        asked = raw = channel.ToRaw(holds.Value, wiring);
        wantsOn = raw != off;
        return !IsHeldBack && nowS >= notBeforeS && (raw != written || nowS >= refreshAtS);
    }

    /// <summary>Monotonic seconds at which to look again; <paramref name="atOnceS"/> when now.</summary>
    public double NextDueS(OutputLeases leases, double atOnceS)
    {
        if (notBeforeS > atOnceS)
            return notBeforeS;
        // Then it is the other relay's turn, and this one is due as soon as that is off.
        if (IsHeldBack && leases.Version(lease) == seen)
            return leaseEndsAtS;
        return written == Unknown || written != asked || leases.Version(lease) != seen ? atOnceS : Math.Min(refreshAtS, leaseEndsAtS);
    }

    /// <summary>The raw value that holds without a living lease; false when another relay must be off first and nobody knows that it is.</summary>
    public bool TrySafe(OutputLeases leases, double nowS, out ushort raw)
    {
        raw = channel.ToRaw(leases.At(lease, nowS, wiring.SafeValue, long.MaxValue).Value, wiring);
        wantsOn = raw != off;
        return !IsHeldBack;
    }

    /// <summary>The device confirmed it.</summary>
    public void Written(OutputLeases leases, ushort raw, double nowS, double refreshS)
    {
        written = asked = raw;
        refreshAtS = nowS + refreshS;
        if (!safeOwed)
            return;
        safeOwed = false;
        leases.Returned(lease);
        countsAfter = leases.Version(lease);
        seen = countsAfter;
    }

    /// <summary>Nobody knows what stands there: it did not answer, it refused, or it may have restarted.</summary>
    public void Forget(double notBeforeS)
    {
        written = Unknown;
        this.notBeforeS = notBeforeS;
    }

    /// <summary>The device has been out of reach since a moment. Past the life of the command it held, the safe value is owed first.</summary>
    public void OutOfReach(OutputLeases leases, double nowS, double sinceS)
    {
        if (safeOwed || nowS - sinceS < leases.At(lease, nowS, wiring.SafeValue).LifeS)
            return;
        safeOwed = true;
        written = Unknown;
    }
}

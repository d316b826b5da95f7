// One output on its channel, with what was last written there and the rule for coming back after an outage:
// what was written first is what holds without a lease, and only commands put after that count.
using RoomSupervisor.Terms;

namespace RoomSupervisor.Hardware.Modbus;

/// <summary>State of one output for the owner of its device.</summary>
internal sealed class WiredOutput(RegisterChannel channel, PointWiring wiring, int health)
{
    private const int Unknown = -1;
    private int written = Unknown;
    private long countsAfter;
    private bool safeOwed = true;
    private long seen = -1;
    private double leaseEndsAtS = double.PositiveInfinity, refreshAtS = double.NegativeInfinity, notBeforeS = double.NegativeInfinity;

    public RegisterChannel Channel => channel;

    public PointWiring Wiring => wiring;

    public int Health => health;

    /// <summary>True when a raw value must be written now.</summary>
    public bool Due(OutputLeases leases, double nowS, out ushort raw)
    {
        seen = leases.Version(wiring.Lease);
        var holds = leases.At(wiring.Lease, nowS, wiring.SafeValue, safeOwed ? long.MaxValue : countsAfter);
        leaseEndsAtS = holds.EndsAtS;
        raw = channel.ToRaw(holds.Value, wiring);
        return nowS >= notBeforeS && (raw != written || nowS >= refreshAtS);
    }

    /// <summary>Monotonic seconds at which to look again; <paramref name="atOnceS"/> when now.</summary>
    public double NextDueS(OutputLeases leases, double atOnceS)
    {
        if (notBeforeS > atOnceS)
            return notBeforeS;
        return written == Unknown || leases.Version(wiring.Lease) != seen ? atOnceS : Math.Min(refreshAtS, leaseEndsAtS);
    }

    /// <summary>The raw value that holds without a living lease.</summary>
    public ushort SafeRaw(OutputLeases leases, double nowS)
        => channel.ToRaw(leases.At(wiring.Lease, nowS, wiring.SafeValue, long.MaxValue).Value, wiring);

    /// <summary>The device confirmed it.</summary>
    public void Written(OutputLeases leases, ushort raw, double nowS, double refreshS)
    {
        written = raw;
        refreshAtS = nowS + refreshS;
        if (!safeOwed)
            return;
        safeOwed = false;
        countsAfter = leases.Version(wiring.Lease);
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
        if (safeOwed || nowS - sinceS < leases.At(wiring.Lease, nowS, wiring.SafeValue).LifeS)
            return;
        safeOwed = true;
        written = Unknown;
    }
}

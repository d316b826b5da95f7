// What is read together from a device, and when it is due. A job may take two turns: begun, then collected when it is ready.
namespace RoomSupervisor.Hardware.Devices;

/// <summary>An input point of a device.</summary>
/// <param name="Wiring">Its point.</param>
/// <param name="Health">Its place in the device's health book.</param>
internal record WiredPoint(Terms.PointWiring Wiring, int Health);

/// <summary>Inputs that come with one reading.</summary>
internal abstract class ReadJob(WiredPoint[] points)
{
    private double beatS = double.NegativeInfinity;
    private double begunAtS = double.NaN;

    public WiredPoint[] Points => points;

    /// <summary>Monotonic seconds at which it has its next turn.</summary>
    public double DueS { get; private set; } = double.NegativeInfinity;

    /// <summary>True between the two turns of a reading that is begun and collected.</summary>
    public bool IsUnderWay => !double.IsNaN(begunAtS);

    /// <summary>A turn begins. Keeps the beat where possible; never two readings in a row to catch up.</summary>
    /// <returns>The moment the values belong to: when the reading was begun.</returns>
    public double Turn(double nowS, double intervalS)
    {
        if (IsUnderWay)
        {
            var begun = begunAtS;
            (DueS, begunAtS) = (beatS, double.NaN);
            return begun;
        }
        DueS = beatS = beatS + intervalS > nowS ? beatS + intervalS : nowS + intervalS;
        return nowS;
    }

    /// <summary>The values of a reading begun at a moment can be collected at another.</summary>
    public void Await(double begunS, double readyS) => (begunAtS, DueS) = (begunS, readyS);

    /// <summary>Whatever was begun does not count: due at once.</summary>
    public void Anew() => (DueS, beatS, begunAtS) = (double.NegativeInfinity, double.NegativeInfinity, double.NaN);
}

// A three-point actuator: one relay opens, another shuts, and nobody tells where it stands. The position is counted from the stroke time
// and made true again at the ends. Never both relays; a pause between the two directions.
namespace RoomSupervisor.Hardware.Outputs;

/// <summary>What the two relays do.</summary>
internal enum Travel : sbyte
{
    Shuts = -1, Rests = 0, Opens = 1,
}

/// <summary>Position of one three-point actuator.</summary>
/// <param name="strokeS">Time from end to end, s.</param>
internal sealed class ThreePointDrive(double strokeS)
{
    /// <summary>At an end it is driven on for this share of its stroke: then it stands there, whatever was miscounted.</summary>
    private const double Overrun = 0.2;

    /// <summary>Smaller moves wear the relays and change nothing, percent.</summary>
    private const double DeadBandPercent = 1;

    /// <summary>Both relays off between the directions, s.</summary>
    private const double PauseS = 1;

    private double overrunLeftS = (1 + Overrun) * strokeS;   // at power-up: a full close first
    private bool homing = true;
    private double pauseLeftS;

    /// <summary>Counted position, percent open.</summary>
    public double PositionPercent { get; private set; } = 100;

    public Travel Travel { get; private set; }

    /// <summary>How often a relay has been switched on.</summary>
    public long Starts { get; private set; }

    /// <summary>Moves on by the time that has passed and gives what the relays do from now.</summary>
    /// <param name="askedPercent">Position wanted, percent open.</param>
    /// <param name="stepS">Seconds since the last call.</param>
    public Travel Step(double askedPercent, double stepS)
    {
        Count(stepS);
        var asked = double.IsFinite(askedPercent) ? Math.Clamp(askedPercent, 0, 100) : 0;
        if (homing)
        {
            homing = overrunLeftS > 0;
            if (homing)
                return Go(Travel.Shuts, stepS);
            PositionPercent = 0;
        }
        if (asked is 0 or 100)
            return ToEnd(asked, stepS);
        overrunLeftS = Overrun * strokeS;
        var difference = asked - PositionPercent;
        var stops = Travel == Travel.Rests ? Math.Abs(difference) < DeadBandPercent : Math.Sign(difference) != (int)Travel || Math.Abs(difference) < 1e-9;
        return Go(stops ? Travel.Rests : difference > 0 ? Travel.Opens : Travel.Shuts, stepS);
    }

    private Travel ToEnd(double asked, double stepS)
    {
        var direction = asked > 50 ? Travel.Opens : Travel.Shuts;
        if (PositionPercent != asked)
            return Go(direction, stepS);
        return Go(overrunLeftS > 0 ? direction : Travel.Rests, stepS);
    }

    private void Count(double stepS)
    {
        var before = PositionPercent;
        PositionPercent = Math.Clamp(before + (int)Travel * 100 * stepS / strokeS, 0, 100);
        var stands = homing || (PositionPercent == before && Travel != Travel.Rests);
        if (stands && Travel != Travel.Rests)
            overrunLeftS -= stepS;
    }

    private Travel Go(Travel wish, double stepS)
    {
        pauseLeftS = Math.Max(0, pauseLeftS - stepS);
        if (wish != Travel && Travel != Travel.Rests && wish != Travel.Rests)
        {
            pauseLeftS = PauseS;
            return Travel = Travel.Rests;
        }
        if (wish != Travel.Rests && pauseLeftS > 0)
            return Travel = Travel.Rests;
        if (wish == Travel.Rests && Travel != Travel.Rests)
            pauseLeftS = PauseS;
        Starts += wish != Travel.Rests && wish != Travel ? 1 : 0;
        return Travel = wish;
    }
}

// Two relays out of a position in percent, for an actuator whose position nobody measures: it is counted from the stroke time, and counted
// anew at the end stops. Must never ask for both directions, nor turn round without a pause.
namespace RoomSupervisor.Hardware.Outputs;

/// <summary>What a three-point actuator does.</summary>
public enum Travel : byte
{
    Rests, Opens, Shuts,
}

/// <summary>
/// Drives a three-point actuator. 0 % and 100 % are driven for 1.2 strokes, so that the end stop is reached whatever the count says, and the
/// count is right again. Starts with such a full close.
/// </summary>
/// <param name="strokeS">Time from end to end, s, above 0.</param>
/// <param name="pauseS">Rest before turning round, s. Common practice, no published source.</param>
/// <param name="deadBandPercent">A difference up to this is left, percent of the stroke; at least half of what a scan moves.</param>
public sealed class ThreePointDrive(double strokeS, double pauseS = ThreePointDrive.StandardPauseS, double deadBandPercent = 1)
{
    /// <summary>Rest before turning round, s.</summary>
    public const double StandardPauseS = 1;

    private const double EndStopStrokes = 1.2, TinyS = 1e-6;

    private Travel heading;
    private double lastS = double.NaN, stoppedAtS = double.NegativeInfinity;

    // Seconds driven since it last went the other way; rests in between do not matter.
    private double drivenS;
    private bool isLost = true;

    /// <summary>What it does from the last call until the next.</summary>
    public Travel Now { get; private set; }

    /// <summary>Counted position, percent open; until the first full close 100, the worst it can be.</summary>
    public double PositionPercent { get; private set; } = 100;

    /// <summary>Decides what to do from now until the next call.</summary>
    /// <param name="percent">Position asked for; no number counts as 0.</param>
    /// <param name="nowS">Monotonic seconds.</param>
    public Travel Step(double percent, double nowS)
    {
        var stepS = double.IsNaN(lastS) ? 0 : Math.Max(0, nowS - lastS);
        lastS = nowS;
        Count(stepS);
        isLost &= !IsAtEnd(Travel.Shuts);
        var wanted = Wanted(isLost || !(percent > 0) ? 0 : percent, 100 * stepS / strokeS);
        if (wanted != Now && Now != Travel.Rests)
            (Now, stoppedAtS) = (Travel.Rests, nowS);
        if (wanted != Now && (wanted == heading || nowS - stoppedAtS >= pauseS - TinyS))
            Start(wanted);
        return Now;
    }

    /// <summary>Nobody knows where it stands: it is driven shut first, as at power-up.</summary>
    public void Restart() => (isLost, drivenS, PositionPercent, lastS) = (true, 0, 100, double.NaN);

    private void Start(Travel travel)
    {
        if (travel != heading)
            drivenS = 0;
        (Now, heading) = (travel, travel);
    }

    private void Count(double stepS)
    {
        if (Now == Travel.Rests)
            return;
        drivenS += stepS;
        var moved = 100 * stepS / strokeS;
        PositionPercent = Math.Clamp(PositionPercent + (Now == Travel.Opens ? moved : -moved), 0, 100);
        if (IsAtEnd(Now))
            PositionPercent = Now == Travel.Opens ? 100 : 0;
    }

    /// <summary>It has driven that way so long that it must stand at the end stop.</summary>
    private bool IsAtEnd(Travel travel) => heading == travel && drivenS >= EndStopStrokes * strokeS - TinyS;

    private Travel Wanted(double percent, double movedAScan)
    {
        if (percent is <= 0 or >= 100)
        {
            var end = percent <= 0 ? Travel.Shuts : Travel.Opens;
            return IsAtEnd(end) ? Travel.Rests : end;
        }
        var difference = percent - PositionPercent;
        var direction = difference > 0 ? Travel.Opens : Travel.Shuts;
        // Under way: stop where the next scan would come out further off. At rest: the dead band, wide enough never to hunt.
        var enough = Now == direction ? movedAScan / 2 : Math.Max(deadBandPercent, movedAScan / 2);
        return Math.Abs(difference) > enough ? direction : Travel.Rests;
    }
}
